/**
 * Tile layout: each object holds a TILE_SIZE x TILE_SIZE square of grid points with every slice of the hour,
 * little-endian Float32, ordered [slice][row][column]; points beyond the grid's edge and missing values are NaN.
 * A brief along one route so reads a few objects, each holding all levels and quantities there.
 */
export const TILE_SIZE = 16;
const TILE_POINTS = TILE_SIZE * TILE_SIZE;

export function tileCounts(crop: { readonly nx: number; readonly ny: number }): {
  tileRows: number;
  tileColumns: number;
} {
  return { tileRows: Math.ceil(crop.ny / TILE_SIZE), tileColumns: Math.ceil(crop.nx / TILE_SIZE) };
}

/** Bytes of one tile from row-major slices of the cropped grid. */
export function tileBytes(
  slices: readonly Float32Array[],
  crop: { readonly nx: number; readonly ny: number },
  tile: { readonly row: number; readonly column: number },
): Uint8Array {
  const values = new Float32Array(slices.length * TILE_POINTS).fill(Number.NaN);
  const rows = Math.min(TILE_SIZE, crop.ny - tile.row * TILE_SIZE);
  const columns = Math.min(TILE_SIZE, crop.nx - tile.column * TILE_SIZE);
  slices.forEach((slice, index) => {
    for (let row = 0; row < rows; row += 1) {
      const from = (tile.row * TILE_SIZE + row) * crop.nx + tile.column * TILE_SIZE;
      values.set(slice.subarray(from, from + columns), index * TILE_POINTS + row * TILE_SIZE);
    }
  });
  return new Uint8Array(values.buffer);
}

/** The values of one tile, or undefined when the bytes are not those of such a tile. */
export function tileValues(bytes: ArrayBuffer | undefined, sliceCount: number): Float32Array | undefined {
  const expectedBytes = sliceCount * TILE_POINTS * Float32Array.BYTES_PER_ELEMENT;
  return bytes?.byteLength === expectedBytes ? new Float32Array(bytes) : undefined;
}

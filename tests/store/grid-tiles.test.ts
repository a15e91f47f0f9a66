import { describe, expect, it } from 'vitest';
import { TILE_SIZE, tileBytes, tileCounts, tileValues } from '../../worker/store/grid-tiles.ts';

/** A slice whose value names its own place: row * 1000 + column + slice * 1e6. */
function namedSlice(nx: number, ny: number, slice: number): Float32Array {
  return Float32Array.from(
    { length: nx * ny },
    (_, index) => slice * 1e6 + Math.floor(index / nx) * 1000 + (index % nx),
  );
}

describe('grid tiles', () => {
  it('give back every value of every slice, and NaN beyond the grid', () => {
    const crop = { nx: 35, ny: 17 };
    const slices = [0, 1, 2].map((slice) => namedSlice(crop.nx, crop.ny, slice));
    const { tileRows, tileColumns } = tileCounts(crop);
    expect([tileRows, tileColumns]).toEqual([2, 3]);
    let compared = 0;
    for (let row = 0; row < tileRows; row += 1) {
      for (let column = 0; column < tileColumns; column += 1) {
        const bytes = tileBytes(slices, crop, { row, column });
        const values = tileValues(bytes.buffer as ArrayBuffer, slices.length);
        for (let index = 0; index < values!.length; index += 1) {
          const slice = Math.floor(index / TILE_SIZE ** 2);
          const gridRow = row * TILE_SIZE + Math.floor((index % TILE_SIZE ** 2) / TILE_SIZE);
          const gridColumn = column * TILE_SIZE + (index % TILE_SIZE);
          const isInside = gridRow < crop.ny && gridColumn < crop.nx;
          const expected = isInside ? slice * 1e6 + gridRow * 1000 + gridColumn : Number.NaN;
          expect(Object.is(values![index], Math.fround(expected))).toBe(true);
          compared += 1;
        }
      }
    }
    expect(compared).toBe(6 * 3 * TILE_SIZE ** 2);
  });

  it('are refused when absent, cut short, or of another number of slices', () => {
    const bytes = tileBytes([namedSlice(16, 16, 0)], { nx: 16, ny: 16 }, { row: 0, column: 0 });
    const buffer = bytes.buffer as ArrayBuffer;
    expect(tileValues(undefined, 1)).toBeUndefined();
    expect(tileValues(buffer.slice(0, -1), 1)).toBeUndefined();
    expect(tileValues(buffer, 2)).toBeUndefined();
    expect(tileValues(buffer, 1)).toHaveLength(256);
  });
});

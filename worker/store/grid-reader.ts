/**
 * Columns of air out of a published hour: bilinear between the four grid points around each place.
 *
 * A corner with a missing value makes the value missing; a tile that is not there makes the column unknown.
 */
import { gridFromDefinition } from '../formats/grib2/grid-definition.ts';
import { CELL_STATE, type CellState, type Profile } from '../science/columns.ts';
import type { GridManifest, GridQuantity, ObjectStore } from '../sources/ports.ts';
import { type Layout, layoutOf, toProfile } from './grid-profile.ts';
import { TILE_SIZE, tileValues } from './grid-tiles.ts';

export { readManifest } from './grid-manifest.ts';

/** Which kinds of precipitation the model has at a place: share of the grid points around it, 0-1; NaN where it does not say. */
export interface PrecipitationKinds {
  readonly rainRatio: number;
  readonly freezingRainRatio: number;
  readonly icePelletsRatio: number;
  readonly snowRatio: number;
}

/** A place's column, or why there is none. */
export type GridColumn =
  | { readonly kind: 'profile'; readonly profile: Profile; readonly precipitation: PrecipitationKinds }
  | { readonly kind: 'unknown'; readonly state: CellState };

/** Weights of the four grid points around a place, in the cropped grid. */
interface Corners {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
  readonly right: number;
  readonly lower: number;
}

/** @returns one entry a place, in order. */
export async function readGridColumns(
  objects: ObjectStore,
  manifest: GridManifest,
  places: { readonly latDeg: Float64Array; readonly lonDeg: Float64Array },
): Promise<GridColumn[]> {
  const grid = gridFromDefinition(manifest.definition);
  const corners = Array.from(places.latDeg, (latDeg, index) => {
    const { i, j } = grid.toIndex(latDeg, places.lonDeg[index]!);
    return cornersOf(manifest, i, j);
  });
  const tiles = await loadTiles(objects, manifest, corners);
  const layout = layoutOf(manifest);
  return corners.map((each) => {
    if (each === undefined) return { kind: 'unknown', state: CELL_STATE.outsideCoverage };
    const values = interpolateSlices(manifest, tiles, each);
    if (values === undefined) return { kind: 'unknown', state: CELL_STATE.decodeFailed };
    return columnOf(manifest, layout, values);
  });
}

function cornersOf(manifest: GridManifest, i: number, j: number): Corners | undefined {
  const { crop } = manifest;
  const column = i - crop.i0;
  const row = j - crop.j0;
  const lastColumn = manifest.wrapsEast ? crop.nx : crop.nx - 1;
  if (!(column >= 0 && row >= 0 && column <= lastColumn && row <= crop.ny - 1)) return undefined;
  const left = Math.min(Math.floor(column), manifest.wrapsEast ? crop.nx - 1 : Math.max(0, crop.nx - 2));
  const upper = Math.min(Math.floor(row), Math.max(0, crop.ny - 2));
  return {
    columns: [left, manifest.wrapsEast ? (left + 1) % crop.nx : Math.min(left + 1, crop.nx - 1)],
    rows: [upper, Math.min(upper + 1, crop.ny - 1)],
    right: column - left,
    lower: row - upper,
  };
}

const tileIndex = (manifest: GridManifest, column: number, row: number) =>
  Math.floor(row / TILE_SIZE) * manifest.tileColumns + Math.floor(column / TILE_SIZE);

async function loadTiles(
  objects: ObjectStore,
  manifest: GridManifest,
  corners: readonly (Corners | undefined)[],
): Promise<ReadonlyMap<number, Float32Array | undefined>> {
  const wanted = new Set<number>();
  for (const each of corners) {
    for (const row of each?.rows ?? []) {
      for (const column of each?.columns ?? []) wanted.add(tileIndex(manifest, column, row));
    }
  }
  const loaded = await Promise.all(
    [...wanted].map(async (index) => {
      const key = manifest.tileKeys[index];
      const bytes = key === undefined ? undefined : await objects.get(key);
      return [index, tileValues(bytes, manifest.slices.length)] as const;
    }),
  );
  return new Map(loaded);
}

/** One value a slice at the place; undefined when a tile is missing. NaN where a weighted corner is missing. */
function interpolateSlices(
  manifest: GridManifest,
  tiles: ReadonlyMap<number, Float32Array | undefined>,
  corners: Corners,
): Float64Array | undefined {
  const result = new Float64Array(manifest.slices.length);
  for (const [rowChoice, row] of corners.rows.entries()) {
    for (const [columnChoice, column] of corners.columns.entries()) {
      const weight =
        (columnChoice === 1 ? corners.right : 1 - corners.right) *
        (rowChoice === 1 ? corners.lower : 1 - corners.lower);
      if (weight === 0) continue;
      const tile = tiles.get(tileIndex(manifest, column, row));
      if (tile === undefined) return undefined;
      addSlices(result, tile, { offset: (row % TILE_SIZE) * TILE_SIZE + (column % TILE_SIZE), weight });
    }
  }
  return result;
}

function addSlices(
  result: Float64Array,
  tile: Float32Array,
  { offset, weight }: { offset: number; weight: number },
): void {
  for (let slice = 0; slice < result.length; slice += 1) {
    result[slice] = result[slice]! + weight * tile[slice * TILE_SIZE * TILE_SIZE + offset]!;
  }
}

function columnOf(manifest: GridManifest, layout: Layout, values: Float64Array): GridColumn {
  const at = (quantity: GridQuantity) => values[layout.sliceOf(quantity, null)] ?? Number.NaN;
  return {
    kind: 'profile',
    profile: toProfile(manifest, layout, values),
    precipitation: {
      rainRatio: at('rainRatio'),
      freezingRainRatio: at('freezingRainRatio'),
      icePelletsRatio: at('icePelletsRatio'),
      snowRatio: at('snowRatio'),
    },
  };
}

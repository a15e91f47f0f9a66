/**
 * Columns of air out of a published hour: bilinear between the four grid points around each place.
 *
 * A corner with a missing value makes the value missing; a tile that is not there makes the column unknown.
 */
import * as z from 'zod/mini';
import { gridFromDefinition } from '../formats/grib2/grid-definition.ts';
import { CELL_STATE, type CellState, type Profile } from '../science/columns.ts';
import { GRID_READING_RATIO, humidityBasisNamed } from '../science/humidity-basis.ts';
import { GRID_QUANTITIES, type GridManifest, type GridQuantity, type ObjectStore } from '../sources/ports.ts';
import { TILE_SIZE, tileValues } from './grid-tiles.ts';

/** A place's column, or why there is none. */
export type GridColumn =
  | { readonly kind: 'profile'; readonly profile: Profile }
  | { readonly kind: 'unknown'; readonly state: CellState };

const sliceSchema = z.object({ quantity: z.enum(GRID_QUANTITIES), levelPa: z.nullable(z.number()) });
const commonDefinition = {
  nx: z.number(),
  ny: z.number(),
  earthRadiusM: z.number(),
  firstLatDeg: z.number(),
  firstLonDeg: z.number(),
};
const manifestSchema = z.object({
  version: z.literal(1),
  model: z.string(),
  attribution: z.string(),
  runMs: z.number(),
  validMs: z.number(),
  definition: z.discriminatedUnion('template', [
    z.looseObject({
      template: z.literal(0),
      ...commonDefinition,
      latStepDeg: z.number(),
      lonStepDeg: z.number(),
    }),
    z.looseObject({
      template: z.literal(30),
      ...commonDefinition,
      orientationLonDeg: z.number(),
      standardLat1Deg: z.number(),
      standardLat2Deg: z.number(),
      dxM: z.number(),
      dyM: z.number(),
      windsAlongGrid: z.boolean(),
    }),
  ]),
  crop: z.object({ i0: z.number(), j0: z.number(), nx: z.number(), ny: z.number() }),
  wrapsEast: z.boolean(),
  condensateBasis: z.enum(['none', 'liquid', 'total']),
  humidityBasis: z.string(),
  slices: z.array(sliceSchema),
  tileSize: z.literal(TILE_SIZE),
  tileColumns: z.number(),
  tileKeys: z.array(z.string()),
  rejected: z.array(z.object({ offsetBytes: z.number(), reason: z.string() })),
});

/** @returns the manifest, or undefined when it is not there or does not read back: its hour then counts as not decoded. */
export async function readManifest(objects: ObjectStore, key: string): Promise<GridManifest | undefined> {
  const bytes = await objects.get(key);
  if (bytes === undefined) return undefined;
  try {
    const parsed = manifestSchema.safeParse(JSON.parse(new TextDecoder().decode(bytes)));
    return parsed.success ? (parsed.data as GridManifest) : undefined;
  } catch {
    return undefined;
  }
}

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
    return { kind: 'profile', profile: toProfile(manifest, layout, values) };
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

/** Where each quantity's value of each level lies among the slices; -1 where the hour does not have it. */
interface Layout {
  /** Pa, decreasing. */
  readonly levelPa: readonly number[];
  readonly sliceOf: (quantity: GridQuantity, levelPa: number | null) => number;
}

function layoutOf(manifest: GridManifest): Layout {
  const bySlice = new Map(
    manifest.slices.map((slice, index) => [`${slice.quantity}@${slice.levelPa}`, index]),
  );
  const levels = new Set(manifest.slices.flatMap((slice) => (slice.levelPa === null ? [] : [slice.levelPa])));
  if (manifest.rejected.length > 0) addLostLevels(levels);
  return {
    levelPa: [...levels].sort((a, b) => b - a),
    sliceOf: (quantity, levelPa) => bySlice.get(`${quantity}@${levelPa}`) ?? -1,
  };
}

/** Standard isobaric surfaces up to 200 hPa, Pa, which every forecast has. */
const STANDARD_PA = [100_000, 92_500, 85_000, 70_000, 50_000, 40_000, 30_000, 25_000, 20_000];

/**
 * A file with refused messages may have lost all of a level. A standard one between the levels that are left stands without
 * values, so that the air there is unknown and not a straight line between its neighbors.
 */
function addLostLevels(levels: Set<number>): void {
  const lowestPa = Math.max(...levels);
  const highestPa = Math.min(...levels);
  for (const levelPa of STANDARD_PA) if (levelPa < lowestPa && levelPa > highestPa) levels.add(levelPa);
}

/** Levels under the ground pressure are left out; the screen-height values stand at the ground pressure. */
function toProfile(manifest: GridManifest, layout: Layout, values: Float64Array): Profile {
  const at = (quantity: GridQuantity, levelPa: number | null) =>
    values[layout.sliceOf(quantity, levelPa)] ?? Number.NaN;
  const surfacePa = at('surfacePressurePa', null);
  const hasScreen = Number.isFinite(surfacePa) && Number.isFinite(at('screenTemperatureK', null));
  const above = layout.levelPa.filter((levelPa) => !hasScreen || levelPa < surfacePa);
  const column = (quantity: GridQuantity, screen: number) =>
    Float64Array.from([...(hasScreen ? [screen] : []), ...above.map((levelPa) => at(quantity, levelPa))]);
  return {
    levelCount: above.length + (hasScreen ? 1 : 0),
    pressurePa: Float64Array.from([...(hasScreen ? [surfacePa] : []), ...above]),
    geopotentialHeightM: column('geopotentialHeightM', at('surfaceHeightM', null)),
    temperatureK: column('temperatureK', at('screenTemperatureK', null)),
    relativeHumidityRatio: column('relativeHumidityRatio', at('screenRelativeHumidityRatio', null)),
    windEastMps: column('windEastMps', at('screenWindEastMps', null)),
    windNorthMps: column('windNorthMps', at('screenWindNorthMps', null)),
    verticalVelocityPaPerS: column('verticalVelocityPaPerS', Number.NaN),
    condensateKgPerKg: column('condensateKgPerKg', Number.NaN),
    condensateBasis: manifest.condensateBasis,
    cloudSaturation: { basis: humidityBasisNamed(manifest.humidityBasis), readingRatio: GRID_READING_RATIO },
    surfaceHeightM: at('surfaceHeightM', null),
  };
}

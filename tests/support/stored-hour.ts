/** Hours put together by a test, published as an ingest does, and read back grid point by grid point. */
import type { Grib2GridDefinition } from '../../worker/formats/grib2/field.ts';
import { gridFromDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import type { GridManifest, GridQuantity } from '../../worker/sources/ports.ts';
import { type HourInMemory, putSlice } from '../../worker/store/grid-hour.ts';
import { type GridColumn, readGridColumns } from '../../worker/store/grid-reader.ts';
import { publishHour } from '../../worker/store/publish-hour.ts';
import { createMemoryStores, type MemoryStores } from './memory-stores.ts';

export interface SliceSpec {
  readonly quantity: GridQuantity;
  /** Null at the surface. */
  readonly levelPa: number | null;
  /** Row by row from the north-western corner, NaN where missing. */
  readonly values: Float32Array;
}

/** nx x ny points 0.1 degrees apart, from 50 N 10 E southward. */
export function hourOf(nx: number, ny: number, slices: readonly SliceSpec[]): HourInMemory {
  const definition: Grib2GridDefinition = {
    ...{ template: 0, nx, ny, earthRadiusM: 6_371_229 },
    ...{ firstLatDeg: 50, firstLonDeg: 10, latStepDeg: -0.1, lonStepDeg: 0.1 },
  };
  const hour: HourInMemory = {
    ...{ model: `255-96-${nx}x${ny}`, attribution: 'centre 255', runMs: 0, validMs: 3_600_000 },
    ...{ grid: gridFromDefinition(definition), crop: { i0: 0, j0: 0, nx, ny } },
    ...{ humidityBasis: 'water', cloudBasis: 'water', condensateBasis: 'liquid', slices: new Map() },
  };
  for (const slice of slices) putSlice(hour, { ...slice, hybridLevel: null, form: 'as-named' });
  return hour;
}

/** Temperature, humidity and cloud water on two levels, different at every point. */
export function waveSlices(nx: number, ny: number): SliceSpec[] {
  const wave = (low: number, high: number, phase: number) =>
    Float32Array.from(
      { length: nx * ny },
      (_, index) => low + ((high - low) * (1 + Math.sin(index * 0.37 + phase))) / 2,
    );
  return [80_000, 60_000].flatMap((levelPa, level): SliceSpec[] => [
    { quantity: 'temperatureK', levelPa, values: wave(250, 275, level) },
    { quantity: 'relativeHumidityRatio', levelPa, values: wave(0.1, 1.05, level + 2) },
    { quantity: 'condensateKgPerKg', levelPa, values: wave(0, 5e-4, level + 4) },
  ]);
}

export interface StoredHour {
  readonly stores: MemoryStores;
  readonly manifest: GridManifest;
  /** Keys of the array begin with it; it ends in a slash. */
  readonly prefix: string;
}

export async function storeHour(hour: HourInMemory, stores = createMemoryStores()): Promise<StoredHour> {
  const { manifest } = await publishHour({ ...stores, operator: 'demo' }, hour, {
    rejected: [],
    nowMs: () => 0,
  });
  return { stores, manifest, prefix: manifest.shards[0]!.key.replace(/c\/0\/0\/0$/, '') };
}

/** The column at every grid point, row by row. */
export function columnsOf({
  stores,
  manifest,
}: Pick<StoredHour, 'stores' | 'manifest'>): Promise<GridColumn[]> {
  const { toLatLon } = gridFromDefinition(manifest.definition);
  const { nx, ny } = manifest.crop;
  // A hundredth of a step inside: the outermost points are within the grid whatever the rounding.
  const inside = (index: number, count: number) => Math.min(count - 1.01, Math.max(0.01, index));
  const places = Array.from({ length: nx * ny }, (_, index) =>
    toLatLon(inside(index % nx, nx), inside(Math.floor(index / nx), ny)),
  );
  return readGridColumns(stores.objects, manifest, {
    latDeg: Float64Array.from(places, ({ latDeg }) => latDeg),
    lonDeg: Float64Array.from(places, ({ lonDeg }) => lonDeg),
  });
}

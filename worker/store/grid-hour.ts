/** One hour while it is gathered. */
import type { Grib2Grid } from '../formats/grib2/field.ts';
import type { HumidityBasis } from '../science/humidity-basis.ts';
import type { GridCrop } from '../sources/grid-crop.ts';
import type { SliceForm, SlicePlace } from '../sources/grid-quantities.ts';
import type { GridManifest, GridQuantity } from '../sources/ports.ts';

/** A slice in memory: cropped values, row-major, NaN where missing. */
export interface HourSlice extends SlicePlace {
  readonly quantity: GridQuantity;
  readonly form: SliceForm;
  readonly values: Float32Array;
}

export interface HourInMemory {
  readonly model: string;
  readonly attribution: string;
  readonly runMs: number;
  readonly validMs: number;
  readonly grid: Grib2Grid;
  readonly crop: GridCrop;
  readonly humidityBasis: HumidityBasis;
  readonly cloudBasis: HumidityBasis;
  condensateBasis: GridManifest['condensateBasis'];
  /** By sliceKey. */
  readonly slices: Map<string, HourSlice>;
}

/** One key a quantity and place, whatever form it came in. */
export function sliceKey(quantity: GridQuantity, { levelPa, hybridLevel }: SlicePlace): string {
  return `${quantity}@${hybridLevel === null ? levelPa : `hybrid ${hybridLevel}`}`;
}

/** The values of a quantity at the place of another slice. */
export function besides(
  hour: HourInMemory,
  quantity: GridQuantity,
  place: SlicePlace,
): Float32Array | undefined {
  return hour.slices.get(sliceKey(quantity, place))?.values;
}

/** Adds a slice, or puts it in the place of the one that was there. */
export function putSlice(hour: HourInMemory, slice: HourSlice): void {
  hour.slices.set(sliceKey(slice.quantity, slice), slice);
}

/**
 * The forms of one quantity, the one to trust first. Specific humidity and dew point leave no doubt of what they are over; a
 * model's own omega is what the physics reads; cloud water alone says more than all condensate.
 */
const PREFERENCE: readonly SliceForm[] = [
  'specific-humidity',
  'dew-point',
  'dew-point-depression',
  'as-named',
  'geometric-velocity',
  'total-condensate',
];

/** True when a slice that is held already says the quantity in a better form. */
export function isOutranked(
  hour: HourInMemory,
  slice: Pick<HourSlice, 'quantity' | 'form'> & SlicePlace,
): boolean {
  const held = hour.slices.get(sliceKey(slice.quantity, slice));
  return held !== undefined && PREFERENCE.indexOf(held.form) < PREFERENCE.indexOf(slice.form);
}

/** Pressure at a slice's points: of its level, or of the ground; undefined where it is not known. */
export function pressureAt(hour: HourInMemory, slice: HourSlice): ((index: number) => number) | undefined {
  const { levelPa } = slice;
  const field = besides(hour, levelPa === null ? 'surfacePressurePa' : 'pressurePa', slice);
  if (field !== undefined) return (index) => field[index]!;
  return levelPa === null ? undefined : () => levelPa;
}

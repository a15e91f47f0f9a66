/**
 * Values of a slice as 16-bit codes: a code counts steps up from the slice's lowest value.
 *
 * Steps are decimal and fixed a quantity, so that what a model gives in round numbers comes back in them. A slice whose range does
 * not fit takes the step times a power of two, and what that costs is measured and told.
 */
import type { GridQuantity } from '../sources/ports.ts';

/** The code that says "no value here". It is the fill value of the array too: what is not there reads as missing, never as 0. */
export const MISSING_CODE = 65_535;
const GREATEST_CODE = MISSING_CODE - 1;

/**
 * Finest step a quantity is kept in, in its own unit. Each is a few hundredths at most of what a forecast is wrong by: a
 * hundredth of a kelvin (in which 0 degC is a whole number of steps), 0.1 % of humidity, half a metre, a pascal; 0.0001 g/kg of cloud
 * water is a thousandth of what makes light ice.
 */
const STEP: Readonly<Record<GridQuantity, number>> = {
  surfaceHeightM: 0.5,
  surfacePressurePa: 1,
  screenTemperatureK: 0.01,
  screenRelativeHumidityRatio: 0.001,
  screenWindEastMps: 0.05,
  screenWindNorthMps: 0.05,
  rainRatio: 0.001,
  freezingRainRatio: 0.001,
  icePelletsRatio: 0.001,
  snowRatio: 0.001,
  pressurePa: 1,
  temperatureK: 0.01,
  relativeHumidityRatio: 0.001,
  geopotentialHeightM: 0.5,
  windEastMps: 0.05,
  windNorthMps: 0.05,
  verticalVelocityPaPerS: 0.002,
  condensateKgPerKg: 1e-7,
  rainKgPerKg: 1e-7,
  cloudIceKgPerKg: 1e-7,
  snowKgPerKg: 1e-7,
  graupelKgPerKg: 1e-7,
  cloudFractionRatio: 0.001,
};

/** What turns codes into values: code * scaleFactor + addOffset. */
export interface SlicePacking {
  readonly scaleFactor: number;
  readonly addOffset: number;
}

/** A packing and the greatest difference it makes to the values it was made for, in their unit. */
export interface MeasuredPacking extends SlicePacking {
  readonly greatestError: number;
}

/**
 * The packing of one slice.
 *
 * @param values  NaN where missing; an infinity counts as missing too.
 * @returns       The finest step in which the slice fits; for a slice without any value the quantity's own.
 */
export function packingOf(quantity: GridQuantity, values: Float32Array): MeasuredPacking {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    if (value < low) low = value;
    if (value > high) high = value;
  }
  let scaleFactor = STEP[quantity];
  if (low > high) return { scaleFactor, addOffset: 0, greatestError: 0 };
  const steps = (value: number) => Math.round(value * (1 / scaleFactor));
  while (steps(high) - steps(low) > GREATEST_CODE) scaleFactor *= 2;
  const packing = { scaleFactor, addOffset: steps(low) / (1 / scaleFactor) };
  return { ...packing, greatestError: greatestError(packing, values) };
}

function greatestError(packing: SlicePacking, values: Float32Array): number {
  const { pack, unpack } = codesOf(packing);
  let greatest = 0;
  for (const value of values) {
    if (!Number.isFinite(value)) continue;
    const error = Math.abs(unpack(pack(value)) - value);
    if (error > greatest) greatest = error;
  }
  return greatest;
}

/** Both ways of a packing. `pack` serves the values the packing was made for. */
export interface Codes {
  readonly pack: (value: number) => number;
  /** NaN for the missing code. */
  readonly unpack: (code: number) => number;
}

/**
 * Steps are counted before they are scaled, so that a code that stands for 0 gives exactly 0, and divided by their number in a
 * unit, so that 273.15 comes back as 273.15.
 */
export function codesOf({ scaleFactor, addOffset }: SlicePacking): Codes {
  const perUnit = 1 / scaleFactor;
  const offsetSteps = Math.round(addOffset * perUnit);
  return {
    pack: (value) => (Number.isFinite(value) ? Math.round(value * perUnit) - offsetSteps : MISSING_CODE),
    unpack: (code) => (code === MISSING_CODE ? Number.NaN : (code + offsetSteps) / perUnit),
  };
}

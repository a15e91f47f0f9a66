/** What values a grid can hold at all. */
import type { SliceForm } from './grid-quantities.ts';
import type { GridQuantity } from './ports.ts';

export type Range = readonly [low: number, high: number];

const PRESENT: Range = [0, 1];
const CLOUD: Range = [-1e-6, 0.02];
const PRECIPITATION: Range = [-1e-6, 0.05];
/** 60 m/s of rising air at the ground. */
const VERTICAL: Range = [-700, 700];

/**
 * What a value in SI may be at all; anything else is a fault of the file. Wider than any air on record, so that only
 * faults are caught: -123 to +67 degrees C, humidity to 150 %, cloud to 20 g/kg.
 */
const PLAUSIBLE: Readonly<Record<GridQuantity, Range>> = {
  surfaceHeightM: [-1500, 9500],
  surfacePressurePa: [30_000, 115_000],
  screenTemperatureK: [150, 340],
  screenRelativeHumidityRatio: [0, 1.5],
  screenWindEastMps: [-150, 150],
  screenWindNorthMps: [-150, 150],
  rainRatio: PRESENT,
  freezingRainRatio: PRESENT,
  icePelletsRatio: PRESENT,
  snowRatio: PRESENT,
  pressurePa: [0, 115_000],
  temperatureK: [150, 340],
  relativeHumidityRatio: [0, 1.5],
  geopotentialHeightM: [-1500, 60_000],
  windEastMps: [-200, 200],
  windNorthMps: [-200, 200],
  verticalVelocityPaPerS: VERTICAL,
  condensateKgPerKg: CLOUD,
  rainKgPerKg: PRECIPITATION,
  cloudIceKgPerKg: CLOUD,
  snowKgPerKg: PRECIPITATION,
  graupelKgPerKg: PRECIPITATION,
  // Packing may overshoot by a step.
  cloudFractionRatio: [-0.01, 1.01],
};

/** The same for what is turned later; 60 g/kg is saturated air of 43 degrees C, and packing may undershoot 0 by a step. */
const PLAUSIBLE_FORM: Readonly<Record<Exclude<SliceForm, 'as-named' | 'total-condensate'>, Range>> = {
  'specific-humidity': [-1e-5, 0.06],
  'dew-point': [100, 340],
  'dew-point-depression': [-10, 150],
  'geometric-velocity': [-60, 60],
};

export function plausibleRange(quantity: GridQuantity, form: SliceForm): Range {
  return form === 'as-named' || form === 'total-condensate' ? PLAUSIBLE[quantity] : PLAUSIBLE_FORM[form];
}

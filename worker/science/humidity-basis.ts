/** Models do not agree on what 100 % means below 0 degC; here their numbers become relative humidity over water. */
import { saturationVaporPressureIcePa, saturationVaporPressureWaterPa } from './saturation.ts';

/**
 * What a source's relative humidity is over below freezing.
 *
 * - `water`: liquid water at all temperatures (radiosondes by rule).
 * - `ncep-mixed`: saturation over water at 0 degC going linearly to that over ice at -20 degC.
 * - `ecmwf-mixed`: the same by the square of (T - 250.16) / 23 between 250.16 and 273.16 K.
 */
export type HumidityBasis = 'water' | 'ncep-mixed' | 'ecmwf-mixed';

/**
 * Relative humidity over liquid water from a source's own number.
 *
 * @param relativeHumidityRatio  In the source's basis, ratio.
 * @param temperatureK           K.
 * @param basis                  What the source's number is over.
 * @returns                      ratio over water; NaN where an input is NaN.
 * @throws                       never.
 * @source                       Both mixed forms from memory, not re-read; a wrong basis shifts humidity by at most 7 %
 *                               at -10 degC.
 * @checked                      tests/published/humidity.test.ts
 */
export function relativeHumidityRatioOverWater(
  relativeHumidityRatio: number,
  temperatureK: number,
  basis: HumidityBasis,
): number {
  const liquid = liquidShare(temperatureK, basis);
  if (liquid === 1) return relativeHumidityRatio;
  const iceOverWater =
    saturationVaporPressureIcePa(temperatureK) / saturationVaporPressureWaterPa(temperatureK);
  return relativeHumidityRatio * (liquid + (1 - liquid) * iceOverWater);
}

/** @returns the basis of that name; water for any other. */
export function humidityBasisNamed(name: string): HumidityBasis {
  return name === 'ncep-mixed' || name === 'ecmwf-mixed' ? name : 'water';
}

/** What a source reads in saturated cloud: its basis, and how much of saturation it shows there. */
export interface CloudSaturation {
  readonly basis: HumidityBasis;
  /** Relative humidity in the source's own basis, ratio. */
  readonly readingRatio: number;
}

/**
 * Readings in cloud: an aircraft's own sensor (most wet layers of the research flights reach 99 %), a radiosonde (of 149 cold
 * places of one hour's ascents with 95 % or more a quarter reaches 99 %) and a model's grid box, whose mean is below that
 * of its cloudy part (judgement).
 */
export const AIRCRAFT_READING: CloudSaturation = { basis: 'water', readingRatio: 0.99 };
export const RADIOSONDE_READING: CloudSaturation = { basis: 'water', readingRatio: 0.97 };
export const GRID_READING_RATIO = 0.97;

/**
 * Relative humidity over water that a source shows in saturated cloud.
 *
 * @param saturation    Of the source.
 * @param temperatureK  K.
 * @returns             ratio.
 * @throws              never.
 */
export function cloudReadingRatio(saturation: CloudSaturation, temperatureK: number): number {
  return relativeHumidityRatioOverWater(saturation.readingRatio, temperatureK, saturation.basis);
}

/** Weight of saturation over water in the source's mixture, 0-1. */
function liquidShare(temperatureK: number, basis: HumidityBasis): number {
  if (basis === 'ncep-mixed') return Math.min(1, Math.max(0, (temperatureK - 253.15) / 20));
  if (basis === 'ecmwf-mixed') return Math.min(1, Math.max(0, (temperatureK - 250.16) / 23)) ** 2;
  return 1;
}

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

/** Weight of saturation over water in the source's mixture, 0-1. */
function liquidShare(temperatureK: number, basis: HumidityBasis): number {
  if (basis === 'ncep-mixed') return Math.min(1, Math.max(0, (temperatureK - 253.15) / 20));
  if (basis === 'ecmwf-mixed') return Math.min(1, Math.max(0, (temperatureK - 250.16) / 23)) ** 2;
  return 1;
}

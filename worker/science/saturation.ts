/** Saturation vapor pressure over liquid water and over ice. */
import { FREEZING_K } from './constants.ts';

/**
 * Saturation vapor pressure over liquid water, supercooled below 0 degC.
 *
 * @param temperatureK  K. Fit valid 123-332; outside it extrapolates. NaN gives NaN.
 * @returns             Pa.
 * @throws              never.
 * @source              Murphy and Koop 2005, eq. 10. Differs from it in: nothing.
 * @checked             tests/published/saturation-vapor-pressure.test.ts
 */
export function saturationVaporPressureWaterPa(temperatureK: number): number {
  const logT = Math.log(temperatureK);
  return Math.exp(
    54.842763 -
      6763.22 / temperatureK -
      4.21 * logT +
      0.000367 * temperatureK +
      Math.tanh(0.0415 * (temperatureK - 218.8)) *
        (53.878 - 1331.22 / temperatureK - 9.44523 * logT + 0.014025 * temperatureK),
  );
}

/**
 * Saturation vapor pressure over ice.
 *
 * @param temperatureK  K. Fit valid above 110; above 273.16 there is no ice, yet the formula goes on. NaN gives NaN.
 * @returns             Pa.
 * @throws              never.
 * @source              Murphy and Koop 2005, eq. 7. Differs from it in: nothing.
 * @checked             tests/published/saturation-vapor-pressure.test.ts
 */
export function saturationVaporPressureIcePa(temperatureK: number): number {
  return Math.exp(
    9.550426 - 5723.265 / temperatureK + 3.53068 * Math.log(temperatureK) - 0.00728332 * temperatureK,
  );
}

/**
 * Saturation vapor pressure over liquid water by a form that can be turned round; within 0.2 % of the one above from
 * -40 to 35 degC. Used where the inverse needs a first guess.
 *
 * @param temperatureK  K. NaN gives NaN.
 * @returns             Pa.
 * @throws              never.
 * @source              Bolton 1980, eq. 10. Differs from it in: nothing.
 * @checked             tests/published/saturation-vapor-pressure.test.ts
 */
export function saturationVaporPressureBoltonPa(temperatureK: number): number {
  const celsius = temperatureK - FREEZING_K;
  return 611.2 * Math.exp((17.67 * celsius) / (celsius + 243.5));
}

/**
 * Inverse of saturationVaporPressureBoltonPa.
 *
 * @param vaporPressurePa  Pa. Zero, negative or NaN gives NaN.
 * @returns                K.
 * @throws                 never.
 * @source                 Bolton 1980, eq. 11.
 */
export function dewPointBoltonK(vaporPressurePa: number): number {
  if (!(vaporPressurePa > 0)) return Number.NaN;
  const ratio = Math.log(vaporPressurePa / 611.2);
  return FREEZING_K + (243.5 * ratio) / (17.67 - ratio);
}

/** Saturation vapor pressures of Goff and Gratch 1946, for solvers that must not share the formula of the code under test. */

/** @returns over liquid water, Pa; coefficients as in public code. */
export function goffGratchWaterPa(temperatureK: number): number {
  const ratio = 373.16 / temperatureK;
  const exponent =
    -7.90298 * (ratio - 1) +
    5.02808 * Math.log10(ratio) -
    1.3816e-7 * (10 ** (11.344 * (1 - 1 / ratio)) - 1) +
    8.1328e-3 * (10 ** (-3.49149 * (ratio - 1)) - 1);
  return 101324.6 * 10 ** exponent;
}

/** @returns over ice, Pa; coefficients as in public code. */
export function goffGratchIcePa(temperatureK: number): number {
  const ratio = 273.16 / temperatureK;
  const exponent = -9.09718 * (ratio - 1) - 3.56654 * Math.log10(ratio) + 0.876793 * (1 - 1 / ratio);
  return 610.71 * 10 ** exponent;
}

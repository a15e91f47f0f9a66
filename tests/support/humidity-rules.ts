/**
 * Simple published rules of icing from temperature and humidity: what a diagnosis has to beat. They have their own saturation
 * formulas and share nothing with the worker.
 */

/** Air as the rules see it. */
export interface RuleAir {
  readonly temperatureC: number;
  /** Relative humidity over liquid water and over ice, percent. */
  readonly overWaterPct: number;
  readonly overIcePct: number;
  /** Temperature less dew point over water, K. */
  readonly depressionK: number;
}

/** Saturation vapor pressure over liquid water and over ice, Pa (Murphy and Koop 2005, eqs 10 and 7), of K. */
const overWaterPa = (t: number) =>
  Math.exp(
    54.842763 -
      6763.22 / t -
      4.21 * Math.log(t) +
      0.000367 * t +
      Math.tanh(0.0415 * (t - 218.8)) * (53.878 - 1331.22 / t - 9.44523 * Math.log(t) + 0.014025 * t),
  );
const overIcePa = (t: number) => Math.exp(9.550426 - 5723.265 / t + 3.53068 * Math.log(t) - 0.00728332 * t);

export function ruleAirFromDewPoint(temperatureC: number, dewPointC: number): RuleAir {
  const vaporPa = overWaterPa(dewPointC + 273.15);
  return {
    temperatureC,
    overWaterPct: (100 * vaporPa) / overWaterPa(temperatureC + 273.15),
    overIcePct: (100 * vaporPa) / overIcePa(temperatureC + 273.15),
    depressionK: temperatureC - dewPointC,
  };
}

/** The dew point of a humidity over water is found by halving. */
export function ruleAirFromHumidity(temperatureC: number, overWaterPct: number): RuleAir {
  const wantedPa = (overWaterPct / 100) * overWaterPa(temperatureC + 273.15);
  let lowC = temperatureC - 90;
  let highC = temperatureC + 10;
  while (highC - lowC > 1e-6) {
    const middleC = (lowC + highC) / 2;
    if (overWaterPa(middleC + 273.15) < wantedPa) lowC = middleC;
    else highC = middleC;
  }
  return ruleAirFromDewPoint(temperatureC, highC);
}

/** Depression under which the AWS rule of Appleman 1954 expects ice, K, by temperature. */
function mostDepressionK(temperatureC: number): number {
  if (temperatureC >= -7.5) return 2;
  return temperatureC >= -15.5 ? 3 : 0;
}

/** Each rule by its name; every one is a warning of ice below 0 degrees C. */
export const HUMIDITY_RULES: ReadonlyMap<string, (air: RuleAir) => boolean> = new Map([
  ['-20 to 0 °C, RH ≥ 63 %', (air) => air.temperatureC >= -20 && air.overWaterPct >= 63],
  ['-8D', (air) => air.temperatureC <= -8 * air.depressionK],
  ['dew-point depressions', (air) => air.depressionK < mostDepressionK(air.temperatureC)],
  ['RH over ice ≥ 100 %, T > -20 °C', (air) => air.overIcePct >= 100 && air.temperatureC > -20],
  ['RH over water ≥ 95 %, T > -20 °C', (air) => air.overWaterPct >= 95 && air.temperatureC > -20],
]);

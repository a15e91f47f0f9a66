/**
 * How wrong a source may be at a place and time: one standard deviation of each quantity. The figures are judgement, from
 * memory, but for those that say where they were measured. That temperature errs more at inversions is not counted.
 */

/** One entry a source at a point, as in PointSources; 0 is exact. */
export interface SourceErrors {
  /** K. */
  readonly temperatureK: Float32Array;
  /** Relative humidity over water, ratio. */
  readonly humidityRatio: Float32Array;
  /** Of the natural logarithm of liquid water given liquid, and of drop diameter. */
  readonly lnWater: Float32Array;
  readonly lnDiameter: Float32Array;
  /** Height of layers, m. */
  readonly heightM: Float32Array;
  /** Place along the route, m: position and, by the wind, timing. */
  readonly placeM: Float32Array;
}

/** The errors of one source at one place. */
export type ErrorSpread = { readonly [Name in keyof SourceErrors]: number };

export const NO_ERROR: ErrorSpread = {
  temperatureK: 0,
  humidityRatio: 0,
  lnWater: 0,
  lnDiameter: 0,
  heightM: 0,
  placeM: 0,
};

export function makeSourceErrors(count: number): SourceErrors {
  return {
    temperatureK: new Float32Array(count),
    humidityRatio: new Float32Array(count),
    lnWater: new Float32Array(count),
    lnDiameter: new Float32Array(count),
    heightM: new Float32Array(count),
    placeM: new Float32Array(count),
  };
}

export function setErrors(errors: SourceErrors, index: number, spread: ErrorSpread): void {
  for (const name of Object.keys(errors) as (keyof SourceErrors)[]) errors[name][index] = spread[name];
}

/** Timing errors move weather along the route with a wind of this speed, m/s (judgement: winter, 700 hPa). */
const CARRYING_WIND_MPS = 15;
const HOUR_S = 3600;

/** An ascent at its own station and hour: the instrument, and the balloon's drift. 0.8 was measured on the research flights. */
const NEAR: ErrorSpread = {
  temperatureK: 0.5,
  humidityRatio: 0.05,
  lnWater: 0.8,
  lnDiameter: 0.35,
  heightM: 100,
  placeM: 0,
};

/** A forecast by its lead time. Timing of 0.7, 2 and 3.5 h is in the place, beside 40, 100 and 180 km. */
const FORECASTS: readonly { readonly leadH: number; readonly spread: ErrorSpread }[] = [
  forecastAt(6, [1, 0.12, 0.9, 0.35, 200, 40_000, 0.7]),
  forecastAt(24, [1.5, 0.17, 1, 0.4, 300, 100_000, 2]),
  forecastAt(48, [2, 0.22, 1.2, 0.4, 400, 180_000, 3.5]),
];

function forecastAt(
  leadH: number,
  row: readonly [number, number, number, number, number, number, number],
): { leadH: number; spread: ErrorSpread } {
  const [temperatureK, humidityRatio, lnWater, lnDiameter, heightM, positionM, timingH] = row;
  const placeM = Math.hypot(positionM, timingH * HOUR_S * CARRYING_WIND_MPS);
  return { leadH, spread: { temperatureK, humidityRatio, lnWater, lnDiameter, heightM, placeM } };
}

/**
 * Errors of a forecast.
 *
 * @param leadMs  From the model's run to the valid time, ms, plus how far from it the hour is used.
 * @returns       Straight between 6, 24 and 48 h, held beyond.
 * @throws        never.
 * @source        Judgement, from memory: the growth of forecast errors over two days.
 * @checked       tests/science/error-spreads.test.ts
 */
export function forecastErrors(leadMs: number): ErrorSpread {
  const leadH = leadMs / (HOUR_S * 1000);
  const next = FORECASTS.findIndex((each) => leadH < each.leadH);
  if (next === 0) return FORECASTS[0]!.spread;
  if (next < 0) return FORECASTS.at(-1)!.spread;
  const before = FORECASTS[next - 1]!;
  const after = FORECASTS[next]!;
  return mixed(before.spread, after.spread, (leadH - before.leadH) / (after.leadH - before.leadH));
}

/**
 * Rain that a forecast has at a place is met there unless it is misplaced by as much as areas of winter rain are wide: e-fold of
 * finding rain at a distance from rain, m (judgement). With the errors of place above it is met in 82, 63 and 49 of a hundred
 * cases at 6, 24 and 48 h, near what verifications of rain or none find (from memory).
 */
export const RAIN_AREA_M = 250_000;

/**
 * Freezing rain that a model has at the ground is met this often (judgement, from memory: of the kinds of precipitation it is
 * the one least well forecast, and every second forecast of it comes true). Half of it, between grid points, still
 * names freezing rain.
 */
export const FREEZING_RAIN_TRUST = 0.5;

/** An ascent is forgotten over this distance and time: e-folds of the correlation of humidity (judgement, see below). */
const FORGETTING_M = 450_000;
const FORGETTING_MS = 8 * HOUR_S * 1000;

/** Variance that humidity (ratio squared) and temperature (K squared) come to when all is forgotten. */
const FORGOTTEN_HUMIDITY = 0.29 ** 2;
const FORGOTTEN_TEMPERATURE = 1.7 ** 2;

/**
 * Errors of an ascent: near its station and hour those of the instrument; with distance and age they grow as the air there
 * becomes another.
 *
 * Between pairs of the 285 ascents of one winter hour (2008-12-08 12 UTC, 925-600 hPa, -20 to 0 degC) humidity differs by
 * 0.20, 0.22 and 0.27 and temperature by 1.7, 1.8 and 2.4 K at 100, 185 and 260 km. Half of that variance is taken,
 * because beside others an ascent speaks for what lies between them.
 *
 * @param distanceM  From the station, m.
 * @param ageMs      Between the ascent and the time of use, ms, either way.
 * @returns          Never shrinks with distance or age.
 * @throws           never.
 * @source           Measured, see above; age by analogy (8 h, judgement); the other quantities by judgement.
 * @checked          tests/science/error-spreads.test.ts
 */
export function soundingErrors(distanceM: number, ageMs: number): ErrorSpread {
  const forgotten = 1 - Math.exp(-distanceM / FORGETTING_M - Math.abs(ageMs) / FORGETTING_MS);
  return {
    ...mixed(NEAR, FORECASTS[1]!.spread, forgotten),
    humidityRatio: Math.sqrt(NEAR.humidityRatio ** 2 + FORGOTTEN_HUMIDITY * forgotten),
    temperatureK: Math.sqrt(NEAR.temperatureK ** 2 + FORGOTTEN_TEMPERATURE * forgotten),
    placeM: 0,
  };
}

function mixed(a: ErrorSpread, b: ErrorSpread, share: number): ErrorSpread {
  const at = (name: keyof ErrorSpread) => a[name] + share * (b[name] - a[name]);
  return {
    temperatureK: at('temperatureK'),
    humidityRatio: at('humidityRatio'),
    lnWater: at('lnWater'),
    lnDiameter: at('lnDiameter'),
    heightM: at('heightM'),
    placeM: at('placeM'),
  };
}

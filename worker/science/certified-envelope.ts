/**
 * The continuous-maximum envelope of 14 CFR 25 Appendix C: what protection was designed for.
 *
 * A design envelope is no operating limit: the ratio is stated, nothing is forbidden by it alone.
 */
import { FREEZING_K } from './constants.ts';
import { kFromC, mFromFt, mFromNm, mFromUm } from './units.ts';

/** Median drop diameters of the figure, m, and temperatures, K. */
const DIAMETERS_M = [15, 20, 25, 30, 35, 40].map(mFromUm);
const TEMPERATURES_K = [0, -10, -20, -30].map(kFromC);

/** Liquid water limits, kg/m3: a row a temperature, a column a diameter (figure 1, read to 0.01 g/m3). */
const LIMITS_KG_PER_M3 = [
  [0.8, 0.635, 0.5, 0.375, 0.26, 0.155],
  [0.59, 0.415, 0.3, 0.22, 0.15, 0.1],
  [0.3, 0.21, 0.15, 0.11, 0.08, 0.06],
  [0.2, 0.14, 0.1, 0.07, 0.05, 0.04],
].map((row) => row.map((gPerM3) => gPerM3 / 1000));

/** Factor on the limit by horizontal extent (figure 3): m, ratio. */
const EXTENTS_M = [5, 10, 17.4, 50, 170, 310].map(mFromNm);
const EXTENT_FACTORS = [1.34, 1.16, 1, 0.67, 0.32, 0.2];

const ENVELOPE_TOP_M = mFromFt(22000);
const WARM_EDGE_FALLS_FROM_M = mFromFt(12000);
const COLDEST_K = kFromC(-30);

/**
 * Stands for "outside the ranges of the envelope": drops above 40 um, air under -30 degC, above 22,000 ft. No limit exists
 * there, so nothing is extrapolated; greater ratios are held to this too, so that it always sorts last.
 */
export const OUTSIDE_ENVELOPE_RATIO = 10;

/**
 * Liquid water limit at the standard extent of 17.4 NM.
 *
 * @param temperatureK  K, -30 to 0 degC.
 * @param diameterM     Median volume diameter, m, 15 to 40 um.
 * @returns             kg/m3, linear between the figure's points; NaN outside either range.
 * @throws              never.
 * @source              14 CFR 25 Appendix C, figure 1 (digitised); origin NACA TN 1855 class III-M.
 * @checked             tests/published/certified-envelope.test.ts
 */
export function continuousMaximumKgPerM3(temperatureK: number, diameterM: number): number {
  const row = stretchOf(TEMPERATURES_K, temperatureK);
  const column = stretchOf(DIAMETERS_M, diameterM);
  const warm = LIMITS_KG_PER_M3[Math.floor(row)];
  const cold = LIMITS_KG_PER_M3[Math.min(Math.floor(row) + 1, 3)];
  if (warm === undefined || cold === undefined || Number.isNaN(column)) return Number.NaN;
  const left = Math.floor(column);
  const right = Math.min(left + 1, 5);
  const along = column - left;
  const atWarm = warm[left]! + along * (warm[right]! - warm[left]!);
  const atCold = cold[left]! + along * (cold[right]! - cold[left]!);
  return atWarm + (row - Math.floor(row)) * (atCold - atWarm);
}

/** Where a value lies in a monotonic list, as a fractional index; NaN outside. */
function stretchOf(list: readonly number[], value: number): number {
  const direction = Math.sign(list[1]! - list[0]!);
  for (let index = 0; index + 1 < list.length; index += 1) {
    const from = list[index]!;
    const to = list[index + 1]!;
    const isInside =
      direction * (value - from) >= -RANGE_ROUNDING && direction * (to - value) >= -RANGE_ROUNDING;
    if (isInside) return index + Math.min(1, Math.max(0, (value - from) / (to - from)));
  }
  return Number.NaN;
}

const RANGE_ROUNDING = 1e-9;

/**
 * Factor on the limit for water that extends further or less far than 17.4 NM.
 *
 * @param extentM  Horizontal extent, m. Linear in ln distance between the figure's points; held at its ends.
 * @returns        Ratio, 1.34 to 0.20.
 * @throws         never.
 * @source         14 CFR 25 Appendix C, figure 3.
 * @checked        tests/published/certified-envelope.test.ts
 */
export function extentFactor(extentM: number): number {
  const last = EXTENTS_M.length - 1;
  if (extentM <= EXTENTS_M[0]!) return EXTENT_FACTORS[0]!;
  if (extentM >= EXTENTS_M[last]!) return EXTENT_FACTORS[last]!;
  const next = EXTENTS_M.findIndex((each) => extentM < each);
  const share = Math.log(extentM / EXTENTS_M[next - 1]!) / Math.log(EXTENTS_M[next]! / EXTENTS_M[next - 1]!);
  return EXTENT_FACTORS[next - 1]! + share * (EXTENT_FACTORS[next]! - EXTENT_FACTORS[next - 1]!);
}

/**
 * Temperatures the envelope covers at an altitude.
 *
 * @param pressureAltitudeM  m.
 * @returns                  Coldest and warmest, K; undefined above 22,000 ft or below 0.
 * @throws                   never.
 * @source                   14 CFR 25 Appendix C, figure 2.
 * @checked                  tests/published/certified-envelope.test.ts
 */
export function envelopeTemperaturesK(
  pressureAltitudeM: number,
): { readonly coldestK: number; readonly warmestK: number } | undefined {
  if (!(pressureAltitudeM >= 0 && pressureAltitudeM <= ENVELOPE_TOP_M)) return undefined;
  const risen = Math.max(0, pressureAltitudeM - WARM_EDGE_FALLS_FROM_M);
  const warmestK = FREEZING_K - (20 * risen) / (ENVELOPE_TOP_M - WARM_EDGE_FALLS_FROM_M);
  return { coldestK: COLDEST_K, warmestK };
}

/**
 * Liquid water over its continuous-maximum limit.
 *
 * @param liquidWaterKgPerM3  kg/m3; 0 gives 0.
 * @param diameterM           Median volume diameter, m; under 15 um the limit of 15 um serves.
 * @param temperatureK        K; above 0 degC the limit of 0 degC serves.
 * @param pressureAltitudeM   m. That air may be warmer than the envelope's edge at its altitude is no reason here.
 * @returns                   Ratio, at most OUTSIDE_ENVELOPE_RATIO, which also stands for water where no limit exists.
 * @throws                    never.
 * @source                    As continuousMaximumKgPerM3.
 * @checked                   tests/published/certified-envelope.test.ts
 */
export function envelopeRatio(
  liquidWaterKgPerM3: number,
  diameterM: number,
  temperatureK: number,
  pressureAltitudeM: number,
): number {
  if (!(liquidWaterKgPerM3 > 0)) return 0;
  if (pressureAltitudeM > ENVELOPE_TOP_M) return OUTSIDE_ENVELOPE_RATIO;
  const limit = continuousMaximumKgPerM3(
    Math.min(temperatureK, FREEZING_K),
    Math.max(diameterM, DIAMETERS_M[0]!),
  );
  if (Number.isNaN(limit)) return OUTSIDE_ENVELOPE_RATIO;
  return Math.min(OUTSIDE_ENVELOPE_RATIO, liquidWaterKgPerM3 / limit);
}

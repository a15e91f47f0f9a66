/**
 * One quantity on the levels of one profile that have it, and between which of them it may be interpolated.
 *
 * Interpolating across a lost value is how an icing layer can vanish, so the rule is strict: see the two limits.
 */

/**
 * Across a level that lost the value (it has some of temperature and humidity, not all, or nothing at all): at most this
 * far in ln p, about 10 hPa at 850 hPa or 100 m. A humidity sensor in cold air does not resolve less anyway.
 */
export const LOST_VALUE_LIMIT = 0.012;

/**
 * Between neighboring levels that both have it: at most this far in ln p. Takes the steps of the mandatory levels up to
 * 400 hPa but 700 to 500 hPa (850 to 700 is 0.194, 500 to 400 is 0.223), and refuses a hole of 200 hPa at 900 hPa.
 */
export const SPACING_LIMIT = 0.23;

/** Why two neighboring levels of a series may not be bridged. */
export const HOLE = { none: 0, tooFarApart: 1, valueLost: 2 } as const;

/** ln p (decreasing) and value at the levels that have one; `hole[n]` is the HOLE between n and n + 1. */
export interface LevelSeries {
  readonly count: number;
  readonly lnPressure: Float64Array;
  readonly value: Float64Array;
  readonly hole: Uint8Array;
}

/** What stands on each level, for choosing which values count and what a level without one means. */
export interface SeriesLevels {
  readonly levelCount: number;
  readonly pressurePa: Float64Array;
  /** 1 where the value counts. */
  readonly hasValue: Uint8Array;
  /** 1 where the level should have a value and has not. */
  readonly isLost: Uint8Array;
}

/**
 * @param levels  Which levels have the value, and which lost it.
 * @param value   The quantity at every level, length levelCount.
 * @param spacingLimit  Largest step that may be bridged, in ln p.
 * @returns       The levels that have it.
 * @throws        never.
 */
export function makeLevelSeries(
  levels: SeriesLevels,
  value: Float64Array,
  spacingLimit = SPACING_LIMIT,
): LevelSeries {
  const lnPressure = new Float64Array(levels.levelCount);
  const kept = new Float64Array(levels.levelCount);
  const hole = new Uint8Array(levels.levelCount);
  let count = 0;
  let lostSince = false;
  for (let level = 0; level < levels.levelCount; level += 1) {
    if (levels.hasValue[level] !== 1) {
      lostSince ||= levels.isLost[level] === 1;
      continue;
    }
    lnPressure[count] = Math.log(levels.pressurePa[level]!);
    kept[count] = value[level]!;
    if (count > 0)
      hole[count - 1] = holeBetween(lnPressure[count - 1]! - lnPressure[count]!, lostSince, spacingLimit);
    count += 1;
    lostSince = false;
  }
  return { count, lnPressure, value: kept, hole };
}

function holeBetween(lnDistance: number, lostSince: boolean, spacingLimit: number): number {
  if (lostSince) return lnDistance <= LOST_VALUE_LIMIT ? HOLE.none : HOLE.valueLost;
  return lnDistance <= spacingLimit ? HOLE.none : HOLE.tooFarApart;
}

/** Rounding allowed where a cell edge and a level are meant to coincide, in ln p (0.1 Pa at 1000 hPa). */
const ROUNDING = 1e-6;

/** Index of the last level at or below (higher pressure than) the place; -1 when the place is outside the levels. */
function levelBelow(series: LevelSeries, lnPressure: number): number {
  const { count, lnPressure: levels } = series;
  if (count === 0 || lnPressure > levels[0]! + ROUNDING || lnPressure < levels[count - 1]! - ROUNDING)
    return -1;
  let low = 0;
  let high = count - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if (levels[middle]! >= lnPressure) low = middle;
    else high = middle - 1;
  }
  return low;
}

/**
 * Value at a place, linear in ln p.
 *
 * @returns  NaN outside the levels and inside a hole that may not be bridged.
 * @throws   never.
 */
export function valueAt(series: LevelSeries, lnPressure: number): number {
  const level = levelBelow(series, lnPressure);
  if (level < 0) return Number.NaN;
  const below = series.value[level]!;
  const distance = series.lnPressure[level]! - lnPressure;
  if (level === series.count - 1 || distance <= ROUNDING) return below;
  const span = series.lnPressure[level]! - series.lnPressure[level + 1]!;
  const above = series.value[level + 1]!;
  if (series.hole[level] !== HOLE.none) return span - distance <= ROUNDING ? above : Number.NaN;
  return below + (distance / span) * (above - below);
}

/**
 * The first hole that a stretch runs into.
 *
 * @param lnLower  ln p of the stretch's foot (the larger).
 * @param lnUpper  ln p of its top.
 * @returns        Index of the level under the hole; -1 when the levels cover the stretch; -2 when it leaves them below,
 *                 -3 above.
 * @throws         never.
 */
export function holeWithin(series: LevelSeries, lnLower: number, lnUpper: number): number {
  const { count, lnPressure, hole } = series;
  if (count === 0 || lnLower > lnPressure[0]! + ROUNDING) return -2;
  if (lnUpper < lnPressure[count - 1]! - ROUNDING) return -3;
  for (let level = levelBelow(series, lnLower); level < count - 1; level += 1) {
    if (lnPressure[level]! <= lnUpper + ROUNDING) break;
    if (hole[level] !== HOLE.none && lnPressure[level + 1]! < lnLower - ROUNDING) return level;
  }
  return -1;
}

/**
 * Greatest value in a stretch, both ends included, with every level inside.
 *
 * @param lnLower  ln p of the stretch's foot (the larger).
 * @param lnUpper  ln p of its top.
 * @returns        NaN unless the levels cover all of it.
 * @throws         never.
 */
export function greatestWithin(series: LevelSeries, lnLower: number, lnUpper: number): number {
  if (holeWithin(series, lnLower, lnUpper) !== -1) return Number.NaN;
  let greatest = Math.max(valueAt(series, lnLower), valueAt(series, lnUpper));
  for (let level = levelBelow(series, lnLower) + 1; level < series.count; level += 1) {
    if (series.lnPressure[level]! < lnUpper) break;
    greatest = Math.max(greatest, series.value[level]!);
  }
  return greatest;
}

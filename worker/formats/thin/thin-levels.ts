/** An ascent of thousands of levels thinned to what straight lines between the others do not already say. */
import type { SoundingLevels } from '../sounding.ts';
import { type LostStretch, lostStretches, markAnchors, STANDARD_PA } from './anchors.ts';
import { ALOFT_FACTOR, ALOFT_PA, humidityOfLevels, type ThinSeries, thinSeries } from './series.ts';

export interface ThinnedLevels {
  readonly levels: SoundingLevels;
  /** Indexes of the levels kept, among those given. */
  readonly kept: Int32Array;
  /** How many times the bounds the greatest error may be: 1, or 1.25, 1.56 … where the number of levels asked for more. */
  readonly boundFactor: number;
}

/** Ascents of at most so many levels stay as they are. */
export const LEAST_THINNED_LEVELS = 250;
/** No ascent keeps more. */
export const MOST_KEPT_LEVELS = 600;

/** Two levels kept stand at most this far apart in ln p (about 100 hPa at 1000 hPa) where there are others between. */
const MOST_SPAN = 0.1;
/** The same for an ascent of standard levels alone, across which nobody interpolates farther. */
const MOST_STANDARD_SPAN = 0.012;
const MOST_PASSES = 100;
const LN_ALOFT = Math.log(ALOFT_PA);

/**
 * The rule: the levels kept reproduce every level left out, straight lines in ln p between them, within THIN_BOUNDS for
 * temperature, dew point, relative humidity over water (taken as such, and not from the other two), both components of
 * the wind, and height. Standard levels, the ends of every quantity, every moist maximum (at 85 % or more, and 1 % above
 * the humidity on both sides of it), both ends of every stretch of 85 % and of 99 % or more, both ends and the warmest
 * level of every layer above 0 °C, and the rims of stretches that lost their
 * values stay whatever the bounds. No two levels kept are farther than 0.1 in ln p apart if others stood between.
 * Nothing is averaged: each level kept is one that was measured.
 *
 * Where that takes more than MOST_KEPT_LEVELS, all bounds and the 1 % are widened by a quarter until it does not. Never throws.
 *
 * @param levels  Pressure strictly decreasing.
 * @returns       The same levels where they are no more than LEAST_THINNED_LEVELS; undefined for an ascent that no
 *                factor brings under the limit, because it is more holes than air.
 * @checked       tests/formats/thin/thin-levels.test.ts, tests/data/bufr-thinning.test.ts
 */
export function thinnedLevels(levels: SoundingLevels): ThinnedLevels | undefined {
  const { levelCount } = levels;
  if (levelCount <= LEAST_THINNED_LEVELS) {
    return { levels, kept: Int32Array.from({ length: levelCount }, (_, level) => level), boundFactor: 1 };
  }
  const humidity = humidityOfLevels(levels);
  const series = thinSeries(levels, humidity);
  const thinning: Thinning = {
    levels,
    series,
    stretches: lostStretches(levels, series[0]!),
    lnPressure: levels.pressurePa.map(Math.log),
    mostSpan: hasSignificantLevel(levels, humidity) ? MOST_SPAN : MOST_STANDARD_SPAN,
  };
  for (let boundFactor = 1; boundFactor <= LARGEST_FACTOR; boundFactor *= FACTOR_STEP) {
    const kept = keptLevels(thinning, boundFactor);
    if (kept !== undefined) return { levels: picked(levels, kept), kept, boundFactor };
  }
  return undefined;
}

/** Bounds are widened by a quarter at a time, so that what can be kept is: noise asks for little more than its own size. */
const FACTOR_STEP = 1.25;
/** Bounds of 100 K and ten times saturation: nothing is left to bound. */
const LARGEST_FACTOR = 1024;

interface Thinning {
  readonly levels: SoundingLevels;
  /** The humidity first. */
  readonly series: readonly ThinSeries[];
  readonly stretches: readonly LostStretch[];
  readonly lnPressure: Float64Array;
  readonly mostSpan: number;
}

/** @returns undefined when the bounds, so many times widened, take too many levels or too many passes. */
function keptLevels(thinning: Thinning, factor: number): Int32Array | undefined {
  const { levels, series, stretches } = thinning;
  const kept = new Uint8Array(levels.levelCount);
  markAnchors(kept, levels, { series, stretches, factor });
  for (let pass = 0; pass < MOST_PASSES; pass += 1) {
    let added = keepRims(kept, stretches);
    for (const each of series) added += refine(kept, each, { thinning, factor });
    const indexes = indexesOf(kept);
    if (indexes.length > MOST_KEPT_LEVELS) return undefined;
    if (added === 0) return indexes;
  }
  return undefined;
}

/** A lost level that stays keeps its neighbors, so that the stretch without values stays as short as it was. */
function keepRims(kept: Uint8Array, stretches: readonly LostStretch[]): number {
  let added = 0;
  for (const { below, above, lost } of stretches) {
    if (!lost.some((level) => kept[level] === 1)) continue;
    for (const rim of [below, above]) {
      added += 1 - kept[rim]!;
      kept[rim] = 1;
    }
  }
  return added;
}

/** Adds, to every pair of neighbors kept that misses a bound, the level that misses it most. @returns how many. */
function refine(
  kept: Uint8Array,
  series: ThinSeries,
  { thinning, factor }: { thinning: Thinning; factor: number },
): number {
  const { indexes } = series;
  let added = 0;
  let from = 0;
  for (let to = 1; to < indexes.length; to += 1) {
    if (kept[indexes[to]!] !== 1) continue;
    const worst = to - from > 1 ? worstBetween(series, from, to, { thinning, factor }) : -1;
    if (worst >= 0) {
      kept[worst] = 1;
      added += 1;
    }
    from = to;
  }
  return added;
}

/** The level between two of a series that is farthest off the straight line in ln p; -1 when all are within bounds. */
function worstBetween(
  { indexes, values, bound }: ThinSeries,
  from: number,
  to: number,
  { thinning, factor }: { thinning: Thinning; factor: number },
): number {
  const { lnPressure, mostSpan } = thinning;
  const lowLn = lnPressure[indexes[from]!]!;
  const span = lowLn - lnPressure[indexes[to]!]!;
  if (span > mostSpan) return nearestToMiddle(indexes, from, to, lnPressure);
  const low = values[indexes[from]!]!;
  const boundAt = (level: number) => (lnPressure[level]! < LN_ALOFT ? ALOFT_FACTOR * bound : bound);
  const slope = (values[indexes[to]!]! - low) / span;
  let worst = -1;
  let greatest = factor;
  for (let at = from + 1; at < to; at += 1) {
    const level = indexes[at]!;
    const error = Math.abs(values[level]! - low - slope * (lowLn - lnPressure[level]!)) / boundAt(level);
    if (error > greatest) {
      greatest = error;
      worst = level;
    }
  }
  return worst;
}

function nearestToMiddle(indexes: Int32Array, from: number, to: number, lnPressure: Float64Array): number {
  const middle = (lnPressure[indexes[from]!]! + lnPressure[indexes[to]!]!) / 2;
  let nearest = indexes[from + 1]!;
  for (let at = from + 2; at < to; at += 1) {
    const level = indexes[at]!;
    if (Math.abs(lnPressure[level]! - middle) < Math.abs(lnPressure[nearest]! - middle)) nearest = level;
  }
  return nearest;
}

/** A level below 400 hPa, above the lowest, that is there for what the air does. */
function hasSignificantLevel({ pressurePa }: SoundingLevels, humidity: Float64Array): boolean {
  return pressurePa.some(
    (each, level) =>
      level > 0 && each > 40_000 && !STANDARD_PA.has(Math.round(each)) && !Number.isNaN(humidity[level]!),
  );
}

function indexesOf(kept: Uint8Array): Int32Array {
  const indexes: number[] = [];
  kept.forEach((flag, level) => {
    if (flag === 1) indexes.push(level);
  });
  return Int32Array.from(indexes);
}

function picked(levels: SoundingLevels, kept: Int32Array): SoundingLevels {
  const pick = (values: Float64Array) => Float64Array.from(kept, (level) => values[level]!);
  return {
    levelCount: kept.length,
    pressurePa: pick(levels.pressurePa),
    geopotentialHeightM: pick(levels.geopotentialHeightM),
    temperatureK: pick(levels.temperatureK),
    dewPointK: pick(levels.dewPointK),
    windDirectionDeg: pick(levels.windDirectionDeg),
    windSpeedMps: pick(levels.windSpeedMps),
  };
}

/** Levels that thinning keeps whatever the bounds: ends, mandatory levels, moist maxima and edges, the rims of lost stretches. */
import { FREEZING_K } from '../../science/constants.ts';
import type { SoundingLevels } from '../sounding.ts';
import type { ThinSeries } from './series.ts';

/** Standard isobaric surfaces of FM 35 and FM 94, Pa. */
export const STANDARD_PA: ReadonlySet<number> = new Set(
  [1000, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100, 70, 50, 30, 20, 10].map((hPa) => hPa * 100),
);
/** Up to 100 hPa temperature is expected on them: without it they have lost it. */
const LEAST_MANDATORY_PA = 10_000;
/** Maxima are kept from here on, and where humidity passes one of these: a moist body, and saturation as measured. */
export const MOIST_RATIO = 0.85;
const EDGE_RATIOS: readonly number[] = [MOIST_RATIO, 0.99];
/** Across lost values nothing is interpolated farther than this in ln p; a lost stretch that is shorter closes of itself. */
const LOST_SPAN = 0.012;

/**
 * A level that should have temperature and humidity and lacks one of them. A level with wind alone, without height and off
 * the mandatory pressures, was never meant to have them.
 */
export function isLost(levels: SoundingLevels, humidity: Float64Array, level: number): boolean {
  if (!Number.isNaN(humidity[level]!)) return false;
  const pressurePa = Math.round(levels.pressurePa[level]!);
  const isMandatory = STANDARD_PA.has(pressurePa) && pressurePa >= LEAST_MANDATORY_PA;
  const hasAir = !Number.isNaN(levels.temperatureK[level]!) || !Number.isNaN(levels.dewPointK[level]!);
  const hasWind = !Number.isNaN(levels.windDirectionDeg[level]! + levels.windSpeedMps[level]!);
  const hasHeight = !Number.isNaN(levels.geopotentialHeightM[level]!);
  return hasAir || !hasWind || isMandatory || hasHeight;
}

/** A stretch of levels without humidity, some of them lost, and the levels with humidity below and above. */
export interface LostStretch {
  readonly below: number;
  readonly above: number;
  readonly lost: readonly number[];
  /** Longer than what may be bridged. */
  readonly isHole: boolean;
}

export function lostStretches(levels: SoundingLevels, humidity: ThinSeries): LostStretch[] {
  const stretches: LostStretch[] = [];
  for (let at = 0; at + 1 < humidity.indexes.length; at += 1) {
    const below = humidity.indexes[at]!;
    const above = humidity.indexes[at + 1]!;
    const lost: number[] = [];
    for (let level = below + 1; level < above; level += 1) {
      if (isLost(levels, humidity.values, level)) lost.push(level);
    }
    if (lost.length === 0) continue;
    const span = Math.log(levels.pressurePa[below]! / levels.pressurePa[above]!);
    stretches.push({ below, above, lost, isHole: span > LOST_SPAN });
  }
  return stretches;
}

/**
 * Marks the levels that stay.
 *
 * @param factor  Times the bounds that humidity, or temperature, must turn back to make a maximum or leave an edge.
 */
export function markAnchors(
  kept: Uint8Array,
  levels: SoundingLevels,
  {
    series,
    stretches,
    factor,
  }: { series: readonly ThinSeries[]; stretches: readonly LostStretch[]; factor: number },
): void {
  const keep = (level: number | undefined) => {
    if (level !== undefined) kept[level] = 1;
  };
  const [humidity, temperature] = [series[0]!, series[1]!];
  for (const { indexes } of series) {
    keep(indexes[0]);
    keep(indexes.at(-1));
  }
  keepEnds(levels, humidity, keep);
  levels.pressurePa.forEach((pressurePa, level) => {
    if (STANDARD_PA.has(Math.round(pressurePa))) keep(level);
  });
  for (const { below, above, lost, isHole } of stretches) if (isHole) [below, above, lost[0]].forEach(keep);
  const humidityStep = humidity.bound * factor;
  for (const level of maxima(humidity, MOIST_RATIO, humidityStep)) keep(level);
  for (const ratio of EDGE_RATIOS) for (const level of edgeLevels(humidity, ratio, humidityStep)) keep(level);
  // A layer that melts snow, however thin: its edges and its warmest level.
  const temperatureStep = temperature.bound * factor;
  for (const level of maxima(temperature, FREEZING_K, temperatureStep)) keep(level);
  for (const level of edgeLevels(temperature, FREEZING_K, temperatureStep)) keep(level);
}

/** The lowest and highest level, and the lowest and highest that should have temperature and humidity. */
function keepEnds(levels: SoundingLevels, humidity: ThinSeries, keep: (level: number) => void): void {
  const shouldHaveAir = (level: number) =>
    !Number.isNaN(humidity.values[level]!) || isLost(levels, humidity.values, level);
  const all = Array.from(levels.pressurePa, (_, level) => level);
  const first = all.find(shouldHaveAir);
  const last = all.findLast(shouldHaveAir);
  for (const level of [0, levels.levelCount - 1, first, last]) if (level !== undefined) keep(level);
}

/** Levels of the greatest value before it falls by the step, where that is at least so much. */
function maxima({ indexes, values }: ThinSeries, least: number, step: number): number[] {
  const found: number[] = [];
  let isRising = true;
  let turn = indexes[0];
  for (const level of indexes) {
    const change = values[level]! - values[turn!]!;
    if (isRising ? change > 0 : change < 0) turn = level;
    else if (Math.abs(change) >= step) {
      if (isRising && values[turn!]! >= least) found.push(turn!);
      isRising = !isRising;
      turn = level;
    }
  }
  if (isRising && turn !== undefined && values[turn]! >= least) found.push(turn);
  return found;
}

/** First and last level of each stretch at or above a value, each with its neighbor outside; dips less than the step do not end one. */
function edgeLevels({ indexes, values }: ThinSeries, ratio: number, step: number): number[] {
  const edges: (number | undefined)[] = [];
  let lastInside = -1;
  for (let at = 0; at < indexes.length; at += 1) {
    const value = values[indexes[at]!]!;
    if (value >= ratio) {
      if (lastInside < 0) edges.push(indexes[at - 1], indexes[at]);
      lastInside = at;
    } else if (lastInside >= 0 && value < ratio - step) {
      edges.push(indexes[lastInside], indexes[lastInside + 1]);
      lastInside = -1;
    }
  }
  if (lastInside >= 0) edges.push(indexes[lastInside], indexes[lastInside + 1]);
  return edges.filter((level) => level !== undefined);
}

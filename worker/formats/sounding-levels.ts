/** From records as a file gives them to the levels of one ascent: limits, order of pressures, duplicates merged. */
import { FREEZING_K } from '../science/constants.ts';
import type { Rejection, SoundingLevels } from './sounding.ts';

/** One record of a level; NaN where the file gives no value. */
export interface LevelRecord {
  /** Line of the text, from 1. */
  readonly line: number;
  readonly pressurePa: number;
  readonly geopotentialHeightM: number;
  readonly temperatureK: number;
  readonly dewPointK: number;
  readonly windDirectionDeg: number;
  readonly windSpeedMps: number;
}

type Quantity = Exclude<keyof LevelRecord, 'line' | 'pressurePa'>;

interface Limit {
  readonly name: string;
  readonly lowest: number;
  readonly highest: number;
  readonly unit: string;
  /** Added to a value to print it in the limit's unit. */
  readonly offset: number;
}

/** Faster than any wind that a balloon has met, m/s. */
export const MOST_WIND_SPEED_MPS = 150;

/** What a balloon can meet in the troposphere and stratosphere, with room; outside, the figure is a fault. */
const LIMITS: Readonly<Record<Quantity, Limit>> = {
  geopotentialHeightM: { name: 'height', lowest: -500, highest: 50_000, unit: 'gpm', offset: 0 },
  temperatureK: { name: 'temperature', lowest: -100, highest: 60, unit: 'degC', offset: -FREEZING_K },
  dewPointK: { name: 'dew point', lowest: -150, highest: 60, unit: 'degC', offset: -FREEZING_K },
  windDirectionDeg: { name: 'wind direction', lowest: 0, highest: 360, unit: 'deg', offset: 0 },
  windSpeedMps: { name: 'wind speed', lowest: 0, highest: MOST_WIND_SPEED_MPS, unit: 'm/s', offset: 0 },
};
const QUANTITIES = Object.keys(LIMITS) as Quantity[];

const LOWEST_PRESSURE_PA = 100;
const HIGHEST_PRESSURE_PA = 110_000;
/** Above it, a dew point over its temperature is a fault and not rounding. */
const MOST_SUPERSATURATION_K = 0.5;
/** Coded steps are a tenth at least, so anything less is arithmetic. */
const SAME_VALUE = 1e-6;

/** Quantities that only mean something together: a contradiction in one refuses the other too. */
const TOGETHER: readonly (readonly Quantity[])[] = [
  ['geopotentialHeightM'],
  ['temperatureK', 'dewPointK'],
  ['windDirectionDeg', 'windSpeedMps'],
];

/** Why a pressure cannot be a level's, or undefined when it can: 1 to 1100 hPa. */
export function pressureFault(pressurePa: number): string | undefined {
  if (pressurePa >= LOWEST_PRESSURE_PA && pressurePa <= HIGHEST_PRESSURE_PA) return undefined;
  return `pressure: found ${shown(pressurePa / 100)} hPa, expected 1 to 1100 hPa`;
}

/**
 * The record with every absurd quantity turned to NaN, each with its rejection. A temperature out of limits takes its
 * dew point along; a dew point more than 0.5 K above the temperature goes alone. Never throws.
 */
export function withinLimits(record: LevelRecord): { record: LevelRecord; rejected: Rejection[] } {
  const rejected: Rejection[] = [];
  const kept = { ...record };
  for (const quantity of QUANTITIES) {
    const { name, lowest, highest, unit, offset } = LIMITS[quantity];
    const value = record[quantity] + offset;
    // Kelvin arithmetic may miss a limit by a rounding; NaN, a missing value, passes.
    if (!(value < lowest - SAME_VALUE || value > highest + SAME_VALUE)) continue;
    kept[quantity] = Number.NaN;
    rejected.push({
      line: record.line,
      reason: `${name}: found ${shown(value)} ${unit}, expected ${lowest} to ${highest} ${unit}`,
    });
  }
  const excessK = kept.dewPointK - kept.temperatureK;
  if (excessK > MOST_SUPERSATURATION_K + SAME_VALUE) {
    rejected.push({
      line: record.line,
      reason: `dew point: found ${shown(excessK)} K above the temperature, expected at most ${MOST_SUPERSATURATION_K} K`,
    });
    kept.dewPointK = Number.NaN;
  }
  if (Number.isNaN(kept.temperatureK)) kept.dewPointK = Number.NaN;
  return { record: kept, rejected };
}

/**
 * Which records to drop so that pressure never rises: the fewest that do it, the later ones when two choices are
 * equal. One wrong pressure thus costs its own record and none of its neighbors.
 *
 * @param pressuresPa  Pa, in file order; none NaN.
 * @returns            indexes of the records out of order, ascending.
 */
export function indexesOutOfOrder(pressuresPa: readonly number[]): number[] {
  // Longest non-decreasing chain read from the end; chainEnds[n] ends the chain of n + 1 records with the least pressure.
  const chainEnds: number[] = [];
  const followers = new Array<number>(pressuresPa.length).fill(-1);
  for (let index = pressuresPa.length - 1; index >= 0; index -= 1) {
    const length = countAtMost(chainEnds, pressuresPa, pressuresPa[index]!);
    followers[index] = length === 0 ? -1 : chainEnds[length - 1]!;
    chainEnds[length] = index;
  }
  const inOrder = new Set<number>();
  for (let index = chainEnds.at(-1) ?? -1; index >= 0; index = followers[index]!) inOrder.add(index);
  return pressuresPa.flatMap((_, index) => (inOrder.has(index) ? [] : [index]));
}

/** How many chains end in a pressure of at most this one; their end pressures ascend. */
function countAtMost(ends: readonly number[], pressuresPa: readonly number[], limitPa: number): number {
  let low = 0;
  let high = ends.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (pressuresPa[ends[middle]!]! <= limitPa) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * Air of which nothing is known although levels stand below and above it: a level between them was lost, Pa. Straight
 * lines across it would make a lost deck clear.
 */
export interface LostStretch {
  /** Infinity where nothing is known below. */
  readonly bottomPa: number;
  readonly topPa: number;
}

/**
 * Stretches between the levels that stay where levels went: unread, out of order, without a pressure.
 *
 * @param pressuresPa  in the order of the file; NaN for a level that went.
 * @param lostBefore   indexes of levels before which something unread stood.
 */
export function stretchesBetween(
  pressuresPa: readonly number[],
  lostBefore: ReadonlySet<number> = new Set(),
): LostStretch[] {
  const stretches: LostStretch[] = [];
  let belowPa = Number.POSITIVE_INFINITY;
  let isLost = false;
  pressuresPa.forEach((pressurePa, index) => {
    isLost ||= lostBefore.has(index) || Number.isNaN(pressurePa);
    if (Number.isNaN(pressurePa)) return;
    if (isLost) stretches.push({ bottomPa: belowPa, topPa: pressurePa });
    belowPa = pressurePa;
    isLost = false;
  });
  return stretches;
}

/**
 * Levels of one ascent, highest pressure first. Records of the same pressure become one level: for each quantity the
 * first value that is not missing stands; a later value that contradicts it is rejected, and with it its partner
 * (dew point with temperature, speed with direction), so that no level mixes two measurements. Between two neighbors
 * that a lost stretch runs between stands a level without values. Never throws.
 *
 * @param records  in order of precedence; pressures finite.
 */
export function mergeLevels(
  records: readonly LevelRecord[],
  lost: readonly LostStretch[] = [],
): {
  levels: SoundingLevels;
  rejected: Rejection[];
} {
  const rejected: Rejection[] = [];
  const merged = new Map<number, LevelRecord>();
  for (const record of records) {
    const first = merged.get(record.pressurePa);
    merged.set(record.pressurePa, first === undefined ? record : merge(first, record, rejected));
  }
  const sorted = [...merged.values()].sort((a, b) => b.pressurePa - a.pressurePa);
  return { levels: levelsOf(lost.length === 0 ? sorted : withLost(sorted, lost)), rejected };
}

/** A level without values, halfway in ln p, between neighbors that a lost stretch runs between. */
function withLost(sorted: readonly LevelRecord[], lost: readonly LostStretch[]): LevelRecord[] {
  return sorted.flatMap((below, index) => {
    const above = sorted[index + 1];
    if (above === undefined || !isLostBetween(below, above, lost)) return [below];
    return [below, blankBetween(below, above)];
  });
}

/** True when a lost stretch runs somewhere between two neighbors. */
export function isLostBetween(below: LevelRecord, above: LevelRecord, lost: readonly LostStretch[]): boolean {
  return lost.some(
    ({ bottomPa, topPa }) =>
      Math.min(bottomPa, below.pressurePa) > Math.max(topPa, above.pressurePa) * (1 + SAME_VALUE),
  );
}

/** A level without values halfway between two, in ln p. */
export function blankBetween(below: LevelRecord, above: LevelRecord): LevelRecord {
  return {
    line: below.line,
    pressurePa: Math.sqrt(below.pressurePa * above.pressurePa),
    geopotentialHeightM: Number.NaN,
    temperatureK: Number.NaN,
    dewPointK: Number.NaN,
    windDirectionDeg: Number.NaN,
    windSpeedMps: Number.NaN,
  };
}

function merge(first: LevelRecord, later: LevelRecord, rejected: Rejection[]): LevelRecord {
  const result = { ...first };
  for (const group of TOGETHER) {
    const contradicted = group.filter((quantity) => Math.abs(first[quantity] - later[quantity]) > SAME_VALUE);
    if (contradicted.length > 0) {
      for (const quantity of contradicted) rejected.push(contradiction(first, later, quantity));
      continue;
    }
    for (const quantity of group) {
      if (Number.isNaN(result[quantity])) result[quantity] = later[quantity];
    }
  }
  return result;
}

function contradiction(first: LevelRecord, later: LevelRecord, quantity: Quantity): Rejection {
  const { name, unit, offset } = LIMITS[quantity];
  const place = `${shown(later.pressurePa / 100)} hPa`;
  return {
    line: later.line,
    reason: `${name} at ${place}: found ${shown(later[quantity] + offset)} ${unit}, expected ${shown(first[quantity] + offset)} ${unit} as line ${first.line} has it`,
  };
}

function levelsOf(records: readonly LevelRecord[]): SoundingLevels {
  return {
    levelCount: records.length,
    pressurePa: Float64Array.from(records, (record) => record.pressurePa),
    geopotentialHeightM: Float64Array.from(records, (record) => record.geopotentialHeightM),
    temperatureK: Float64Array.from(records, (record) => record.temperatureK),
    dewPointK: Float64Array.from(records, (record) => record.dewPointK),
    windDirectionDeg: Float64Array.from(records, (record) => record.windDirectionDeg),
    windSpeedMps: Float64Array.from(records, (record) => record.windSpeedMps),
  };
}

function shown(value: number): string {
  return String(Number(value.toFixed(2)));
}

/**
 * Scores of a forecast of ice against pilots' reports of ice and of none.
 *
 * Aeroplanes avoid ice and mostly say nothing where there is none: the reports do not sample the air without ice, so nothing here
 * needs to know how much of it there is. A false-alarm ratio and a critical success index would, and are left out on purpose
 * (Brown et al. 1997, Brown and Young 2000, from memory). A score without its ground is undefined, never 0 or 1.
 */

/** Reports of ice that was forecast or missed; reports of no ice, in so many words, where ice was forecast or was not. */
export interface Contingency {
  readonly hits: number;
  readonly misses: number;
  readonly falseAlarms: number;
  readonly correctNulls: number;
}

/** A share of reports with the interval that 95 of 100 such samples would hold the truth in. */
export interface Share {
  /** 0-1. */
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Reports that it is a share of. */
  readonly count: number;
}

export interface Skill {
  /** Of the reports of ice, the share where it was forecast. */
  readonly iceFound: Share | undefined;
  /** Of the reports of no ice, the share where none was forecast. */
  readonly nullsFound: Share | undefined;
  /** Sum of both less one (true skill statistic): 0 for a guess, 1 at best. */
  readonly trueSkill: number | undefined;
}

export function skillOf({ hits, misses, falseAlarms, correctNulls }: Contingency): Skill {
  const iceFound = shareOf(hits, hits + misses);
  const nullsFound = shareOf(correctNulls, correctNulls + falseAlarms);
  const trueSkill =
    iceFound === undefined || nullsFound === undefined ? undefined : iceFound.value + nullsFound.value - 1;
  return { iceFound, nullsFound, trueSkill };
}

/** 97.5 % of a normal distribution lie below so many of its widths. */
const WIDTHS = 1.959964;

/**
 * A share with its score interval (Wilson 1927), which stays within 0 and 1 and has a width for 0 of n and n of n too.
 *
 * @returns undefined of nothing.
 */
export function shareOf(count: number, of: number): Share | undefined {
  if (!(of > 0)) return undefined;
  const value = count / of;
  const square = (WIDTHS * WIDTHS) / of;
  const middle = (value + square / 2) / (1 + square);
  const half = (WIDTHS * Math.sqrt((value * (1 - value)) / of + square / (4 * of))) / (1 + square);
  return { value, low: Math.max(0, middle - half), high: Math.min(1, middle + half), count: of };
}

/** How many reports of ice and of none were given one probability of ice, 0-1. */
export interface Given {
  readonly probability: number;
  readonly met: number;
  readonly notMet: number;
}

/** Share of the reports of no ice, and of ice, that a threshold flags. */
export type RocPoint = readonly [falsely: number, found: number];

/**
 * The curve that a threshold draws as it falls from above all probabilities to below them, from (0, 0) to (1, 1).
 *
 * @returns undefined without both a report of ice and one of none.
 */
export function rocCurve(given: readonly Given[]): RocPoint[] | undefined {
  const sum = (of: 'met' | 'notMet') => given.reduce((total, each) => total + each[of], 0);
  const [met, notMet] = [sum('met'), sum('notMet')];
  if (met === 0 || notMet === 0) return undefined;
  const points: RocPoint[] = [[0, 0]];
  let [flaggedMet, flaggedNotMet] = [0, 0];
  const falling = given.toSorted((a, b) => b.probability - a.probability);
  falling.forEach((each, index) => {
    flaggedMet += each.met;
    flaggedNotMet += each.notMet;
    // One probability has one point, however many entries it comes in.
    if (falling[index + 1]?.probability === each.probability) return;
    points.push([flaggedNotMet / notMet, flaggedMet / met]);
  });
  return points;
}

/** Area under a curve of rising points, by trapezia. */
export function areaUnder(points: readonly RocPoint[]): number {
  return points.slice(1).reduce((area, [x, y], index) => {
    const [lastX, lastY] = points[index]!;
    return area + ((x - lastX) * (y + lastY)) / 2;
  }, 0);
}

/**
 * Percent of the reports of ice found in each percent of the air that was flagged.
 *
 * @param iceFound      Ratio.
 * @param flaggedShare  Of the volume, ratio.
 * @returns             undefined where nothing was flagged, or a part is undefined.
 */
export function volumeEfficiency(
  iceFound: number | undefined,
  flaggedShare: number | undefined,
): number | undefined {
  if (iceFound === undefined || flaggedShare === undefined || flaggedShare === 0) return undefined;
  return iceFound / flaggedShare;
}

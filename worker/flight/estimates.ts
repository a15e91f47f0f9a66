/** The one place for the rule that turns draws into a low, middle and high estimate. */
import type { Spread } from './types.ts';

/** Parts of the draws that are lower than each estimate. */
const LOW_SHARE = 0.1;
const HIGH_SHARE = 0.9;

export const NOTHING: Spread = { low: 0, middle: 0, high: 0 };

/**
 * Estimates of a sum that every draw has once: a tenth of the draws is lower than the low one, half than the middle one, a
 * tenth higher than the high one.
 *
 * @param sums  One a draw, at least one; left in order.
 */
export function spreadOfDraws(sums: Float64Array): Spread {
  if (sums.every((each) => each === 0)) return NOTHING;
  const sorted = sums.slice().sort();
  const count = sorted.length;
  return {
    low: sorted[Math.floor(LOW_SHARE * count)]!,
    middle: (sorted[Math.floor((count - 1) / 2)]! + sorted[Math.floor(count / 2)]!) / 2,
    high: sorted[Math.ceil(HIGH_SHARE * count) - 1]!,
  };
}

/** @returns the part of the draws whose sum is above a limit, 0-1. */
export function shareAbove(sums: Float64Array, limit: number): number {
  return sums.reduce((count, each) => count + (each > limit ? 1 : 0), 0) / sums.length;
}

/**
 * Probability of ice in one cell from which a way out of it is asked for, up to which air is good enough to get out to, and
 * from which a top counts as the expected one (judgement; deep cloud with a cold top stays under a tenth and still ices).
 */
export const ICE_POSSIBLE = 0.05;
export const ICE_UNLIKELY = 0.15;
export const ICE_EXPECTED = 0.4;

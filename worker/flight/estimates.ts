/**
 * The one place for the rule that turns probabilities into a low, middle and high estimate.
 *
 * For now a fixed rule, not an error model: a cell counts in an estimate when its probability reaches that estimate's
 * threshold, and amounts given liquid are scaled by one standard deviation of ln liquid water (0.8, measured near
 * soundings). Since the thresholds fall and the factors rise, low <= middle <= high holds for every sum.
 */
import type { Spread } from './types.ts';

export const ESTIMATE_COUNT = 3;

/** Least probability of ice or cloud that counts, by estimate: low, middle, high. */
export const PROBABILITY_THRESHOLDS: readonly [low: number, middle: number, high: number] = [0.7, 0.4, 0.15];

const LN_LIQUID_WATER_SIGMA = 0.8;

/** Factor on amounts given liquid, by estimate. */
export const AMOUNT_FACTORS: readonly [low: number, middle: number, high: number] = [
  Math.exp(-LN_LIQUID_WATER_SIGMA),
  1,
  Math.exp(LN_LIQUID_WATER_SIGMA),
];

/** Three sums, indexed by estimate, as a spread. */
export function spreadOf(sums: ArrayLike<number>): Spread {
  return { low: sums[0]!, middle: sums[1]!, high: sums[2]! };
}

/** Scores of amounts that span decades: error of the logarithm, and agreement of order. */
import { mean, ranks } from './skill-scores.ts';

/**
 * Root mean square error of the natural logarithm.
 *
 * @param predicted  Positive.
 * @param measured   Positive, same length.
 * @returns          0 perfect; 0.69 is a factor of two.
 * @throws           never.
 */
export function logRms(predicted: readonly number[], measured: readonly number[]): number {
  return Math.sqrt(mean(measured.map((value, index) => Math.log(predicted[index]! / value) ** 2)));
}

/** The constant of least logRms: the geometric mean. It is chosen on the measurements themselves, so it is hard to beat. */
export function bestConstant(measured: readonly number[]): number {
  return Math.exp(mean(measured.map(Math.log)));
}

/** @returns the part of values that lies within a factor of the measured one. */
export function shareWithinFactor(
  predicted: readonly number[],
  measured: readonly number[],
  factor: number,
): number {
  const limit = Math.log(factor);
  return mean(
    measured.map((value, index) => (Math.abs(Math.log(predicted[index]! / value)) <= limit ? 1 : 0)),
  );
}

/**
 * Rank correlation of Spearman: the correlation of ranks, ties sharing their mean rank.
 *
 * @param a  Numbers.
 * @param b  Same length.
 * @returns  -1 to 1; NaN when either is constant.
 * @throws   RangeError on NaN.
 */
export function rankCorrelation(a: readonly number[], b: readonly number[]): number {
  const x = centered(ranks(a));
  const y = centered(ranks(b));
  const product = (p: readonly number[], q: readonly number[]) =>
    p.reduce((sum, value, index) => sum + value * q[index]!, 0);
  return product(x, y) / Math.sqrt(product(x, x) * product(y, y));
}

function centered(values: readonly number[]): number[] {
  const middle = mean(values);
  return values.map((value) => value - middle);
}

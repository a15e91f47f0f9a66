/** The normal distribution turned round: from a probability to the deviation below which it lies. */

/**
 * Quantile of the standard normal distribution.
 *
 * @param probability  0-1.
 * @returns            Standard deviations; -Infinity at 0, Infinity at 1; NaN outside.
 * @throws             never.
 * @source             Rational approximations of Acklam 2003 (coefficients from memory; 1.2e-9 relative error).
 * @checked            tests/science/draw-numbers.test.ts
 */
export function normalQuantile(probability: number): number {
  if (!(probability >= 0 && probability <= 1)) return Number.NaN;
  if (probability < TAIL) return probability === 0 ? Number.NEGATIVE_INFINITY : tail(probability);
  if (probability > 1 - TAIL) return probability === 1 ? Number.POSITIVE_INFINITY : -tail(1 - probability);
  const q = probability - 0.5;
  const r = q * q;
  return (polynomial(MIDDLE_OVER, r) * q) / polynomial(MIDDLE_UNDER, r);
}

const TAIL = 0.02425;

function tail(probability: number): number {
  const q = Math.sqrt(-2 * Math.log(probability));
  return polynomial(TAIL_OVER, q) / polynomial(TAIL_UNDER, q);
}

/** Highest power first. */
function polynomial(coefficients: readonly number[], x: number): number {
  let sum = 0;
  for (const coefficient of coefficients) sum = sum * x + coefficient;
  return sum;
}

const MIDDLE_OVER = [
  -3.969683028665376e1, 2.209460984245205e2, -2.759285104469687e2, 1.38357751867269e2, -3.066479806614716e1,
  2.506628277459239,
];
const MIDDLE_UNDER = [
  -5.447609879822406e1, 1.615858368580409e2, -1.556989798598866e2, 6.680131188771972e1, -1.328068155288572e1,
  1,
];
const TAIL_OVER = [
  -7.784894002430293e-3, -3.223964580411365e-1, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
];
const TAIL_UNDER = [7.784695709041462e-3, 3.224671290700398e-1, 2.445134137142996, 3.754408661907416, 1];

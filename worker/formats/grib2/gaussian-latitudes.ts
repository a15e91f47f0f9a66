/**
 * Gaussian latitudes: the parallels at which a quadrature over the sphere is exact, zeros of a Legendre polynomial.
 *
 * @source   Abramowitz and Stegun 1964, eqs. 25.4.29 (abscissas), 22.16.6 (first guess), 8.5.3 (recurrence) and 8.5.4 (slope);
 *           numbers of equations from memory.
 * @checked  tests/published/grid-projections.test.ts
 */

const DEG_PER_RAD = 180 / Math.PI;
/** Newton's method doubles the digits at each step; the first guess has three or more, and a step this small is the last. */
const MOST_NEWTON_STEPS = 5;
const LAST_STEP = 1e-9;

/**
 * @param parallels  N, between a pole and the equator: there are 2 N in all.
 * @param first      The first one wanted, 0 the northernmost.
 * @param count      How many.
 * @returns          Their latitudes, deg, from north to south.
 */
export function gaussianLatitudesDeg(parallels: number, first = 0, count = 2 * parallels): Float64Array {
  return Float64Array.from({ length: count }, (_, n) => latitudeDeg(parallels, first + n));
}

function latitudeDeg(parallels: number, parallel: number): number {
  const degree = 2 * parallels;
  if (parallel >= parallels) return -latitudeDeg(parallels, degree - 1 - parallel);
  let sine = Math.cos((Math.PI * (parallel + 0.75)) / (degree + 0.5));
  for (let steps = 0, change = 1; steps < MOST_NEWTON_STEPS && Math.abs(change) > LAST_STEP; steps += 1) {
    change = newtonStep(degree, sine);
    sine -= change;
  }
  return Math.asin(sine) * DEG_PER_RAD;
}

/** P / P' of the Legendre polynomial of a degree. */
function newtonStep(degree: number, x: number): number {
  let before = 1;
  let value = x;
  for (let n = 2; n <= degree; n += 1) {
    const next = ((2 * n - 1) * x * value - (n - 1) * before) / n;
    before = value;
    value = next;
  }
  const slope = (degree * (x * value - before)) / (x * x - 1);
  return value / slope;
}

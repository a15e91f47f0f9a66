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
 * @param parallels  N, between a pole and the equator.
 * @returns          2 N latitudes, deg, from north to south.
 */
export function gaussianLatitudesDeg(parallels: number): Float64Array {
  const degree = 2 * parallels;
  const latitudes = new Float64Array(degree);
  for (let row = 0; row < parallels; row += 1) {
    let sine = Math.cos((Math.PI * (row + 0.75)) / (degree + 0.5));
    for (let steps = 0, change = 1; steps < MOST_NEWTON_STEPS && Math.abs(change) > LAST_STEP; steps += 1) {
      change = newtonStep(degree, sine);
      sine -= change;
    }
    const latDeg = Math.asin(sine) * DEG_PER_RAD;
    latitudes[row] = latDeg;
    latitudes[degree - 1 - row] = -latDeg;
  }
  return latitudes;
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

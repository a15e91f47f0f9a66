/**
 * The fixed numbers that draws are made of: the same in every run, spread as evenly as so few draws can be.
 *
 * In 64 draws of some fifty numbers no low-discrepancy sequence fills the space; instead each number alone is spread evenly
 * over its distribution (a Latin hypercube), in an order that differs from number to number.
 */
import { normalQuantile } from './normal-quantile.ts';

export const DRAW_COUNT = 64;

/** Any constant: it decides which of many equally good sets of numbers is used. */
const SEED = 0x5eed_2026;

/**
 * Standard normal numbers.
 *
 * @param dimensions  How many numbers a draw needs.
 * @returns           [dimension][draw], length dimensions x DRAW_COUNT; over the draws of a dimension the mean is 0 and the
 *                    variance 1.
 * @throws            never.
 * @source            Latin hypercube sampling, McKay, Beckman and Conover 1979 (from memory): the middles of equally probable
 *                    strata, shuffled; stretched to unit variance.
 * @checked           tests/science/draw-numbers.test.ts
 */
export function normalDraws(dimensions: number): Float64Array {
  const strata = strataMiddles();
  const numbers = new Float64Array(dimensions * DRAW_COUNT);
  let random = SEED;
  for (let dimension = 0; dimension < dimensions; dimension += 1) {
    const row = numbers.subarray(dimension * DRAW_COUNT, (dimension + 1) * DRAW_COUNT);
    row.set(strata);
    for (let last = DRAW_COUNT - 1; last > 0; last -= 1) {
      random = nextInteger(random);
      const other = random % (last + 1);
      const kept = row[last]!;
      row[last] = row[other]!;
      row[other] = kept;
    }
  }
  return numbers;
}

function strataMiddles(): Float64Array {
  const middles = Float64Array.from({ length: DRAW_COUNT }, (_, stratum) =>
    normalQuantile((stratum + 0.5) / DRAW_COUNT),
  );
  const variance = middles.reduce((sum, each) => sum + each * each, 0) / DRAW_COUNT;
  return middles.map((each) => each / Math.sqrt(variance));
}

/** A full-period 32-bit mixer (xorshift, Marsaglia 2003). */
function nextInteger(state: number): number {
  let next = state;
  next ^= next << 13;
  next ^= next >>> 17;
  next ^= next << 5;
  return next >>> 0;
}

const PATCH_NUMBERS = 4096;

/** Standard normal numbers to be looked up by patchIndex. */
export function patchNumbers(): Float32Array {
  return Float32Array.from({ length: PATCH_NUMBERS }, (_, index) =>
    normalQuantile((index + 0.5) / PATCH_NUMBERS),
  );
}

/**
 * Where to look up the number of one patch of air in one draw: independent from patch to patch, always the same.
 *
 * @returns  Index into patchNumbers.
 */
export function patchIndex(draw: number, along: number, up: number): number {
  let mixed =
    Math.imul(draw + 1, 0x9e3779b1) ^ Math.imul(along + 1, 0x85ebca77) ^ Math.imul(up + 1, 0xc2b2ae3d);
  mixed = Math.imul(mixed ^ (mixed >>> 15), 0x2c1b3c6d);
  mixed = Math.imul(mixed ^ (mixed >>> 12), 0x297a2d39);
  return (mixed ^ (mixed >>> 15)) & (PATCH_NUMBERS - 1);
}

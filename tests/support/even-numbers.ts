/** Numbers for property tests. */
import fc from 'fast-check';

const STEPS = 100_000;

/** Even over a range, both ends included; the library's own fractional numbers crowd round its ends and zero. */
export const even = (min: number, max: number): fc.Arbitrary<number> =>
  fc.integer({ min: 0, max: STEPS }).map((count) => min + ((max - min) * count) / STEPS);

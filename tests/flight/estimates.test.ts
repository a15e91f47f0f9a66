/** From draws to estimates. */
import { expect, test } from 'vitest';
import { shareAbove, spreadOfDraws } from '../../worker/flight/estimates.ts';

const shuffled = () => Float64Array.from({ length: 64 }, (_, draw) => (draw * 37) % 64);

test('of the numbers 0 to 63 in any order a tenth is lower than 6, half than 31.5, a tenth higher than 57', () => {
  expect(spreadOfDraws(shuffled())).toEqual({ low: 6, middle: 31.5, high: 57 });
});

test('the draws stay in their order, for sums that belong together draw by draw', () => {
  const sums = shuffled();
  spreadOfDraws(sums);
  expect(sums).toEqual(shuffled());
});

test('the share above a limit counts only what is above it', () => {
  expect(shareAbove(Float64Array.of(0, 0, 1, 2), 0)).toBe(0.5);
});

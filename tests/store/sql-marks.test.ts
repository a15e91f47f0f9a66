import { expect, it } from 'vitest';
import { marks } from '../../worker/store/sql-marks.ts';

it.each([
  [1, '?'],
  [3, '?, ?, ?'],
])('marks for %i values', (count, expected) => {
  expect(marks(count)).toBe(expected);
});

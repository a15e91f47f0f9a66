/** Limits of icing intensity, AIM 7-1-19 (the same figures in AC 91-74B): inches an hour on the unprotected outer wing. */
import { expect, test } from 'vitest';
import { INTENSITY_WORDS } from '../../worker/science/columns.ts';
import { intensityOfGrowth } from '../../worker/science/intensity.ts';
import { mpsFromInPerH } from '../../worker/science/units.ts';

test('growth on both sides of each limit has the right word; the limits themselves are owned as we state', () => {
  const rows = [
    [0, 'none'],
    [0.01, 'trace'],
    [0.24, 'trace'],
    [0.25, 'light'],
    [0.99, 'light'],
    [1.0, 'moderate'],
    [2.99, 'moderate'],
    [3.0, 'moderate'],
    [3.01, 'severe'],
    [10, 'severe'],
  ] as const;
  for (const [inPerH, word] of rows) {
    expect(INTENSITY_WORDS[intensityOfGrowth(mpsFromInPerH(inPerH))], `${inPerH} in/h`).toBe(word);
  }
  expect(rows.length).toBe(10);
});

test('the limits in centimeters an hour, as printed beside them, have the same words', () => {
  const rows = [
    [0.59, 'trace'],
    [0.65, 'light'],
    [2.4, 'light'],
    [2.6, 'moderate'],
    [7.4, 'moderate'],
    [7.7, 'severe'],
  ] as const;
  for (const [cmPerH, word] of rows) {
    expect(INTENSITY_WORDS[intensityOfGrowth(cmPerH / 100 / 3600)], `${cmPerH} cm/h`).toBe(word);
  }
  expect(rows.length).toBe(6);
});

/** The clock of the final application, under clocks that jump and pages that sleep. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { checkHoldsS, holdoverClock } from '../../worker/ground/count-down.ts';

const START_MS = Date.parse('2026-01-14T11:00:00Z');
const WINDOW = { minimumMinutes: 35, maximumMinutes: 65 };
const after = (minutes: number) => holdoverClock(START_MS, START_MS + minutes * 60_000, WINDOW);

it.each([
  [-1, 'not-started'],
  [0, 'running'],
  [34.9, 'running'],
  // The check of the reference: 0:35-1:05, 40 min elapsed, is beyond the minimum; past 65 min it is over.
  [35, 'may-have-ended'],
  [40, 'may-have-ended'],
  [65, 'ended'],
  [600, 'ended'],
] as const)('after %d min: %s', (minutes, phase) => {
  expect(after(minutes).phase).toBe(phase);
});

it('tells the time to both ends of the window', () => {
  expect(after(40)).toMatchObject({ toShortestS: -300, toLongestS: 1500 });
});

it('never says that all is well: what must be checked stands there in every phase', () => {
  for (const minutes of [-1, 0, 20, 40, 70]) {
    expect(after(minutes).mustCheck).toMatch(/Check wings, tail and controls.*within 5 min.*135\.227/);
    expect(JSON.stringify(after(minutes))).not.toMatch(/\b(good|ok|safe|clear|clean)\b/i);
  }
  expect(after(70).mustCheck).toMatch(/treat again/);
});

it('without a window there is nothing to count', () => {
  expect(holdoverClock(START_MS, START_MS + 60_000, undefined)).toMatchObject({
    phase: 'no-time',
    toShortestS: null,
    toLongestS: null,
  });
});

it('a page that slept tells the same as one that counted: only the two instants matter', () => {
  fc.assert(
    fc.property(fc.array(fc.integer({ min: -3_600_000, max: 7_200_000 }), { minLength: 1 }), (offsets) => {
      for (const offset of offsets) holdoverClock(START_MS, START_MS + offset, WINDOW);
      const last = offsets.at(-1)!;
      expect(holdoverClock(START_MS, START_MS + last, WINDOW)).toEqual(after(last / 60_000));
    }),
  );
});

describe('a check before take-off', () => {
  it.each([
    [0, 300],
    [299, 1],
    [300, 0],
    [3600, 0],
  ])('%d s ago holds for %d s more', (agoS, leftS) => {
    expect(checkHoldsS(START_MS, START_MS + agoS * 1000)).toBe(leftS);
  });

  it('made after the time that a clock set back shows, does not hold', () => {
    expect(checkHoldsS(START_MS, START_MS - 1000)).toBe(0);
  });
});

/** How the forecast did, in words: nothing to count is no share, unknown is no miss. */
import { describe, expect, it } from 'vitest';
import { boxAround } from '../../../web/src/flight/skill-api.ts';
import { differenceWords, forecastWords, shareWords } from '../../../web/src/flight/skill-words.ts';
import type { TopAnswer } from '../../../worker/schema/skill.ts';

const TOP: TopAnswer = {
  operator: 'demo',
  place: 'ABC',
  latDeg: 44,
  lonDeg: -72,
  timeUtc: '2026-01-14T08:00:00Z',
  reportedTopFt: 8000,
  forecast: 'top',
  forecastTopFt: 9260,
  differenceFt: 1260,
  leadHours: 2.4,
};

describe('tops', () => {
  it('say how far off and to which side', () => {
    expect(forecastWords(TOP)).toBe('9,300, 2 h before');
    expect(differenceWords(TOP)).toBe('1,300 too high');
    expect(differenceWords({ ...TOP, differenceFt: -240 })).toBe('200 too low');
    expect(differenceWords({ ...TOP, differenceFt: 30 })).toBe('0');
  });
  it('tell no cloud forecast from nothing known', () => {
    const none = { forecastTopFt: null, differenceFt: null };
    expect(forecastWords({ ...TOP, ...none, forecast: 'no-cloud' })).toBe('no cloud');
    expect(forecastWords({ ...TOP, ...none, forecast: 'unknown' })).toBe('unknown');
    expect(differenceWords({ ...TOP, ...none, forecast: 'unknown' })).toBe('unknown');
  });
});

it('a share has its count and its interval; without such a report there is none', () => {
  expect(shareWords({ value: 0.75, low: 0.3, high: 0.954, reports: 4 }, 3)).toBe('3 of 4, 30–95 %');
  expect(shareWords(null, 0)).toBe('no such report');
});

it('the box goes two degrees beyond the leg, over the antimeridian too, and never past a pole', () => {
  expect(boxAround([-73, 44, -69, 45])).toEqual([-75, 42, -67, 47]);
  // Outward to hundredths: more decimals the service refuses.
  expect(boxAround([-73.123456789, 44.987654321, -69.000000001, 45.5])).toEqual([-75.13, 42.98, -67, 47.5]);
  expect(boxAround([178, 89, 179, 89.5])).toEqual([176, 87, -179, 90]);
  expect(boxAround([-179.5, -50, -170, -40])).toEqual([178.5, -52, -168, -38]);
  expect(boxAround([-179, 10, 178, 20])).toEqual([-180, 8, 180, 22]);
});

import { describe, expect, test } from 'vitest';
import { bulletinTimeMs, dayTimeMs, timeOfDayMs } from '../../../worker/formats/pilot-reports/instants.ts';

const REFERENCE_MS = Date.UTC(2026, 0, 1, 0, 10);

describe('timeOfDayMs', () => {
  test.each([
    ['the same minute', 0, 10, Date.UTC(2026, 0, 1, 0, 10)],
    ['30 minutes ahead is the same day', 0, 40, Date.UTC(2026, 0, 1, 0, 40)],
    ['31 minutes ahead is the day before', 0, 41, Date.UTC(2025, 11, 31, 0, 41)],
    ['late in the evening is the day before', 23, 50, Date.UTC(2025, 11, 31, 23, 50)],
    ['midnight', 0, 0, Date.UTC(2026, 0, 1, 0, 0)],
  ])('%s', (_, hour, minute, expected) => {
    expect(timeOfDayMs(hour, minute, REFERENCE_MS)).toBe(expected);
  });

  test('a reference before midnight reaches into the next day by 30 minutes', () => {
    const lateMs = Date.UTC(2026, 0, 1, 23, 50);
    expect(timeOfDayMs(0, 20, lateMs)).toBe(Date.UTC(2026, 0, 2, 0, 20));
    expect(timeOfDayMs(0, 21, lateMs)).toBe(Date.UTC(2026, 0, 1, 0, 21));
  });

  test('no such time of day has no instant', () => {
    expect(timeOfDayMs(24, 0, REFERENCE_MS)).toBeUndefined();
    expect(timeOfDayMs(12, 60, REFERENCE_MS)).toBeUndefined();
    expect(timeOfDayMs(12, 0, Number.NaN)).toBeUndefined();
  });
});

describe('dayTimeMs', () => {
  test('takes the nearest month', () => {
    expect(dayTimeMs({ day: 31, hour: 23, minute: 45 }, REFERENCE_MS)).toBe(Date.UTC(2025, 11, 31, 23, 45));
    expect(dayTimeMs({ day: 2, hour: 6, minute: 0 }, REFERENCE_MS)).toBe(Date.UTC(2026, 0, 2, 6, 0));
  });

  test.each([
    { day: 0, hour: 0, minute: 0 },
    { day: 32, hour: 0, minute: 0 },
    { day: 1, hour: 24, minute: 0 },
    { day: 1, hour: 0, minute: 60 },
  ])('%o has no instant', (figures) => {
    expect(dayTimeMs(figures, REFERENCE_MS)).toBeUndefined();
  });
});

test('a bulletin without heading was made at the reference', () => {
  expect(bulletinTimeMs(undefined, REFERENCE_MS)).toBe(REFERENCE_MS);
  const heading = { designator: 'UBUS31', center: 'KWBC', day: 31, hour: 17, minute: 5 };
  expect(bulletinTimeMs(heading, REFERENCE_MS)).toBe(Date.UTC(2025, 11, 31, 17, 5));
});

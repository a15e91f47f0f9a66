import { describe, expect, it } from 'vitest';
import { dataReasons } from '../../worker/brief/data-reasons.ts';
import type { UsedSource } from '../../worker/brief/gather-weather.ts';
import { staleAtUtc } from '../../worker/brief/stale.ts';

const H = 3_600_000;
const DAY = Date.UTC(2026, 0, 15);

const grid = (name: string, runH: number, validH: number, aloneMs = 0): UsedSource => ({
  kind: 'grid',
  id: `${name} ${runH} ${validH}`,
  name,
  runMs: DAY + runH * H,
  validMs: DAY + validH * H,
  latDeg: undefined,
  lonDeg: undefined,
  offsetMs: 0,
  aloneMs,
  nearestM: 0,
  points: [0],
  attribution: '',
  refusedMessages: 0,
  hasCloudWater: true,
});
const ascent = (validH: number): UsedSource => ({
  ...grid('72518', 0, validH),
  kind: 'sounding',
  runMs: undefined,
});

const staleAtMs = (...usedByAir: UsedSource[][]) => {
  const staleUtc = staleAtUtc(usedByAir);
  return staleUtc === null ? undefined : Date.parse(staleUtc);
};

describe('staleAtUtc', () => {
  it('is when the first of the models is due, whatever newer run of another is in use', () => {
    const old = [grid('coarse', 3, 12), grid('coarse', 3, 15)];
    expect(staleAtMs(old)).toBe(DAY + 14 * H);
    expect(staleAtMs([grid('fine', 11, 12), ...old])).toBe(DAY + 14 * H);
    expect(staleAtMs([grid('fine', 11, 12)])).toBe(DAY + 22 * H);
  });

  it('counts the newest of the ascents, and of a model the newest run', () => {
    expect(staleAtMs([ascent(0), ascent(12)])).toBe(DAY + 25.5 * H);
    expect(staleAtMs([grid('fine', 10, 12), grid('fine', 11, 12)])).toBe(DAY + 22 * H);
    expect(staleAtMs([ascent(0), grid('fine', 11, 12)])).toBe(DAY + 13.5 * H);
    expect(staleAtMs([])).toBeUndefined();
    expect(staleAtMs()).toBeUndefined();
  });

  it('is that of the air which is stale first: the newer run of one air makes no other fresh', () => {
    expect(staleAtMs([grid('fine', 11, 12)], [grid('fine', 3, 12)])).toBe(DAY + 14 * H);
    expect(staleAtMs([ascent(0)], [ascent(12)], [])).toBe(DAY + 13.5 * H);
  });
});

describe('dataReasons', () => {
  it('says which hour stands alone for a time far from its own, and how far', () => {
    expect(dataReasons([grid('fine', 11, 18, 0.4 * H), grid('fine', 11, 19, 5.7 * H)])).toEqual([
      {
        code: 'forecast-hour-alone',
        sentence: 'The nearest forecast hour, 19:00 UTC, is used up to 5 h 42 min from its time',
        numbers: { validUtc: '2026-01-15T19:00:00.000Z', minutes: 342 },
      },
    ]);
    expect(dataReasons([grid('fine', 11, 19, 0.75 * H)])[0]?.sentence).toContain('up to 45 min from');
  });

  it('says nothing of hours on both sides of the leg, nor of one that lies near', () => {
    expect(dataReasons([grid('fine', 11, 12), ascent(0), grid('fine', 11, 13, 0.5 * H)])).toEqual([]);
  });
});

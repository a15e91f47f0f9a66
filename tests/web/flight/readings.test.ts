/** What was read and typed holds for a while and a place. */
import { describe, expect, it } from 'vitest';
import { figureOf, heightFtOf } from '../../../web/src/flight/figures.ts';
import { usedFluid, usedGauge } from '../../../web/src/flight/readings.ts';

const MIN = 60_000;
const reading = (text: string) => ({ text, atMs: 0, distanceNm: 50, altitudeFt: 9000 });
const now = (minutes: number, change = {}) => ({
  nowMs: minutes * MIN,
  distanceNm: 50,
  altitudeFt: 9000,
  ...change,
});

describe('the gauge', () => {
  it('counts for ten minutes, within 20 NM and 1,000 ft of where it was read', () => {
    expect(usedGauge(reading('-6'), now(10)).value).toBe(-6);
    expect(usedGauge(reading('-6'), now(11)).value).toBeUndefined();
    expect(usedGauge(reading('-6'), now(0, { distanceNm: 71 })).value).toBeUndefined();
    expect(usedGauge(reading('-6'), now(0, { altitudeFt: 10_100 }))).toEqual({
      value: undefined,
      words: 'read 0 min ago, elsewhere: not used',
    });
  });
  it('is read with either minus, with M, and with a comma; nonsense is not used and is said to be', () => {
    for (const text of ['-8', '\u22128', 'M8', 'm8']) expect(usedGauge(reading(text), now(0)).value).toBe(-8);
    expect(usedGauge(reading('-7,5'), now(0)).value).toBe(-7.5);
    for (const text of ['999', '-80', 'cold']) {
      const { value, words } = usedGauge(reading(text), now(0));
      expect(value).toBeUndefined();
      expect(words).toContain('not used');
    }
  });
  it('that nobody read is nothing', () => {
    expect(usedGauge(undefined, now(0))).toEqual({ value: undefined, words: '' });
  });
  it('a clock that was set back makes no reading older or newer than it is', () => {
    expect(usedGauge(reading('-6'), now(-30)).value).toBe(-6);
  });
});

describe('the tank', () => {
  const tank = { highFlowLPerMin: 0.9, usableL: 80 };
  it('is less by the high flow since it was read, and unknown after twenty minutes', () => {
    expect(usedFluid(reading('20'), now(0), tank).value).toBe(20);
    // 12 minutes at 0.9: 10.8 L.
    expect(usedFluid(reading('20'), now(12), tank).value).toBeCloseTo(9.2, 9);
    expect(usedFluid(reading('5'), now(12), tank).value).toBe(0);
    expect(usedFluid(reading('20'), now(21), tank).value).toBeUndefined();
  });
  it('holds no more than it can, and no less than nothing', () => {
    for (const text of ['-5', '99999', 'full']) {
      expect(usedFluid(reading(text), now(0), tank)).toEqual({
        value: undefined,
        words: '0 to 80 L: not used',
      });
    }
  });
});

describe('figures', () => {
  it('heights are read as people write them, and as nothing else', () => {
    expect(['9500', '9,500', '9 500', 'FL095', 'fl 95', '800'].map(heightFtOf)).toEqual([
      9500, 9500, 9500, 9500, 9500, 800,
    ]);
    expect(['', 'abc', '6000-8000', '9500ft', '9.5'].map(heightFtOf)).toEqual(Array(5).fill(undefined));
  });
  it('a comma is a decimal one elsewhere', () => {
    expect(figureOf('0,5')).toBe(0.5);
    expect(figureOf('1,2,3')).toBeUndefined();
  });
});

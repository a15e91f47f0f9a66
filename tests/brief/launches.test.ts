import { describe, expect, it } from 'vitest';
import { oneALaunch } from '../../worker/brief/launches.ts';
import type { StoredSounding } from '../../worker/sources/ports.ts';
import { type AscentLevel, makeAscent } from '../support/make-ascent.ts';

const NOON_MS = Date.UTC(2026, 0, 15, 12);
const MINUTE_MS = 60_000;
const LEVELS: readonly AscentLevel[] = [
  [1000, 110, -2, 1, 60, 4],
  [925, 720, -5, 0.5, 80, 9],
  [850, 1400, 1, 3, 150, 15],
  [700, 2940, -8, 6, 215, 23],
];

const stored = (
  given: Partial<StoredSounding> & { timeMs: number },
  levels: readonly AscentLevel[] = LEVELS,
): StoredSounding => ({ ...makeAscent(levels, given), operator: 'op', ingestedMs: 0, ...given });
const formats = (soundings: readonly StoredSounding[]) => soundings.map(({ format }) => format);

describe('oneALaunch', () => {
  const fine = stored({ timeMs: NOON_MS - 55 * MINUTE_MS, format: 'fm-94-bufr', stationId: '72659' });
  const coarse = stored({ timeMs: NOON_MS, format: 'fm-35-temp', stationId: '72659' }, LEVELS.slice(0, 2));

  it('lets the finest of the messages of one balloon speak, whatever their order', () => {
    expect(formats(oneALaunch([coarse, fine]))).toEqual(['fm-94-bufr']);
    expect(formats(oneALaunch([fine, coarse]))).toEqual(['fm-94-bufr']);
  });

  it('knows a station of the WMO by its number in an archive’s name', () => {
    const archived = { ...fine, format: 'igra-v2' as const, stationId: 'USM00072659' };
    expect(formats(oneALaunch([coarse, archived]))).toEqual(['igra-v2']);
  });

  it('keeps the next balloon and other stations; of one balloon loaded by two operators the finer', () => {
    const next = { ...coarse, timeMs: NOON_MS + 6 * 60 * MINUTE_MS };
    const other = { ...coarse, stationId: '72649' };
    const elsewhere = { ...coarse, operator: 'other' };
    expect(oneALaunch([fine, next, other, elsewhere])).toEqual([fine, next, other]);
  });

  it('prefers a whole ascent to a finer one that ends low', () => {
    const partial = { ...fine, levels: stored({ timeMs: NOON_MS }, LEVELS.slice(0, 4)).levels };
    const whole = stored({ timeMs: NOON_MS, format: 'fm-35-temp', stationId: '72659' }, [
      LEVELS[0]!,
      [500, 5500, -24, 10, 250, 30],
      [300, 9100, -48, 10, 260, 40],
    ]);
    expect(formats(oneALaunch([partial, whole]))).toEqual(['fm-35-temp']);
  });

  it('counts levels with temperature and dew point alone', () => {
    const dry = stored(
      { timeMs: NOON_MS, format: 'igra-v2', stationId: '72659' },
      LEVELS.map(([hPa, m, c, , deg, mps]) => [hPa, m, c, Number.NaN, deg, mps] as const),
    );
    expect(formats(oneALaunch([dry, coarse]))).toEqual(['fm-35-temp']);
  });

  it('takes the release for the time of a balloon, not the nominal hour', () => {
    const released = { ...coarse, releaseMs: NOON_MS - 50 * MINUTE_MS };
    const early = { ...fine, timeMs: NOON_MS - 130 * MINUTE_MS };
    expect(oneALaunch([early, released])).toHaveLength(1);
    expect(oneALaunch([early, coarse])).toHaveLength(2);
  });
});

/** Which ascents speak for a leg, how much, and what the answer says of them. */
import { describe, expect, it } from 'vitest';
import { gatherWeather } from '../../worker/brief/gather-weather.ts';
import type { LegData } from '../../worker/brief/leg-data.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import type { StoredSounding } from '../../worker/sources/ports.ts';
import { makeAscent } from '../support/make-ascent.ts';

const HOUR_MS = 3_600_000;
const NOON_MS = Date.UTC(2026, 0, 14, 12);
const M_PER_DEG = 111_195;

/** pressure hPa, height m, degC, depression K, wind. */
const COLUMN = [
  [1000, 100, -2, 1, 270, 10],
  [850, 1400, -8, 1, 270, 20],
  [700, 3000, -15, 20, 270, 30],
] as const;

function ascent(station: string, latDeg: number, lonDeg: number, timeMs = NOON_MS): StoredSounding {
  return {
    ...makeAscent(COLUMN, { timeMs }),
    stationId: station,
    latDeg,
    lonDeg,
    operator: 'demo',
    ingestedMs: 0,
  };
}

const route = makeRoutePoints([
  { name: 'AAAA', latDeg: 45, lonDeg: -70, elevationM: 0 },
  { name: 'BBBB', latDeg: 45.5, lonDeg: -70, elevationM: 0 },
]);
const etaMs = new Float64Array(route.pointCount).fill(NOON_MS);
const gather = (soundings: StoredSounding[]) => {
  const data: LegData = { soundings, runs: [], isDamaged: false };
  return gatherWeather(data, route, etaMs);
};
const entriesAt = (found: ReturnType<typeof gather>, point: number) =>
  found.sources.firstEntry[point + 1]! - found.sources.firstEntry[point]!;

describe('gatherWeather', () => {
  it('keeps thirty ascents that are equally near: many of them never leave a point without any', () => {
    const ring = Array.from({ length: 30 }, (_, index) => {
      const angle = (index / 30) * 2 * Math.PI;
      const lat = 45.25 + (120_000 / M_PER_DEG) * Math.cos(angle);
      const lon = -70 + ((120_000 / M_PER_DEG) * Math.sin(angle)) / Math.cos((45.25 * Math.PI) / 180);
      return ascent(`ring${index}`, lat, lon);
    });
    const found = gather(ring);
    for (let point = 0; point < route.pointCount; point += 1) {
      expect(entriesAt(found, point), `point ${point}`).toBeGreaterThan(20);
    }
  });

  it('names no ascent that a near one screens everywhere, and does not carry its column', () => {
    const found = gather([ascent('near', 45.25, -70), ascent('far', 47.7, -70)]);
    expect(found.used.map(({ name }) => name)).toEqual(['near']);
    expect(found.profiles).toHaveLength(1);
    expect(found.used[0]?.points).toHaveLength(route.pointCount);
  });

  it('lets a later ascent of a station supersede the earlier one, and both speak for a time between them', () => {
    const earlier = ascent('one', 45.25, -70, NOON_MS - 6 * HOUR_MS);
    const later = ascent('one', 45.25, -70, NOON_MS - HOUR_MS);
    expect(gather([earlier, later]).used.map(({ validMs }) => validMs)).toEqual([NOON_MS - HOUR_MS]);
    const after = ascent('one', 45.25, -70, NOON_MS + 2 * HOUR_MS);
    expect(gather([later, after]).used).toHaveLength(2);
  });

  it('counts the age of an ascent from its release, not from its nominal hour', () => {
    const releaseMs = NOON_MS - 3 * HOUR_MS - 40 * 60_000;
    const nominal = { ...ascent('one', 45.25, -70, NOON_MS - 3 * HOUR_MS), releaseMs };
    expect(gather([nominal]).used[0]?.validMs).toBe(releaseMs);
    const unreleased = { ...nominal, releaseMs: Number.NaN };
    expect(gather([unreleased]).used[0]?.validMs).toBe(NOON_MS - 3 * HOUR_MS);
  });

  it('weighs by the square of the hold: 83 km farther counts a quarter', () => {
    const near = { latDeg: 45.25 + 40_000 / M_PER_DEG, lonDeg: -70 };
    const far = { latDeg: 45.25 + (40_000 + 83_178) / M_PER_DEG, lonDeg: -70 };
    const { sources } = gather([
      ascent('near', near.latDeg, near.lonDeg),
      ascent('far', far.latDeg, far.lonDeg),
    ]);
    const first = sources.firstEntry[0]!;
    expect(sources.humidity[first + 1]! / sources.humidity[first]!).toBeCloseTo(0.25, 1);
  });
});

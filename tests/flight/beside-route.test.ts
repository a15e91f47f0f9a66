/** Distances by hand: on the equator and on meridians a degree is 60.04 NM of this sphere, a minute one mile. */
import { describe, expect, it } from 'vitest';
import { besideRoute } from '../../worker/flight/beside-route.ts';
import type { HazardArea } from '../../worker/flight/hazard-areas.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import { nmFromM } from '../../worker/science/units.ts';

const NM_PER_DEG = 60.04;
const fix = (name: string, lonDeg: number, latDeg = 0) => ({ name, latDeg, lonDeg, elevationM: 0 });
/** Two degrees east along the equator. */
const route = makeRoutePoints([fix('AAAA', 0), fix('BBBB', 2)]);
const at = (latDeg: number, lonDeg: number): HazardArea => ({
  kind: 'circle',
  center: { latDeg, lonDeg },
  radiusM: 0,
});
const line = (...points: readonly (readonly [number, number])[]): HazardArea => ({
  kind: 'line',
  points: points.map(([latDeg, lonDeg]) => ({ latDeg, lonDeg })),
  halfWidthM: 0,
});
const inNm = (area: HazardArea, along = route) => {
  const beside = besideRoute([area], along)!;
  return [beside.distanceM, beside.fromM, beside.toM].map((m) => Math.round(nmFromM(m) * 10) / 10);
};

describe('besideRoute', () => {
  it.each<[string, HazardArea, number[]]>([
    ['on the route', at(0, 0.5), [0, 30, 30]],
    ['north of its middle', at(0.2, 1), [12, 60, 60]],
    ['before its start, from the start', at(0, -0.5), [30, 0, 0]],
    ['beyond its end, from the end', at(0, 2.5), [30, 120.1, 120.1]],
  ])('of a place %s', (_, area, expected) => {
    expect(inNm(area)).toEqual(expected);
  });

  it('a line is as near as its nearest part, and abeam of the route from end to end', () => {
    expect(inNm(line([0.2, 0.5], [0.1, 1.5]))).toEqual([6, expect.closeTo(30, 0), expect.closeTo(90, 0)]);
    const [across] = inNm(line([1, 0.99], [-1, 0.99]));
    expect(across).toBeLessThanOrEqual(0.5);
  });

  it('on a bent route the distance is flown distance, around the corner', () => {
    const bent = makeRoutePoints([fix('AAAA', 0), fix('BBBB', 1), fix('CCCC', 1, 1)]);
    const [distance, from] = inNm(at(0.5, 1.1), bent);
    expect(distance).toBeCloseTo(6, 0);
    expect(from).toBeCloseTo(1.5 * NM_PER_DEG, 0);
  });

  it.each<[string, HazardArea]>([
    ['anywhere around a station', { ...at(0, 1), radiusM: 185_200 } as HazardArea],
    ['somewhere in a region', { kind: 'unknown', box: undefined }],
  ])('is not known of a place that is %s', (_, area) => {
    expect(besideRoute([area], route)).toBeUndefined();
  });
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeMagneticModel, resolveBearingDistance } from '../../worker/flight/magnetic.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import type { Fix } from '../../worker/flight/types.ts';
import { greatCircleDistanceM } from '../../worker/science/great-circle.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

const fix = (name: string, latDeg: number, lonDeg: number): Fix => ({
  name,
  latDeg,
  lonDeg,
  elevationM: Number.NaN,
});
const A = fix('A', 44.47, -73.15);
const B = fix('B', 44.33, -71.5);
const C = fix('C', 44.81, -68.83);

describe('makeRoutePoints', () => {
  test('every fix is a point and no two points are more than 5 NM apart', () => {
    const route = makeRoutePoints([A, B, C]);
    const fixPoints = Array.from(route.fixIndex).filter((index) => index >= 0);
    const gapsM = Array.from(
      route.distanceM.slice(1),
      (distanceM, index) => distanceM - route.distanceM[index]!,
    );
    expect(fixPoints).toEqual([0, 1, 2]);
    expect(Math.max(...gapsM)).toBeLessThanOrEqual(mFromNm(5) + 1e-6);
  });

  test('the distance flown is the sum of the great circles between fixes', () => {
    const route = makeRoutePoints([A, B, C]);
    const sumM = greatCircleDistanceM(A, B) + greatCircleDistanceM(B, C);
    assertClose(route.distanceM.at(-1)!, sumM, { abs: 1e-6, why: 'the same sum' });
  });

  test('each course leads to the next point, and the last is that of arrival', () => {
    const route = makeRoutePoints([A, C]);
    const last = route.pointCount - 1;
    assertClose(route.courseRad[last]!, route.courseRad[last - 1]!, {
      abs: 2e-3,
      why: '5 NM of convergence',
    });
    expect(route.courseRad[0]).toBeLessThan(route.courseRad[last]!);
  });

  test('a leg of exactly two spacings has three points', () => {
    const end = fix('E', 40, -70);
    const start = fix('S', 40 - (mFromNm(10) / 6_371_008.8) * (180 / Math.PI), -70);
    expect(makeRoutePoints([start, end]).pointCount).toBe(3);
  });

  test('points stay within the spacing for any two fixes within the limit', () => {
    const lats = fc.double({ min: -60, max: 60, noNaN: true });
    const lons = fc.double({ min: -10, max: 10, noNaN: true });
    fc.assert(
      fc.property(lats, lons, fc.double({ min: 2, max: 15, noNaN: true }), (lat, lon, awayDeg) => {
        const route = makeRoutePoints([fix('P', lat, 175 + lon), fix('Q', lat + awayDeg, 175 + lon)]);
        for (let point = 1; point < route.pointCount; point += 1) {
          const gapM = greatCircleDistanceM(
            { latDeg: route.latDeg[point - 1]!, lonDeg: route.lonDeg[point - 1]! },
            { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! },
          );
          expect(gapM).toBeLessThanOrEqual(mFromNm(5) + 0.01);
        }
      }),
      { seed: 7, numRuns: 40 },
    );
  });

  test.each([
    ['one fix', [A], 'places'],
    ['the same place twice running', [A, { ...A, name: 'AGAIN' }, C], 'AGAIN'],
    ['more than 1,500 NM', [A, fix('FAR', 44, -35)], 'NM'],
    ['a latitude beyond 85 degrees', [fix('POLE', 86, 0), A], '86'],
    ['a latitude that is no number', [fix('NOWHERE', Number.NaN, 0), A], 'NaN'],
  ])('refuses %s in field route', (_, fixes, found) => {
    expect(() => makeRoutePoints(fixes)).toThrowError(
      expect.objectContaining({
        kind: 'invalid-request',
        field: 'route',
        found: expect.stringContaining(found),
      }),
    );
  });
});

describe('resolveBearingDistance', () => {
  const winter2026 = makeMagneticModel(Date.UTC(2026, 0, 14));

  test('turns the magnetic bearing by the declination at the place it starts from', () => {
    const place = resolveBearingDistance(A, 90, mFromNm(20), winter2026);
    const declinationDeg = winter2026.declinationDeg(A);
    const expected = { latDeg: A.latDeg, lonDeg: A.lonDeg };
    assertClose(greatCircleDistanceM(expected, place), mFromNm(20), { abs: 0.01, why: 'rounding' });
    expect(declinationDeg).toBeLessThan(-12);
    expect(place.latDeg).toBeGreaterThan(A.latDeg + 0.07);
  });

  test('refuses distances beyond 999 NM', () => {
    expect(() => resolveBearingDistance(A, 90, mFromNm(1000), winter2026)).toThrowError(
      expect.objectContaining({ kind: 'invalid-request', field: 'route' }),
    );
  });
});

import { describe, expect, test } from 'vitest';
import { candidateAltitudesM, directionOf, legMagneticCoursesDeg } from '../../worker/flight/candidates.ts';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { makeAircraft, makeTestRoute, TEST_AXIS } from './make-curtain.ts';

type Request = Parameters<typeof candidateAltitudesM>[0];
const candidatesFt = (change: Partial<Request> = {}): number[] =>
  candidateAltitudesM({
    route: makeTestRoute(),
    aircraft: makeAircraft(),
    axis: TEST_AXIS,
    indicatedMinusPressureM: 0,
    ...change,
  }).map((altitudeM) => Math.round(ftFromM(altitudeM)));

describe('candidateAltitudesM', () => {
  test('from sea level runs every 1,000 ft from 2,000 ft to the ceiling', () => {
    const altitudesFt = candidatesFt();
    expect([altitudesFt[0], altitudesFt[1], altitudesFt.at(-1), altitudesFt.length]).toEqual([
      2000, 3000, 25000, 24,
    ]);
  });

  test('starts at the first whole thousand 1,500 ft above the higher aerodrome', () => {
    expect(candidatesFt({ route: makeTestRoute(186, mFromFt(5400)) })[0]).toBe(7000);
    expect(candidatesFt({ route: makeTestRoute(186, mFromFt(5501)) })[0]).toBe(8000);
  });

  test('takes no notice of elevations that are not known', () => {
    expect(candidatesFt({ route: makeTestRoute(186, Number.NaN) })[0]).toBe(2000);
  });

  test('ends at the top of the columns when that is lower than the ceiling', () => {
    expect(candidatesFt({ axis: { ...TEST_AXIS, cellCount: 30 } }).at(-1)).toBe(15000);
  });

  test('the ceiling is a pressure altitude: a low setting lowers the highest indicated candidate', () => {
    expect(candidatesFt({ indicatedMinusPressureM: mFromFt(-600) }).at(-1)).toBe(24000);
  });

  test('gives the altitudes asked for, sorted, once each, also beyond the ceiling', () => {
    const asked = [9000, 5000, 9000, 31000].map(mFromFt);
    expect(candidatesFt({ askedAltitudesM: asked })).toEqual([5000, 9000, 31000]);
  });
});

describe('directionOf', () => {
  test('is right-way only when the altitude suits every leg', () => {
    expect(directionOf([90, 120], mFromFt(9000))).toBe('right-way');
    expect(directionOf([90, 190], mFromFt(9000))).toBe('ask');
    expect(directionOf([90, 190], mFromFt(10000))).toBe('ask');
  });
});

describe('legMagneticCoursesDeg', () => {
  test('has one magnetic course a leg, true course less east declination', () => {
    const fix = (latDeg: number, lonDeg: number) => ({ name: 'X', latDeg, lonDeg, elevationM: Number.NaN });
    const route = makeRoutePoints([fix(40, -70), fix(41, -70), fix(40, -70)]);
    const courses = legMagneticCoursesDeg(route, { declinationDeg: () => 15 });
    expect(courses).toHaveLength(2);
    assertClose(courses[0]!, 345, { abs: 1e-9, why: 'north less 15' });
    assertClose(courses[1]!, 165, { abs: 1e-9, why: 'south less 15' });
  });
});

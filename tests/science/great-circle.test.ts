import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  destination,
  distanceToStretchM,
  finalCourseRad,
  greatCircleDistanceM,
  initialCourseRad,
  interpolate,
  positionsBetween,
  turnRad,
  wrapCourseRad,
  wrapLonDeg,
} from '../../worker/science/great-circle.ts';
import { assertClose } from '../support/assert-close.ts';

const places = fc.record({
  latDeg: fc.double({ min: -85, max: 85, noNaN: true }),
  lonDeg: fc.double({ min: -180, max: 179.999, noNaN: true }),
});
const courses = fc.double({ min: 0, max: 6.28, noNaN: true });
const lengths = fc.double({ min: 1, max: 2_500_000, noNaN: true });
const SEED = { seed: 31 };

describe('destination', () => {
  test('undoes itself: distance and course to the place reached are those flown', () => {
    fc.assert(
      fc.property(places, courses, lengths, (from, courseRad, distanceM) => {
        const to = destination(from, courseRad, distanceM);
        assertClose(greatCircleDistanceM(from, to), distanceM, { abs: 0.01, rel: 1e-9, why: 'rounding' });
        const turn = Math.abs(turnRad(courseRad, initialCourseRad(from, to)));
        assertClose(turn * distanceM, 0, { abs: 0.05, why: 'rounding across the course, m' });
      }),
      SEED,
    );
  });

  test('over the pole comes down the other side', () => {
    const place = destination(
      { latDeg: 80, lonDeg: 20 },
      0,
      greatCircleDistanceM({ latDeg: 80, lonDeg: 20 }, { latDeg: 80, lonDeg: -160 }),
    );
    assertClose(place.latDeg, 80, { abs: 1e-9, why: 'rounding' });
    assertClose(place.lonDeg, -160, { abs: 1e-6, why: 'rounding' });
  });
});

describe('interpolate', () => {
  test('parts of the way are parts of the distance', () => {
    fc.assert(
      fc.property(
        places,
        courses,
        lengths,
        fc.double({ min: 0, max: 1, noNaN: true }),
        (from, courseRad, distanceM, part) => {
          const to = destination(from, courseRad, distanceM);
          const between = interpolate(from, to, part);
          assertClose(greatCircleDistanceM(from, between), part * distanceM, {
            abs: 0.05,
            why: 'rounding, m',
          });
        },
      ),
      SEED,
    );
  });

  test('crosses the antimeridian the short way', () => {
    const middle = interpolate({ latDeg: 0, lonDeg: 179 }, { latDeg: 0, lonDeg: -179 }, 0.5);
    assertClose(Math.abs(middle.lonDeg), 180, { abs: 1e-9, why: 'rounding' });
  });
});

describe('distanceToStretchM', () => {
  const from = { latDeg: 0, lonDeg: 0 };
  const to = { latDeg: 0, lonDeg: 1 };

  test('beside the stretch it is the distance across', () => {
    const place = { latDeg: 0.2, lonDeg: 0.5 };
    assertClose(
      distanceToStretchM(place, from, to),
      greatCircleDistanceM(place, { latDeg: 0, lonDeg: 0.5 }),
      {
        abs: 0.01,
        why: 'the equator is a great circle',
      },
    );
  });

  test('before the start and beyond the end it is the distance to that end', () => {
    const before = { latDeg: 0.1, lonDeg: -0.3 };
    const beyond = { latDeg: 0.1, lonDeg: 1.3 };
    expect(distanceToStretchM(before, from, to)).toBeCloseTo(greatCircleDistanceM(before, from), 3);
    expect(distanceToStretchM(beyond, from, to)).toBeCloseTo(greatCircleDistanceM(beyond, to), 3);
  });

  test('of a stretch without length it is the distance to the place', () => {
    expect(distanceToStretchM(to, from, from)).toBeCloseTo(greatCircleDistanceM(from, to), 6);
  });
});

describe('courses and longitudes', () => {
  test('a meridian is flown on 0 north and pi south, and arrives on the same course', () => {
    const south = { latDeg: 40, lonDeg: -70 };
    const north = { latDeg: 42, lonDeg: -70 };
    assertClose(initialCourseRad(south, north), 0, { abs: 1e-12, why: 'rounding' });
    assertClose(finalCourseRad(north, south), Math.PI, { abs: 1e-12, why: 'rounding' });
  });

  test('wrapping keeps values in their half-open range', () => {
    expect([wrapLonDeg(180), wrapLonDeg(-180), wrapLonDeg(540), wrapLonDeg(-190)]).toEqual([
      -180, -180, -180, 170,
    ]);
    expect(wrapCourseRad(-1e-20)).toBeLessThan(2 * Math.PI);
    expect(wrapCourseRad(7)).toBeCloseTo(7 - 2 * Math.PI, 12);
  });

  test('turns are short and positive to the right', () => {
    assertClose(turnRad(6.2, 0.1), 0.1 + 2 * Math.PI - 6.2, { abs: 1e-12, why: 'rounding' });
    assertClose(turnRad(0.1, 6.2), 6.2 - 2 * Math.PI - 0.1, { abs: 1e-12, why: 'rounding' });
  });
});

describe('positions between two', () => {
  const CHICAGO = { latDeg: 41.98, lonDeg: -87.9 };
  const NEW_YORK = { latDeg: 40.64, lonDeg: -73.78 };

  test('places between two lie on the way, evenly, none further apart than the step', () => {
    const between = positionsBetween(CHICAGO, NEW_YORK, 100_000);
    const all = [CHICAGO, ...between, NEW_YORK];
    const steps = all.slice(1).map((place, index) => greatCircleDistanceM(all[index]!, place));
    expect(between).toHaveLength(11);
    expect(Math.max(...steps)).toBeLessThanOrEqual(100_000);
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(0.01);
    expect(steps.reduce((sum, step) => sum + step, 0)).toBeCloseTo(
      greatCircleDistanceM(CHICAGO, NEW_YORK),
      3,
    );
  });

  test('antipodes and equal places have none between', () => {
    expect(positionsBetween({ latDeg: 0, lonDeg: 0 }, { latDeg: 0, lonDeg: 180 }, 1000)).toEqual([]);
    expect(positionsBetween(CHICAGO, CHICAGO, 1000)).toEqual([]);
  });
});

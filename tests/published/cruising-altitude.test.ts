/** Direction of flight and least height over obstacles, against 14 CFR 91.179(b) and 91.177(a). */
import { describe, expect, test } from 'vitest';
import { suitsDirection } from '../../worker/flight/candidates.ts';
import { minimumAltitudes } from '../../worker/flight/minimum-altitude.ts';
import { ftFromM, mFromFt, mFromNm } from '../../worker/science/units.ts';
import { makeTestRoute } from '../flight/make-curtain.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'odd thousands suit 0-179, even ones 180-359, as flight levels from 18,000 ft',
  { source: '14 CFR 91.179(b)', tag: 'L', values: 12 },
  (published) => {
    const rows = [
      [179, 9000, true],
      [180, 9000, false],
      [359, 9000, false],
      [0, 9000, true],
      [90, 18000, false],
      [270, 18000, true],
      [90, 19000, true],
      [90, 21000, true],
      [90, 23000, true],
      [270, 20000, true],
      [270, 22000, true],
      [270, 19000, false],
    ] as const;
    for (const [courseDeg, altitudeFt, suits] of rows) {
      published.same(suitsDirection(courseDeg, altitudeFt), suits, `course ${courseDeg} at ${altitudeFt} ft`);
    }
  },
);

testPublished(
  'up to FL 410 odd thousands suit 0-179 and even ones 180-359 where separation is reduced',
  {
    source: 'ICAO Annex 2, Appendix 3, table for flights under instrument rules in feet',
    tag: 'M',
    values: 12,
  },
  (published) => {
    const rows = [
      [90, 9000, true],
      [90, 10000, false],
      [270, 10000, true],
      [270, 9000, false],
      [179, 28000, false],
      [180, 28000, true],
      [90, 29000, true],
      [270, 30000, true],
      [90, 33000, true],
      [270, 33000, false],
      [270, 40000, true],
      [90, 41000, true],
    ] as const;
    for (const [courseDeg, altitudeFt, suits] of rows) {
      const found = suitsDirection(courseDeg, altitudeFt, 'ICAO Annex 2, Appendix 3');
      published.same(found, suits, `course ${courseDeg} at ${altitudeFt} ft`);
    }
  },
);

describe('suitsDirection beyond the rule', () => {
  test('179.9 still counts as 0-179', () => {
    expect(suitsDirection(179.9, 9000)).toBe(true);
  });

  test('altitudes that are no whole thousands suit no course', () => {
    for (const courseDeg of [0, 90, 180, 270]) expect(suitsDirection(courseDeg, 9500)).toBe(false);
  });

  test('from 29,000 ft nothing is called right, since the rule there is not judged', () => {
    for (const altitudeFt of [29000, 30000, 31000]) expect(suitsDirection(90, altitudeFt)).toBe(false);
  });

  test('above FL 410 the rule of ICAO is not judged either', () => {
    for (const courseDeg of [90, 270]) {
      for (const altitudeFt of [42000, 43000, 45000]) {
        expect(suitsDirection(courseDeg, altitudeFt, 'ICAO Annex 2, Appendix 3')).toBe(false);
      }
    }
  });
});

const OBSTACLE_FT = 6420;

/** A leg past one obstacle, which lies so many NM off the course, with a minimum entered for all of it or none. */
function minimaPast(offNm: number, enteredFt?: number) {
  const route = makeTestRoute(100);
  const lonDegPerNm = 1 / (60 * Math.cos((40.8 * Math.PI) / 180));
  return minimumAltitudes({
    route,
    entered:
      enteredFt === undefined
        ? []
        : [{ fromM: 0, toM: route.distanceM.at(-1)!, altitudeM: mFromFt(enteredFt) }],
    spotHeights: [{ latDeg: 40.8, lonDeg: -70 + offNm * lonDegPerNm, heightM: mFromFt(OBSTACLE_FT) }],
    corridorHalfWidthM: mFromNm(4),
  });
}

const greatestFt = (altitudesM: Float64Array) =>
  ftFromM(Math.max(...altitudesM.filter((altitudeM) => !Number.isNaN(altitudeM))));

testPublished(
  '2,000 ft over an obstacle within 4 NM of the course in mountainous areas, 1,000 ft anywhere',
  { source: 'Our reading of 14 CFR 91.177(a)', tag: 'C', values: 5 },
  (published) => {
    const exact = { abs: 1e-6, why: 'feet to meters and back' };
    published.close(greatestFt(minimaPast(0).altitudeM), 8420, exact);
    published.close(greatestFt(minimaPast(3.9).altitudeM), 8420, exact);
    published.same(minimaPast(4.1).legSource, 'unknown', 'an obstacle 4.1 NM off the course does not count');
    published.close(greatestFt(minimaPast(0, 7420).altitudeM), 7420, exact);
    published.close(greatestFt(minimaPast(0, 7419).overruledM), 7419, exact);
  },
);

/**
 * Direction of flight and least height over obstacles, against 14 CFR 91.179(b) and 91.177(a) as published.
 * The rows of 91.179 were looked up; those of 91.177 are the rule's own arithmetic on an invented obstacle.
 */
import { describe, expect, test } from 'vitest';
import { suitsDirection } from '../../worker/flight/candidates.ts';
import { minimumAltitudes } from '../../worker/flight/minimum-altitude.ts';
import { ftFromM, mFromFt, mFromNm } from '../../worker/science/units.ts';
import { makeTestRoute } from '../flight/make-curtain.ts';
import { assertClose } from '../support/assert-close.ts';

describe('suitsDirection follows 14 CFR 91.179(b)', () => {
  test.each([
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
  ])('magnetic course %i at %i ft: %s', (courseDeg, altitudeFt, suits) => {
    expect(suitsDirection(courseDeg, altitudeFt)).toBe(suits);
  });

  test('179.9 still counts as 0-179', () => {
    expect(suitsDirection(179.9, 9000)).toBe(true);
  });

  test('altitudes that are no whole thousands suit no course', () => {
    expect([0, 90, 180, 270].map((courseDeg) => suitsDirection(courseDeg, 9500))).toEqual([
      false,
      false,
      false,
      false,
    ]);
  });

  test('from 29,000 ft nothing is called right, since the rule there is not judged', () => {
    expect([29000, 30000, 31000].map((altitudeFt) => suitsDirection(90, altitudeFt))).toEqual([
      false,
      false,
      false,
    ]);
  });
});

describe('minimumAltitudes follows 14 CFR 91.177(a) for mountainous areas', () => {
  const route = makeTestRoute(100);
  const lonDegPerNm = 1 / (60 * Math.cos((40.8 * Math.PI) / 180));
  const withSpotAt = (offNm: number) =>
    minimumAltitudes({
      route,
      entered: [],
      spotHeights: [{ latDeg: 40.8, lonDeg: -70 + offNm * lonDegPerNm, heightM: mFromFt(6420) }],
      corridorHalfWidthM: mFromNm(4),
    });
  const highestFt = (minimum: ReturnType<typeof withSpotAt>) =>
    ftFromM(Math.max(...minimum.altitudeM.filter((altitudeM) => !Number.isNaN(altitudeM))));

  test('an obstacle of 6,420 ft asks for 8,420 ft', () => {
    assertClose(highestFt(withSpotAt(0)), 8420, { abs: 1e-6, why: 'feet to meters and back' });
  });

  test('an obstacle 3.9 NM from the course counts and one 4.1 NM from it does not', () => {
    assertClose(highestFt(withSpotAt(3.9)), 8420, { abs: 1e-6, why: 'feet to meters and back' });
    expect(withSpotAt(4.1).legSource).toBe('unknown');
  });
});

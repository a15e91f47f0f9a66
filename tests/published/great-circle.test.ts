/**
 * Great circles against worked examples in print.
 *
 * E. Williams, Aviation Formulary, section "Worked examples": LAX 33 57 N 118 24 W, JFK 40 38 N 73 47 W, on a sphere of one
 * nautical mile a minute of arc; read in a stored translation on 2026-11-25, free to use.
 * C. Veness, Movable Type Scripts, "Calculate distance, bearing and more": 50 03 59 N 005 42 53 W to 58 38 38 N 003 04 12 W,
 * 968.9 km on a sphere of 6,371 km, initial bearing 009 07 11; read as quoted in a public test suite the same day.
 * Angles are compared, so that the choice of radius plays no part.
 */
import { describe, test } from 'vitest';
import {
  destination,
  distanceToStretchM,
  greatCircleDistanceM,
  initialCourseRad,
  interpolate,
  MEAN_EARTH_RADIUS_M,
} from '../../worker/flight/great-circle.ts';
import { assertClose } from '../support/assert-close.ts';

const RAD_PER_NM = Math.PI / (180 * 60);
const LAX = { latDeg: 33 + 57 / 60, lonDeg: -(118 + 24 / 60) };
const JFK = { latDeg: 40 + 38 / 60, lonDeg: -(73 + 47 / 60) };
const PLACE_D = { latDeg: 34.5, lonDeg: -116.5 };

const angleRad = (a: typeof LAX, b: typeof LAX) => greatCircleDistanceM(a, b) / MEAN_EARTH_RADIUS_M;
const SIX_FIGURES = { abs: 5e-7, why: 'half the last printed digit' };

describe('great circles agree with the Aviation Formulary', () => {
  test('LAX to JFK is 0.623585 rad long', () => {
    assertClose(angleRad(LAX, JFK), 0.623585, SIX_FIGURES);
  });

  test('LAX to JFK starts on 1.150035 rad', () => {
    assertClose(initialCourseRad(LAX, JFK), 1.150035, {
      abs: 1.5e-6,
      why: 'the printed figure is the arc cosine of 0.408455, itself rounded to six digits',
    });
  });

  test('100 NM out on that course lies 34 37 N 116 33 W (0.604180, 2.034206 rad)', () => {
    const place = destination(LAX, 1.150035, 100 * RAD_PER_NM * MEAN_EARTH_RADIUS_M);
    assertClose((place.latDeg * Math.PI) / 180, 0.60418, SIX_FIGURES);
    assertClose((place.lonDeg * Math.PI) / 180, -2.034206, {
      abs: 1e-6,
      why: 'half the last printed digit of the result and of the longitude put in',
    });
  });

  test('40 % of the way lies 38 40.167 N 101 37.570 W', () => {
    const place = interpolate(LAX, JFK, 0.4);
    assertClose(place.latDeg, 38 + 40.167 / 60, { abs: 1e-5, why: 'half of 0.001 minutes' });
    assertClose(place.lonDeg, -(101 + 37.57 / 60), {
      abs: 2.5e-5,
      why: 'half of 0.001 minutes, and cosines printed to six digits in between',
    });
  });

  test('34 30 N 116 30 W is 7.4512 NM off the line from LAX to JFK', () => {
    const awayRad = distanceToStretchM(PLACE_D, LAX, JFK) / MEAN_EARTH_RADIUS_M;
    assertClose(awayRad / RAD_PER_NM, 7.4512, {
      abs: 0.01,
      why: 'worked out in print from courses of five digits: 1e-5 rad times 100 NM, and 1e-5 rad of distance',
    });
  });
});

describe('great circles agree with Movable Type Scripts', () => {
  const from = { latDeg: 50 + 3 / 60 + 59 / 3600, lonDeg: -(5 + 42 / 60 + 53 / 3600) };
  const to = { latDeg: 58 + 38 / 60 + 38 / 3600, lonDeg: -(3 + 4 / 60 + 12 / 3600) };

  test('the length of Britain is 968.9 km on a sphere of 6,371 km', () => {
    assertClose(angleRad(from, to) * 6371, 968.9, { abs: 0.05, why: 'half the last printed digit' });
  });

  test('and starts on 009 07 11', () => {
    const degrees = (initialCourseRad(from, to) * 180) / Math.PI;
    assertClose(degrees, 9 + 7 / 60 + 11 / 3600, { abs: 0.5 / 3600, why: 'half a second of arc' });
  });
});

/**
 * Great circles against worked examples in print.
 *
 * E. Williams, Aviation Formulary, section "Worked examples": LAX 33 57 N 118 24 W, JFK 40 38 N 73 47 W, on a sphere of one
 * nautical mile a minute of arc; read in a stored translation on 2026-11-25, free to use.
 * C. Veness, Movable Type Scripts, "Calculate distance, bearing and more": 50 03 59 N 005 42 53 W to 58 38 38 N 003 04 12 W,
 * 968.9 km on a sphere of 6,371 km, initial bearing 009 07 11; read as quoted in a public test suite the same day.
 * Angles are compared, so that the choice of radius plays no part.
 */
import {
  destination,
  distanceToStretchM,
  greatCircleDistanceM,
  initialCourseRad,
  interpolate,
  MEAN_EARTH_RADIUS_M,
  type Position,
} from '../../worker/science/great-circle.ts';
import { testPublished } from '../support/published-values.ts';

const RAD_PER_NM = Math.PI / (180 * 60);
const LAX = { latDeg: 33 + 57 / 60, lonDeg: -(118 + 24 / 60) };
const JFK = { latDeg: 40 + 38 / 60, lonDeg: -(73 + 47 / 60) };
const PLACE_D = { latDeg: 34.5, lonDeg: -116.5 };

const angleRad = (a: Position, b: Position) => greatCircleDistanceM(a, b) / MEAN_EARTH_RADIUS_M;
const SIX_FIGURES = { abs: 5e-7, why: 'half the last printed digit' };

const FORMULARY = { source: 'Williams, Aviation Formulary, worked examples', tag: 'L' } as const;

testPublished('LAX to JFK: length and initial course', { ...FORMULARY, values: 2 }, (published) => {
  published.close(angleRad(LAX, JFK), 0.623585, SIX_FIGURES);
  published.close(initialCourseRad(LAX, JFK), 1.150035, {
    abs: 1.5e-6,
    why: 'the printed figure is the arc cosine of 0.408455, itself rounded to six digits',
  });
});

testPublished('the place 100 NM out on that course', { ...FORMULARY, values: 2 }, (published) => {
  const place = destination(LAX, 1.150035, 100 * RAD_PER_NM * MEAN_EARTH_RADIUS_M);
  published.close((place.latDeg * Math.PI) / 180, 0.60418, SIX_FIGURES);
  published.close((place.lonDeg * Math.PI) / 180, -2.034206, {
    abs: 1e-6,
    why: 'half the last printed digit of the result and of the longitude put in',
  });
});

testPublished('40 % of the way lies 38 40.167 N 101 37.570 W', { ...FORMULARY, values: 2 }, (published) => {
  const place = interpolate(LAX, JFK, 0.4);
  published.close(place.latDeg, 38 + 40.167 / 60, { abs: 1e-5, why: 'half of 0.001 minutes' });
  published.close(place.lonDeg, -(101 + 37.57 / 60), {
    abs: 2.5e-5,
    why: 'half of 0.001 minutes, and cosines printed to six digits in between',
  });
});

testPublished('34 30 N 116 30 W is 7.4512 NM off the line', { ...FORMULARY, values: 1 }, (published) => {
  const awayRad = distanceToStretchM(PLACE_D, LAX, JFK) / MEAN_EARTH_RADIUS_M;
  published.close(awayRad / RAD_PER_NM, 7.4512, {
    abs: 0.01,
    why: 'worked out in print from courses of five digits: 1e-5 rad times 100 NM, and 1e-5 rad of distance',
  });
});

testPublished(
  'the length of Britain on a sphere of 6,371 km, and its course',
  { source: 'Veness, Movable Type Scripts, distance and bearing', tag: 'L', values: 2 },
  (published) => {
    const from = { latDeg: 50 + 3 / 60 + 59 / 3600, lonDeg: -(5 + 42 / 60 + 53 / 3600) };
    const to = { latDeg: 58 + 38 / 60 + 38 / 3600, lonDeg: -(3 + 4 / 60 + 12 / 3600) };
    published.close(angleRad(from, to) * 6371, 968.9, { abs: 0.05, why: 'half the last printed digit' });
    published.close((initialCourseRad(from, to) * 180) / Math.PI, 9 + 7 / 60 + 11 / 3600, {
      abs: 0.5 / 3600,
      why: 'half a second of arc',
    });
  },
);

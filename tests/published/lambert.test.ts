/** Lambert conformal grids: a textbook's worked examples, another decoder's points, and points computed apart. */
import { test } from 'vitest';
import type { Grib2GridDefinition } from '../../worker/formats/grib2/field.ts';
import { gridFromDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import { lambertCone } from '../../worker/formats/grib2/lambert-projection.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

const LAST_DIGIT = { abs: 1e-7, why: 'last printed digit' };
const COMPUTED = 'Snyder, USGS Professional Paper 1395, equations of the Lambert conformal conic';

testPublished(
  'cone constants of three pairs of parallels',
  { source: COMPUTED, tag: 'C', values: 3 },
  (published) => {
    const rows = [
      [25, 25, 0.4226183],
      [38.5, 38.5, 0.6225146],
      [33, 45, 0.6304777],
    ] as const;
    for (const [standardLat1Deg, standardLat2Deg, coneConstant] of rows) {
      const cone = lambertCone({ semiMajorAxisM: 1, flattening: 0, standardLat1Deg, standardLat2Deg });
      published.close(cone.coneConstant, coneConstant, LAST_DIGIT);
    }
  },
);

testPublished(
  'appendix A: 35 N 75 W from 23 N 96 W, parallels 33 and 45, on a sphere of 1 and on the Clarke 1866 ellipsoid',
  { source: 'Snyder, USGS Professional Paper 1395, appendix A', tag: 'M', values: 6 },
  (published) => {
    // Semi-major axis m, eccentricity squared; cone constant, x m, y m; last digit of both.
    const rows = [
      [1, 0, 0.6304777, 0.2966785, 0.2462112, 1e-7],
      [6_378_206.4, 0.00676866, 0.6304965, 1_894_410.9, 1_564_649.5, 0.1],
    ] as const;
    for (const [semiMajorAxisM, eccentricity2, coneConstant, xM, yM, abs] of rows) {
      const flattening = 1 - Math.sqrt(1 - eccentricity2);
      const cone = lambertCone({ semiMajorAxisM, flattening, standardLat1Deg: 33, standardLat2Deg: 45 });
      const point = cone.project(35, 21);
      const origin = cone.project(23, 0);
      published.close(cone.coneConstant, coneConstant, LAST_DIGIT);
      published.close(point.xM - origin.xM, xM, { abs, why: 'last printed digit' });
      published.close(point.yM - origin.yM, yM, { abs, why: 'last printed digit' });
      // And back again from the printed figures.
      const back = cone.unproject(xM + origin.xM, yM + origin.yM);
      const tolerance = { abs: 1e-5, why: 'last printed digit on the ground: 1 m in 111 km' };
      assertClose(back.latDeg, 35, tolerance);
      assertClose(back.fromCentralDeg, 21, tolerance);
    }
  },
);

/** 2.5 km grid of a digital forecast, and the 3 km grid of a regional model. */
const DIGITAL: Grib2GridDefinition = {
  ...{ template: 30, nx: 2145, ny: 1377, earthRadiusM: 6_371_200, windsAlongGrid: false },
  ...{ firstLatDeg: 20.19, firstLonDeg: 238.449996, orientationLonDeg: 265 },
  ...{ standardLat1Deg: 25, standardLat2Deg: 25, dxM: 2539.703, dyM: 2539.703 },
};
const REGIONAL: Grib2GridDefinition = {
  ...{ template: 30, nx: 1799, ny: 1059, earthRadiusM: 6_371_229, windsAlongGrid: true },
  ...{ firstLatDeg: 21.138123, firstLonDeg: 237.280472, orientationLonDeg: 262.5 },
  ...{ standardLat1Deg: 38.5, standardLat2Deg: 38.5, dxM: 3000, dyM: 3000 },
};

testPublished(
  'four corners of a 2.5 km grid of 2145 x 1377 whose rows alternate',
  { source: 'Test values of another open GRIB2 decoder, from a third one', tag: 'L', values: 8 },
  (published) => {
    // Columns from the end the row begins at, row, degrees; the last row, an even one, runs eastward.
    const rows = [
      [0, 0, 20.19, -121.550004],
      [1, 0, 20.19442682, -121.52621665],
      [1, 1376, 50.10756403, -60.91298217],
      [0, 1376, 50.1024611, -60.88202274],
    ] as const;
    const tolerance = { abs: 1e-4, why: 'tolerance of the source' };
    for (const [step, j, latDeg, lonDeg] of rows) {
      const point = gridFromDefinition(DIGITAL).toLatLon(j === 0 ? step : 2144 - step, j);
      published.close(point.latDeg, latDeg, tolerance);
      published.close(point.lonDeg, lonDeg, tolerance);
    }
  },
);

testPublished(
  'a 3 km grid: three points to degrees, two places to indices',
  { source: COMPUTED, tag: 'C', values: 10 },
  (published) => {
    const grid = gridFromDefinition(REGIONAL);
    // Column, row, degrees.
    const points = [
      [1798, 1058, 47.842195, -60.917193],
      [1798, 0, 21.140547, -72.289718],
      [900, 529, 38.497243, -97.471505],
    ] as const;
    for (const [i, j, latDeg, lonDeg] of points) {
      const point = grid.toLatLon(i, j);
      const tolerance = { abs: 2e-6, why: 'printed to 1e-6' };
      published.close(point.latDeg, latDeg, tolerance);
      published.close(point.lonDeg, lonDeg, tolerance);
    }
    // Degrees, fractional indices.
    const places = [
      [40, -105, 686.3773, 593.3828],
      [35, -90, 1127.0619, 408.5803],
    ] as const;
    for (const [latDeg, lonDeg, i, j] of places) {
      const index = grid.toIndex(latDeg, lonDeg);
      const tolerance = { abs: 2e-4, why: 'printed to 1e-4' };
      published.close(index.i, i, tolerance);
      published.close(index.j, j, tolerance);
    }
  },
);

testPublished(
  'a wind of u 10, v 5 along the grid, turned to true at two longitudes',
  { source: COMPUTED, tag: 'C', values: 6 },
  (published) => {
    // Longitude, angle degrees, east and north.
    const rows = [
      [-105, -4.66886, 9.55983, 5.79738],
      [-90, 4.66886, 10.3738, 4.16944],
    ] as const;
    const tolerance = { abs: 1e-5, why: 'last printed digit' };
    for (const [lonDeg, angleDeg, east, north] of rows) {
      const angle = gridFromDefinition(REGIONAL).windAngleRad(40, lonDeg);
      published.close((angle * 180) / Math.PI, angleDeg, tolerance);
      published.close(10 * Math.cos(angle) + 5 * Math.sin(angle), east, tolerance);
      published.close(-10 * Math.sin(angle) + 5 * Math.cos(angle), north, tolerance);
    }
  },
);

test('a wind along the grid lines blows along them: toward the next column of the same row', () => {
  const grid = gridFromDefinition(REGIONAL);
  const [i, j] = [300, 700];
  const from = grid.toLatLon(i, j);
  const to = grid.toLatLon(i + 0.01, j);
  const eastM = (to.lonDeg - from.lonDeg) * Math.cos((from.latDeg * Math.PI) / 180);
  const northM = to.latDeg - from.latDeg;
  const angle = grid.windAngleRad(from.latDeg, from.lonDeg);
  // u 1, v 0: east cos a, north -sin a.
  assertClose(Math.atan2(northM, eastM), Math.atan2(-Math.sin(angle), Math.cos(angle)), {
    ...{ abs: 1e-4, why: 'a chord of 30 m stands for the tangent' },
  });
});

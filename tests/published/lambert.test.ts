import { describe, test } from 'vitest';
import type { Grib2GridDefinition } from '../../worker/formats/grib2/field.ts';
import { gridFromDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import { lambertCone } from '../../worker/formats/grib2/lambert-projection.ts';
import { assertClose } from '../support/assert-close.ts';

const coneConstant = (standardLat1Deg: number, standardLat2Deg: number) =>
  lambertCone({ semiMajorAxisM: 1, flattening: 0, standardLat1Deg, standardLat2Deg }).coneConstant;

describe('cone constants computed for the reference', () => {
  test.each([
    [25, 25, 0.4226183],
    [38.5, 38.5, 0.6225146],
    [33, 45, 0.6304777],
  ])('parallels %d and %d: n = %d', (lat1Deg, lat2Deg, n) => {
    assertClose(coneConstant(lat1Deg, lat2Deg), n, { abs: 1e-7, why: 'last printed digit' });
  });
});

describe('worked examples of USGS Professional Paper 1395, appendix A (figures from memory)', () => {
  // Parallels 33 and 45, origin 23 N 96 W, point 35 N 75 W.
  const project = (cone: ReturnType<typeof lambertCone>) => {
    const point = cone.project(35, 21);
    const origin = cone.project(23, 0);
    return { x: point.xM - origin.xM, y: point.yM - origin.yM };
  };

  test('a sphere of radius 1: x 0.2966785, y 0.2462112', () => {
    const cone = lambertCone({
      ...{ semiMajorAxisM: 1, flattening: 0, standardLat1Deg: 33, standardLat2Deg: 45 },
    });
    const { x, y } = project(cone);
    assertClose(cone.coneConstant, 0.6304777, { abs: 1e-7, why: 'last printed digit' });
    assertClose(x, 0.2966785, { abs: 1e-7, why: 'last printed digit' });
    assertClose(y, 0.2462112, { abs: 1e-7, why: 'last printed digit' });
  });

  test('the Clarke 1866 ellipsoid: x 1 894 410.9 m, y 1 564 649.5 m', () => {
    // a 6 378 206.4 m, e2 0.00676866.
    const cone = lambertCone({
      ...{ semiMajorAxisM: 6_378_206.4, flattening: 1 - Math.sqrt(1 - 0.00676866) },
      ...{ standardLat1Deg: 33, standardLat2Deg: 45 },
    });
    const { x, y } = project(cone);
    assertClose(cone.coneConstant, 0.6304965, { abs: 1e-7, why: 'last printed digit' });
    assertClose(x, 1_894_410.9, { abs: 0.1, why: 'last printed digit' });
    assertClose(y, 1_564_649.5, { abs: 0.1, why: 'last printed digit' });
  });
});

/** 5 km grid of a digital forecast, and the 3 km grid of a regional model. */
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

describe('points of two published grids', () => {
  // Looked up: the test values of another open decoder, which come from a third one.
  test.each([
    [0, 0, 20.19, -121.550004],
    [1, 0, 20.19442682, -121.52621665],
    [1, 1376, 50.10756403, -60.91298217],
    [0, 1376, 50.1024611, -60.88202274],
  ])(
    '2.5 km grid of 2145 x 1377, alternating: column %i from the end the row begins at, row %i',
    (step, j, latDeg, lonDeg) => {
      // Its last row, an even one, runs eastward; the last stored points are the eastern ones.
      const i = j === 0 ? step : 2144 - step;
      const point = gridFromDefinition(DIGITAL).toLatLon(i, j);
      assertClose(point.latDeg, latDeg, { abs: 1e-4, why: 'tolerance of the source' });
      assertClose(point.lonDeg, lonDeg, { abs: 1e-4, why: 'tolerance of the source' });
    },
  );

  test.each([
    [1798, 1058, 47.842195, -60.917193],
    [1798, 0, 21.140547, -72.289718],
    [900, 529, 38.497243, -97.471505],
  ])('3 km grid: column %i row %i (computed for the reference)', (i, j, latDeg, lonDeg) => {
    const point = gridFromDefinition(REGIONAL).toLatLon(i, j);
    assertClose(point.latDeg, latDeg, { abs: 1e-5, why: 'tolerance of the reference' });
    assertClose(point.lonDeg, lonDeg, { abs: 1e-5, why: 'tolerance of the reference' });
  });

  test.each([
    [40, -105, 686.3773, 593.3828],
    [35, -90, 1127.0619, 408.5803],
  ])(
    '3 km grid: %d N %d E has these fractional indices (computed for the reference)',
    (latDeg, lonDeg, i, j) => {
      const index = gridFromDefinition(REGIONAL).toIndex(latDeg, lonDeg);
      assertClose(index.i, i, { abs: 1e-3, why: 'tolerance of the reference' });
      assertClose(index.j, j, { abs: 1e-3, why: 'tolerance of the reference' });
    },
  );
});

describe('winds along the grid, turned to true (computed for the reference)', () => {
  test.each([
    [-105, -4.66886, 9.55983, 5.79738],
    [-90, 4.66886, 10.3738, 4.16944],
  ])('u 10, v 5 at longitude %d: angle %d degrees', (lonDeg, angleDeg, eastMps, northMps) => {
    const angle = gridFromDefinition(REGIONAL).windAngleRad(lonDeg);
    assertClose((angle * 180) / Math.PI, angleDeg, { abs: 1e-5, why: 'last printed digit' });
    assertClose(10 * Math.cos(angle) + 5 * Math.sin(angle), eastMps, { abs: 1e-4, why: 'reference' });
    assertClose(-10 * Math.sin(angle) + 5 * Math.cos(angle), northMps, { abs: 1e-4, why: 'reference' });
  });

  test('a wind along the grid lines blows along them: toward the next column of the same row', () => {
    const grid = gridFromDefinition(REGIONAL);
    const [i, j] = [300, 700];
    const from = grid.toLatLon(i, j);
    const to = grid.toLatLon(i + 0.01, j);
    const eastM = (to.lonDeg - from.lonDeg) * Math.cos((from.latDeg * Math.PI) / 180);
    const northM = to.latDeg - from.latDeg;
    const angle = grid.windAngleRad(from.lonDeg);
    // u 1, v 0: east cos a, north -sin a.
    assertClose(Math.atan2(northM, eastM), Math.atan2(-Math.sin(angle), Math.cos(angle)), {
      ...{ abs: 1e-4, why: 'a chord of 30 m stands for the tangent' },
    });
  });
});

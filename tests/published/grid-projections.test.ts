/** Maps of model grids: a textbook's worked examples, another library's points, and tables of Gaussian latitudes. */
import { gaussianLatitudesDeg } from '../../worker/formats/grib2/gaussian-latitudes.ts';
import type { MapProjection } from '../../worker/formats/grib2/grid-plane.ts';
import { mercatorMap } from '../../worker/formats/grib2/mercator-projection.ts';
import { polarStereographicMap } from '../../worker/formats/grib2/polar-stereographic-projection.ts';
import { rotatedSphere } from '../../worker/formats/grib2/rotated-pole.ts';
import { transverseMercatorMap } from '../../worker/formats/grib2/transverse-mercator-projection.ts';
import { assertClose } from '../support/assert-close.ts';
import { type PublishedComparison, testPublished } from '../support/published-values.ts';

const SNYDER = 'Snyder, USGS Professional Paper 1395, appendix A';
const PROJ = 'PROJ 9.1.1, one run of proj_trans a point';
const UNIT_SPHERE = { semiMajorAxisM: 1, flattening: 0 };
const CLARKE_1866 = { semiMajorAxisM: 6_378_206.4, flattening: 1 - Math.sqrt(1 - 0.00676866) };
const INTERNATIONAL = { semiMajorAxisM: 6_378_388, flattening: 1 - Math.sqrt(1 - 0.00672267) };
const WGS84 = { semiMajorAxisM: 6_378_137, flattening: 1 / 298.257223563 };
const SPHERE = { semiMajorAxisM: 6_371_229, flattening: 0 };

/** Latitude, longitude, m east, m north. */
type Row = readonly [latDeg: number, lonDeg: number, xM: number, yM: number];

const LAST_DIGIT_UNIT = { abs: 0.5e-7 * 1.01, why: 'half the last printed digit' };
const DECIMETER = { abs: 0.1, why: 'last printed digit: the source works with seven' };
const MILLIMETER = { abs: 1e-3, why: 'the other library works to less than a millimeter' };

/** Forward against the printed figures, and back again from them. */
function compareRows(
  published: PublishedComparison,
  map: MapProjection,
  rows: readonly Row[],
  tolerance: Parameters<PublishedComparison['close']>[2],
): void {
  for (const [latDeg, lonDeg, xM, yM] of rows) {
    const point = map.project(latDeg, lonDeg);
    published.close(point.xM, xM, tolerance);
    published.close(point.yM, yM, tolerance);
    const place = map.unproject(xM, yM);
    assertClose(place.latDeg, latDeg, { abs: 2e-5, why: 'a printed digit on the ground, at most 1 m' });
    if (Math.abs(latDeg) < 90) assertClose(place.lonDeg, lonDeg, { abs: 2e-5, why: 'the same' });
  }
}

testPublished(
  'Mercator: 35 N 75 W from 180 W, on a sphere of 1 and on the Clarke 1866 ellipsoid',
  { source: SNYDER, tag: 'M', values: 4 },
  (published) => {
    const sphere = mercatorMap(UNIT_SPHERE, 0);
    published.close(105 * sphere.metersPerLonDeg, 1.8325957, LAST_DIGIT_UNIT);
    published.close(sphere.northingM(35), 0.6528366, LAST_DIGIT_UNIT);
    const ellipsoid = mercatorMap(CLARKE_1866, 0);
    published.close(105 * ellipsoid.metersPerLonDeg, 11_688_673.7, DECIMETER);
    published.close(ellipsoid.northingM(35), 4_139_145.6, DECIMETER);
    assertClose(ellipsoid.latDeg(4_139_145.6), 35, { abs: 1e-6, why: 'the last printed digit, 0.1 m' });
  },
);

testPublished(
  "transverse Mercator: 40 30' N 73 30' W about 75 W, on a sphere of 1 and on the Clarke 1866 ellipsoid",
  { source: SNYDER, tag: 'M', values: 4 },
  (published) => {
    const origin = { referenceLatDeg: 0, referenceLonDeg: -75 };
    const sphere = transverseMercatorMap(UNIT_SPHERE, { ...origin, scaleFactor: 1 });
    compareRows(published, sphere, [[40.5, -73.5, 0.0199077, 0.7070276]], LAST_DIGIT_UNIT);
    const ellipsoid = transverseMercatorMap(CLARKE_1866, { ...origin, scaleFactor: 0.9996 });
    compareRows(published, ellipsoid, [[40.5, -73.5, 127_106.5, 4_484_124.4]], DECIMETER);
  },
);

testPublished(
  'polar stereographic: 75 S 150 E about the south pole, true at 71 S, 100 W upright, International ellipsoid',
  { source: SNYDER, tag: 'M', values: 2 },
  (published) => {
    const map = polarStereographicMap(INTERNATIONAL, {
      ...{ pole: 'south', orientationLonDeg: -100, trueLatDeg: -71 },
    });
    compareRows(published, map, [[-75, 150, -1_540_033.6, -560_526.4]], DECIMETER);
  },
);

testPublished(
  'transverse Mercator far from its meridian, to the pole and beyond the equator',
  { source: PROJ, tag: 'C', values: 14 },
  (published) => {
    const wide = { referenceLatDeg: 30, referenceLonDeg: -117, scaleFactor: 0.9996 };
    const rows: readonly Row[] = [
      [60, -117, 0, 3_332_625.8378],
      [45, -97, 1_575_750.2351, 1_862_687.8167],
      [-10, -137, -2_235_209.5046, -4_494_082.6976],
      [75, -60, 1_410_689.7034, 5_752_386.196],
      [90, -117, 0, 6_679_179.5904],
    ];
    compareRows(published, transverseMercatorMap(WGS84, wide), rows, MILLIMETER);
    const round = { referenceLatDeg: 0, referenceLonDeg: 10, scaleFactor: 1 };
    const onSphere: readonly Row[] = [
      [50, 30, 1_423_935.3293, 5_753_918.4144],
      [0.5, 95, 19_918_579.6737, 635_829.1993],
    ];
    compareRows(published, transverseMercatorMap(SPHERE, round), onSphere, MILLIMETER);
  },
);

testPublished(
  'polar stereographic on WGS84 about both poles',
  { source: PROJ, tag: 'C', values: 14 },
  (published) => {
    const maps = [
      [
        { pole: 'north', orientationLonDeg: -111, trueLatDeg: 60 },
        [90, -111, 0, 0],
        [45, -60, 3_836_783.9332, -3_106_966.368],
        [20, 100, -4_287_884.5621, 7_136_238.2993],
      ],
      [
        { pole: 'south', orientationLonDeg: 0, trueLatDeg: -71 },
        [-90, 0, 0, 0],
        [-75, 150, 819_391.6192, -1_419_227.9158],
        [-50, -60, -3_918_364.5942, 2_262_268.8533],
      ],
      [{ pole: 'north', orientationLonDeg: 0, trueLatDeg: 90 }, [60, 45, 2_422_858.5022, -2_422_858.5022]],
    ] as const;
    for (const [aspect, ...rows] of maps) {
      compareRows(published, polarStereographicMap(WGS84, aspect), rows, MILLIMETER);
    }
  },
);

testPublished('Mercator on WGS84, true at 20 N', { source: PROJ, tag: 'C', values: 3 }, (published) => {
  const map = mercatorMap(WGS84, 20);
  published.close(map.metersPerLonDeg, 104_647.0863, MILLIMETER);
  published.close(map.northingM(-60), -7_861_444.8427, MILLIMETER);
  published.close(map.northingM(45), 5_256_157.9504, MILLIMETER);
});

testPublished(
  'a sphere whose southern pole lies at 36 S 245 E: turned coordinates of five places',
  { source: PROJ, tag: 'C', values: 10 },
  (published) => {
    // Latitude, longitude; turned latitude, turned longitude. The first two are corners of a Canadian model's grid.
    const rows = [
      [39.626032, -133.62952, -12.30250266, -14.82122087],
      [27.284598, -66.966424, -12.30250161, 42.3062813],
      [90, 0, 36.08852, 0],
      [-40, -100, -77.80163944, 113.12210759],
      [50, 60, 75.5678012, 13.7956021],
    ] as const;
    const sphere = rotatedSphere(-36.08852, 245.305142);
    const tolerance = { abs: 1e-8, why: 'printed to 1e-8' };
    for (const [latDeg, lonDeg, turnedLatDeg, turnedLonDeg] of rows) {
      const turned = sphere.toRotated(latDeg, lonDeg);
      published.close(turned.latDeg, turnedLatDeg, tolerance);
      published.close(turned.lonDeg, turnedLonDeg, tolerance);
    }
  },
);

testPublished(
  'sines of Gaussian latitudes: abscissas of the quadrature of ten points',
  { source: 'Abramowitz and Stegun, table 25.4', tag: 'M', values: 5 },
  (published) => {
    const printed = [
      0.973906528517172, 0.865063366688985, 0.679409568299024, 0.433395394129247, 0.148874338981631,
    ];
    const latitudes = gaussianLatitudesDeg(5);
    for (const [row, sine] of printed.entries()) {
      published.close(Math.sin((latitudes[row]! * Math.PI) / 180), sine, {
        abs: 1e-15,
        why: 'last printed digit',
      });
    }
  },
);

testPublished(
  'Gaussian latitudes of 94 rows',
  { source: 'NCEP reanalysis, latitudes of the T62 Gaussian grid', tag: 'M', values: 8 },
  (published) => {
    // Row from the north, degrees.
    const rows = [
      [0, 88.542, 1e-3],
      [1, 86.6531, 1e-4],
      [2, 84.7532, 1e-4],
      [3, 82.8508, 1e-4],
      [10, 69.5217, 1e-4],
      [31, 29.5234, 1e-4],
      [45, 2.857103, 1e-6],
      [46, 0.952368, 1e-6],
    ] as const;
    const latitudes = gaussianLatitudesDeg(47);
    for (const [row, latDeg, abs] of rows) {
      published.close(latitudes[row]!, latDeg, { abs, why: 'last printed digit, some cut and not rounded' });
      assertClose(latitudes[93 - row]!, -latitudes[row]!, { abs: 0, why: 'the rows are symmetric' });
    }
  },
);

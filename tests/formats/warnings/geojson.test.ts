import type { Position as GeoPosition } from 'geojson';
import { describe, expect, test } from 'vitest';
import { type DrawnGeometry, geoJsonOf } from '../../../worker/formats/warnings/geojson.ts';
import { distanceToStretchM, greatCircleDistanceM } from '../../../worker/science/great-circle.ts';
import { icao, readOne } from './warning-context.ts';

function drawn(area: string): DrawnGeometry {
  const found = geoJsonOf(icao(`${area} FL100/200 STNR NC`).areas[0]!.geometry);
  if (found === undefined) throw new Error(`${area}: no geometry`);
  return found;
}

/** Shoelace rule: positive counter-clockwise. */
function signedArea(ring: readonly GeoPosition[]): number {
  return ring
    .slice(1)
    .reduce((sum, [x, y], index) => sum + (ring[index]![0]! * y! - x! * ring[index]![1]!) / 2, 0);
}

const place = ([lonDeg, latDeg]: GeoPosition) => ({ lonDeg: lonDeg!, latDeg: latDeg! });

describe('geoJsonOf a polygon', () => {
  test('short edges are drawn as they are: closed, counter-clockwise, [longitude, latitude]', () => {
    expect(drawn('WI N5000 E01000 - N5030 E01000 - N5030 E01030')).toEqual({
      type: 'Polygon',
      coordinates: [
        [
          [10.5, 50.5],
          [10, 50.5],
          [10, 50],
          [10.5, 50.5],
        ],
      ],
    });
  });

  test('long edges follow the great circle by points at most 100 km apart', () => {
    const found = drawn('WI N60 W060 - N60 W010 - N45 W010 - N45 W060 - N60 W060');
    if (found.type !== 'Polygon') throw new Error(found.type);
    const [ring] = found.coordinates;
    const steps = ring!.slice(1).map((to, index) => greatCircleDistanceM(place(ring![index]!), place(to)));
    expect(Math.max(...steps)).toBeLessThanOrEqual(100_000);
    expect(signedArea(ring!)).toBeGreaterThan(0);
    // Half-way from 60 N 60 W to 60 N 10 W the great circle is at atan(tan 60 / cos 25) = 62.38 N.
    const northernmost = Math.max(...ring!.map(([, latDeg]) => latDeg!));
    expect(northernmost).toBeCloseTo(62.38, 1);
    for (const point of ring!.filter(([, latDeg]) => latDeg! > 60.001)) {
      expect(
        distanceToStretchM(place(point), { latDeg: 60, lonDeg: -60 }, { latDeg: 60, lonDeg: -10 }),
      ).toBeLessThan(1);
    }
  });

  test('is cut at the 180th meridian in two, each on its own side', () => {
    const found = drawn('WI N50 E179 - N50 W179 - N51 W179 - N51 E179 - N50 E179');
    if (found.type !== 'MultiPolygon') throw new Error(found.type);
    expect(found.coordinates).toHaveLength(2);
    const lons = found.coordinates.map(([ring]) => ring!.map(([lonDeg]) => lonDeg!));
    expect(lons.some((each) => each.every((lonDeg) => lonDeg >= 178.9 && lonDeg <= 180))).toBe(true);
    expect(lons.some((each) => each.every((lonDeg) => lonDeg >= -180 && lonDeg <= -178.9))).toBe(true);
    for (const [ring] of found.coordinates) {
      expect(signedArea(ring!)).toBeCloseTo(1, 2);
      expect(ring![0]).toEqual(ring!.at(-1));
    }
  });

  test('a region about the 180th meridian is cut as well', () => {
    const { areas } = readOne(
      'ZZYY SIGMET 1 VALID 150600/151000 ZZYY- ZZYY EXAMPLE FIR SEV ICE FCST ENTIRE FIR',
    );
    expect(geoJsonOf(areas[0]!.geometry)).toMatchObject({ type: 'MultiPolygon' });
  });
});

describe('geoJsonOf other geometry', () => {
  test('a circle is a ring of places at its radius, also across the 180th meridian', () => {
    for (const [center, lonDeg] of [
      ['N50 E010', 10],
      ['N50 E180', 180],
      ['S70 W17930', -179.5],
    ] as const) {
      const found = drawn(`WI 50NM OF ${center}`);
      const rings =
        found.type === 'Polygon'
          ? found.coordinates
          : found.type === 'MultiPolygon'
            ? found.coordinates.flat()
            : [];
      expect(rings.length).toBe(lonDeg === 10 ? 1 : 2);
      const middle = { latDeg: center.startsWith('S') ? -70 : 50, lonDeg };
      const rim = rings.flat().filter(([lon]) => Math.abs(lon!) !== 180);
      // 72 places about it, of which two may lie on the meridian itself, and the first once more.
      expect(rim.length).toBeGreaterThanOrEqual(70);
      for (const point of rim) expect(greatCircleDistanceM(place(point), middle)).toBeCloseTo(92_600, 0);
      for (const ring of rings) expect(signedArea(ring)).toBeGreaterThan(0);
    }
  });

  test('a circle about the pole has no ring on this plane', () => {
    expect(geoJsonOf(icao('WI 300NM OF N89 E000 FL100').areas[0]!.geometry)).toBeUndefined();
  });

  test('a line is drawn along the great circle, and cut at the 180th meridian', () => {
    expect(drawn('APRX 50KM WID LINE BTN N5000 E01000 - N5030 E01000')).toEqual({
      type: 'LineString',
      coordinates: [
        [10, 50],
        [10, 50.5],
      ],
    });
    expect(drawn('APRX 50KM WID LINE BTN N1000 E17930 - N1000 W17930')).toEqual({
      type: 'MultiLineString',
      coordinates: [
        [
          [179.5, 10],
          [180, expect.closeTo(10.0, 2)],
        ],
        [
          [-180, expect.closeTo(10.0, 2)],
          [-179.5, 10],
        ],
      ],
    });
  });

  test('a point is a point; sides are their lines, or nothing where a parallel has no ends', () => {
    expect(drawn('N4320 W07005')).toEqual({ type: 'Point', coordinates: [-(70 + 5 / 60), 43 + 20 / 60] });
    expect(drawn('N OF LINE N5000 E01000 - N5030 E01000')).toMatchObject({ type: 'MultiLineString' });
    expect(geoJsonOf(icao('N OF N50 FL100').areas[0]!.geometry)).toBeUndefined();
  });
});

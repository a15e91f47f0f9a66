import { describe, expect, test } from 'vitest';
import { destination, greatCircleDistanceM } from '../../../worker/flight/great-circle.ts';
import {
  compassDeg,
  distanceM,
  placeAt,
  placesBetween,
} from '../../../worker/formats/pilot-reports/great-circle.ts';

const CHICAGO = { latDeg: 41.98, lonDeg: -87.9 };
const NEW_YORK = { latDeg: 40.64, lonDeg: -73.78 };
const RAD_PER_DEG = Math.PI / 180;

describe('great circles of the formats', () => {
  test('are those of the flight folder, which formats may not import', () => {
    expect(distanceM(CHICAGO, NEW_YORK)).toBeCloseTo(greatCircleDistanceM(CHICAGO, NEW_YORK), 6);
    for (const [course, awayM] of [
      [0, 1000],
      [72, 46_300],
      [181.5, 3_000_000],
      [270, 9_000_000],
    ] as const) {
      const found = placeAt(CHICAGO, course, awayM);
      const expected = destination(CHICAGO, course * RAD_PER_DEG, awayM);
      expect(found.latDeg).toBeCloseTo(expected.latDeg, 9);
      expect(found.lonDeg).toBeCloseTo(expected.lonDeg, 9);
    }
  });

  test('a degree of arc is 111.195 km, in every direction', () => {
    for (const course of [0, 90, 180, 270]) {
      const away = placeAt({ latDeg: 0, lonDeg: 179.5 }, course, 111_195.08);
      expect(distanceM({ latDeg: 0, lonDeg: 179.5 }, away)).toBeCloseTo(111_195.08, 2);
    }
    expect(placeAt({ latDeg: 0, lonDeg: 179.5 }, 90, 111_195.08).lonDeg).toBeCloseTo(-179.5, 5);
  });

  test('places between two lie on the way, evenly, none further apart than the step', () => {
    const between = placesBetween(CHICAGO, NEW_YORK, 100_000);
    const all = [CHICAGO, ...between, NEW_YORK];
    const steps = all.slice(1).map((place, index) => distanceM(all[index]!, place));
    expect(between).toHaveLength(11);
    expect(Math.max(...steps)).toBeLessThanOrEqual(100_000);
    expect(Math.max(...steps) - Math.min(...steps)).toBeLessThan(0.01);
    expect(steps.reduce((sum, step) => sum + step, 0)).toBeCloseTo(distanceM(CHICAGO, NEW_YORK), 3);
  });

  test('antipodes and equal places have none between', () => {
    expect(placesBetween({ latDeg: 0, lonDeg: 0 }, { latDeg: 0, lonDeg: 180 }, 1000)).toEqual([]);
    expect(placesBetween(CHICAGO, CHICAGO, 1000)).toEqual([]);
  });

  test('sixteen points of the compass, and no seventeenth', () => {
    expect(['N', 'NNE', 'E', 'SSE', 'SW', 'NNW'].map(compassDeg)).toEqual([0, 22.5, 90, 157.5, 225, 337.5]);
    expect(compassDeg('NWN')).toBeUndefined();
  });
});

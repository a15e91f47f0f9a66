/**
 * Declination against the test values published with the World Magnetic Model, as they stand in the library's own package
 * (test/values.csv). The nine rows at sea level are compared.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { magneticCourseDeg, makeMagneticModel } from '../../worker/flight/magnetic.ts';
import { assertClose } from '../support/assert-close.ts';

const rows = readFileSync(new URL('../../node_modules/geomagnetism/test/values.csv', import.meta.url), 'utf8')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => line.split(',').map(Number))
  .map((cells) => ({
    year: cells[0]!,
    altitudeKm: cells[1]!,
    latDeg: cells[2]!,
    lonDeg: cells[3]!,
    declDeg: cells[10]!,
  }));

function dateMsOf(year: number): number {
  const whole = Math.floor(year);
  return Date.UTC(whole) + (year - whole) * 365 * 86_400_000;
}

describe('makeMagneticModel', () => {
  test('agrees with every published value at sea level', () => {
    const atSea = rows.filter((row) => row.altitudeKm === 0 && row.year >= 2015);
    for (const row of atSea) {
      const declinationDeg = makeMagneticModel(dateMsOf(row.year)).declinationDeg(row);
      assertClose(declinationDeg, row.declDeg, {
        abs: 0.0051,
        why: 'half of the last digit printed, 0.01 degrees',
      });
    }
    expect(atSea.length).toBe(9);
  });

  test('a date before the oldest model uses the oldest model', () => {
    const place = { latDeg: 41.98, lonDeg: -87.9 };
    const old = makeMagneticModel(Date.UTC(2011, 0, 10)).declinationDeg(place);
    expect(old).toBe(makeMagneticModel(Date.UTC(2014, 11, 15, 7)).declinationDeg(place));
  });

  test('a date after the newest model uses the end of the newest model', () => {
    const place = { latDeg: 41.98, lonDeg: -87.9 };
    const late = makeMagneticModel(Date.UTC(2040, 0, 1)).declinationDeg(place);
    expect(late).toBe(makeMagneticModel(Date.UTC(2029, 10, 13, 3)).declinationDeg(place));
  });
});

describe('magneticCourseDeg', () => {
  const west10 = { declinationDeg: () => -10 };
  const place = { latDeg: 0, lonDeg: 0 };

  test('west declination adds to the course', () => {
    assertClose(magneticCourseDeg(west10, place, Math.PI / 2), 100, { abs: 1e-9, why: 'arithmetic' });
  });

  test('stays below 360', () => {
    assertClose(magneticCourseDeg(west10, place, (355 * Math.PI) / 180), 5, { abs: 1e-9, why: 'arithmetic' });
    expect(magneticCourseDeg({ declinationDeg: () => 1e-15 }, place, 0)).toBeLessThan(360);
  });
});

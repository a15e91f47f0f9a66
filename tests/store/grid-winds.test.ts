/** Winds along a grid, stored as winds to east and north. */
import { describe, expect, test } from 'vitest';
import { assertClose } from '../support/assert-close.ts';
import { u8 } from '../support/grib2-builder.ts';
import { EVERY_GRID, gridOf, polar, rotated } from '../support/grib2-grids.ts';
import { type FieldSpec, profileOf, storeFields } from '../support/grid-fields.ts';

const [U, V] = [80, -30];
/** Half a step of storage. */
const HALF_STEP_MPS = 0.025;
const AIR: FieldSpec[] = [
  { parameter: '0.0.0', level: 70_000, value: 263 },
  { parameter: '0.1.1', level: 70_000, value: 75 },
];
const east: FieldSpec = { parameter: '0.2.2', level: 70_000, value: U };
const north: FieldSpec = { parameter: '0.2.3', level: 70_000, value: V };
const RAD_PER_DEG = Math.PI / 180;

describe('a wind of 80 along the rows and -30 up the columns', () => {
  test.each(EVERY_GRID)(
    '%s: blows where the grid lines go, or is left as it is',
    async (_, template, make) => {
      const octet = template === 1 ? 55 : 47;
      const isTurned = template !== 0 && template !== 10 && template !== 40;
      const section3 = make({ nx: 4, ny: 4, scanning: 0x40 }, isTurned ? { [octet]: u8(0x38) } : {});
      const grid = gridOf(section3);
      // At a grid point: between two, the turned components are weighted, not the angle.
      const [i, j] = [2, 1];
      const { latDeg, lonDeg } = grid.toLatLon(i, j);
      const hour = await storeFields([...AIR, east, north], { grid: section3 });
      const { profile } = await profileOf(hour, latDeg, lonDeg);
      const before = grid.toLatLon(i - 0.001, j);
      const after = grid.toLatLon(i + 0.001, j);
      const eastDeg = (((after.lonDeg - before.lonDeg + 540) % 360) - 180) * Math.cos(latDeg * RAD_PER_DEG);
      const rowRad = isTurned ? Math.atan2(after.latDeg - before.latDeg, eastDeg) : 0;
      const why =
        'half a step; the ellipsoid of one grid shifts the direction of a degree of latitude by up to 0.3 %';
      const tolerance = { abs: HALF_STEP_MPS + 0.05, why };
      const [eastMps, northMps] = [profile.windEastMps[0]!, profile.windNorthMps[0]!];
      assertClose(eastMps, U * Math.cos(rowRad) - V * Math.sin(rowRad), tolerance);
      assertClose(northMps, U * Math.sin(rowRad) + V * Math.cos(rowRad), tolerance);
      const speed = { abs: Math.SQRT2 * HALF_STEP_MPS, why: 'half a step in each component' };
      assertClose(Math.hypot(eastMps, northMps), Math.hypot(U, V), speed);
    },
  );

  test('is left as it is where the flag says east and north', async () => {
    const section3 = polar({ nx: 4, ny: 4 }, { 47: u8(0x30) });
    const middle = gridOf(section3).toLatLon(1.5, 1.5);
    const hour = await storeFields([...AIR, east, north], { grid: section3 });
    const { profile } = await profileOf(hour, middle.latDeg, middle.lonDeg);
    expect([profile.windEastMps[0], profile.windNorthMps[0]]).toEqual([U, V]);
  });

  test.each([
    ['east', east],
    ['north', north],
  ])('the component to %s alone is dropped: nobody can turn it', async (_, lone) => {
    const section3 = rotated({ nx: 4, ny: 4 });
    const middle = gridOf(section3).toLatLon(1.5, 1.5);
    const hour = await storeFields([...AIR, lone], { grid: section3 });
    const { profile } = await profileOf(hour, middle.latDeg, middle.lonDeg);
    expect([profile.windEastMps[0], profile.windNorthMps[0]]).toEqual([Number.NaN, Number.NaN]);
  });
});

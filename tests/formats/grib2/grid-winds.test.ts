/** Winds along a grid, turned to east and north: the angle against the grid lines themselves, drawn by small steps. */
import { describe, expect, test } from 'vitest';
import type { Grib2Grid } from '../../../worker/formats/grib2/field.ts';
import { microdegrees, s32, u8, u32 } from '../../support/grib2-builder.ts';
import {
  EVERY_GRID,
  gridOf,
  polar,
  rotated,
  southPolar,
  transverseMercator,
} from '../../support/grib2-grids.ts';

const RAD_PER_DEG = Math.PI / 180;
/** Cells to either side; the error of the central difference is the square of it in radians of arc. */
const STEP_CELLS = 1e-3;
/** Largest difference of direction found is 2e-9 rad: rounding of places a few meters apart. */
const TOLERANCE_RAD = 1e-8;

/**
 * East and north in which the place moves from one side to the other of a grid point, along a row or up a column of the map.
 * Only toLatLon is asked, and only for places.
 */
function directionRad(grid: Grib2Grid, [i, j]: readonly [number, number], along: 'row' | 'column'): number {
  const [di, dj] = along === 'row' ? [STEP_CELLS, 0] : [0, STEP_CELLS * rowSign(grid)];
  const before = grid.toLatLon(i - di, j - dj);
  const after = grid.toLatLon(i + di, j + dj);
  const eastDeg = ((after.lonDeg - before.lonDeg + 540) % 360) - 180;
  const phi = ((before.latDeg + after.latDeg) / 2) * RAD_PER_DEG;
  const northDeg = (after.latDeg - before.latDeg) * meridianOverParallel(grid, phi);
  return Math.atan2(northDeg, eastDeg * Math.cos(phi));
}

/** A degree of latitude on an ellipsoid over one along the parallel through the same radius: (1 - e2) / (1 - e2 sin2). */
function meridianOverParallel({ definition }: Grib2Grid, phi: number): number {
  const flattening = 'earthFlattening' in definition ? (definition.earthFlattening ?? 0) : 0;
  const e2 = flattening * (2 - flattening);
  return (1 - e2) / (1 - e2 * Math.sin(phi) ** 2);
}

/** v points up the map whatever the direction in which rows follow each other. */
function rowSign(grid: Grib2Grid): 1 | -1 {
  const { definition } = grid;
  if ('dyM' in definition) return definition.dyM > 0 ? 1 : -1;
  if ('latStepDeg' in definition) return definition.latStepDeg > 0 ? 1 : -1;
  return definition.parallelStep === -1 ? 1 : -1;
}

const GRIDS: readonly (readonly [string, Grib2Grid])[] = [
  ...EVERY_GRID.flatMap(([name, , make]) =>
    [0x00, 0x40, 0x80].map(
      (scanning) => [`${name}, mode ${scanning}`, gridOf(make({ nx: 7, ny: 5, scanning }))] as const,
    ),
  ),
  [
    'polar stereographic on WGS84 with the pole inside',
    gridOf(
      polar({ nx: 247, ny: 200 }, { 15: u8(5), 39: microdegrees(32.549114), 43: microdegrees(225.385728) }),
    ),
  ],
  [
    'south polar on WGS84 with the pole inside',
    gridOf(southPolar({ nx: 201, ny: 201 }, { 15: u8(5), 39: microdegrees(-52), 43: microdegrees(204) })),
  ],
  [
    'rotated, the size of Canada',
    gridOf(
      rotated(
        { nx: 127, ny: 65, scanning: 0x40 },
        {
          ...{ 47: microdegrees(-12), 51: microdegrees(345), 56: microdegrees(17.696) },
          ...{ 60: microdegrees(43.464), 64: microdegrees(0.464), 68: microdegrees(0.464) },
        },
      ),
    ),
  ],
  [
    'transverse Mercator over 4000 km',
    gridOf(
      transverseMercator(
        { nx: 101, ny: 101 },
        {
          ...{ 61: u32(4_000_000), 65: u32(4_000_000), 69: s32(-150_000_000), 77: s32(250_000_000) },
          ...{ 73: u32(350_000_000), 81: u32(750_000_000) },
        },
      ),
    ),
  ],
];

describe.each(GRIDS)('%s', (_, grid) => {
  const places = [0.13, 0.5, 0.87].flatMap((a) =>
    [0.13, 0.5, 0.87].map((b) => [a * (grid.nx - 1), b * (grid.ny - 1)] as const),
  );

  test('a wind along the row, and one up the column, blow where the grid lines go', () => {
    let compared = 0;
    for (const where of places) {
      const { latDeg, lonDeg } = grid.toLatLon(...where);
      const angle = grid.windAngleRad(latDeg, lonDeg);
      for (const [along, u, v] of [
        ['row', 1, 0],
        ['column', 0, 1],
      ] as const) {
        const east = u * Math.cos(angle) + v * Math.sin(angle);
        const north = v * Math.cos(angle) - u * Math.sin(angle);
        const turned = Math.atan2(north, east) - directionRad(grid, where, along);
        expect(Math.abs(Math.atan2(Math.sin(turned), Math.cos(turned)))).toBeLessThan(TOLERANCE_RAD);
        compared += 1;
      }
    }
    expect(compared).toBe(18);
  });
});

describe('flag table 3.3', () => {
  const FLAG_OCTETS: Readonly<Record<number, number>> = { 1: 55, 12: 47, 20: 47, 30: 47 };

  test.each(EVERY_GRID)(
    '%s: flag 0x08 says that winds follow the grid, where that is not east and north',
    (_, template, make) => {
      const octet = FLAG_OCTETS[template];
      if (octet === undefined) {
        expect(gridOf(make({ nx: 3, ny: 3 }, { [template === 10 ? 47 : 55]: u8(0x38) })).windsAlongGrid).toBe(
          false,
        );
        return;
      }
      expect(gridOf(make({ nx: 3, ny: 3 }, { [octet]: u8(0x38) })).windsAlongGrid).toBe(true);
      expect(gridOf(make({ nx: 3, ny: 3 }, { [octet]: u8(0x30) })).windsAlongGrid).toBe(false);
    },
  );
});

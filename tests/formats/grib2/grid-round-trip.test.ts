/** What holds for the grid of every template, over all of it: each index has one place and each place one index. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Grib2Grid } from '../../../worker/formats/grib2/field.ts';
import { gridFromDefinition } from '../../../worker/formats/grib2/grid-definition.ts';
import { microdegrees, s32, u8, u32 } from '../../support/grib2-builder.ts';
import {
  EVERY_GRID,
  gaussian,
  gridOf,
  mercator,
  polar,
  rotated,
  southPolar,
  transverseMercator,
} from '../../support/grib2-grids.ts';

const SIZE = { nx: 7, ny: 5 };

/** As the models have them, with their real spread, beside the small ones. */
const GRIDS: readonly (readonly [string, Grib2Grid])[] = [
  ...EVERY_GRID.map(([name, , make]) => [name, gridOf(make(SIZE))] as const),
  ...EVERY_GRID.map(
    ([name, , make]) => [`${name}, all modes turned`, gridOf(make({ ...SIZE, scanning: 0xb0 }))] as const,
  ),
  [
    'rotated, the size of Canada',
    gridOf(
      rotated(
        { nx: 2540, ny: 1290, scanning: 0x40 },
        {
          ...{ 47: microdegrees(-12.302501), 51: microdegrees(345.17878), 56: microdegrees(16.700001) },
          ...{ 60: microdegrees(42.306283), 64: microdegrees(0.0225), 68: microdegrees(0.0225) },
          ...{ 73: microdegrees(-36.08852), 77: microdegrees(245.305142) },
        },
      ),
    ),
  ],
  [
    'polar stereographic, over the pole',
    gridOf(polar({ nx: 247, ny: 200 }, { 39: microdegrees(32.549114), 43: microdegrees(225.385728) })),
  ],
  [
    'polar stereographic on WGS84 with the whole southern hemisphere',
    gridOf(southPolar({ nx: 601, ny: 601 }, { 15: u8(5), 39: microdegrees(-5), 43: microdegrees(204) })),
  ],
  [
    'Mercator on WGS84, across the date line',
    gridOf(
      mercator(
        { nx: 300, ny: 200 },
        { 15: u8(5), 43: microdegrees(170), 52: microdegrees(32.415188), 56: microdegrees(198.572224) },
      ),
    ),
  ],
  [
    'transverse Mercator over 4000 km',
    gridOf(
      transverseMercator(
        { nx: 401, ny: 401 },
        {
          ...{ 61: u32(1_000_000), 65: u32(1_000_000) },
          ...{ 69: s32(-150_000_000), 77: s32(250_000_000) },
          ...{ 73: u32(350_000_000), 81: u32(750_000_000) },
        },
      ),
    ),
  ],
  [
    'Gaussian around the globe',
    gridOf(gaussian({ nx: 128, ny: 8 }, { 51: u32(0), 60: microdegrees(357.1875) })),
  ],
];

/** Columns and rows at which a fraction of the whole lies. */
const at = (grid: Grib2Grid, [a, b]: readonly [number, number]) => ({
  i: a * (grid.wrapsEast ? grid.nx - 1e-6 : grid.nx - 1),
  j: b * (grid.ny - 1),
});
const fraction = fc.double({ min: 0, max: 1, noNaN: true });
const anywhere = fc.tuple(fraction, fraction);
/** Of a cell: a cell of the finest grid here is 1 km, so this is 1 mm. */
const LEAST_CELLS = 1e-6;
/** An index within a ten-millionth of a cell of a grid point is taken for it; the widest cell here is 2.8 degrees. */
const SNAP_DEG = 2.9e-7;

describe.each(GRIDS)('%s', (_, grid) => {
  test('toIndex undoes toLatLon anywhere in the grid, longitudes in [-180, 180)', () => {
    fc.assert(
      fc.property(anywhere, (where) => {
        const { i, j } = at(grid, where);
        const { latDeg, lonDeg } = grid.toLatLon(i, j);
        expect(Math.abs(latDeg) <= 90 && lonDeg >= -180 && lonDeg < 180).toBe(true);
        const back = grid.toIndex(latDeg, lonDeg);
        expect(Math.hypot(back.i - i, back.j - j)).toBeLessThan(LEAST_CELLS);
      }),
      { seed: 1, numRuns: 400 },
    );
  });

  test('toLatLon undoes toIndex, and a turn of longitude more or less changes nothing', () => {
    fc.assert(
      fc.property(anywhere, fc.constantFrom(-360, 360), (where, turnDeg) => {
        const { i, j } = at(grid, where);
        const place = grid.toLatLon(i, j);
        const index = grid.toIndex(place.latDeg, place.lonDeg + turnDeg);
        const back = grid.toLatLon(index.i, index.j);
        const eastDeg = ((back.lonDeg - place.lonDeg + 540) % 360) - 180;
        expect(Math.abs(back.latDeg - place.latDeg)).toBeLessThan(SNAP_DEG);
        expect(Math.abs(eastDeg * Math.cos((place.latDeg * Math.PI) / 180))).toBeLessThan(SNAP_DEG);
      }),
      { seed: 2, numRuns: 200 },
    );
  });

  test('the index of every grid point is whole, to the last bit', () => {
    let compared = 0;
    const stepI = Math.max(1, Math.floor(grid.nx / 40));
    const stepJ = Math.max(1, Math.floor(grid.ny / 40));
    for (let j = 0; j < grid.ny; j += stepJ) {
      for (let i = 0; i < grid.nx; i += stepI) {
        const { latDeg, lonDeg } = grid.toLatLon(i, j);
        expect(grid.toIndex(latDeg, lonDeg)).toEqual({ i, j });
        compared += 1;
      }
    }
    expect(compared).toBeGreaterThanOrEqual(35);
  });

  test('a place beyond an edge is outside by as much', () => {
    for (const [i, j] of [
      [-0.25, 1],
      [grid.nx - 0.75, 1],
      [1, -0.25],
      [1, grid.ny - 0.75],
    ] as const) {
      if (grid.wrapsEast && j === 1) continue;
      const { latDeg, lonDeg } = grid.toLatLon(i, j);
      const back = grid.toIndex(latDeg, lonDeg);
      expect([back.i, back.j].map((each) => Math.round(each * 1e6) / 1e6 + 0)).toEqual([i, j]);
    }
  });

  test('a definition through JSON gives the same grid', () => {
    const again = gridFromDefinition(JSON.parse(JSON.stringify(grid.definition)));
    const place = grid.toLatLon(1.5, 1.5);
    expect([again.key, again.template, again.nx, again.ny]).toEqual([
      grid.key,
      grid.template,
      grid.nx,
      grid.ny,
    ]);
    expect(again.toLatLon(1.5, 1.5)).toEqual(place);
    expect(again.toIndex(place.latDeg, place.lonDeg)).toEqual(grid.toIndex(place.latDeg, place.lonDeg));
    expect([again.wrapsEast, again.windsAlongGrid, again.windAngleRad(50, 20)]).toEqual([
      grid.wrapsEast,
      grid.windsAlongGrid,
      grid.windAngleRad(50, 20),
    ]);
  });
});

describe('places that no small grid reaches', () => {
  const ANTIPODES: readonly (readonly [number, number])[] = [
    [-90, 0],
    [90, 0],
    [0, 0],
    [0, 90],
    [0, 180],
    [0, -90],
    [-50, -170],
  ];

  test.each(EVERY_GRID)('%s: a pole, the equator, the far side are outside', (name, _, make) => {
    const grid = gridOf(make({ nx: 3, ny: 3 }));
    for (const [latDeg, lonDeg] of ANTIPODES) {
      const { i, j } = grid.toIndex(latDeg, lonDeg);
      expect(i >= 0 && i <= 2 && j >= 0 && j <= 2, `${name} ${latDeg} ${lonDeg}`).toBe(false);
    }
  });
});

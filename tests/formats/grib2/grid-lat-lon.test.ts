import { describe, expect, test } from 'vitest';
import { gridFromDefinition } from '../../../worker/formats/grib2/grid-definition.ts';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import {
  concat,
  latLon,
  MISSING_32,
  microdegrees,
  plainMessage,
  u8,
  u32,
} from '../../support/grib2-builder.ts';
import { readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

type Entries = Readonly<Record<number, readonly number[]>>;
const SIXTEEN = Array.from({ length: 16 }, (_, n) => n);

/** 8 columns and 2 rows. */
const made = (entries: Entries = {}, scanning = 0) =>
  plainMessage(SIXTEEN, latLon({ nx: 8, ny: 2, scanning }, entries));
const gridOf = async (entries: Entries, scanning = 0) => (await readOne(made(entries, scanning))).grid;
const rejected = async (entries: Entries) => rejectionOf(await readAll(made(entries)));

/** Around the globe in steps of 45 degrees, from a longitude on. */
const around = (firstDeg: number): Entries => ({
  51: microdegrees(firstDeg),
  60: microdegrees(firstDeg + 315),
  64: microdegrees(45),
});

describe('a grid of latitudes and longitudes', () => {
  const CASES: readonly (readonly [string, Entries])[] = [
    ['plain', {}],
    ['around the globe from Greenwich', around(0)],
    ['around the globe from 180 W, written negative', around(-180)],
    ['across Greenwich, from 356 E to 3 E', { 51: microdegrees(356), 60: microdegrees(3) }],
    ['across the date line', { 51: microdegrees(176), 60: microdegrees(183) }],
    ['southern, both rows negative', { 47: microdegrees(-12.5), 56: microdegrees(-13.5) }],
    ['without increments', { 55: u8(0), 64: MISSING_32, 68: MISSING_32 }],
    ['increments of zero that are flagged as not given', { 55: u8(0), 64: u32(0), 68: u32(0) }],
    [
      'in sixtieths of a degree by a basic angle',
      {
        ...{ 39: u32(1), 43: u32(60), 47: u32(50 * 60), 51: u32(10 * 60), 56: u32(50 * 60 - 1) },
        ...{ 60: u32(10 * 60 + 7), 64: u32(1), 68: u32(1) },
      },
    ],
    ['with a basic angle of one millionth written out', { 39: u32(1), 43: u32(1_000_000) }],
  ];

  test('every point of ten grids lies where ecCodes has it', async () => {
    const bytes = concat(CASES.map(([, entries]) => made(entries)));
    const truths = eccodesFieldsOf(bytes, { places: true });
    const items = await readAll(bytes);
    let compared = 0;
    for (const [n, item] of items.entries()) {
      if (item.kind !== 'field') throw new Error(`${CASES[n]![0]}: ${item.kind}`);
      for (const [at, latDeg] of truths[n]!.latDeg.entries()) {
        const { i, j } = item.field.grid.toIndex(latDeg, truths[n]!.lonDeg[at]!);
        expect(
          [i, j].map((each) => Math.round(each * 1e6) / 1e6 + 0),
          CASES[n]![0],
        ).toEqual([at % 8, at >> 3]);
        compared += 1;
      }
    }
    expect(compared).toBe(CASES.length * 16);
  });

  test('toLatLon and toIndex undo each other, longitudes in [-180, 180)', async () => {
    let compared = 0;
    for (const [name, entries] of CASES) {
      const grid = await gridOf(entries);
      for (let at = 0; at < 64; at += 1) {
        const [i, j] = [(at % 16) / 2, Math.floor(at / 16) / 4];
        if (i > 7 && !grid.wrapsEast) continue;
        const { latDeg, lonDeg } = grid.toLatLon(i, j);
        expect(lonDeg >= -180 && lonDeg < 180, name).toBe(true);
        const back = grid.toIndex(latDeg, lonDeg);
        expect(Math.hypot(back.i - i, back.j - j), name).toBeLessThan(1e-9);
        compared += 1;
      }
    }
    expect(compared).toBe(8 * 60 + 2 * 64);
  });

  test('only a full circle wraps east', async () => {
    expect((await gridOf(around(0))).wrapsEast).toBe(true);
    expect((await gridOf({ 60: microdegrees(360), 51: u32(0), 55: u8(0) })).wrapsEast).toBe(false);
    expect((await gridOf({})).wrapsEast).toBe(false);
  });

  test('between the last and the first column of a circle the index goes on to nx', async () => {
    const grid = await gridOf(around(0));
    expect(grid.toIndex(50, -22.5)).toEqual({ i: 7.5, j: 0 });
    expect(grid.toIndex(50, 360)).toEqual({ i: 0, j: 0 });
  });

  test('a place just west of a regional grid has a small negative column, one far away a large one', async () => {
    const grid = await gridOf({});
    expect(grid.toIndex(49.5, 9.5)).toEqual({ i: -0.5, j: 0.5 });
    expect(grid.toIndex(49.5, 17.5)).toEqual({ i: 7.5, j: 0.5 });
    expect(Math.abs(grid.toIndex(49.5, -170).i)).toBeGreaterThan(100);
  });

  test('winds are east and north already', async () => {
    const grid = await gridOf({ 55: u8(0x38) });
    expect([grid.windsAlongGrid, grid.windAngleRad(50, 77)]).toEqual([false, 0]);
  });
});

describe('gridFromDefinition', () => {
  test.each([0x00, 0x40, 0x80, 0xe0])(
    'a definition through JSON gives the same grid, mode %i',
    async (scanning) => {
      const grid = await gridOf({}, scanning);
      const again = gridFromDefinition(JSON.parse(JSON.stringify(grid.definition)));
      expect(again.key).toBe(grid.key);
      expect([again.toLatLon(3, 1), again.toIndex(49.2, 13.3)]).toEqual([
        grid.toLatLon(3, 1),
        grid.toIndex(49.2, 13.3),
      ]);
      expect([again.nx, again.ny, again.wrapsEast, again.template]).toEqual([8, 2, grid.wrapsEast, 0]);
    },
  );

  test('the key is equal for equal grids and differs between different ones', async () => {
    expect((await gridOf({})).key).toBe((await gridOf({})).key);
    expect((await gridOf({}, 0x40)).key).not.toBe((await gridOf({})).key);
  });
});

describe('increments that are rounded', () => {
  test('a row of 640 steps of 0.562 degrees ends at 359.438: the corners are trusted', async () => {
    const values = Array.from({ length: 640 }, () => 0);
    const grid = (
      await readOne(
        plainMessage(
          values,
          latLon({ nx: 640, ny: 1 }, { 51: u32(0), 60: microdegrees(359.438), 64: microdegrees(0.562) }),
        ),
      )
    ).grid;
    expect(grid.wrapsEast).toBe(true);
    expect(grid.toLatLon(320, 0).lonDeg).toBeCloseTo(-180 + 0.0003, 3);
  });
});

describe('contradictions are refused', () => {
  const SECTION_3 = 16 + 21;

  test.each([
    ['a last longitude a whole step off', { 60: microdegrees(18) }, 60],
    ['a last latitude on the wrong side for the scanning', { 56: microdegrees(51) }, 56],
    ['a last latitude equal to the first', { 56: microdegrees(50) }, 56],
    ['latitudes beyond the pole', { 47: microdegrees(91), 56: microdegrees(90) }, 47],
    ['a first longitude in two\u2019s complement', { 51: [0xfa, 0x0a, 0x1f, 0x00] }, 51],
    ['a basic angle without subdivisions', { 39: u32(1), 43: u32(0) }, 43],
    ['a number of points that is not nx times ny', { 7: u32(15) }, 7],
    ['no columns', { 31: u32(0), 7: u32(0) }, 7],
  ] as const)('%s', async (_, entries, octet) => {
    expect(offsetOf(await rejected(entries))).toBe(SECTION_3 + octet - 1);
  });

  test('rows of unequal length, by code table 3.11', async () => {
    const error = await rejected({ 11: u8(2), 12: u8(1), 31: MISSING_32 });
    expect(unsupported(error)).toEqual(['code table 3.11', '1']);
  });

  test('a grid definition that is kept elsewhere, by code table 3.0', async () => {
    expect(unsupported(await rejected({ 6: u8(1) }))).toEqual(['code table 3.0', '1']);
  });

  test.each([2, 31, 90, 101, 32769])('template 3.%i, by code table 3.1', async (template) => {
    const error = await rejected({ 13: [template >> 8, template & 0xff] });
    expect(unsupported(error)).toEqual(['code table 3.1', String(template)]);
  });
});

describe('alternating rows', () => {
  test('a last point at the end of the first row is read by the increments', async () => {
    const grid = await gridOf({ 60: microdegrees(10) }, 0x10);
    expect(grid.toLatLon(7, 1)).toEqual({ latDeg: 49, lonDeg: 17 });
  });
});

import { describe, expect, test } from 'vitest';
import type { Grib2Field } from '../../../worker/formats/grib2/field.ts';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import { concat, lambert, latLon, plainMessage } from '../../support/grib2-builder.ts';
import { inFileOrder, readAll, readOne } from '../../support/grib2-compare.ts';
import { rejectionOf, unsupported } from '../../support/grib2-errors.ts';
import {
  EVERY_GRID,
  type GridBuilder,
  gaussian,
  mercator,
  polar,
  rotated,
  southPolar,
} from '../../support/grib2-grids.ts';

const VALUES = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11];
const NX = 4;
const NY = 3;
const ALL_MODES = Array.from({ length: 16 }, (_, n) => n * 16);
const grid = (make: GridBuilder, scanning: number) => make({ nx: NX, ny: NY, scanning });

/** Rows as they come out, row 0 first. */
const picture = (field: Grib2Field) =>
  Array.from({ length: NY }, (_, j) => Array.from(field.values.subarray(j * NX, (j + 1) * NX)).join(' '));

/**
 * Flag table 3.4, drawn: columns from west to east, row 0 the first row of the file. The direction of rows (0x40)
 * changes where row 0 lies, never the picture.
 */
const PICTURES: Readonly<Record<number, readonly string[]>> = {
  0: ['0 1 2 3', '4 5 6 7', '8 9 10 11'],
  16: ['0 1 2 3', '7 6 5 4', '8 9 10 11'],
  32: ['0 3 6 9', '1 4 7 10', '2 5 8 11'],
  48: ['0 5 6 11', '1 4 7 10', '2 3 8 9'],
  128: ['3 2 1 0', '7 6 5 4', '11 10 9 8'],
  144: ['3 2 1 0', '4 5 6 7', '11 10 9 8'],
  160: ['9 6 3 0', '10 7 4 1', '11 8 5 2'],
  176: ['11 6 5 0', '10 7 4 1', '9 8 3 2'],
};

describe('values come out row by row, whatever the scanning mode', () => {
  test.each(EVERY_GRID.flatMap(([name, , make]) => ALL_MODES.map((mode) => [mode, name, make] as const)))(
    'mode %i of a %s grid',
    async (mode, _, make) => {
      const field = await readOne(plainMessage(VALUES, grid(make, mode)));
      expect(picture(field)).toEqual(PICTURES[mode & ~0x40]);
    },
  );

  test.each(ALL_MODES)('fileOrder of mode %i leads back to the order of the file', async (mode) => {
    const field = await readOne(plainMessage(VALUES, grid(latLon, mode)));
    expect(inFileOrder(field)).toEqual(VALUES);
    expect(field.fileOrder === undefined).toBe((mode & ~0x40) === 0);
  });
});

describe('each value lies where ecCodes has it', () => {
  /**
   * ecCodes 2.28 leaves alternating rows out of account, adjacent points in j of all but latitude-longitude grids too, and
   * takes La1 and Lo1 of a map for its south-western corner, whatever the scanning; where it does follow the code it must
   * agree.
   */
  const PLAIN_MODES = ALL_MODES.filter((mode) => (mode & 0x10) === 0);
  const ROW_MODES = PLAIN_MODES.filter((mode) => (mode & 0x20) === 0);
  const CASES = [
    ...PLAIN_MODES.map((mode) => grid(latLon, mode)),
    ...PLAIN_MODES.map((mode) => grid(rotated, mode)),
    ...ROW_MODES.map((mode) => grid(gaussian, mode)),
    ...[mercator, polar, southPolar].map((make) => grid(make, 0x40)),
    ...[0x40, 0x60].map((mode) => grid(lambert, mode)),
  ];

  test('by latitude and longitude of every point, of every mode that it knows', async () => {
    const made = concat(CASES.map((each) => plainMessage(VALUES, each)));
    const truths = eccodesFieldsOf(made, { places: true });
    const items = await readAll(made);
    let compared = 0;
    for (const [n, item] of items.entries()) {
      if (item.kind !== 'field') throw new Error('expected fields only');
      const { header, values, latDeg, lonDeg } = truths[n]!;
      const inRows = header.gridDefinitionTemplateNumber === 30 ? rowMajor(values, n) : values;
      for (const [at, value] of inRows.entries()) {
        const { i, j } = item.field.grid.toIndex(latDeg[at]!, lonDeg[at]!);
        expect(Math.abs(i - Math.round(i)) + Math.abs(j - Math.round(j))).toBeLessThan(1e-5);
        expect(item.field.values[Math.round(j) * NX + Math.round(i)], `field ${n} value ${at}`).toBe(value);
        compared += 1;
      }
    }
    expect(compared).toBe((8 + 8 + 4 + 3 + 2) * VALUES.length);
  });

  /** For Lambert ecCodes lists places row by row and values in file order: the last case goes by columns. */
  function rowMajor(values: Float64Array, field: number): Float64Array {
    if (field < CASES.length - 1) return values;
    return values.map((_, n) => values[(n % NX) * NY + Math.floor(n / NX)]!);
  }
});

describe('the first point of the file keeps the place the file gives it', () => {
  /** As the builders write it; the rotated one is 50 N 10 E of its own coordinates, the Gaussian one a parallel of N 32. */
  const FIRST: Readonly<Record<string, readonly [latDeg: number, lonDeg: number]>> = {
    'latitude and longitude': [50, 10],
    Mercator: [15, -160],
    'north polar stereographic': [40, -135],
    'south polar stereographic': [-70, -135],
    Lambert: [40, -100],
  };

  test.each(
    EVERY_GRID.filter(([name]) => name in FIRST).flatMap(([name, , make]) =>
      ALL_MODES.map((mode) => [name, mode, make] as const),
    ),
  )('%s, mode %i', async (name, mode, make) => {
    const field = await readOne(plainMessage(VALUES, grid(make, mode)));
    const first = field.fileOrder?.[0] ?? 0;
    const { latDeg, lonDeg } = field.grid.toLatLon(first % NX, Math.floor(first / NX));
    expect(latDeg).toBeCloseTo(FIRST[name]![0], 9);
    expect(lonDeg).toBeCloseTo(FIRST[name]![1], 9);
  });

  test.each(ALL_MODES)('transverse Mercator, mode %i: 440 km east and 3750 km north', async (mode) => {
    const corner = (await readOne(plainMessage(VALUES, grid(EVERY_GRID[3]![2], 0x40)))).grid.toLatLon(0, 0);
    const field = await readOne(plainMessage(VALUES, grid(EVERY_GRID[3]![2], mode)));
    const first = field.fileOrder?.[0] ?? 0;
    const place = field.grid.toLatLon(first % NX, Math.floor(first / NX));
    expect(Math.hypot(place.latDeg - corner.latDeg, place.lonDeg - corner.lonDeg)).toBeLessThan(1e-9);
  });

  test.each(
    EVERY_GRID.filter(([, template]) => template !== 1 && template !== 20).flatMap(([name, , make]) =>
      [0x00, 0x40, 0x80, 0xc0].map((mode) => [name, mode, make] as const),
    ),
  )('%s, mode %i: column 1 lies east of 0, row 1 as flagged', async (_, mode, make) => {
    const { grid: where } = await readOne(plainMessage(VALUES, grid(make, mode)));
    const origin = where.toLatLon(0, 0);
    expect(where.toLatLon(1, 0).lonDeg).toBeGreaterThan(origin.lonDeg);
    expect(where.toLatLon(0, 1).latDeg > origin.latDeg).toBe((mode & 0x40) !== 0);
  });
});

test.each(
  EVERY_GRID.flatMap(([name, , make]) => [0x01, 0x02, 0x04, 0x08].map((flag) => [name, flag, make] as const)),
)('%s: shifted rows or columns, flag %i, are refused by flag table 3.4', async (_, flag, make) => {
  const error = rejectionOf(await readAll(plainMessage(VALUES, grid(make, 0x40 | flag))));
  expect(unsupported(error)).toEqual(['flag table 3.4', `0x${(0x40 | flag).toString(16)}`]);
});

import { describe, expect, test } from 'vitest';
import { describeLevel, describeParameter } from '../../../worker/formats/grib2/code-tables.ts';
import { inspectGrib2Field, valueAt } from '../../../worker/formats/grib2/inspect.ts';
import {
  bitmap,
  data,
  identification,
  latLon,
  MISSING_32,
  message,
  packBits,
  product,
  section,
  simple,
  u8,
} from '../../support/grib2-builder.ts';
import { readOne } from '../../support/grib2-compare.ts';

/** Two rows of three points, one of them missing, at half a unit a step. */
const holed = await readOne(
  message([
    ...[identification(), latLon({ nx: 3, ny: 2 }), product()],
    ...[simple({ count: 5, bits: 8, binary: -1 }), bitmap('##.###')],
    data(packBits([2, 4, 6, 8, 25], 8)),
  ]),
);

describe('inspectGrib2Field', () => {
  test('gives these members first, in this order, then further ones', () => {
    const names = Object.keys(inspectGrib2Field(holed));
    expect(names.slice(0, 13)).toEqual([
      ...['kind', 'index', 'parameter', 'level', 'referenceUtc', 'validUtc', 'grid', 'packing', 'count'],
      ...['missing', 'min', 'max', 'mean'],
    ]);
    expect(names.slice(13)).toEqual(['name', 'unit', 'levelName', 'secondLevel', 'productTemplate']);
  });

  test('what, where and when', () => {
    expect(inspectGrib2Field(holed)).toMatchObject({
      kind: 'grib2-field',
      index: 0,
      parameter: { discipline: 0, category: 0, number: 0 },
      level: { type: 100, value: 85_000 },
      referenceUtc: '2024-01-15T12:00:00Z',
      validUtc: '2024-01-15T18:00:00Z',
      grid: { template: 0, nx: 3, ny: 2 },
      packing: 0,
    });
  });

  test('least, greatest and mean are those of the present values; all points count', () => {
    expect(inspectGrib2Field(holed)).toMatchObject({ count: 6, missing: 1, min: 1, max: 12.5, mean: 4.5 });
  });

  test('a field without values has null, never 0 or NaN', async () => {
    const empty = await readOne(
      message([
        ...[identification(), latLon({ nx: 3, ny: 2 }), product(), simple({ count: 0, bits: 0 })],
        ...[bitmap('......'), data(new Uint8Array(0))],
      ]),
    );
    expect(inspectGrib2Field(empty)).toMatchObject({
      count: 6,
      missing: 6,
      min: null,
      max: null,
      mean: null,
    });
  });

  test('a surface without a value has null, and is JSON', async () => {
    const ground = product({ 23: u8(1), 24: u8(255), 25: MISSING_32, 29: u8(8), 30: u8(255) });
    const field = await readOne(
      message([
        ...[identification(), latLon({ nx: 2, ny: 1 }), ground, simple({ count: 2, bits: 0 })],
        ...[section(6, 6, { 6: u8(255) }), data(new Uint8Array(0))],
      ]),
    );
    const back = JSON.parse(JSON.stringify(inspectGrib2Field(field)));
    expect([back.level, back.secondLevel]).toEqual([
      { type: 1, value: null },
      { type: 8, value: null },
    ]);
  });

  test('valueAt is exported beside it', () => {
    expect(valueAt(holed, 50, 11)).toBe(2);
    expect(valueAt(holed, 50, 12)).toBeNaN();
  });
});

describe('words of the code tables', () => {
  // Code table 4.2, looked up for these rows.
  test.each([
    [0, 0, 'temperature', 'K'],
    [0, 6, 'dewpoint temperature', 'K'],
    [1, 0, 'specific humidity', 'kg/kg'],
    [1, 1, 'relative humidity', '%'],
    [1, 22, 'cloud mixing ratio', 'kg/kg'],
    [1, 23, 'ice water mixing ratio', 'kg/kg'],
    [1, 24, 'rain mixing ratio', 'kg/kg'],
    [1, 25, 'snow mixing ratio', 'kg/kg'],
    [1, 32, 'graupel (snow pellets)', 'kg/kg'],
    [2, 2, 'u-component of wind', 'm/s'],
    [2, 3, 'v-component of wind', 'm/s'],
    [2, 8, 'vertical velocity (pressure)', 'Pa/s'],
    [2, 9, 'vertical velocity (geometric)', 'm/s'],
    [3, 0, 'pressure', 'Pa'],
    [3, 5, 'geopotential height', 'gpm'],
    [6, 1, 'total cloud cover', '%'],
  ])('discipline 0, %i/%i is %s', (category, number, name, unit) => {
    expect(describeParameter({ discipline: 0, category, number })).toEqual({ name, unit });
  });

  test('what is not in the table is told by its numbers, without a unit', () => {
    expect(describeParameter({ discipline: 10, category: 0, number: 0 })).toEqual({
      name: 'discipline 10 category 0 number 0',
      unit: undefined,
    });
  });

  test.each([
    [1, Number.NaN, 'ground or water surface'],
    [100, 85_000, 'isobaric surface 85000 Pa'],
    [101, 0, 'mean sea level'],
    [103, 2, 'height above ground 2 m'],
    [103, Number.NaN, 'height above ground'],
    [200, 3, 'surface 200 3'],
    [200, Number.NaN, 'surface 200'],
  ])('surface %i with value %d is "%s"', (type, value, words) => {
    expect(describeLevel({ type, value })).toBe(words);
  });
});

import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import {
  bitmap,
  data,
  identification,
  latLon,
  message,
  noBitmap,
  packBits,
  previousBitmap,
  product,
  section,
  simple,
  u8,
} from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readAll } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

const NOT = Number.NaN;

/** Sections 4 to 7 of a field with the given values under its bitmap. */
const field = (bits: Uint8Array, values: readonly number[]) => [
  product(),
  simple({ count: values.length, bits: 8 }),
  bits,
  data(packBits(values, 8)),
];
const START = [identification(), latLon({ nx: 5, ny: 2 })];
const PICTURE = '##..# .###.';

async function valuesOf(sections: readonly Uint8Array[]): Promise<number[][]> {
  const made = message(sections);
  const items = await readAll(made);
  const truths = eccodesFieldsOf(made);
  expect(items).toHaveLength(truths.length);
  return items.map((item, n) => {
    if (item.kind !== 'field') throw new Error(item.kind === 'rejected' ? item.error.message : item.kind);
    expect(differences(item.field, truths[n]!)).toEqual([]);
    return inFileOrder(item.field);
  });
}

describe('bitmaps, each message also read by ecCodes', () => {
  test('values stand where the bitmap has a 1, also beyond the first octet', async () => {
    expect(await valuesOf([...START, ...field(bitmap(PICTURE), [1, 2, 3, 4, 5, 6])])).toEqual([
      [1, 2, NOT, NOT, 3, NOT, 4, 5, 6, NOT],
    ]);
  });

  test('254 reuses the bitmap of the field before', async () => {
    const first = field(bitmap(PICTURE), [1, 2, 3, 4, 5, 6]);
    const second = field(previousBitmap(), [7, 8, 9, 10, 11, 12]);
    expect(await valuesOf([...START, ...first, ...second])).toEqual([
      [1, 2, NOT, NOT, 3, NOT, 4, 5, 6, NOT],
      [7, 8, NOT, NOT, 9, NOT, 10, 11, 12, NOT],
    ]);
  });

  test('no value at all', async () => {
    const nothing = [
      product(),
      simple({ count: 0, bits: 0 }),
      bitmap('..... .....'),
      data(new Uint8Array(0)),
    ];
    const made = message([...START, ...nothing]);
    const [item] = await readAll(made);
    expect(item?.kind === 'field' && item.field.missingCount).toBe(10);
    expect(item?.kind === 'field' && inFileOrder(item.field)).toEqual(Array(10).fill(NOT));
  });
});

/** Not compared with ecCodes: 2.28 gives the third of these fields no bitmap, against code table 6.0. */
test('a field without a bitmap does not undo the one that was defined before it', async () => {
  const whole = field(noBitmap(), [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
  const items = await readAll(
    message([
      ...[...START, ...field(bitmap(PICTURE), [1, 2, 3, 4, 5, 6])],
      ...[...whole, ...field(previousBitmap(), [7, 8, 9, 10, 11, 12])],
    ]),
  );
  const last = items[2];
  expect(last?.kind === 'field' && inFileOrder(last.field)).toEqual([
    ...[7, 8, NOT, NOT, 9, NOT, 10, 11, 12, NOT],
  ]);
});

describe('bitmaps that do not fit are refused', () => {
  const rejected = async (sections: readonly Uint8Array[]) =>
    rejectionOf(await readAll(message([...START, ...sections])));

  test('reuse without an earlier bitmap in the message', async () => {
    const error = await rejected(field(previousBitmap(), [1, 2, 3, 4, 5, 6]));
    expect(offsetOf(error)).toBe(16 + 21 + 72 + 34 + 21 + 5);
  });

  test('a bitmap of fewer octets than points', async () => {
    const error = await rejected(field(bitmap('##..#.##'), [1, 2, 3, 4, 5]));
    expect(error).toMatchObject({ found: '1 octets', expected: '2 for 10 points' });
  });

  test('fewer packed values than ones in the bitmap', async () => {
    const error = await rejected(field(bitmap(PICTURE), [1, 2, 3, 4, 5]));
    expect(error).toMatchObject({ found: '5', expected: '6, the number of points in the bitmap' });
  });

  test('fewer packed values than grid points without a bitmap', async () => {
    const error = await rejected(field(noBitmap(), [1, 2, 3]));
    expect(error).toMatchObject({ found: '3', expected: '10, the number of grid points' });
  });

  test.each([1, 253])('bitmap %i of the centre, by code table 6.0', async (indicator) => {
    const error = await rejected(field(section(6, 6, { 6: u8(indicator) }), [1]));
    expect(unsupported(error)).toEqual(['code table 6.0', String(indicator)]);
  });
});

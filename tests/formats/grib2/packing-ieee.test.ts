import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import { packedByEccodes } from '../../support/eccodes-pack.ts';
import { bytes } from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';
import { ieee, packedMessage } from '../../support/grib2-packings.ts';

const made = (precision: number, hex: string) =>
  packedMessage({ nx: 2, ny: 2 }, ieee(4, precision), bytes(hex));

/** After sections 0, 1, 3, 4, 5 and 6. */
const SECTION_7_OFFSET = 16 + 21 + 72 + 34 + 12 + 6;

describe('IEEE numbers', () => {
  test('singles: 1, -2, 0.1 and the largest there is', async () => {
    const field = await readOne(made(1, '3f 80 00 00 c0 00 00 00 3d cc cc cd 7f 7f ff ff'));
    expect(inFileOrder(field)).toEqual([1, -2, Math.fround(0.1), (2 - 2 ** -23) * 2 ** 127]);
  });

  test('doubles are rounded to singles: 1, -2, 0.1 and a third', async () => {
    const field = await readOne(
      made(
        2,
        '3ff0000000000000 c000000000000000 3fb999999999999a 3fd5555555555555'.replace(/(..)(?!$| )/g, '$1 '),
      ),
    );
    expect(inFileOrder(field)).toEqual([1, -2, Math.fround(0.1), Math.fround(1 / 3)]);
  });

  test('a value that is not a number is missing', async () => {
    const field = await readOne(made(1, '3f 80 00 00 7f c0 00 00 00 00 00 00 ff c0 00 00'));
    expect([inFileOrder(field), field.missingCount]).toEqual([[1, Number.NaN, 0, Number.NaN], 2]);
  });

  test.each([1, 2])('precision %i as ecCodes packs and reads it', async (precision) => {
    const values = Array.from({ length: 12 }, (_, n) => 250 + Math.sin(n) / 3);
    const keys = { packingType: 'grid_ieee', precision };
    const [packed] = packedByEccodes([{ columns: 4, rows: 3, values, keys }]);
    const [truth] = eccodesFieldsOf(packed!);
    expect(truth?.header.dataRepresentationTemplateNumber).toBe(4);
    expect(differences(await readOne(packed!), truth!)).toEqual([]);
  });
});

describe('IEEE numbers are refused', () => {
  test('quadruple precision, by code table 5.7', async () => {
    const error = rejectionOf(await readAll(made(3, '00')));
    expect(unsupported(error)).toEqual(['code table 5.7', '3']);
  });

  test.each([
    ['an octet too few', '3f 80 00 00 c0 00 00 00 3d cc cc cd 7f 7f ff', 6],
    ['more octets than padding to a word', '00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00 00', 22],
    ['an infinite value', '3f 80 00 00 7f 80 00 00 00 00 00 00 00 00 00 00', 10],
  ])('%s', async (_, hex, octet) => {
    expect(offsetOf(rejectionOf(await readAll(made(1, hex))))).toBe(SECTION_7_OFFSET + octet - 1);
  });

  test('a double beyond single precision', async () => {
    const hex = `${'00 '.repeat(24)}48 00 00 00 00 00 00 00`;
    expect(offsetOf(rejectionOf(await readAll(made(2, hex))))).toBe(SECTION_7_OFFSET + 6 - 1 + 24);
  });
});

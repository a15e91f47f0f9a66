import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import {
  complex,
  data,
  type Group,
  type Grouped,
  groupPayload,
  identification,
  latLon,
  message,
  noBitmap,
  product,
  u8,
  u16,
  u32,
} from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

const NOT = Number.NaN;

/** Three groups: 5-8 in 2 bits above 5, a constant 9, and 0 to 30 in 5 bits. */
const GROUPS: readonly Group[] = [
  { reference: 5, width: 2, packed: [0, 1, 3, 2] },
  { reference: 9, width: 0, packed: [0, 0, 0, 0] },
  { reference: 0, width: 5, packed: [30, 0, 17, 31] },
];
const FORM: Grouped = {
  ...{ count: 12, bits: 4, groups: 3, widthBits: 3, lengthReference: 4, lastLength: 4, lengthBits: 1 },
};

function complexMessage(form: Grouped, groups: readonly Group[] = GROUPS, entries = {}): Uint8Array {
  return message([
    identification(),
    latLon({ nx: form.count / 2, ny: 2 }),
    product(),
    complex(form, entries),
    noBitmap(),
    data(groupPayload(groups, form)),
  ]);
}

/** Read by us, after a check that ecCodes reads the same. */
async function valuesOf(form: Grouped, groups?: readonly Group[]): Promise<number[]> {
  const made = complexMessage(form, groups);
  const field = await readOne(made);
  const [truth] = eccodesFieldsOf(made);
  expect(differences(field, truth!)).toEqual([]);
  return inFileOrder(field);
}

describe('complex packing, each also read by ecCodes', () => {
  test('groups of several widths, one of them without bits', async () => {
    expect(await valuesOf(FORM)).toEqual([5, 6, 8, 7, 9, 9, 9, 9, 30, 0, 17, 31]);
  });

  test('the values are scaled: R 100, E 1, D 1', async () => {
    const scaled = { ...FORM, reference: 100, binary: 1, decimal: 1 };
    expect((await valuesOf(scaled)).slice(0, 3)).toEqual([11, 11.2, 11.6].map(Math.fround));
  });

  test('width and length references, a length increment, and a last group of its own length', async () => {
    const groups = [
      { reference: 1, width: 3, packed: [7, 0] },
      { reference: 2, width: 4, packed: [15, 1, 2, 3, 4, 5, 6, 7] },
      { reference: 3, width: 3, packed: [1, 2, 3, 4] },
    ];
    const form = {
      ...{ count: 14, bits: 2, groups: 3, widthReference: 3, widthBits: 1, lengthReference: 2 },
      ...{ lengthIncrement: 3, lastLength: 4, lengthBits: 2 },
    };
    expect(await valuesOf(form, groups)).toEqual([8, 1, 17, 3, 4, 5, 6, 7, 8, 9, 4, 5, 6, 7]);
  });

  test('widths of 26 to 32 bits', async () => {
    const packed = (width: number) => [0, 2 ** width - 1, 2 ** (width - 1) + 1];
    const groups = [26, 27, 31, 32].map((width) => ({ reference: 1, width, packed: packed(width) }));
    const form = {
      ...{ count: 12, bits: 1, groups: 4, widthReference: 26, widthBits: 3, lengthReference: 3 },
      ...{ lastLength: 3, lengthBits: 0 },
    };
    const made = complexMessage(form, groups);
    const field = await readOne(made);
    const [truth] = eccodesFieldsOf(made);
    expect(differences(field, truth!, { halfStep: false })).toEqual([]);
    expect(inFileOrder(field)).toEqual(
      groups.flatMap(({ packed }) => packed.map((each) => Math.fround(each + 1))),
    );
  });

  test('no groups at all: R / 10^D everywhere', async () => {
    const form = { ...FORM, groups: 0, reference: 25 };
    expect(await valuesOf(form, [])).toEqual(Array(12).fill(25));
  });
});

describe('missing values in complex packing, each also read by ecCodes', () => {
  test('primary: all ones in a group, and a reference of all ones in a group without bits', async () => {
    const groups = [GROUPS[0]!, { reference: 15, width: 0, packed: [0, 0, 0, 0] }, GROUPS[2]!];
    expect(await valuesOf({ ...FORM, missing: 1 }, groups)).toEqual([
      ...[5, 6, NOT, 7, NOT, NOT, NOT, NOT, 30, 0, 17, NOT],
    ]);
  });

  test('secondary: all ones less 1 as well', async () => {
    const groups = [GROUPS[0]!, { reference: 14, width: 0, packed: [0, 0, 0, 0] }, GROUPS[2]!];
    expect(await valuesOf({ ...FORM, missing: 2 }, groups)).toEqual([
      ...[5, 6, NOT, NOT, NOT, NOT, NOT, NOT, NOT, 0, 17, NOT],
    ]);
  });

  test('without missing values all ones are a value', async () => {
    const groups = [GROUPS[0]!, { reference: 15, width: 0, packed: [0, 0, 0, 0] }, GROUPS[2]!];
    expect((await valuesOf({ ...FORM, missing: 0 }, groups)).slice(2, 6)).toEqual([8, 7, 15, 15]);
  });

  test('missing values in a group of 26 bits', async () => {
    const groups = [{ reference: 0, width: 26, packed: [2 ** 26 - 1, 5] }];
    const form = {
      ...{ count: 2, bits: 1, groups: 1, widthReference: 26, widthBits: 0, lengthReference: 2 },
      ...{ lastLength: 2, lengthBits: 0, missing: 1 },
    };
    expect(await valuesOf(form, groups)).toEqual([NOT, 5]);
  });
});

/** After sections 0, 1, 3 and 4. */
const SECTION_5_OFFSET = 16 + 21 + 72 + 34;

describe('complex packing is refused', () => {
  const rejected = async (form: Grouped, entries = {}) =>
    rejectionOf(await readAll(complexMessage(form, GROUPS, entries)));

  test.each([
    ['group lengths that add up to less than the field', { 43: u32(3) }],
    ['group lengths that add up to more', { 43: u32(5) }],
    ['an early group that is longer than the field', { 38: u32(13) }],
    ['more groups than values', { 32: u32(13) }],
    ['more groups than the section has room for', { 32: u32(12), 20: u8(32) }],
    ['fewer groups than the values need', { 32: u32(2) }],
    ['a width above 32 bits', { 36: u8(33) }],
    ['values beyond the section', { 36: u8(9) }],
    ['values beyond single precision', { 16: u16(125) }],
  ])('%s', async (_, entries) => {
    const error = await rejected(FORM, entries);
    expect(offsetOf(error)).toBeGreaterThan(SECTION_5_OFFSET);
    expect(offsetOf(error)).toBeLessThan(SECTION_5_OFFSET + 47);
  });

  test('another group splitting method, by code table 5.4', async () => {
    expect(unsupported(await rejected(FORM, { 22: u8(2) }))).toEqual(['code table 5.4', '2']);
  });

  test('another missing value management, by code table 5.5', async () => {
    expect(unsupported(await rejected(FORM, { 23: u8(3) }))).toEqual(['code table 5.5', '3']);
  });
});

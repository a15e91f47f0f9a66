import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import {
  bitmap,
  bytes,
  concat,
  data,
  type Group,
  type Grouped,
  groupPayload,
  identification,
  latLon,
  message,
  noBitmap,
  product,
  spatial,
  u8,
  u32,
} from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

const NOT = Number.NaN;
type Form = Parameters<typeof spatial>[0];

function spatialMessage(form: Form, payload: Uint8Array, entries = {}): Uint8Array {
  return message([
    identification(),
    latLon({ nx: form.count / 2, ny: 2 }),
    product(),
    spatial(form, entries),
    noBitmap(),
    data(payload),
  ]);
}

/** Read by us, after a check that ecCodes reads the same. */
async function valuesOf(form: Form, payload: Uint8Array): Promise<number[]> {
  const made = spatialMessage(form, payload);
  const field = await readOne(made);
  const [truth] = eccodesFieldsOf(made);
  expect(differences(field, truth!)).toEqual([]);
  return inFileOrder(field);
}

describe('spatial differencing of the payloads computed for the reference, each also read by ecCodes', () => {
  const SECOND_ORDER: Form = {
    ...{ decimal: 1, count: 12, groups: 3, bits: 0, widthBits: 2, order: 2, octets: 2 },
    ...{ lengthReference: 4, lengthIncrement: 1, lastLength: 3, lengthBits: 1 },
  };

  test('order 2, extra descriptors of 2 octets, group references without bits', async () => {
    const payload = bytes('00 64 00 66 80 01 80 80 0a 80 10');
    expect(await valuesOf(SECOND_ORDER, payload)).toEqual(
      [100, 102, 105, 109, 114, 118, 121, 123, 124, 124, 123, 121].map((x) => Math.fround(x / 10)),
    );
  });

  test('order 1, extra descriptors of 1 octet, a last group of its own length', async () => {
    const form: Form = {
      ...{ reference: 2500, decimal: 1, count: 14, groups: 4, bits: 3, order: 1, octets: 1 },
      ...{ widthReference: 1, widthBits: 2, lengthReference: 2, lengthIncrement: 2 },
      ...{ lastLength: 4, lengthBits: 1 },
    };
    const payload = bytes('32 83 14 b0 70 d0 06 04 69 a0');
    expect(await valuesOf(form, payload)).toEqual(
      [50, 47, 45, 44, 46, 52, 60, 71, 70, 68, 69, 69, 69, 69].map((x) => Math.fround(250 + x / 10)),
    );
  });
});

/** Integers, NaN where missing, packed as differences in groups of four, all of one width. */
function encode(
  integers: readonly number[],
  order: 1 | 2,
  { width, octets, missing = 0 }: { width: number; octets: number; missing?: number },
): { form: Form; payload: Uint8Array } {
  const present = integers.filter((x) => !Number.isNaN(x));
  const differenceAt = (n: number) =>
    order === 1 ? present[n]! - present[n - 1]! : present[n]! - 2 * present[n - 1]! + present[n - 2]!;
  const differencesFrom = present.map((_, n) => (n < order ? Number.NaN : differenceAt(n)));
  const smallest = Math.min(...differencesFrom.filter((each) => !Number.isNaN(each)));
  const allOnes = 2 ** width - 1;
  let next = 0;
  const packed = integers.map((x) => {
    if (Number.isNaN(x)) return allOnes;
    const difference = differencesFrom[next]!;
    next += 1;
    return Number.isNaN(difference) ? 0 : difference - smallest;
  });
  const groups: Group[] = [];
  for (let n = 0; n < packed.length; n += 4) {
    groups.push({ reference: 0, width, packed: packed.slice(n, n + 4) });
  }
  const grouped: Grouped = {
    ...{ count: integers.length, bits: 0, groups: groups.length, missing },
    ...{ widthReference: width, widthBits: 0, lengthReference: 4, lengthBits: 0 },
    lastLength: groups.at(-1)!.packed.length,
  };
  const signed = (value: number) => bytesOf(value < 0 ? 2 ** (8 * octets - 1) - value : value, octets);
  const descriptors = [...present.slice(0, order).map((x) => bytesOf(x, octets)), signed(smallest)];
  return {
    form: { ...grouped, order, octets },
    payload: concat([...descriptors, groupPayload(groups, grouped)]),
  };
}

const bytesOf = (value: number, octets: number) =>
  Uint8Array.from({ length: octets }, (_, n) => Math.floor(value / 256 ** (octets - 1 - n)) % 256);

describe('missing values take no part in the differences, each also read by ecCodes', () => {
  const RISING = [10, 13, NOT, 11, NOT, NOT, 12, 20, 19, NOT, 21, 21];
  const LATE = [NOT, NOT, NOT, NOT, NOT, 400, NOT, 401, 403, 406, 410, 415];

  test.each([
    [1, 'among the values', RISING],
    [2, 'among the values', RISING],
    [1, 'before the first value', LATE],
    [2, 'before the first value and between the first two', LATE],
  ] as const)('order %i, missing %s', async (order, _, integers) => {
    const { form, payload } = encode(integers, order, { width: 6, octets: 2, missing: 1 });
    expect(await valuesOf(form, payload)).toEqual(integers);
  });

  test('every value missing', async () => {
    const form: Form = {
      ...{ count: 8, groups: 1, bits: 4, widthBits: 0, order: 2, octets: 1, missing: 1 },
      ...{ lengthReference: 8, lastLength: 8, lengthBits: 0 },
    };
    expect(await valuesOf(form, bytes('00 00 00 f0'))).toEqual(Array(8).fill(NOT));
  });
});

describe('large differences', () => {
  // Up to 2^31 between neighbors: sums go far beyond 32 bits' signed range on the way.
  test.each([1, 2] as const)('order %i in 32 bits, extra descriptors of 4 octets', async (order) => {
    const integers = [0, 2 ** 30, 5, 2 ** 30 + 7, 12, 2 ** 30 + 1, 3, 2 ** 29];
    const { form, payload } = encode(integers, order, { width: 32, octets: 4 });
    const made = spatialMessage(form, payload);
    expect(inFileOrder(await readOne(made))).toEqual(integers.map(Math.fround));
  });

  test('extra descriptors of 3 octets, also read by ecCodes', async () => {
    const { form, payload } = encode([70_000, 69_000, 71_500, 70_000, 70_100, 70_001], 1, {
      ...{ width: 12, octets: 3 },
    });
    expect(await valuesOf(form, payload)).toEqual([70_000, 69_000, 71_500, 70_000, 70_100, 70_001]);
  });
});

test('a field of no groups is R / 10^D, even with an order of differencing and no data at all', async () => {
  const form: Form = {
    ...{ reference: 5, decimal: 1, count: 4, groups: 0, bits: 0, widthBits: 2, order: 1, octets: 1 },
    ...{ lengthReference: 32, lastLength: 429067888, lengthBits: 7 },
  };
  expect(inFileOrder(await readOne(spatialMessage(form, new Uint8Array(0))))).toEqual([0.5, 0.5, 0.5, 0.5]);
});

test('differences run over the present points of a bitmap only, also read by ecCodes', async () => {
  const { form, payload } = encode([10, 12, 15, 13, 9, 8], 2, { width: 5, octets: 1 });
  const made = message([
    ...[identification(), latLon({ nx: 4, ny: 2 }), product(), spatial(form)],
    ...[bitmap('.## ##.##'), data(payload)],
  ]);
  const field = await readOne(made);
  expect(differences(field, eccodesFieldsOf(made)[0]!)).toEqual([]);
  expect(inFileOrder(field)).toEqual([NOT, 10, 12, 15, 13, NOT, 9, 8]);
});

describe('spatial differencing is refused', () => {
  const { form, payload } = encode([1, 2, 3, 5, 8, 13, 21, 34], 2, { width: 4, octets: 1 });
  const rejected = async (entries: Record<number, readonly number[]>) =>
    rejectionOf(await readAll(spatialMessage(form, payload, entries)));

  test.each([0, 3])('order %i, by code table 5.6', async (order) => {
    expect(unsupported(await rejected({ 48: u8(order) }))).toEqual(['code table 5.6', String(order)]);
  });

  test('extra descriptors of more than 4 octets', async () => {
    expect(offsetOf(await rejected({ 49: u8(5) }))).toBe(16 + 21 + 72 + 34 + 48);
  });

  test('extra descriptors that the data section has no room for', async () => {
    const made = spatialMessage(form, bytes('01 02'));
    expect(rejectionOf(await readAll(made)).message).toContain('section 7');
  });

  test('data without groups: it is not a constant field', async () => {
    expect((await rejected({ 32: u32(0) })).message).toContain('expected 3 by the widths and counts');
  });

  test('data left over after the last group', async () => {
    const made = spatialMessage(form, concat([payload, new Uint8Array(4)]));
    expect(rejectionOf(await readAll(made)).message).toContain('packed values');
  });

  test('group lengths that do not add up to the field', async () => {
    expect((await rejected({ 43: u32(3) })).message).toContain('groups');
  });
});

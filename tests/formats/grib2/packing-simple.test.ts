import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ByteReader } from '../../../worker/formats/byte-reader.ts';
import { unpackSimple } from '../../../worker/formats/grib2/packing-simple.ts';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import {
  bytes,
  concat,
  data,
  f32,
  identification,
  latLon,
  message,
  noBitmap,
  packBits,
  product,
  type Scaled,
  simple,
} from '../../support/grib2-builder.ts';
import { differences, readAll } from '../../support/grib2-compare.ts';
import { grib2ErrorOf, offsetOf } from '../../support/grib2-errors.ts';

const reader = (section: Uint8Array, number: number, offsetBytes = 0) =>
  new ByteReader(section, { format: 'GRIB2', name: `section ${number}`, offsetBytes });

function unpack(scaled: Scaled, payload: Uint8Array): Float32Array {
  return unpackSimple(reader(simple(scaled), 5, 100), reader(data(payload), 7, 200), scaled.count).values;
}

describe('unpackSimple of the payloads computed for the reference', () => {
  test('R 2701, E 0, D 1, 9 bits', () => {
    const scaled = { reference: 2701, decimal: 1, bits: 9, count: 5 };
    expect(f32(2701)).toEqual([0x45, 0x28, 0xd0, 0x00]);
    expect(unpack(scaled, bytes('00 01 41 92 cf f8'))).toEqual(
      Float32Array.of(270.1, 270.6, 271.3, 300.1, 321.2),
    );
  });

  test('R -1.5, E -3, D 0, 4 bits', () => {
    const scaled = { reference: -1.5, binary: -3, bits: 4, count: 4 };
    expect(unpack(scaled, bytes('01 8f'))).toEqual(Float32Array.of(-1.5, -1.375, -0.5, 0.375));
  });
});

describe('unpackSimple at the ends of its range', () => {
  test('no bits: every value is R / 10^D, whatever E is', () => {
    const scaled = { reference: 2500, binary: 300, decimal: 1, bits: 0, count: 3 };
    expect(unpack({ ...scaled, binary: 0 }, new Uint8Array(0))).toEqual(Float32Array.of(250, 250, 250));
  });

  test('32 bits: the largest integer is 4294967295', () => {
    expect(unpack({ bits: 32, count: 1 }, bytes('ff ff ff ff'))).toEqual(Float32Array.of(4294967295));
  });

  test.each([12, 16, 25, 32])('%i bits, and no value, as under a bitmap without a point', (bits) => {
    expect(unpack({ bits, count: 0 }, new Uint8Array(0))).toHaveLength(0);
  });

  test('a negative D multiplies: R 3, D -2 is 300', () => {
    expect(unpack({ reference: 3, decimal: -2, bits: 1, count: 2 }, bytes('40'))).toEqual(
      Float32Array.of(300, 400),
    );
  });
});

describe('unpackSimple refuses', () => {
  test('a data section that is a bit too short, naming octets found and needed', () => {
    const error = grib2ErrorOf(() => unpack({ bits: 9, count: 8 }, new Uint8Array(8)));
    expect(offsetOf(error)).toBe(205);
    expect(error).toMatchObject({ found: '8 octets', expected: '9 for 8 values of 9 bits' });
  });

  test('a data section that is longer than the values and padding to a word', () => {
    expect(unpack({ bits: 8, count: 2 }, new Uint8Array(5))).toHaveLength(2);
    const error = grib2ErrorOf(() => unpack({ bits: 8, count: 2 }, new Uint8Array(6)));
    expect(error).toMatchObject({ found: '6 octets', expected: '2 by the widths and counts of section 5' });
  });

  test('data under a width of no bits: it is not a constant field', () => {
    const error = grib2ErrorOf(() => unpack({ bits: 0, count: 4 }, new Uint8Array(4)));
    expect(offsetOf(error)).toBe(205);
  });

  test('more than 32 bits a value', () => {
    const error = grib2ErrorOf(() => unpack({ bits: 33, count: 1 }, new Uint8Array(9)));
    expect(offsetOf(error)).toBe(119);
  });

  test.each([
    ['a reference value that is no number', { reference: Number.NaN }],
    ['an infinite reference value', { reference: Number.POSITIVE_INFINITY }],
    ['scale factors without a finite step', { binary: 2000 }],
    ['values beyond single precision', { binary: 125 }],
  ])('%s', (_, scaled) => {
    const error = grib2ErrorOf(() => unpack({ bits: 8, count: 1, ...scaled }, new Uint8Array(1)));
    expect(offsetOf(error)).toBe(111);
  });
});

const drawnScales = fc.record({
  reference: fc.integer({ min: -80_000, max: 80_000 }).map((eighths) => eighths / 8),
  binary: fc.integer({ min: -8, max: 3 }),
  decimal: fc.integer({ min: -2, max: 4 }),
});

test('unpackSimple equals ecCodes on every width, with drawn scales and integers', async () => {
  const messages: Uint8Array[] = [];
  const count = 20;
  const scales = fc.sample(drawnScales, { numRuns: 33, seed: 7 });
  for (let bits = 0; bits <= 32; bits += 1) {
    const packed = fc.sample(fc.integer({ min: 0, max: 2 ** bits - 1 }), { numRuns: count, seed: bits });
    messages.push(
      message([
        identification(),
        latLon({ nx: 5, ny: 4 }),
        product(),
        simple({ ...scales[bits]!, bits, count }),
        noBitmap(),
        data(packBits(packed, bits)),
      ]),
    );
  }
  const made = concat(messages);
  const truths = eccodesFieldsOf(made);
  const items = await readAll(made);
  const found = items.flatMap((item, n) =>
    item.kind === 'field' ? differences(item.field, truths[n]!, { halfStep: false }) : [item.kind],
  );
  expect(found).toEqual([]);
  expect([items.length, truths.length]).toEqual([33, 33]);
});

import { describe, expect, test } from 'vitest';
import { FormatError } from '../../worker/errors.ts';
import { ByteReader } from '../../worker/formats/byte-reader.ts';

const ORIGIN = { format: 'GRIB2', name: 'section 9', offsetBytes: 1000 };

/** A reader over bytes typed as in a dump. */
function readerOf(hex: string): ByteReader {
  const bytes = Uint8Array.from(hex.split(' '), (octet) => Number.parseInt(octet, 16));
  return new ByteReader(bytes, ORIGIN);
}

function errorOf(read: () => unknown): FormatError {
  try {
    read();
  } catch (error) {
    if (error instanceof FormatError) return error;
    throw error;
  }
  throw new Error('expected a FormatError, nothing was thrown');
}

describe('ByteReader counts octets from 1 and reads big-endian', () => {
  const reader = readerOf('01 02 03 04 05 06 07 08 09');

  test('unsigned integers of 1, 2, 4 and 8 octets', () => {
    expect(reader.uint8(1)).toBe(0x01);
    expect(reader.uint16(2)).toBe(0x0203);
    expect(reader.uint32(3)).toBe(0x03040506);
    expect(readerOf('00 00 00 01 00 00 00 02').uint64(1)).toBe(2 ** 32 + 2);
  });

  test('unsigned integers of any number of octets up to 4, 0 without any', () => {
    expect([0, 1, 2, 3, 4].map((octets) => reader.uint(6, octets))).toEqual([
      0, 0x06, 0x0607, 0x060708, 0x06070809,
    ]);
  });

  test('the octets from one to the end, also from just past it', () => {
    expect(Array.from(reader.from(8))).toEqual([8, 9]);
    expect(reader.from(10)).toHaveLength(0);
  });

  test('IEEE single precision: 45 28 D0 00 is 2701', () => {
    expect(readerOf('45 28 d0 00').float32(1)).toBe(2701);
  });

  test('bytes in the middle of a larger buffer', () => {
    const part = new ByteReader(Uint8Array.of(9, 9, 1, 2, 9).subarray(2, 4), ORIGIN);
    expect(part.uint16(1)).toBe(0x0102);
  });
});

describe('ByteReader reads signed integers as sign and magnitude', () => {
  // Computed values of the reference: latitude -12.5 degrees and 16-bit -5.
  test('80 be bc 20 is -12 500 000 and 80 05 is -5', () => {
    expect(readerOf('80 be bc 20').signed32(1)).toBe(-12_500_000);
    expect(readerOf('80 05').signed16(1)).toBe(-5);
  });

  test('both ends of an octet: 7f is 127, 80 is minus zero, ff is -127', () => {
    expect(readerOf('7f').signed8(1)).toBe(127);
    expect(readerOf('80').signed8(1)).toBeCloseTo(0, 12);
    expect(readerOf('ff').signed8(1)).toBe(-127);
  });

  test('three octets, and none at all', () => {
    expect(readerOf('80 00 0a').signed(1, 3)).toBe(-10);
    expect(readerOf('ff').signed(1, 0)).toBe(0);
  });
});

test('ByteReader.isMissing is true only when every bit is set', () => {
  expect(readerOf('ff ff ff ff').isMissing(1, 4)).toBe(true);
  expect(readerOf('ff ff ff fe').isMissing(1, 4)).toBe(false);
  expect(readerOf('ff 00').isMissing(1, 1)).toBe(true);
});

describe('ByteReader past the end', () => {
  const reader = readerOf('01 02 03');

  test.each([
    ['uint8', () => reader.uint8(4), 4],
    ['uint16', () => reader.uint16(3), 4],
    ['uint32', () => reader.uint32(1), 4],
    ['float32', () => reader.float32(3), 6],
    ['signed16', () => reader.signed16(3), 4],
    ['from', () => reader.from(5), 4],
  ] as const)('%s throws a FormatError that says how many octets there are', (_, read, last) => {
    const error = errorOf(read);
    expect(error.found).toBe('3 octets in all');
    expect(error.expected).toBe(`at least ${last}`);
  });

  test('the offset is that of the octet in the file', () => {
    expect(errorOf(() => reader.uint16(3)).place).toEqual({ unit: 'byte', offsetBytes: 1002 });
  });

  test('octet 0 does not exist', () => {
    expect(errorOf(() => reader.uint8(0)).format).toBe('GRIB2');
  });
});

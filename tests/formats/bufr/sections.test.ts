import { describe, expect, test } from 'vitest';
import { FormatError, UnsupportedError } from '../../../worker/errors.ts';
import { readSections } from '../../../worker/formats/bufr/sections.ts';
import { type BufrParts, bufrMessage } from '../../support/bufr-builder.ts';

const WIND: BufrParts = {
  descriptors: ['0 11 001', '3 03 002'],
  data: [
    [270, 9],
    [5, 7],
  ],
};

/** The error that reading throws, its fields for comparison. */
function faultOf(bytes: Uint8Array, offsetBytes = 0): FormatError | UnsupportedError {
  try {
    readSections(bytes, offsetBytes);
  } catch (error) {
    if (error instanceof FormatError || error instanceof UnsupportedError) return error;
    throw error;
  }
  throw new Error('nothing was thrown');
}

function withOctet(bytes: Uint8Array, at: number, octet: number): Uint8Array {
  const copy = bytes.slice();
  copy[at] = octet;
  return copy;
}

describe('readSections', () => {
  test('reads the octets of an edition 4 message', () => {
    const bytes = bufrMessage({ ...WIND, subsetCount: 258, masterVersion: 31, center: 300 });
    expect([...bytes]).toEqual([
      ...[0x42, 0x55, 0x46, 0x52, 0, 0, 51, 4], // "BUFR", 51 octets, edition 4
      ...[0, 0, 22, 0, 1, 44, 0, 0, 0, 0, 2, 4, 0, 31, 0, 0x07, 0xe8, 2, 26, 0, 0, 0], // section 1
      ...[0, 0, 11, 0, 1, 2, 0x80, 0x0b, 0x01, 0xc3, 0x02], // section 3: 258 subsets, 0 11 001, 3 03 002
      ...[0, 0, 6, 0, 0x87, 0x05], // section 4: 270 in 9 bits, 5 in 7
      ...[0x37, 0x37, 0x37, 0x37], // "7777"
    ]);
    const message = readSections(bytes, 1000);
    expect(message).toMatchObject({
      edition: 4,
      center: 300,
      masterVersion: 31,
      subsetCount: 258,
      isCompressed: false,
      descriptors: [11_001, 303_002],
      dataOffsetBytes: 1045,
    });
    expect([...message.data]).toEqual([0x87, 0x05]);
  });

  test('reads the octets of an edition 3 message, filled to even sections', () => {
    const bytes = bufrMessage({ ...WIND, edition: 3, isCompressed: true, center: 7 });
    expect([...bytes.subarray(8, 26)]).toEqual([0, 0, 18, 0, 0, 7, 0, 0, 2, 101, 13, 0, 8, 12, 8, 12, 0, 0]);
    // Four octets of descriptors make eleven; the twelfth is fill.
    expect([...bytes.subarray(26, 38)]).toEqual([0, 0, 12, 0, 0, 1, 0xc0, 0x0b, 0x01, 0xc3, 0x02, 0]);
    expect(readSections(bytes, 0)).toMatchObject({
      edition: 3,
      center: 7,
      masterVersion: 13,
      subsetCount: 1,
      isCompressed: true,
      descriptors: [11_001, 303_002],
      dataOffsetBytes: 42,
    });
  });

  test.each([3, 4] as const)('passes over section 2 of edition %i', (edition) => {
    const bytes = bufrMessage({ ...WIND, edition, section2: [1, 2, 3, 4, 5] });
    expect([...readSections(bytes, 0).data]).toEqual([0x87, 0x05]);
  });

  test.each([0, 1, 2, 5])('refuses edition %i by its number', (edition) => {
    const error = faultOf(withOctet(bufrMessage(WIND), 7, edition));
    expect(error).toBeInstanceOf(UnsupportedError);
    expect(error).toMatchObject({ feature: 'BUFR edition', value: String(edition) });
  });

  test('refuses other data than vertical soundings, and other master tables, by their numbers', () => {
    expect(faultOf(bufrMessage({ ...WIND, category: 0 }))).toMatchObject({
      feature: 'BUFR data category',
      table: 'Table A',
      value: '0',
    });
    expect(faultOf(bufrMessage({ ...WIND, masterTable: 10 }))).toMatchObject({
      feature: 'BUFR master table',
      value: '10',
    });
  });

  /** Offsets of the length of each section of the edition 4 message above. */
  test.each([
    ['section 1', 8, 21],
    ['section 3', 30, 8],
    ['section 4', 41, 3],
  ])('refuses %s when it is shorter than it can be, or longer than the message', (name, at, tooShort) => {
    const bytes = bufrMessage(WIND);
    for (const length of [tooShort, 200]) {
      const error = faultOf(withOctet(bytes, at + 2, length), 100);
      expect(error).toBeInstanceOf(FormatError);
      expect(error.message).toMatch(
        new RegExp(`^BUFR ${name} length at offset ${100 + at}: found ${length},`),
      );
    }
  });

  test('refuses a section that is a few octets longer or shorter than its message leaves room for', () => {
    const bytes = bufrMessage(WIND);
    expect(faultOf(withOctet(bytes, 43, 5)).message).toContain('section 5 end mark at offset 46');
    expect(faultOf(withOctet(bytes, 43, 7)).message).toContain('section 4 length');
  });

  test('refuses a message cut anywhere', () => {
    const bytes = bufrMessage(WIND);
    for (let length = 8; length < bytes.length; length += 1) {
      expect(faultOf(bytes.subarray(0, length)), `${length} octets`).toBeInstanceOf(FormatError);
    }
  });
});

/**
 * What the data representation templates of section 5 share, and the way from packed integers to values:
 * Y = (R + X 2^E) / 10^D.
 *
 * @source  WMO-No. 306, Volume I.2, section 5, regulation 92.9.4 and its notes.
 */
import type { ByteReader } from '../byte-reader.ts';

/** A value is offset + step * X. */
export interface Scale {
  readonly offset: number;
  readonly step: number;
}

/** Where the packed values begin in section 7. */
export const PAYLOAD_OCTET = 6;
const MOST_PADDING_OCTETS = 3;
const WORD_BITS = 32;

/** Values in file order, NaN where packed as missing. */
export interface Unpacked {
  readonly values: Float32Array;
  readonly missingCount: number;
}

/** Largest value that an IEEE single holds. */
export const LARGEST_VALUE = (2 - 2 ** -23) * 2 ** 127;

/** Data representation template number. */
export function packingOf(section5: ByteReader): number {
  return section5.uint16(10);
}

/** Number of packed values: all points, or those that the bitmap has. */
export function packedCountOf(section5: ByteReader): number {
  return section5.uint32(6);
}

/** Octets 12-19: reference value, binary and decimal scale factor. */
export function readScale(section5: ByteReader): Scale {
  const reference = section5.float32(12);
  const binaryFactor = section5.signed16(16);
  const decimalFactor = section5.signed16(18);
  const scale = {
    offset: byDecimal(reference, decimalFactor),
    step: byDecimal(2 ** binaryFactor, decimalFactor),
  };
  if (Number.isFinite(scale.offset) && Number.isFinite(scale.step)) return scale;
  throw section5.error(12, {
    what: 'reference value and scale factors',
    found: `R ${reference}, E ${binaryFactor}, D ${decimalFactor}`,
    expected: 'numbers that make finite values',
  });
}

/** Octet 20: bits a packed value, of the templates whose integers have one width. */
export function readWidth(section5: ByteReader): number {
  const width = section5.uint8(20);
  if (width <= WORD_BITS) return width;
  throw section5.error(20, { what: 'bits a value', found: String(width), expected: `at most ${WORD_BITS}` });
}

/** @throws FormatError when packed integers up to `largest` would make values beyond single precision. */
export function checkRange(section5: ByteReader, { offset, step }: Scale, largest: number): void {
  const reach = Math.abs(offset) + step * Math.abs(largest);
  if (reach <= LARGEST_VALUE) return;
  throw section5.error(12, {
    what: 'reference value and scale factors',
    found: `values up to ${reach}`,
    expected: `at most ${LARGEST_VALUE}`,
  });
}

/**
 * @param usedOctets  How much of the data the values took.
 * @throws FormatError when more is left than padding to a word: then a width or a count is wrong, and the values too.
 */
export function checkRest(section7: ByteReader, usedOctets: number): void {
  const foundOctets = section7.lengthBytes - PAYLOAD_OCTET + 1;
  if (foundOctets - usedOctets <= MOST_PADDING_OCTETS) return;
  throw section7.error(PAYLOAD_OCTET + usedOctets, {
    what: 'packed values',
    found: `${foundOctets} octets`,
    expected: `${usedOctets} by the widths and counts of section 5`,
  });
}

function byDecimal(value: number, decimalFactor: number): number {
  return decimalFactor < 0 ? value * 10 ** -decimalFactor : value / 10 ** decimalFactor;
}

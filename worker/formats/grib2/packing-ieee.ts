/**
 * Data representation template 5.4 with data template 7.4: grid point data, IEEE floating point.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.4, data template 7.4, code table 5.7.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { checkRest, LARGEST_VALUE, PAYLOAD_OCTET, type Unpacked } from './data-representation.ts';

/** Code table 5.7: 1 single, 2 double precision. 3, of 128 bits, is not read. */
const SINGLE = 1;
const DOUBLE = 2;
const SINGLE_OCTETS = 4;
const DOUBLE_OCTETS = 8;
/** Of a single: an exponent of ones says infinite, or with any bit of the fraction no number. */
const EXPONENT_BITS = 0x7f800000;
const FRACTION_BITS = 0x007fffff;

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order, doubles rounded to singles; a packed NaN is missing.
 * @throws FormatError when the data section has another length, or a value is infinite or beyond single precision;
 *   UnsupportedError for other precisions.
 */
export function unpackIeee(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const octets = octetsOf(section5);
  const payload = section7.from(PAYLOAD_OCTET);
  if (payload.length < octets * count) {
    throw section7.error(PAYLOAD_OCTET, {
      what: 'packed values',
      found: `${payload.length} octets`,
      expected: `${octets * count} for ${count} values of ${octets} octets`,
    });
  }
  checkRest(section7, octets * count);
  const values = new Float32Array(count);
  const copy = octets === SINGLE_OCTETS ? copySingles : copyDoubles;
  return { values, missingCount: copy(values, section7) };
}

/** Moves the bits of singles, twice as fast as their numbers. Returns how many are missing. */
function copySingles(values: Float32Array, section7: ByteReader): number {
  const view = viewOf(section7.from(PAYLOAD_OCTET));
  const words = new Int32Array(values.buffer);
  const count = words.length;
  let missingCount = 0;
  for (let n = 0, at = 0; n < count; n += 1, at += SINGLE_OCTETS) {
    const word = view.getInt32(at);
    words[n] = word;
    if ((word & EXPONENT_BITS) !== EXPONENT_BITS) continue;
    if ((word & FRACTION_BITS) === 0) throw beyondSingle(section7, at, values[n]!);
    missingCount += 1;
  }
  return missingCount;
}

function copyDoubles(values: Float32Array, section7: ByteReader): number {
  const view = viewOf(section7.from(PAYLOAD_OCTET));
  let missingCount = 0;
  for (let n = 0, at = 0; n < values.length; n += 1, at += DOUBLE_OCTETS) {
    const value = view.getFloat64(at);
    if (Number.isNaN(value)) missingCount += 1;
    else if (Math.abs(value) > LARGEST_VALUE) throw beyondSingle(section7, at, value);
    values[n] = value;
  }
  return missingCount;
}

function viewOf({ buffer, byteOffset, byteLength }: Uint8Array): DataView {
  return new DataView(buffer, byteOffset, byteLength);
}

function octetsOf(section5: ByteReader): number {
  const precision = section5.uint8(12);
  if (precision === SINGLE) return SINGLE_OCTETS;
  if (precision === DOUBLE) return DOUBLE_OCTETS;
  throw new UnsupportedError({
    feature: 'precision of floating point numbers',
    table: 'code table 5.7',
    value: String(precision),
  });
}

function beyondSingle(section7: ByteReader, at: number, value: number) {
  return section7.error(PAYLOAD_OCTET + at, {
    what: 'packed value',
    found: String(value),
    expected: `at most ${LARGEST_VALUE} in size`,
  });
}

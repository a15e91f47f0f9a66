/**
 * Data representation template 5.0 with data template 7.0: grid point data, simple packing.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.0, data template 7.0.
 */
import { bitsAt, SHORT_BITS, wordView } from '../bit-reader.ts';
import type { ByteReader } from '../byte-reader.ts';
import {
  checkRange,
  checkRest,
  PAYLOAD_OCTET,
  readScale,
  readWidth,
  type Scale,
  type Unpacked,
} from './data-representation.ts';

const WORD_BITS = 32;
const HALF_WORD_BITS = 16;
const WORD_BYTES = 4;

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order; a width of no bits makes every value R / 10^D.
 * @throws FormatError when the data section is too short or too long, or a width is above 32 bits.
 */
export function unpackSimple(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const width = readWidth(section5);
  const scale = readScale(section5);
  const payload = section7.from(PAYLOAD_OCTET);
  checkRange(section5, scale, 2 ** width - 1);
  const neededOctets = Math.ceil((width * count) / 8);
  if (payload.length < neededOctets) {
    throw section7.error(PAYLOAD_OCTET, {
      what: 'packed values',
      found: `${payload.length} octets`,
      expected: `${neededOctets} for ${count} values of ${width} bits`,
    });
  }
  checkRest(section7, neededOctets);
  const values = new Float32Array(count);
  if (width === 0 || count === 0) values.fill(scale.offset);
  else if (width === HALF_WORD_BITS) unpackHalfWords(values, wordView(payload), scale);
  else if (2 * width <= SHORT_BITS) unpackPairs(values, wordView(payload), { width, ...scale });
  else if (width <= SHORT_BITS) unpackShort(values, wordView(payload), { width, ...scale });
  else unpackLong(values, wordView(payload), { width, ...scale });
  return { values, missingCount: 0 };
}

type Packed = Scale & { readonly width: number };

/*
 * Two values a word take up to a quarter less time than value by value. An odd last value comes first: what stands behind a long
 * loop was never run when the loop is compiled, and throws the compiled code away.
 */

/** The usual width of what was once 16-bit data: its pairs begin at octets, which spares the shifts. */
function unpackHalfWords(values: Float32Array, view: DataView, { offset, step }: Scale): void {
  const last = values.length - 1;
  values[last] = offset + step * view.getUint16(2 * last);
  for (let n = 0, at = 0; n < last; n += 2, at += WORD_BYTES) {
    const pair = view.getUint32(at);
    values[n] = offset + step * (pair >>> HALF_WORD_BITS);
    values[n + 1] = offset + step * (pair & 0xffff);
  }
}

/** Masked numbers are known to be positive and small, which makes them quicker to turn into values. */
function unpackPairs(values: Float32Array, view: DataView, { width, offset, step }: Packed): void {
  const mask = (1 << width) - 1;
  const shift = WORD_BITS - width;
  const nextShift = shift - width;
  const last = values.length - 1;
  values[last] = offset + step * bitsAt(view, last * width, width);
  for (let n = 0, bit = 0; n < last; n += 2, bit += 2 * width) {
    const pair = view.getInt32(bit >>> 3) << (bit & 7);
    values[n] = offset + step * ((pair >>> shift) & mask);
    values[n + 1] = offset + step * ((pair >>> nextShift) & mask);
  }
}

/** The length is read once: read at every value it costs about a tenth more. */
function unpackShort(values: Float32Array, view: DataView, { width, offset, step }: Packed): void {
  const shift = WORD_BITS - width;
  const count = values.length;
  for (let n = 0, bit = 0; n < count; n += 1, bit += width) {
    values[n] = offset + step * ((view.getUint32(bit >>> 3) << (bit & 7)) >>> shift);
  }
}

function unpackLong(values: Float32Array, view: DataView, { width, offset, step }: Packed): void {
  const count = values.length;
  for (let n = 0, bit = 0; n < count; n += 1, bit += width) {
    values[n] = offset + step * bitsAt(view, bit, width);
  }
}

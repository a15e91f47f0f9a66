/**
 * Data representation template 5.2 with data template 7.2: grid point data, complex packing.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.2, data template 7.2.
 */
import { bitsAt, SHORT_BITS } from '../bit-reader.ts';
import type { ByteReader } from '../byte-reader.ts';
import {
  checkRange,
  checkRest,
  PAYLOAD_OCTET,
  readScale,
  type Scale,
  type Unpacked,
} from './data-representation.ts';
import { GroupCursor, groupCountOf, LARGEST_GROUPED, NOTHING_MISSING } from './group-cursor.ts';

const WORD_BITS = 32;

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order, NaN where packed as missing.
 * @throws FormatError when groups, widths or lengths do not fit the section or the count; UnsupportedError for other
 *   group splitting or missing value management.
 */
export function unpackComplex(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const scale = readScale(section5);
  checkRange(section5, scale, LARGEST_GROUPED);
  const values = new Float32Array(count);
  if (groupCountOf(section5) === 0) {
    checkRest(section7, 0);
    return { values: values.fill(scale.offset), missingCount: 0 };
  }
  const groups = new GroupCursor(section5, section7, { count, startOctet: PAYLOAD_OCTET });
  let missingCount = 0;
  for (let at = 0; at < count; at += groups.length) {
    groups.next();
    missingCount += scaleGroup(values, at, groups, scale);
  }
  checkRest(section7, groups.usedOctets);
  return { values, missingCount };
}

/** Writes one group's values; returns how many of them are missing. */
function scaleGroup(values: Float32Array, from: number, group: GroupCursor, scale: Scale): number {
  const { width, length, missingFrom } = group;
  const { offset, step } = scale;
  if (width === 0) {
    const isMissing = missingFrom === 0;
    values.fill(isMissing ? Number.NaN : offset + step * group.reference, from, from + length);
    return isMissing ? length : 0;
  }
  const isPlain = missingFrom === NOTHING_MISSING && width <= SHORT_BITS;
  if (!isPlain) return scaleCarefully(values, from, group, scale);
  scalePlain(values, from, group, scale);
  return 0;
}

/** Nothing missing, short numbers. */
function scalePlain(values: Float32Array, from: number, group: GroupCursor, scale: Scale): void {
  const { view, width, reference } = group;
  const { offset, step } = scale;
  const shift = WORD_BITS - width;
  const end = from + group.length;
  for (let at = from, bit = group.bit; at < end; at += 1, bit += width) {
    const packed = (view.getUint32(bit >>> 3) << (bit & 7)) >>> shift;
    values[at] = offset + step * (reference + packed);
  }
}

/** Any group. */
function scaleCarefully(values: Float32Array, from: number, group: GroupCursor, scale: Scale): number {
  const { view, width, reference, missingFrom } = group;
  const { offset, step } = scale;
  const isShort = width <= SHORT_BITS;
  const shift = WORD_BITS - width;
  const end = from + group.length;
  let missing = 0;
  for (let at = from, bit = group.bit; at < end; at += 1, bit += width) {
    const packed = isShort ? (view.getUint32(bit >>> 3) << (bit & 7)) >>> shift : bitsAt(view, bit, width);
    if (packed < missingFrom) {
      values[at] = offset + step * (reference + packed);
    } else {
      values[at] = Number.NaN;
      missing += 1;
    }
  }
  return missing;
}

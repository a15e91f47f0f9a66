/**
 * Data representation template 5.3 with data template 7.3: complex packing of first or second differences along the
 * file order. Missing values take no part in the differences.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.3, data template 7.3, code table 5.6.
 */
import { UnsupportedError } from '../../errors.ts';
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

const MOST_DESCRIPTOR_OCTETS = 4;

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order, NaN where packed as missing.
 * @throws FormatError and UnsupportedError as unpackComplex; UnsupportedError for orders other than 1 and 2.
 */
export function unpackSpatialDifference(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const scale = readScale(section5);
  const values = new Float32Array(count);
  const order = readOrder(section5);
  checkRange(section5, scale, LARGEST_GROUPED * (count + 1) ** order);
  const octets = descriptorOctets(section5);
  const descriptorsOctets = (order + 1) * octets;
  if (groupCountOf(section5) === 0) {
    checkRest(section7, descriptorsOctets);
    return { values: values.fill(scale.offset), missingCount: 0 };
  }
  const startOctet = PAYLOAD_OCTET + descriptorsOctets;
  const groups = new GroupCursor(section5, section7, { count, startOctet });
  const sums: Sums = {
    order,
    x: 0,
    slope: 0,
    firstsLeft: order,
    missingCount: 0,
    firsts: [section7.uint(PAYLOAD_OCTET, octets), section7.uint(PAYLOAD_OCTET + octets, octets)],
    smallest: section7.signed(PAYLOAD_OCTET + order * octets, octets),
  };
  addUpGroups(values, groups, { scale, sums });
  checkRest(section7, descriptorsOctets + groups.usedOctets);
  return { values, missingCount: sums.missingCount };
}

function readOrder(section5: ByteReader): 1 | 2 {
  const order = section5.uint8(48);
  if (order === 1 || order === 2) return order;
  throw new UnsupportedError({
    feature: 'order of spatial differencing',
    table: 'code table 5.6',
    value: String(order),
  });
}

function descriptorOctets(section5: ByteReader): number {
  const octets = section5.uint8(49);
  if (octets <= MOST_DESCRIPTOR_OCTETS) return octets;
  throw section5.error(49, {
    what: 'octets of each extra descriptor',
    found: String(octets),
    expected: `at most ${MOST_DESCRIPTOR_OCTETS}`,
  });
}

interface Rules {
  readonly scale: Scale;
  readonly sums: Sums;
}

/** Where the sums stand between one group and the next. */
interface Sums {
  readonly order: 1 | 2;
  /** The first present integers as they are; the second one counts for second order only. */
  readonly firsts: readonly number[];
  /** The smallest difference, taken off all of them so that none is negative. */
  readonly smallest: number;
  /** The last present integer. */
  x: number;
  /** The last first difference. */
  slope: number;
  /** How many of the first integers are still to come; the packed values in their places mean nothing. */
  firstsLeft: number;
  missingCount: number;
}

/** On its own: V8 throws away what it compiled for a loop when code that it has not seen run stands behind it. */
function addUpGroups(values: Float32Array, groups: GroupCursor, rules: Rules): void {
  const count = values.length;
  for (let at = 0; at < count; at += groups.length) {
    groups.next();
    if (rules.sums.firstsLeft > 0) at += addUpFirsts(values, at, groups, rules);
    addUpGroup(values, at, groups, rules);
  }
}

/** Writes one group's values. The faster ways differ in what they leave out. */
function addUpGroup(values: Float32Array, from: number, group: GroupCursor, rules: Rules): void {
  const { sums } = rules;
  if (group.width > SHORT_BITS) addUpCarefully(values, from, group, rules);
  else if (group.missingFrom === 0) skipGroup(values, from, group, sums);
  else if (group.missingFrom < NOTHING_MISSING) addUpPresent(values, from, group, rules);
  else if (sums.order === 2) addUpTwice(values, from, group, rules);
  else addUpOnce(values, from, group, rules);
}

/** Every value missing. */
function skipGroup(values: Float32Array, from: number, { length }: GroupCursor, sums: Sums): void {
  values.fill(Number.NaN, from, from + length);
  sums.missingCount += length;
}

/** First order, nothing missing, short numbers: each packed value is a difference. */
function addUpOnce(values: Float32Array, from: number, group: GroupCursor, { scale, sums }: Rules): void {
  const { view, width } = group;
  const { offset, step } = scale;
  const base = group.reference + sums.smallest;
  const shift = 31 - width;
  const end = from + group.length;
  let { x } = sums;
  for (let at = from, bit = group.bit; at < end; at += 1, bit += width) {
    x += base + (((view.getUint32(bit >>> 3) << (bit & 7)) >>> 1) >>> shift);
    values[at] = offset + step * x;
  }
  sums.x = x;
}

/** Second order, nothing missing, short numbers: each packed value is a difference of differences. */
function addUpTwice(values: Float32Array, from: number, group: GroupCursor, { scale, sums }: Rules): void {
  const { view, width } = group;
  const { offset, step } = scale;
  const base = group.reference + sums.smallest;
  const shift = 31 - width;
  const end = from + group.length;
  let { x, slope } = sums;
  for (let at = from, bit = group.bit; at < end; at += 1, bit += width) {
    slope += base + (((view.getUint32(bit >>> 3) << (bit & 7)) >>> 1) >>> shift);
    x += slope;
    values[at] = offset + step * x;
  }
  sums.x = x;
  sums.slope = slope;
}

/** Either order, short numbers, some of them missing. */
function addUpPresent(values: Float32Array, from: number, group: GroupCursor, { scale, sums }: Rules): void {
  const { view, width } = group;
  const { offset, step } = scale;
  const missingFrom = group.missingFrom | 0;
  const isSecondOrder = sums.order === 2;
  const base = group.reference + sums.smallest;
  const shift = 31 - width;
  const end = from + group.length;
  let { x, slope, missingCount } = sums;
  for (let at = from, bit = group.bit; at < end; at += 1, bit += width) {
    const packed = ((view.getUint32(bit >>> 3) << (bit & 7)) >>> 1) >>> shift;
    if (packed >= missingFrom) {
      values[at] = Number.NaN;
      missingCount += 1;
      continue;
    }
    slope = isSecondOrder ? slope + (base + packed) : base + packed;
    x += slope;
    values[at] = offset + step * x;
  }
  sums.x = x;
  sums.slope = slope;
  sums.missingCount = missingCount;
}

/** Takes from a group the first integers, as far as it has them; returns how many values these were. */
function addUpFirsts(values: Float32Array, from: number, group: GroupCursor, rules: Rules): number {
  let count = 0;
  for (; count < group.length && rules.sums.firstsLeft > 0; count += 1) {
    values[from + count] = valueAt(group.bit + count * group.width, group, rules);
  }
  group.drop(count);
  return count;
}

/** Any group. */
function addUpCarefully(values: Float32Array, from: number, group: GroupCursor, rules: Rules): void {
  for (let n = 0; n < group.length; n += 1) {
    values[from + n] = valueAt(group.bit + n * group.width, group, rules);
  }
}

function valueAt(bit: number, group: GroupCursor, { scale, sums }: Rules): number {
  const packed = bitsAt(group.view, bit, group.width);
  if (packed >= group.missingFrom) {
    sums.missingCount += 1;
    return Number.NaN;
  }
  return scale.offset + scale.step * nextOf(sums, group.reference + sums.smallest + packed);
}

/** The next present integer, which becomes the last one. */
function nextOf(sums: Sums, difference: number): number {
  const { order, firsts, firstsLeft, x } = sums;
  if (firstsLeft > 0) {
    sums.firstsLeft -= 1;
    sums.x = firsts[order - firstsLeft]!;
    sums.slope = sums.x - x;
  } else {
    sums.slope = order === 2 ? sums.slope + difference : difference;
    sums.x += sums.slope;
  }
  return sums.x;
}

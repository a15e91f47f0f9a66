/**
 * The groups of complex packing, shared by data representation templates 5.2 and 5.3.
 *
 * Section 7 holds, each padded to an octet: the reference of every group, the width of every group, the length of every
 * group, and then the packed values of all groups without padding between them.
 *
 * @source  WMO-No. 306, Volume I.2, data representation templates 5.2 and 5.3, data templates 7.2 and 7.3, code tables
 *          5.4 and 5.5.
 */
import { type FormatError, UnsupportedError } from '../../errors.ts';
import { bitsAt, wordView } from '../bit-reader.ts';
import type { ByteReader } from '../byte-reader.ts';

const WORD_BITS = 32;
/** The largest number of so many bits; a power worked out for every group costs a seventh of the time. */
const ALL_ONES = Float64Array.from({ length: WORD_BITS + 1 }, (_, bits) => 2 ** bits - 1);
/** No packed value reaches it. */
export const NOTHING_MISSING = 2 ** WORD_BITS;
/** No sum of a group reference and a packed value reaches it. */
export const LARGEST_GROUPED = 2 ** 33;
/** Code table 5.5: 0 no missing values, 1 primary ones, 2 primary and secondary ones. */
const MOST_MISSING_KINDS = 2;
/** Code table 5.4: row by row, general. */
const MOST_SPLITTING_METHOD = 1;

/** NG; a field without groups is R / 10^D everywhere. */
export function groupCountOf(section5: ByteReader): number {
  return section5.uint32(32);
}

/**
 * Walks from group to group. Fields are plain numbers, read once a group: the loops over values copy them.
 * A packed value of `missingFrom` or more is missing.
 */
export class GroupCursor {
  reference = 0;
  width = 0;
  length = 0;
  /** Position of the group's first packed value in `view`. */
  bit = 0;
  missingFrom = NOTHING_MISSING;
  /** Of the octets that begin with the group references. */
  readonly view: DataView;
  readonly #section5: ByteReader;
  readonly #groupCount: number;
  readonly #missingKinds: number;
  readonly #referenceBits: number;
  readonly #widthReference: number;
  readonly #widthBits: number;
  readonly #lengthReference: number;
  readonly #lengthIncrement: number;
  readonly #lengthBits: number;
  readonly #lastLength: number;
  readonly #endBit: number;
  #referenceBit = 0;
  #widthBit: number;
  #lengthBit: number;
  #nextBit: number;
  #group = 0;
  #left: number;

  /**
   * @param count       Number of packed values.
   * @param startOctet  Where in section 7 the group references begin.
   * @throws FormatError when the groups cannot fit the section or the count; UnsupportedError for other group splitting
   *   or missing value management.
   */
  constructor(
    section5: ByteReader,
    section7: ByteReader,
    { count, startOctet }: { count: number; startOctet: number },
  ) {
    this.#section5 = section5;
    this.#groupCount = groupCountOf(section5);
    this.#missingKinds = readMissingKinds(section5);
    this.#referenceBits = readWidth(section5, 20);
    this.#widthReference = section5.uint8(36);
    this.#widthBits = readWidth(section5, 37);
    this.#lengthReference = section5.uint32(38);
    this.#lengthIncrement = section5.uint8(42);
    this.#lastLength = section5.uint32(43);
    this.#lengthBits = readWidth(section5, 47);
    this.#left = count;
    checkGroups(section5, count);
    const bytes = section7.from(startOctet);
    this.view = wordView(bytes);
    this.#endBit = bytes.length * 8;
    this.#widthBit = toOctet(this.#groupCount * this.#referenceBits);
    this.#lengthBit = this.#widthBit + toOctet(this.#groupCount * this.#widthBits);
    this.#nextBit = this.#lengthBit + toOctet(this.#groupCount * this.#lengthBits);
    if (this.#nextBit > this.#endBit) throw this.#overrun('references, widths and lengths', this.#nextBit);
  }

  /** @throws FormatError when the next group is longer than what is left of the field or of the section. */
  next(): void {
    const { view } = this;
    const reference = bitsAt(view, this.#referenceBit, this.#referenceBits);
    const width = this.#widthReference + bitsAt(view, this.#widthBit, this.#widthBits);
    const length = this.#nextLength(bitsAt(view, this.#lengthBit, this.#lengthBits));
    this.#referenceBit += this.#referenceBits;
    this.#widthBit += this.#widthBits;
    this.#lengthBit += this.#lengthBits;
    this.reference = reference;
    this.width = width;
    this.length = length;
    this.bit = this.#nextBit;
    this.#nextBit += width * length;
    if (width > WORD_BITS) throw this.#misfit(36, `a width of ${width} bits`, `at most ${WORD_BITS}`);
    if (this.#nextBit > this.#endBit) throw this.#overrun(`group ${this.#group}`, this.#nextBit);
    if (this.#missingKinds > 0) this.missingFrom = this.#smallestMissing(reference, width);
  }

  /** Leaves out the next so many values of the group. */
  drop(count: number): void {
    this.bit += count * this.width;
    this.length -= count;
  }

  /** Octets of section 7, from the group references on, that were read so far. */
  get usedOctets(): number {
    return Math.ceil(this.#nextBit / 8);
  }

  #nextLength(raw: number): number {
    this.#group += 1;
    const isLast = this.#group === this.#groupCount;
    const length = isLast ? this.#lastLength : this.#lengthReference + this.#lengthIncrement * raw;
    if (isLast ? length !== this.#left : length > this.#left || this.#group > this.#groupCount) {
      const found = `group ${this.#group} of ${this.#groupCount} with ${length} values`;
      throw this.#misfit(isLast ? 43 : 38, found, `${this.#left} to the end of the field`);
    }
    this.#left -= length;
    return length;
  }

  /** All ones, and with two kinds all ones less 1, are missing: in a group of no width, of its reference. */
  #smallestMissing(reference: number, width: number): number {
    const secondary = this.#missingKinds - 1;
    if (width > 0) return ALL_ONES[width]! - secondary;
    return reference >= ALL_ONES[this.#referenceBits]! - secondary ? 0 : NOTHING_MISSING;
  }

  #overrun(what: string, endBit: number): FormatError {
    return this.#misfit(32, `${what} to bit ${endBit}`, `at most ${this.#endBit} of the data section`);
  }

  #misfit(octet: number, found: string, expected: string): FormatError {
    return this.#section5.error(octet, { what: 'groups', found, expected });
  }
}

function toOctet(bits: number): number {
  return Math.ceil(bits / 8) * 8;
}

function readWidth(section5: ByteReader, octet: number): number {
  const width = section5.uint8(octet);
  if (width <= WORD_BITS) return width;
  throw section5.error(octet, { what: 'width', found: `${width} bits`, expected: `at most ${WORD_BITS}` });
}

function readMissingKinds(section5: ByteReader): number {
  const kinds = section5.uint8(23);
  if (kinds <= MOST_MISSING_KINDS) return kinds;
  throw new UnsupportedError({
    feature: 'missing value management',
    table: 'code table 5.5',
    value: String(kinds),
  });
}

/** Before anything is read: more groups than values would take long to read and hold nothing. */
function checkGroups(section5: ByteReader, count: number): void {
  const groupCount = groupCountOf(section5);
  if (section5.uint8(22) > MOST_SPLITTING_METHOD) {
    throw new UnsupportedError({
      feature: 'group splitting method',
      table: 'code table 5.4',
      value: String(section5.uint8(22)),
    });
  }
  if (groupCount <= count) return;
  throw section5.error(32, {
    what: 'number of groups',
    found: String(groupCount),
    expected: `at most the ${count} packed values`,
  });
}

/**
 * Compressed data (regulation 94.6.3): of each field the least value R0 of all subsets, in 6 bits the width NBINC of the
 * increments, then one increment a subset. With NBINC = 0 every subset has R0. NBINC of text counts octets, and each
 * subset's text then stands in place of an increment.
 *
 * Only where the fields stand is kept: a subset's values are worked out when it is asked for.
 */
import type { BitCursor } from './bit-cursor.ts';
import { type FieldSource, isMissing, type SubsetValues, scaled, signedReference } from './field-source.ts';
import type { ElementCoding } from './table-b.ts';

const INCREMENT_WIDTH_BITS = 6;

/** Where one field stands. */
interface Column {
  readonly coding: ElementCoding;
  /** R0 as coded; of text, where it stands. */
  readonly base: number;
  /** Position of the first increment, and the bits of each. */
  readonly bit: number;
  readonly width: number;
}

export interface CompressedSource extends FieldSource {
  /** @param subset  From 0. @throws FormatError when a sum of value and increment leaves the width of its field. */
  values(subset: number): SubsetValues;
}

export function openCompressedSource(cursor: BitCursor, subsetCount: number): CompressedSource {
  const columns: Column[] = [];

  /** What stands after R0: the increments' place and width; they are passed over. */
  function passIncrements(unitBits: number): { bit: number; width: number } {
    const width = cursor.take(INCREMENT_WIDTH_BITS) * unitBits;
    const bit = cursor.bit;
    cursor.skip(width * subsetCount);
    return { bit, width };
  }

  function keepColumn(coding: ElementCoding): Column {
    const isText = coding.kind === 'text';
    const start = cursor.bit;
    if (isText) cursor.skip(coding.width);
    const base = isText ? start : cursor.take(coding.width);
    const column = { coding, base, ...passIncrements(isText ? 8 : 1) };
    columns.push(column);
    return column;
  }

  /** A number that steers the reading of all subsets must be the same in all. */
  function takeCommon(width: number, what: string): number {
    const value = cursor.take(width);
    const increments = passIncrements(1);
    for (let subset = 0; subset < subsetCount && increments.width > 0; subset += 1) {
      const increment = cursor.at(increments.bit + subset * increments.width, increments.width);
      if (increment !== 0) throw cursor.error(what, 'one that differs between subsets', 'the same in all');
    }
    return value;
  }

  return {
    get count() {
      return columns.length;
    },
    get bit() {
      return cursor.bit;
    },
    rewind: (bit) => cursor.moveTo(bit),
    keep(coding) {
      keepColumn(coding);
    },
    keepCount(coding) {
      const base = takeCommon(coding.width, 'replication factor or bitmap');
      columns.push({ coding, base, bit: 0, width: 0 });
      return base;
    },
    keepUnread(coding) {
      cursor.skip(coding.width);
      passIncrements(1);
      columns.push({ coding, base: Number.NaN, bit: 0, width: 0 });
    },
    takeReference: (width) => signedReference(takeCommon(width, 'new reference value'), width),
    skipNumber(width) {
      cursor.skip(width);
      passIncrements(1);
    },
    skipText(octets) {
      cursor.skip(8 * octets);
      passIncrements(8);
    },
    values: (subset) => valuesOf(columns, subset, cursor),
  };
}

function valuesOf(columns: readonly Column[], subset: number, cursor: BitCursor): SubsetValues {
  const numbers = new Float64Array(columns.length);
  for (let index = 0; index < columns.length; index += 1) {
    numbers[index] = numberOf(columns[index]!, subset, cursor);
  }
  const text = (index: number): string | undefined => {
    const { coding, base, bit, width } = columns[index]!;
    if (coding.kind !== 'text') return undefined;
    return width === 0
      ? cursor.textAt(base, coding.width / 8)
      : cursor.textAt(bit + subset * width, width / 8);
  };
  return { numbers, text };
}

function numberOf({ coding, base, bit, width }: Column, subset: number, cursor: BitCursor): number {
  if (coding.kind === 'text') return Number.NaN;
  if (width === 0) return isMissing(base, coding) ? Number.NaN : scaled(base, coding);
  const increment = cursor.at(bit + subset * width, width);
  if (increment === 2 ** width - 1) return Number.NaN;
  const coded = base + increment;
  if (coded < 2 ** coding.width) return isMissing(coded, coding) ? Number.NaN : scaled(coded, coding);
  throw cursor.error('increment', `${coded} in all`, `at most ${2 ** coding.width - 1}`);
}

/** One BUFR message to the values of its subsets, in the order of the template. */
import { BitCursor } from './bit-cursor.ts';
import { openCompressedSource } from './compressed-source.ts';
import type { SubsetValues } from './field-source.ts';
import { openPlainSource } from './plain-source.ts';
import type { BufrMessage } from './sections.ts';
import { compileTemplate, type TemplateNode } from './template.ts';
import { type StepBudget, type SubsetLayout, walkTemplate } from './walk-template.ts';

export interface BufrSubset {
  readonly layout: SubsetLayout;
  readonly values: SubsetValues;
  /** Bits after the last value of the message that are not fill: nothing says what they are. 0 but in the last subset. */
  readonly unreadBits: number;
}

/** Steps allowed a bit of data, beside a fixed number: elements have a few bits and a few operators each. */
const STEPS_PER_BIT = 16;
const FIXED_STEPS = 1000;
/** An ascent has hundreds of bits of its own, compressed or not: nothing of fewer than these is one. */
const LEAST_BITS_A_SUBSET = 8;
/** Compressed data may stand for more values than they have bits, where all subsets share them; ascents share few. */
const VALUES_PER_BIT = 8;
/** Bits that fill section 4 to whole octets, in edition 3 to an even number of them. */
const MOST_FILL_BITS = 16;

/**
 * The subsets one after the other; each is read when it is asked for.
 *
 * @throws FormatError       when the data are shorter or longer than the template asks, or a count contradicts them.
 * @throws UnsupportedError  for descriptors or operators that are not read.
 */
export function* decodeMessage(message: BufrMessage): Generator<BufrSubset> {
  const template = compileTemplate(message);
  const cursor = new BitCursor(message.data, message.dataOffsetBytes);
  const { subsetCount } = message;
  const mostSubsets = Math.floor(cursor.endBit / LEAST_BITS_A_SUBSET);
  if (subsetCount < 1 || subsetCount > mostSubsets) {
    throw cursor.error('subsets', `${subsetCount}`, `1 to ${mostSubsets}`);
  }
  const budget = { left: FIXED_STEPS + STEPS_PER_BIT * cursor.endBit };
  if (message.isCompressed) yield* compressedSubsets(message, { template, cursor, budget });
  else yield* plainSubsets(message, { template, cursor, budget });
}

interface Reading {
  readonly template: readonly TemplateNode[];
  readonly cursor: BitCursor;
  readonly budget: StepBudget;
}

function* plainSubsets({ subsetCount }: BufrMessage, reading: Reading): Generator<BufrSubset> {
  const { template, cursor, budget } = reading;
  for (let subset = 0; subset < subsetCount; subset += 1) {
    const start = cursor.bit;
    const { source, values } = openPlainSource(cursor);
    const layout = walkTemplate(template, { source, cursor, budget });
    if (cursor.bit === start) throw cursor.error('subset', 'no data', 'at least one bit');
    const isLast = subset === subsetCount - 1;
    yield { layout, values, unreadBits: isLast ? unreadBits(cursor, layout) : 0 };
  }
}

function* compressedSubsets({ subsetCount }: BufrMessage, reading: Reading): Generator<BufrSubset> {
  const { template, cursor, budget } = reading;
  const source = openCompressedSource(cursor, subsetCount);
  const layout = walkTemplate(template, { source, cursor, budget });
  const leftBits = unreadBits(cursor, layout);
  const most = FIXED_STEPS + VALUES_PER_BIT * cursor.endBit;
  if (source.count * subsetCount > most) {
    throw cursor.error('compressed values', `${source.count * subsetCount}`, `at most ${most}`);
  }
  for (let subset = 0; subset < subsetCount; subset += 1) {
    const isLast = subset === subsetCount - 1;
    yield { layout, values: source.values(subset), unreadBits: isLast ? leftBits : 0 };
  }
}

/**
 * What is left over tells of a count that is wrong: the values read by it would be wrong as well. It is let pass where a
 * bitmap has confirmed the count; centers leave data behind whose descriptors they have cut off.
 */
function unreadBits(cursor: BitCursor, layout: SubsetLayout): number {
  const leftBits = cursor.endBit - cursor.bit;
  if (leftBits < MOST_FILL_BITS || isZero(cursor)) return 0;
  if (layout.isCountConfirmed) return leftBits;
  throw cursor.error('length', `${leftBits} bits after the last value`, `fewer than ${MOST_FILL_BITS}`);
}

function isZero(cursor: BitCursor): boolean {
  for (let bit = cursor.bit; bit < cursor.endBit; bit += 1) if (cursor.at(bit, 1) !== 0) return false;
  return true;
}

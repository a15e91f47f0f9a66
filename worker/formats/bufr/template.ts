/** Section 3 made into a program: sequences looked up, replications with their bodies, elements with their coding. */
import { FormatError, UnsupportedError } from '../../errors.ts';
import { fOf, shownDescriptor, xOf, yOf } from './descriptors.ts';
import type { BufrMessage } from './sections.ts';
import { type ElementCoding, findElement, TABLE_B_NAME } from './table-b.ts';
import { findSequence, TABLE_D_NAME } from './table-d.ts';

export type TemplateNode =
  | { readonly kind: 'element'; readonly element: ElementCoding }
  /** 2 XX YYY. */
  | { readonly kind: 'operator'; readonly x: number; readonly y: number }
  /** 2 06 YYY and the element after it, which nobody here knows: its width is all that is known of its coding. */
  | { readonly kind: 'unknown-local'; readonly element: ElementCoding }
  | { readonly kind: 'sequence'; readonly body: readonly TemplateNode[] }
  | ReplicationNode;

export interface ReplicationNode {
  readonly kind: 'replication';
  /** Times, when there is no factor in the data. */
  readonly count: number;
  /** The element that holds the number of times. */
  readonly factor: ElementCoding | undefined;
  /** 0 31 011 and 0 31 012: the data stand once, and are to be repeated. */
  readonly isRepetition: boolean;
  readonly body: readonly TemplateNode[];
}

/** 0 31 000, 001, 002 count replications, 011 and 012 repetitions of descriptors and data (regulation 94.5.4.2). */
const REPLICATION_FACTORS: readonly number[] = [31_000, 31_001, 31_002];
const REPETITION_FACTORS: readonly number[] = [31_011, 31_012];
const SIGNIFY_LOCAL_WIDTH = 6;
/** Replications inside replications; ascents need two. */
const MOST_DEPTH = 8;

/** What a compilation carries along: sequences are compiled once a message, however often they are named. */
interface Compilation {
  readonly message: BufrMessage;
  readonly sequences: Map<number, readonly TemplateNode[]>;
}

/**
 * @throws FormatError       when a replication has fewer descriptors after it than it counts, or no factor.
 * @throws UnsupportedError  for a descriptor that the reduced tables do not hold.
 */
export function compileTemplate(message: BufrMessage): readonly TemplateNode[] {
  return compile(message.descriptors, { message, sequences: new Map() }, 0);
}

function compile(
  descriptors: readonly number[],
  compilation: Compilation,
  depth: number,
): readonly TemplateNode[] {
  const nodes: TemplateNode[] = [];
  for (let at = 0; at < descriptors.length; ) {
    const descriptor = descriptors[at]!;
    const isReplication = fOf(descriptor) === 1;
    const isLocalWidth = fOf(descriptor) === 2 && xOf(descriptor) === SIGNIFY_LOCAL_WIDTH;
    if (isReplication) {
      const { node, end } = compileReplication(descriptors, at, { ...compilation, depth: depth + 1 });
      nodes.push(node);
      at = end;
    } else if (isLocalWidth) {
      nodes.push(compileLocal(descriptors, at, compilation));
      at += 2;
    } else {
      nodes.push(compileOne(descriptor, compilation, depth));
      at += 1;
    }
  }
  return nodes;
}

function compileOne(descriptor: number, compilation: Compilation, depth: number): TemplateNode {
  if (fOf(descriptor) === 0) {
    const element = findElement(descriptor, compilation.message.masterVersion);
    if (element === undefined) throw unknownDescriptor(descriptor, TABLE_B_NAME);
    return { kind: 'element', element };
  }
  if (fOf(descriptor) === 2) return { kind: 'operator', x: xOf(descriptor), y: yOf(descriptor) };
  const known = compilation.sequences.get(descriptor);
  if (known !== undefined) return { kind: 'sequence', body: known };
  const members = findSequence(descriptor, compilation.message.masterVersion);
  if (members === undefined) throw unknownDescriptor(descriptor, TABLE_D_NAME);
  const body = compile(members, compilation, depth);
  compilation.sequences.set(descriptor, body);
  return { kind: 'sequence', body };
}

/** 1 XX YYY: the next XX descriptors YYY times; YYY = 0: as often as the factor says that stands before them. */
function compileReplication(
  descriptors: readonly number[],
  at: number,
  { depth, ...compilation }: Compilation & { readonly depth: number },
): { node: ReplicationNode; end: number } {
  const descriptor = descriptors[at]!;
  const isDelayed = yOf(descriptor) === 0;
  const start = at + (isDelayed ? 2 : 1);
  const end = start + xOf(descriptor);
  if (depth > MOST_DEPTH) throw badTemplate(compilation, descriptor, `${depth} replications in one another`);
  if (xOf(descriptor) === 0 || end > descriptors.length) {
    throw badTemplate(compilation, descriptor, `${descriptors.length - start} descriptors after it`);
  }
  const factor = isDelayed ? factorAt(descriptors, at + 1, compilation) : undefined;
  const body = compile(descriptors.slice(start, end), compilation, depth);
  const isRepetition = factor !== undefined && REPETITION_FACTORS.includes(factor.descriptor);
  return { node: { kind: 'replication', count: yOf(descriptor), factor, isRepetition, body }, end };
}

function factorAt(descriptors: readonly number[], at: number, compilation: Compilation): ElementCoding {
  const descriptor = descriptors[at]!;
  const isFactor = REPLICATION_FACTORS.includes(descriptor) || REPETITION_FACTORS.includes(descriptor);
  const factor = findElement(descriptor, compilation.message.masterVersion);
  if (isFactor && factor !== undefined) return factor;
  throw badTemplate(compilation, descriptors[at - 1]!, `${shownDescriptor(descriptor)} after it`);
}

/** 2 06 YYY says how wide the next element is; it may be skipped when it is not known, or not known in this width. */
function compileLocal(descriptors: readonly number[], at: number, compilation: Compilation): TemplateNode {
  const width = yOf(descriptors[at]!);
  const descriptor = descriptors[at + 1];
  if (descriptor === undefined || fOf(descriptor) !== 0 || width === 0) {
    const found = descriptor === undefined ? 'nothing' : shownDescriptor(descriptor);
    throw badTemplate(compilation, descriptors[at]!, `${found} after it`);
  }
  const element = findElement(descriptor, compilation.message.masterVersion);
  if (element?.width === width) return { kind: 'element', element };
  return {
    kind: 'unknown-local',
    element: { descriptor, kind: 'code', scale: 0, reference: 0, width },
  };
}

function unknownDescriptor(descriptor: number, table: string): UnsupportedError {
  return new UnsupportedError({
    feature: 'BUFR descriptor',
    table,
    value: shownDescriptor(descriptor),
  });
}

function badTemplate({ message }: Compilation, descriptor: number, found: string): FormatError {
  return new FormatError({
    format: 'BUFR',
    place: { unit: 'byte', offsetBytes: message.dataOffsetBytes },
    what: `section 3, descriptor ${shownDescriptor(descriptor)} for the data`,
    found,
    expected: 'what regulation 94.5.4 puts there',
  });
}

/** The walk over a template: every descriptor in its turn, replications as often as the data say. */
import { UnsupportedError } from '../../errors.ts';
import { type BitCursor, MOST_NUMBER_BITS } from './bit-cursor.ts';
import { BackwardReference } from './bitmap.ts';
import { shownDescriptor } from './descriptors.ts';
import type { FieldSource } from './field-source.ts';
import {
  applyOperator,
  associatedBitsBefore,
  codingUnder,
  initialOperators,
  isPresentUnder,
} from './operators.ts';
import type { ElementCoding } from './table-b.ts';
import type { ReplicationNode, TemplateNode } from './template.ts';

/** What the values of a subset are: one entry a value. */
export interface SubsetLayout {
  readonly codings: readonly ElementCoding[];
  /** The replication that a value stands in: 0 outside of all, else one number each time round. */
  readonly groups: readonly number[];
  /** Values of class 33 after 2 22 000: the index of each, and of the value it tells of. */
  readonly qualities: readonly { readonly index: number; readonly of: number }[];
  /** True where a bitmap agrees with the number of all values before it. */
  readonly isCountConfirmed: boolean;
}

/** More values than 20 ascents of the longest kind; a subset beyond it is refused. */
const MOST_VALUES = 2 ** 19;
const FLAG = 31_031;
const QUALITY_CLASS = 33;
const INSERTED_TEXT = 5;

/** Steps left: every descriptor met takes one, so that no replication of nothing goes on for ever. */
export interface StepBudget {
  left: number;
}

/** Where a walk reads, and how long it may take. */
export interface WalkInput {
  readonly source: FieldSource;
  readonly cursor: BitCursor;
  readonly budget: StepBudget;
}

/**
 * Walks the template once: over one subset, or over all of a compressed message.
 *
 * @throws FormatError       when counts, widths or bitmaps contradict the data.
 * @throws UnsupportedError  for an operator that is not read.
 */
export function walkTemplate(nodes: readonly TemplateNode[], input: WalkInput): SubsetLayout {
  const walk = new TemplateWalk(input);
  walk.over(nodes, 0);
  return walk.end();
}

class TemplateWalk {
  readonly #source: FieldSource;
  readonly #cursor: BitCursor;
  readonly #budget: StepBudget;
  readonly #operators = initialOperators();
  readonly #backward: BackwardReference;
  readonly #codings: ElementCoding[] = [];
  readonly #groups: number[] = [];
  readonly #qualities: { index: number; of: number }[] = [];
  #groupCount = 0;

  constructor({ source, cursor, budget }: WalkInput) {
    this.#source = source;
    this.#cursor = cursor;
    this.#budget = budget;
    this.#backward = new BackwardReference((found, expected) => {
      throw cursor.error('bitmap', found, expected);
    });
  }

  over(body: readonly TemplateNode[], group: number): void {
    for (const node of body) {
      this.#budget.left -= 1;
      if (this.#budget.left < 0) throw this.#cursor.error('steps', 'more descriptors than bits', 'values');
      if (node.kind === 'element') this.#readElement(node.element, group);
      else if (node.kind === 'sequence') this.over(node.body, group);
      else if (node.kind === 'replication') this.#replicate(node, group);
      else if (node.kind === 'operator') this.#operate(node.x, node.y, group);
      else this.#passLocal(node.element, group);
    }
  }

  end(): SubsetLayout {
    this.#backward.finish();
    return {
      codings: this.#codings,
      groups: this.#groups,
      qualities: this.#qualities,
      isCountConfirmed: this.#backward.coversAll,
    };
  }

  #readElement(element: ElementCoding, group: number): void {
    const { definingBits, references } = this.#operators;
    if (definingBits > 0) {
      references.set(element.descriptor, this.#source.takeReference(definingBits));
      return;
    }
    if (!isPresentUnder(this.#operators, element)) return;
    this.#passAssociated(element);
    if (element.descriptor === FLAG && this.#backward.isCollecting) {
      this.#backward.flag(this.#keepCount(element, group));
      return;
    }
    const isQuality = this.#backward.tellsQuality && Math.trunc(element.descriptor / 1000) === QUALITY_CLASS;
    if (isQuality) this.#qualities.push({ index: this.#source.count, of: this.#backward.nextTarget() });
    this.#keep(codingUnder(this.#operators, element), group);
  }

  #passLocal(element: ElementCoding, group: number): void {
    this.#passAssociated(element);
    this.#note(element, group);
    this.#source.keepUnread(element);
  }

  #passAssociated(element: ElementCoding): void {
    const bits = associatedBitsBefore(this.#operators, element);
    if (bits > 0) this.#source.skipNumber(bits);
  }

  #keep(coding: ElementCoding, group: number): void {
    const { kind, width } = coding;
    if (width < 1 || (kind !== 'text' && width > MOST_NUMBER_BITS)) {
      const what = `${shownDescriptor(coding.descriptor)} width`;
      throw this.#cursor.error(what, `${width} bits`, `1 to ${MOST_NUMBER_BITS}`);
    }
    this.#note(coding, group);
    this.#source.keep(coding);
  }

  #keepCount(coding: ElementCoding, group: number): number {
    this.#note(coding, group);
    return this.#source.keepCount(coding);
  }

  #note(coding: ElementCoding, group: number): void {
    if (this.#codings.length === MOST_VALUES) {
      throw this.#cursor.error('values', 'more', `at most ${MOST_VALUES} a subset`);
    }
    this.#codings.push(coding);
    this.#groups.push(group);
  }

  #replicate({ factor, count, isRepetition, body }: ReplicationNode, group: number): void {
    const times = factor === undefined ? count : this.#keepCount(factor, group);
    const start = this.#source.bit;
    for (let time = 0; time < times; time += 1) {
      if (isRepetition) this.#source.rewind(start);
      this.#groupCount += 1;
      this.over(body, this.#groupCount);
    }
  }

  #operate(x: number, y: number, group: number): void {
    if (x === INSERTED_TEXT) this.#source.skipText(y);
    else if (this.#backward.isMarker(x, y)) {
      this.#keep(markedCoding(x, this.#codings[this.#backward.nextTarget()]!), group);
    } else if (!applyOperator(this.#operators, x, y) && !this.#backward.apply(x, y, this.#codings.length)) {
      throw unknownOperator(x, y);
    }
  }
}

const DIFFERENCE_STATISTICS = 25;

/** A marker is coded like the value it stands for; a difference has one bit more, for its sign. */
function markedCoding(x: number, coding: ElementCoding): ElementCoding {
  const descriptor = 200_000 + x * 1000 + 255;
  if (x !== DIFFERENCE_STATISTICS) return { ...coding, descriptor };
  return { ...coding, descriptor, width: coding.width + 1, reference: -(2 ** coding.width) };
}

function unknownOperator(x: number, y: number): UnsupportedError {
  return new UnsupportedError({
    feature: 'BUFR operator',
    table: 'FM 94 Table C as far as ascents need it',
    value: shownDescriptor(200_000 + x * 1000 + y),
  });
}

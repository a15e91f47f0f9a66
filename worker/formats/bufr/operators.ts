/**
 * Operators 2 01 to 2 08 and 2 21 of Table C: how they change the coding of the elements after them, until they are
 * canceled by an operand of 0.
 *
 * @source WMO-No. 306, volume I.2, Table C and regulation 94.5.5.
 */
import type { ElementCoding } from './table-b.ts';

export interface OperatorState {
  /** 2 01: bits added to the width of numbers. */
  addedWidth: number;
  /** 2 02: added to the scale of numbers. */
  addedScale: number;
  /** 2 03: new reference values by descriptor. */
  references: Map<number, number>;
  /** 2 03: width in bits of the reference values that stand in place of data; 0 when none are being defined. */
  definingBits: number;
  /** 2 04: widths of the associated fields in force, the sum of which stands before every element. */
  associatedBits: number[];
  /** 2 07: scale, reference and width raised together; 0 for none. */
  raisedScale: number;
  /** 2 08: octets of every text; 0 for those of the table. */
  textOctets: number;
  /** 2 21: elements to come that have no data, unless they say where and when. */
  absentElements: number;
}

export function initialOperators(): OperatorState {
  return {
    addedWidth: 0,
    addedScale: 0,
    references: new Map(),
    definingBits: 0,
    associatedBits: [],
    raisedScale: 0,
    textOctets: 0,
    absentElements: 0,
  };
}

const DEFINED_END = 255;
/** 2 01 and 2 02 count from here. */
const NO_CHANGE = 128;

/** @returns false for an operator that is none of these. */
export function applyOperator(state: OperatorState, x: number, y: number): boolean {
  switch (x) {
    case 1:
      state.addedWidth = y === 0 ? 0 : y - NO_CHANGE;
      return true;
    case 2:
      state.addedScale = y === 0 ? 0 : y - NO_CHANGE;
      return true;
    case 3:
      if (y === 0) state.references = new Map();
      state.definingBits = y === DEFINED_END ? 0 : y;
      return true;
    case 4:
      if (y === 0) state.associatedBits.pop();
      else state.associatedBits.push(y);
      return true;
    case 7:
      state.raisedScale = y;
      return true;
    case 8:
      state.textOctets = y;
      return true;
    case 21:
      state.absentElements = y;
      return true;
    default:
      return false;
  }
}

/** Coding of an element under the operators in force; the element's own when none concerns it. */
export function codingUnder(state: OperatorState, element: ElementCoding): ElementCoding {
  if (element.kind === 'code') return element;
  if (element.kind === 'text') {
    return state.textOctets === 0 ? element : { ...element, width: 8 * state.textOctets };
  }
  const { addedWidth, addedScale, raisedScale, references } = state;
  const isChanged = addedWidth !== 0 || addedScale !== 0 || raisedScale !== 0 || references.size > 0;
  if (!isChanged || isQualifier(element)) return element;
  const reference = references.get(element.descriptor) ?? element.reference;
  return {
    ...element,
    scale: element.scale + addedScale + raisedScale,
    reference: reference * 10 ** raisedScale,
    width: element.width + addedWidth + Math.floor((10 * raisedScale + 2) / 3),
  };
}

/** Bits of associated field before an element: none before the qualifiers of class 31, which say what the field means. */
export function associatedBitsBefore(state: OperatorState, element: ElementCoding): number {
  if (state.associatedBits.length === 0 || isQualifier(element)) return 0;
  return state.associatedBits.reduce((total, bits) => total + bits, 0);
}

/** Under 2 21 only coordinates (classes 1 to 9) and qualifiers (class 31) have data. */
export function isPresentUnder(state: OperatorState, { descriptor }: ElementCoding): boolean {
  if (state.absentElements === 0) return true;
  state.absentElements -= 1;
  const elementClass = Math.trunc(descriptor / 1000);
  return elementClass <= 9 || elementClass === 31;
}

const isQualifier = ({ descriptor }: ElementCoding): boolean => Math.trunc(descriptor / 1000) === 31;

/** What the walk over a template asks of the data, compressed or not: each call reads the next field. */
import type { ElementCoding } from './table-b.ts';

export interface FieldSource {
  /** Values kept so far; the next one gets this index. */
  readonly count: number;
  /** Position, to go back to for data that are repeated. */
  readonly bit: number;
  rewind(bit: number): void;
  /** Reads and keeps a value. */
  keep(coding: ElementCoding): void;
  /** Reads and keeps a whole number that is the same in every subset: a number of replications, a flag of a bitmap. */
  keepCount(coding: ElementCoding): number;
  /** Passes over a value whose meaning is not known, and keeps it as missing. */
  keepUnread(coding: ElementCoding): void;
  /** A new reference value (2 03): the first bit its sign, the others its magnitude. */
  takeReference(width: number): number;
  skipNumber(width: number): void;
  skipText(octets: number): void;
}

/** Values of a subset by index: NaN where missing, and for text. */
export interface SubsetValues {
  readonly numbers: ArrayLike<number>;
  text(index: number): string | undefined;
}

/** Every bit set means missing, but in a single bit and in the counts and flags of class 31 (regulation 94.1.5). */
export function isMissing(coded: number, { descriptor, width }: ElementCoding): boolean {
  const isNeverMissing = width === 1 || Math.trunc(descriptor / 1000) === 31;
  return !isNeverMissing && coded === 2 ** width - 1;
}

/** Table B: value = (coded + reference) / 10^scale. */
export function scaled(coded: number, { reference, scale }: ElementCoding): number {
  const whole = coded + reference;
  // Dividing by a power of ten is exact to the last place where multiplying by its inverse is not.
  return scale > 0 ? whole / 10 ** scale : whole * 10 ** -scale;
}

export function signedReference(coded: number, width: number): number {
  const signBit = 2 ** (width - 1);
  return coded >= signBit ? signBit - coded : coded;
}

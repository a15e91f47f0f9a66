/** Table B looked up: how an element is coded. */
import { AIR_ELEMENTS } from './table-b-air.ts';
import { PLACE_ELEMENTS } from './table-b-place.ts';

/** Numbers are scaled and follow the operators 2 01, 2 02, 2 03 and 2 07; codes and flags do not; text is CCITT IA5. */
export type ElementKind = 'number' | 'code' | 'text';

/** How one value lies in the data: value = (coded + reference) / 10^scale. */
export interface ElementCoding {
  /** FXXYYY. */
  readonly descriptor: number;
  readonly kind: ElementKind;
  readonly scale: number;
  readonly reference: number;
  /** Bits. */
  readonly width: number;
}

/** Of the tables below, for errors. */
export const TABLE_B_NAME = 'FM 94 Table B as far as ascents need it, version 39';

/** Elements that were coded otherwise before a version of the master table: reading them by this table would be wrong. */
const CHANGED_IN_VERSION: ReadonlyMap<number, number> = new Map([
  [4_024, 6],
  [33_024, 7],
]);

const ELEMENTS: ReadonlyMap<number, ElementCoding> = new Map(
  [...PLACE_ELEMENTS, ...AIR_ELEMENTS].map((row) => {
    const element = elementOfRow(row);
    return [element.descriptor, element];
  }),
);

function elementOfRow(row: string): ElementCoding {
  const [x, y, kind, scale, reference, width] = row.split(' ');
  return {
    descriptor: Number(x) * 1000 + Number(y),
    kind: kind as ElementKind,
    scale: Number(scale),
    reference: Number(reference),
    width: Number(width),
  };
}

/**
 * @param descriptor    FXXYYY with F = 0.
 * @param masterVersion Version of the master table that the message names.
 * @returns             undefined for an element that the reduced table does not hold, or held otherwise at that version.
 */
export function findElement(descriptor: number, masterVersion: number): ElementCoding | undefined {
  const changed = CHANGED_IN_VERSION.get(descriptor);
  return changed !== undefined && masterVersion < changed ? undefined : ELEMENTS.get(descriptor);
}

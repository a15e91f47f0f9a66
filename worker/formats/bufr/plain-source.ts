/** Data that are not compressed: the fields of one subset after the other (regulation 94.6.2). */
import type { BitCursor } from './bit-cursor.ts';
import { type FieldSource, isMissing, type SubsetValues, scaled, signedReference } from './field-source.ts';
import type { ElementCoding } from './table-b.ts';

/** A source and the values of the subset that it has read. */
export function openPlainSource(cursor: BitCursor): { source: FieldSource; values: SubsetValues } {
  const numbers: number[] = [];
  const texts = new Map<number, string>();

  function keepText({ width }: ElementCoding): void {
    const from = cursor.bit;
    cursor.skip(width);
    const text = cursor.textAt(from, width / 8);
    if (text !== undefined) texts.set(numbers.length, text);
    numbers.push(Number.NaN);
  }

  const source: FieldSource = {
    get count() {
      return numbers.length;
    },
    get bit() {
      return cursor.bit;
    },
    rewind: (bit) => cursor.moveTo(bit),
    keep(coding) {
      if (coding.kind === 'text') {
        keepText(coding);
        return;
      }
      const coded = cursor.take(coding.width);
      numbers.push(isMissing(coded, coding) ? Number.NaN : scaled(coded, coding));
    },
    keepCount(coding) {
      const coded = cursor.take(coding.width);
      numbers.push(coded);
      return coded;
    },
    keepUnread(coding) {
      cursor.skip(coding.width);
      numbers.push(Number.NaN);
    },
    takeReference: (width) => signedReference(cursor.take(width), width),
    skipNumber: (width) => cursor.skip(width),
    skipText: (octets) => cursor.skip(8 * octets),
  };
  return { source, values: { numbers, text: (index) => texts.get(index) } };
}

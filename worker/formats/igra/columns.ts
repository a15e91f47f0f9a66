/**
 * The fixed columns of an IGRA version 2 record (1-based, both ends included). Never split on blanks: a flag touches its
 * number, and a wide number touches the flag before it.
 */

/** First and last column of a field. */
export type Columns = readonly [first: number, last: number];

/** A record that is not used, and why. */
export interface Refused {
  readonly kind: 'refused';
  readonly reason: string;
}

/** Not reported, and removed by quality control: both are missing. */
export const NEVER_REPORTED = -9999;
export const MISSING: readonly number[] = [NEVER_REPORTED, -8888];

/** Says which of the columns that must be blank is not, or undefined. */
export function notBlank(text: string, columns: readonly number[]): string | undefined {
  const column = columns.find((one) => text[one - 1] !== ' ');
  return column === undefined
    ? undefined
    : `column ${column}: found ${quoted(text[column - 1]!)}, expected a blank`;
}

/** A data field: NaN where missing; NaN and a fault where it is not a number. */
export function number(text: string, columns: Columns, name: string): { value: number; fault?: string } {
  const value = integer(text, columns);
  if (value === undefined) {
    return {
      value: Number.NaN,
      fault: `${name}: found ${quoted(field(text, columns))}, expected a whole number`,
    };
  }
  return { value: MISSING.includes(value) ? Number.NaN : value };
}

/** The whole number that ends in the field's last column, or undefined. */
export function integer(text: string, columns: Columns): number | undefined {
  const found = field(text, columns);
  return /^ *-?\d+$/.test(found) ? Number(found) : undefined;
}

/** The text of a field. */
export function field(text: string, [first, last]: Columns): string {
  return text.slice(first - 1, last);
}

export function refused(reason: string): Refused {
  return { kind: 'refused', reason };
}

export function quoted(text: string): string {
  return JSON.stringify(text);
}

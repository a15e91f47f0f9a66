/** Rows as SQL that brings them back, in statements that a database takes. */
import type { Row } from './wrangler-tool.ts';

/** The database refuses statements over 100,000 octets. */
const MOST_INLINE = 60_000;
/** Characters of a text a statement: written in hex they take up to six octets each. */
const PIECE_CHARS = 10_000;

/**
 * Statements for one row, to be run in order into a table that has no rows with greater numbers. A text that is too long for one
 * statement is appended piece by piece to the row that came last.
 */
export function sqlOfRow(table: string, row: Row): string[] {
  const long: [string, string][] = [];
  let length = 0;
  const values = Object.entries(row).map(([name, value]) => {
    const literal = literalOf(value);
    if (typeof value !== 'string' || length + literal.length <= MOST_INLINE) {
      length += literal.length;
      return literal;
    }
    long.push([name, value]);
    return "''";
  });
  const names = Object.keys(row).map((name) => `"${name}"`);
  return [
    `INSERT INTO "${table}" (${names.join(', ')}) VALUES (${values.join(', ')});`,
    ...long.flatMap(([name, text]) =>
      piecesOf(text).map(
        (piece) =>
          `UPDATE "${table}" SET "${name}" = "${name}" || ${literalOf(piece)} WHERE rowid = (SELECT max(rowid) FROM "${table}");`,
      ),
    ),
  ];
}

/** Text that could mean anything to whoever cuts a file into statements goes in hex. */
function literalOf(value: string | number | null): string {
  if (value === null) return 'NULL';
  if (typeof value === 'number') return String(value);
  const isPlain = /^[\x20-\x7e]*$/.test(value) && !/[';]|--|\/\*/.test(value);
  return isPlain ? `'${value}'` : `CAST(X'${Buffer.from(value, 'utf8').toString('hex')}' AS TEXT)`;
}

/** Never between the two halves of one character. */
function piecesOf(text: string): string[] {
  const pieces: string[] = [];
  for (let from = 0; from < text.length; ) {
    const end = Math.min(text.length, from + PIECE_CHARS);
    const isSplit = end < text.length && /[\ud800-\udbff]/.test(text[end - 1] ?? '');
    pieces.push(text.slice(from, isSplit ? end - 1 : end));
    from = isSplit ? end - 1 : end;
  }
  return pieces;
}

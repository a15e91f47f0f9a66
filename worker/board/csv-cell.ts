/**
 * CSV (RFC 4180) that a spreadsheet may open: no cell is run as a formula. An apostrophe before it, which is common practice, makes
 * text of it, and reading takes the apostrophe off again.
 */

/** Runs in a spreadsheet, or would be taken for text that was made harmless; the last are the full-width forms. */
const IS_RUN = /^'*(?:\s*[=+\-@\uff1d\uff0b\uff0d\uff20]|[\t\r\n])/;

/** null is an empty cell. Numbers are no formulas, whatever their sign. */
export function csvCell(value: string | number | null): string {
  if (value === null) return '';
  if (typeof value === 'number') return String(value);
  const text = IS_RUN.test(value) ? `'${value}` : value;
  return /[",\r\n]|^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

/** What a cell held before `csvCell` made it harmless. */
export function textOfCell(cell: string): string {
  return cell.startsWith("'") && IS_RUN.test(cell) ? cell.slice(1) : cell;
}

/** One table with its header line. */
export function csvTable<Column extends string>(
  columns: readonly Column[],
  rows: readonly Readonly<Record<Column, string | number | null>>[],
): string {
  const lines = [
    columns.join(','),
    ...rows.map((row) => columns.map((name) => csvCell(row[name])).join(',')),
  ];
  return lines.map((line) => `${line}\r\n`).join('');
}

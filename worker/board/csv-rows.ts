/** The rows of a CSV text with the line that each begins on; a text whose quotes do not close is refused whole. */
import { csvParseRows } from 'd3-dsv';
import { FormatError } from '../errors.ts';

export interface CsvRow {
  /** From 1; a cell may go over several. */
  readonly line: number;
  readonly cells: readonly string[];
}

/** @throws FormatError for a quote that does not close, or that more than a comma follows. */
export function csvRows(text: string, format: string): CsvRow[] {
  checkQuotes(text, format);
  let line = 1;
  return csvParseRows(text).map((cells) => {
    const row = { line, cells };
    line += 1 + cells.reduce((sum, cell) => sum + breaksIn(cell), 0);
    return row;
  });
}

/** The reader takes a line break of any of the three kinds for one. */
const breaksIn = (text: string): number => text.match(/\r\n|\r|\n/g)?.length ?? 0;

/** Otherwise the reader takes all that follows for one cell, and nobody would miss the rows in it. */
function checkQuotes(text: string, format: string): void {
  const quoted = /(?<=^|[,\r\n])"(?:[^"]|"")*("?)([^,\r\n]?)/g;
  for (const cell of text.matchAll(quoted)) {
    const [whole, close, after] = cell;
    if (close === '"' && after === '') continue;
    const line = 1 + breaksIn(text.slice(0, cell.index));
    const found = close === '' ? 'a quote that does not close' : JSON.stringify(whole.slice(-12));
    const place = { unit: 'line', line } as const;
    throw new FormatError({
      format,
      what: 'row',
      place,
      found,
      expected: 'a closing quote before the comma',
    });
  }
}

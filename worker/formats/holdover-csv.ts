/**
 * A holdover table as CSV, for whoever types it into a sheet. A line each: a member and its value, `column` with a heading and what it
 * covers, `row` with mix, coldest temperature, whether that is included, and a cell for each column: `35-65`, `20-45@-10` down to
 * -10 °C, or `none`.
 */
import { csvParseRows } from 'd3-dsv';
import { FormatError } from '../errors.ts';

const MEMBERS = [
  'form',
  'issuer',
  'season',
  'issuedOn',
  'expiresOn',
  'standing',
  'fluidType',
  'fluidName',
  'surface',
] as const;

/** @returns What the schema of the contract checks. @throws FormatError with the line. */
export function holdoverTableFromCsv(text: string): unknown {
  const table: Record<string, unknown> = {};
  const columns: unknown[] = [];
  const rows: unknown[] = [];
  for (const [at, line] of csvParseRows(text.replace(/^\ufeff/, '')).entries()) {
    const [word = '', ...values] = line.map((value) => value.trim());
    if (word === '' && values.every((value) => value === '')) continue;
    if (MEMBERS.some((member) => member === word)) table[word] = values[0] ?? '';
    else if (word === 'column')
      columns.push({ heading: values[0] ?? '', covers: (values[1] ?? '').split(/\s+/) });
    else if (word === 'row') rows.push(rowOf(values, at + 1));
    else throw unfit(at + 1, 'first word', word, `one of ${MEMBERS.join(', ')}, column, row`);
  }
  return { ...table, columns, rows };
}

function rowOf([mix = '', coldest = '', includes = '', ...cells]: string[], line: number): unknown {
  const coldestC = Number(coldest);
  if (coldest === '' || !Number.isFinite(coldestC))
    throw unfit(line, 'coldest temperature', coldest, 'a number, °C');
  if (includes !== 'yes' && includes !== 'no')
    throw unfit(line, 'whether it is included', includes, 'yes or no');
  return {
    mix,
    coldestC,
    includesColdest: includes === 'yes',
    cells: cells.map((cell) => cellOf(cell, line)),
  };
}

function cellOf(cell: string, line: number): unknown {
  if (cell === 'none') return null;
  const found = /^(\d{1,4})-(\d{1,4})(?:@(-?\d{1,2}(?:\.\d)?))?$/.exec(cell);
  if (found === null) throw unfit(line, 'cell', cell, '35-65 of minutes, 20-45@-10, or none');
  const minutes = [Number(found[1]), Number(found[2])];
  return found[3] === undefined ? minutes : { minutes, coldestC: Number(found[3]) };
}

function unfit(line: number, what: string, found: string, expected: string): FormatError {
  return new FormatError({
    format: 'holdover CSV',
    place: { unit: 'line', line },
    what,
    found: JSON.stringify(found.slice(0, 40)),
    expected,
  });
}

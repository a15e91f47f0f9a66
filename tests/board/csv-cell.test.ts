/** Cells that a spreadsheet may open. */
import { csvParseRows } from 'd3-dsv';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { csvCell, csvTable, textOfCell } from '../../worker/board/csv-cell.ts';

describe('csvCell', () => {
  it.each([
    ['plain text', 'RW 101', 'RW 101'],
    ['a formula', '=1+1', "'=1+1"],
    ['a formula that calls out, quoted for its own quotes', '=LINK("x")', '"\'=LINK(""x"")"'],
    ['a plus', '+1', "'+1"],
    ['a minus', '-1', "'-1"],
    ['an at sign', '@sum', "'@sum"],
    ['a tab', '\t=1', "'\t=1"],
    ['a formula behind blanks', ' =1', "' =1"],
    ['a full-width equals sign', '\uff1d1', "'\uff1d1"],
    ['text that looks as if it was made harmless', "'=1", "''=1"],
    ['an apostrophe of the text', "'tis", "'tis"],
    ['commas, quotes and line breaks', 'a,"b"\nc', '"a,""b""\nc"'],
    ['a number below zero', -5, '-5'],
    ['nothing', null, ''],
  ] as const)('writes %s', (_, value, cell) => {
    expect(csvCell(value)).toBe(cell);
  });

  const texts = fc.oneof(
    fc.string(),
    fc.string({
      unit: fc.constantFrom('=', '+', '-', '@', "'", '"', ',', '\t', '\r', '\n', ' ', 'a', '\uff1d'),
    }),
  );

  it('reads back as the same text, and begins with nothing that runs', () => {
    fc.assert(
      fc.property(fc.array(texts, { minLength: 1, maxLength: 4 }), (values) => {
        const columns = values.map((_, index) => `c${index}`);
        const row = Object.fromEntries(values.map((value, index) => [`c${index}`, value]));
        const [header, cells, ...more] = csvParseRows(csvTable(columns, [row]));
        expect(header).toEqual(columns);
        expect(more).toEqual([]);
        expect(cells!.map(textOfCell)).toEqual(values);
        for (const cell of cells!) expect(cell).not.toMatch(/^\s*[=+\-@\uff1d]|^[\t\r\n]/);
      }),
      { numRuns: 2000 },
    );
  });
});

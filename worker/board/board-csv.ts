/** A board and its log as tables that a spreadsheet opens and does not run. */
import { CAUTIONS } from '../brief/method.ts';
import type { BoardAnswer } from '../schema/board.ts';
import type { LogEntry } from '../sources/boards.ts';
import { csvTable } from './csv-cell.ts';
import {
  EXPORTED_COLUMNS,
  type ExportedColumn,
  type ExportedValue,
  exportedFlights,
} from './exported-flight.ts';

/** One row a flight, worst first; the time and the caution stand in every row, since rows are copied one by one. */
export function boardToCsv(answer: BoardAnswer): string {
  const rows = exportedFlights(answer).map(({ values }) => {
    const cells = EXPORTED_COLUMNS.map((name) => [name, cellOf(values[name])]);
    return Object.fromEntries(cells) as Record<ExportedColumn, string | number | null>;
  });
  return csvTable(EXPORTED_COLUMNS, rows);
}

function cellOf(value: ExportedValue): string | number | null {
  if (typeof value === 'boolean') return value ? 'yes' : 'no';
  return value;
}

const LOG_COLUMNS = ['atUtc', 'by', 'flight', 'seq', 'sentence', 'flightId', 'asOfUtc', 'caution'] as const;

/** One row an acknowledgement, in the order given, each with the time of the export and the caution. */
export function logToCsv(entries: readonly LogEntry[], asOfUtc: string): string {
  const caution = CAUTIONS.join(' ');
  return csvTable(
    LOG_COLUMNS,
    entries.map(({ atMs, by, flightName, seq, sentence, flightId }) => ({
      ...{ atUtc: new Date(atMs).toISOString(), by, flight: flightName, seq, sentence, flightId },
      ...{ asOfUtc, caution },
    })),
  );
}

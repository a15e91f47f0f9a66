/** A schedule as CSV (RFC 4180), read row by row: a row that cannot be read is refused with its line and reason, the others are kept. */
import { FormatError } from '../errors.ts';
import { MOST_LEGS, type ScheduleLeg, scheduleLegSchema } from '../schema/board.ts';
import { csvTable, textOfCell } from './csv-cell.ts';
import { type CsvRow, csvRows } from './csv-rows.ts';
import { LEG_COLUMN_NAMES, LEG_COLUMNS, type LegColumn, type LegColumnName } from './leg-columns.ts';

const FORMAT = 'legs CSV';
const MOST_BYTES = 1_048_576;
const LONGEST_QUOTED = 40;

export interface RejectedLine {
  /** From 1, the header's. */
  readonly line: number;
  readonly reason: string;
}

export interface LegsRead {
  readonly legs: ScheduleLeg[];
  readonly rejected: RejectedLine[];
}

/**
 * The header names the columns, in any order; those that a leg needs must be there, and none that is not known.
 *
 * @throws FormatError for a header that is not so, quotes that do not close, more than 1 MiB or 2,000 legs.
 */
export function readLegsCsv(text: string): LegsRead {
  if (text.length > MOST_BYTES || new TextEncoder().encode(text).length > MOST_BYTES) {
    throw fileError({ what: 'text', line: 1, found: 'more', expected: `at most ${MOST_BYTES} bytes` });
  }
  const [header, ...rows] = csvRows(text.replace(/^\uFEFF/, ''), FORMAT).filter(
    ({ cells }) => !cells.every((cell) => cell.trim() === ''),
  );
  const names = columnsOf(header);
  if (rows.length > MOST_LEGS) {
    const line = rows[MOST_LEGS]!.line;
    throw fileError({ what: 'rows', line, found: `${rows.length} legs`, expected: `at most ${MOST_LEGS}` });
  }
  const read: LegsRead = { legs: [], rejected: [] };
  for (const row of rows) {
    const leg = readRow(row, names);
    if (typeof leg === 'string') read.rejected.push({ line: row.line, reason: leg });
    else read.legs.push(leg);
  }
  return read;
}

/** Reads back as the same legs: cells that a spreadsheet would run are made harmless, and become what they were again. */
export function legsToCsv(legs: readonly ScheduleLeg[]): string {
  return csvTable(
    LEG_COLUMN_NAMES,
    legs.map((leg) => {
      const cells = LEG_COLUMN_NAMES.map((name) => [name, LEG_COLUMNS[name].write(leg)]);
      return Object.fromEntries(cells) as Record<LegColumnName, string | number | null>;
    }),
  );
}

function fileError(fault: { what: string; line: number; found: string; expected: string }): FormatError {
  const { what, line, found, expected } = fault;
  return new FormatError({ format: FORMAT, what, place: { unit: 'line', line }, found, expected });
}

/** The names of the header, in its order. */
function columnsOf(header: CsvRow | undefined): LegColumnName[] {
  const line = header?.line ?? 1;
  const fault = (found: string, expected: string) => fileError({ what: 'header', line, found, expected });
  const all = LEG_COLUMN_NAMES.join(',');
  if (header === undefined) throw fault('nothing', `some of ${all}`);
  const names = header.cells.map((cell) => cell.trim());
  const unknown = names.find((name) => !LEG_COLUMN_NAMES.some((each) => each === name));
  if (unknown !== undefined) throw fault(quote(unknown), `some of ${all}`);
  const twice = names.find((name, index) => names.indexOf(name) !== index);
  if (twice !== undefined) throw fault(`${twice} twice`, 'each column once');
  const missing = LEG_COLUMN_NAMES.filter((name) => isRequired(name) && !names.includes(name));
  if (missing.length > 0) throw fault(`no ${missing.join(', ')}`, 'every column that a leg needs');
  return names as LegColumnName[];
}

const isRequired = (name: LegColumnName) => (LEG_COLUMNS[name] as LegColumn).isRequired ?? false;

/** Cells that are not empty, read. */
type Values = Partial<Record<LegColumnName, unknown>>;

/** A leg, or which column holds what in the place of what. */
function readRow({ cells }: CsvRow, names: readonly LegColumnName[]): ScheduleLeg | string {
  if (cells.length !== names.length) {
    return `row: found ${cells.length} cells, expected ${names.length} as in the header`;
  }
  const values: Values = {};
  for (const [index, name] of names.entries()) {
    const cell = textOfCell(cells[index]!.trim());
    const { expected, read, schema }: LegColumn = LEG_COLUMNS[name];
    if (cell === '' && !isRequired(name)) continue;
    const checked = cell === '' ? undefined : schema.safeParse(read(cell));
    if (checked?.success !== true || checked.data === undefined) {
      return `${name}: found ${quote(cell)}, expected ${expected}`;
    }
    values[name] = checked.data;
  }
  return legOf(values);
}

function legOf(values: Values): ScheduleLeg | string {
  const destinationMinima = minimaOf(values, 'destination');
  const alternateMinima = minimaOf(values, 'alternate');
  if (typeof destinationMinima === 'string') return destinationMinima;
  if (typeof alternateMinima === 'string') return alternateMinima;
  const { fromDate = null, untilDate = null } = values as { fromDate?: string; untilDate?: string };
  if (fromDate !== null && untilDate !== null && untilDate < fromDate) {
    return `untilDate: found ${quote(untilDate)}, expected ${fromDate} or later`;
  }
  const { tail = null, timeZone = null, plannedMinutes = null, alternate = null } = values;
  const { label, route, weekdays, departureLocal, aircraft } = values;
  const leg = scheduleLegSchema.safeParse({
    ...{ label, route, weekdays, departureLocal, aircraft },
    ...{ tail, timeZone, fromDate, untilDate, plannedMinutes, alternate, destinationMinima, alternateMinima },
    ...optionsOf(values),
  });
  return leg.success ? leg.data : `row: found ${leg.error.issues[0]?.message}, expected a leg`;
}

/** null without any; a ceiling alone is none. */
function minimaOf(values: Values, side: 'destination' | 'alternate') {
  const ceilingFt = values[`${side}CeilingFt` as const] ?? null;
  const visibilityM = values[`${side}VisibilityM` as const];
  if (visibilityM !== undefined) return { ceilingFt, visibilityM };
  return ceilingFt === null
    ? null
    : `${side}VisibilityM: found nothing beside a ceiling, expected 0 to 16000 m`;
}

function optionsOf({ otherOptions, minimumAltitudes, takeoffWeightKg }: Values) {
  const options = {
    ...(otherOptions as object | undefined),
    ...(minimumAltitudes === undefined ? {} : { minimumAltitudes }),
    ...(takeoffWeightKg === undefined ? {} : { takeoffWeightKg }),
  };
  return Object.keys(options).length === 0 ? {} : { options };
}

const quote = (text: string) =>
  JSON.stringify(text.length > LONGEST_QUOTED ? `${text.slice(0, LONGEST_QUOTED)}…` : text);

/**
 * A holdover table as an operator loads it. Tables change every winter and none is built in: this is the form that they are typed
 * into. Every cell is checked against what no table may say.
 */
import * as z from 'zod/mini';
import {
  FLUID_TYPES,
  MIXES,
  NEVER_TIMED,
  RAMP_CONDITIONS,
  type RampCondition,
  WING_SKINS,
} from './ground-words.ts';

const dateSchema = z.string().check(
  z.regex(/^\d{4}-\d{2}-\d{2}$/),
  z.refine(
    (text) => new Date(`${text}T00:00:00Z`).toISOString?.().startsWith(text) ?? false,
    'a date of the calendar',
  ),
);

const temperatureC = z.number().check(z.gte(-60), z.lte(30));
const minutes = z.int().check(z.gte(1), z.lte(1440));
const window = z
  .tuple([minutes, minutes])
  .check(z.refine(([least, most]) => least <= most, 'the shorter time first'));

/** Minutes, shortest and longest; with the coldest air that they hold for where the row goes further; null: no time. */
const cellSchema = z.nullable(z.union([window, z.strictObject({ minutes: window, coldestC: temperatureC })]));

const columnSchema = z.strictObject({
  /** As the issuer prints it. */
  heading: z.string().check(z.minLength(1), z.maxLength(120)),
  covers: z.array(z.enum(RAMP_CONDITIONS)).check(
    z.minLength(1),
    z.refine(
      (covers) => !covers.some((condition) => NEVER_TIMED.has(condition)),
      'conditions that a fluid may have a time in',
    ),
  ),
});

const rowSchema = z.strictObject({
  mix: z.enum(MIXES),
  /** The row ends with this; its warm end is where the row before it ends. */
  coldestC: temperatureC,
  /** false: the row ends just above it ("above 0"). */
  includesColdest: z.boolean(),
  cells: z.array(cellSchema).check(z.minLength(1), z.maxLength(30)),
});

const MOST_DAYS = 400;
const DAY_MS = 86_400_000;
const dayMs = (date: string) => Date.parse(`${date}T00:00:00Z`);

/** Greatest time of a cell, min. @source TP 14052, 11.1.1: two hours, freezing fog four; frost from the table of 2003-04. */
const MOST_MINUTES = 120;
const MOST_FOG_MINUTES = 240;

function mostMinutes(covers: readonly RampCondition[]): number {
  const most = (condition: RampCondition) =>
    condition === 'frost'
      ? 1440
      : condition === 'freezing-fog' || condition === 'ice-crystals'
        ? MOST_FOG_MINUTES
        : MOST_MINUTES;
  return Math.min(...covers.map(most));
}

export const holdoverTableSchema = z
  .strictObject({
    form: z.literal('holdover-table-1'),
    issuer: z.string().check(z.minLength(1), z.maxLength(120)),
    season: z.string().check(
      z.regex(/^\d{4}-\d{4}$/),
      z.refine(
        (text) => Number(text.slice(5)) === Number(text.slice(0, 4)) + 1,
        'two years that follow each other',
      ),
    ),
    issuedOn: dateSchema,
    /** Last day of its validity. */
    expiresOn: dateSchema,
    standing: z.enum(['in-force', 'invented', 'historic']),
    fluidType: z.enum(FLUID_TYPES),
    /** "generic", or the product as the issuer prints it. */
    fluidName: z.string().check(z.minLength(1), z.maxLength(80)),
    surface: z.enum(['any', ...WING_SKINS]),
    columns: z.array(columnSchema).check(z.minLength(1), z.maxLength(30)),
    rows: z.array(rowSchema).check(z.minLength(1), z.maxLength(60)),
  })
  .check(
    z.refine(
      ({ issuedOn, expiresOn }) =>
        dayMs(issuedOn) < dayMs(expiresOn) && dayMs(expiresOn) - dayMs(issuedOn) <= MOST_DAYS * DAY_MS,
      { path: ['expiresOn'], error: `after issuedOn, by ${MOST_DAYS} days at most` },
    ),
    z.refine(({ issuedOn, season }) => issuedOn.slice(0, 4) === season.slice(0, 4), {
      path: ['season'],
      error: 'the season that begins in the year of issuedOn',
    }),
    z.refine(({ columns }) => areDisjoint(columns.flatMap(({ covers }) => covers)), {
      path: ['columns'],
      error: 'each condition in one column',
    }),
    z.refine(({ columns, rows }) => rows.every(({ cells }) => cells.length === columns.length), {
      path: ['rows'],
      error: 'one cell a column in every row',
    }),
    z.refine(({ rows }) => rows.every((row, index) => isColderThanBefore(rows, row, index)), {
      path: ['rows'],
      error: 'within a mix each row colder than the one before it',
    }),
    z.refine(
      ({ columns, rows }) =>
        rows.every(({ cells }) =>
          cells.every((cell, at) => longestOf(cell) <= mostMinutes(columns[at]?.covers ?? [])),
        ),
      { path: ['rows'], error: 'at most 120 min in a cell, 240 in freezing fog or ice crystals' },
    ),
  );

export type HoldoverTableText = z.infer<typeof holdoverTableSchema>;

/** GET /api/holdover. */
export const holdoverTablesSchema = z.object({
  tables: z.array(z.object({ operator: z.string(), id: z.string(), table: holdoverTableSchema })),
});

/** 201 of POST /api/holdover: what it changes of the table before it, cell by cell. */
export const storedHoldoverSchema = z.object({
  id: z.string(),
  season: z.string(),
  rows: z.number(),
  /** null where it is the first of its name. */
  replacedSeason: z.nullable(z.string()),
  changes: z.array(
    z.object({
      mix: z.string(),
      coldestC: z.number(),
      heading: z.string(),
      before: z.string(),
      now: z.string(),
    }),
  ),
});

type CellText = z.infer<typeof cellSchema>;
type RowText = z.infer<typeof rowSchema>;

function areDisjoint(covered: readonly RampCondition[]): boolean {
  return new Set(covered).size === covered.length;
}

function isColderThanBefore(rows: readonly RowText[], row: RowText, index: number): boolean {
  const before = rows.slice(0, index).findLast(({ mix }) => mix === row.mix);
  if (before === undefined) return true;
  if (row.coldestC !== before.coldestC) return row.coldestC < before.coldestC;
  return row.includesColdest && !before.includesColdest;
}

function longestOf(cell: CellText): number {
  if (cell === null) return 0;
  return 'minutes' in cell ? cell.minutes[1] : cell[1];
}

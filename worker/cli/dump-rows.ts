/** Rows of all tables out of a database, page by page. */
import type { Row, Target } from './wrangler-tool.ts';

type Queried = Pick<Target, 'query'>;

/** Of the deploy tool: which migrations were applied. */
export const MIGRATIONS = 'd1_migrations';

/**
 * What is not kept: it says what lies on R2 and is fetched again, or counts for minutes. Rows of forecast hours without their objects
 * would keep the supply from fetching them.
 */
export const NOT_KEPT: ReadonlySet<string> = new Set([
  'grid_hours',
  'grid_prefixes',
  'supply_hours',
  'bulletin_sources',
  'write_counts',
  'shared_sweeps',
  'heartbeats',
  MIGRATIONS,
]);

/** A board's number must not be lower than those of its flights: it is read last. */
const LAST = 'boards';

const ROW_ID = 'backup_row_id';
const FIRST_PAGE_ROWS = 200;
const MOST_PAGE_ROWS = 5000;
const PAGE_BYTES = 2 * 1024 * 1024;

/** Which columns of which tables; none named: all of them. */
export type Columns = Readonly<Record<string, readonly string[]>>;

/** Names of the tables that the service made. */
export async function tablesOf(target: Queried): Promise<string[]> {
  const [rows = []] = await target.query([
    `SELECT name FROM sqlite_master
     WHERE type = 'table' AND name NOT GLOB 'sqlite_*' AND name NOT GLOB '_cf_*' ORDER BY name`,
  ]);
  return rows.map(({ name }) => String(name));
}

/** Hands over every row of the tables given, of each table in the order of its numbers. */
export async function dumpRows(
  target: Queried,
  columns: Columns,
  take: (table: string, row: Row) => void,
): Promise<void> {
  const names = Object.keys(columns);
  const [first, last] = [names.filter((name) => name !== LAST), names.filter((name) => name === LAST)];
  await dumpTogether(target, first, columns, take);
  await dumpTogether(target, last, columns, take);
}

interface Page {
  readonly table: string;
  afterRowId: number;
  rows: number;
  isDone: boolean;
}

/** A page of every table that has more, in one call. */
async function dumpTogether(
  target: Queried,
  tables: readonly string[],
  columns: Columns,
  take: (table: string, row: Row) => void,
): Promise<void> {
  const pages: Page[] = tables.map((table) => ({
    table,
    afterRowId: Number.MIN_SAFE_INTEGER,
    rows: FIRST_PAGE_ROWS,
    isDone: false,
  }));
  for (let open = pages; open.length > 0; open = pages.filter(({ isDone }) => !isDone)) {
    const answers = await target.query(open.map((page) => pageSql(page, columns[page.table] ?? [])));
    open.forEach((page, at) => {
      const rows = answers[at] ?? [];
      for (const { [ROW_ID]: rowId, ...row } of rows) {
        page.afterRowId = Number(rowId);
        take(page.table, row);
      }
      page.isDone = rows.length < page.rows;
      const bytes = JSON.stringify(rows).length / Math.max(1, rows.length);
      page.rows = Math.max(1, Math.min(MOST_PAGE_ROWS, Math.floor(PAGE_BYTES / bytes)));
    });
  }
}

function pageSql({ table, afterRowId, rows }: Page, columns: readonly string[]): string {
  const wanted = columns.length === 0 ? '*' : columns.map((name) => `"${name}"`).join(', ');
  return `SELECT rowid AS ${ROW_ID}, ${wanted} FROM "${table}" WHERE rowid > ${afterRowId} ORDER BY rowid LIMIT ${rows}`;
}

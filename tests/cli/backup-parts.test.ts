/** Reading rows page by page and writing them as SQL, on a database as the service has it. */
import type { D1Database } from '@cloudflare/workers-types';
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import { readTables } from '../../worker/cli/backup-folder.ts';
import { dumpRows, NOT_KEPT, tablesOf } from '../../worker/cli/dump-rows.ts';
import { sqlOfRow } from '../../worker/cli/row-sql.ts';
import type { Row, Target } from '../../worker/cli/wrangler-tool.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';

let local: LocalD1;
let db: D1Database;
beforeAll(async () => {
  local = await startLocalD1();
  db = local.db;
});
afterAll(() => local.stop());
beforeEach(async () => {
  await db.batch(['places', 'boards', 'board_flights'].map((table) => db.prepare(`DELETE FROM ${table}`)));
  asked.length = 0;
});

const asked: string[][] = [];
const target = {
  query: async (statements) => {
    asked.push([...statements]);
    const answers = await db.batch<Row>(statements.map((sql) => db.prepare(sql)));
    return answers.map(({ results }) => results);
  },
} as Partial<Target> as Target;

const place = (ident: string, name = 'a place'): Row => ({
  operator: 'o',
  ident,
  name,
  lat_deg: 1.5,
  lon_deg: -2,
  elevation_m: null,
});
const load = async (table: string, rows: readonly Row[]) => {
  for (const row of rows) for (const sql of sqlOfRow(table, row)) await db.prepare(sql).run();
};
async function dump(tables: readonly string[]): Promise<Row[]> {
  const rows: Row[] = [];
  await dumpRows(target, Object.fromEntries(tables.map((table) => [table, []])), (_, row) => rows.push(row));
  return rows;
}

it('reads every row of a table of many pages once, in order', async () => {
  const rows = Array.from({ length: 1001 }, (_, at) => place(String(at).padStart(4, '0')));
  await db.batch(rows.flatMap((row) => sqlOfRow('places', row)).map((sql) => db.prepare(sql)));
  await db.prepare("DELETE FROM places WHERE ident BETWEEN '0150' AND '0450'").run();
  const found = await dump(['places']);
  expect(found).toEqual(rows.filter((_, at) => at < 150 || at > 450));
  expect(asked.length).toBeGreaterThan(1);
});

it('takes smaller pages of larger rows', async () => {
  const rows = Array.from({ length: 400 }, (_, at) => place(String(at), 'x'.repeat(50_000)));
  for (let from = 0; from < rows.length; from += 50) {
    const part = rows.slice(from, from + 50);
    await db.batch(part.flatMap((row) => sqlOfRow('places', row)).map((sql) => db.prepare(sql)));
  }
  expect(await dump(['places'])).toHaveLength(400);
  expect(asked.at(-1)![0]).toMatch(/LIMIT 4\d$/);
});

it('reads boards last, whose numbers must not be lower than those of their flights', async () => {
  await dump(['board_flights', 'boards', 'places']);
  expect(asked.map((statements) => statements.map((sql) => /FROM "(\w+)"/.exec(sql)?.[1]))).toEqual([
    ['board_flights', 'places'],
    ['boards'],
  ]);
});

it.each([
  ['quotes and what ends a statement', 'a\'b"; DROP TABLE places; -- /* */'],
  ['both a line break and the characters of one', 'a\\nb\nc\r\n'],
  ['a character of no width', 'a\u0000b'],
  ['other scripts', 'Š Đ 東 \u{1f9ca}'],
  ['more than a statement may have', `${'y'.repeat(9_999)}${'\u{1f9ca}'.repeat(60_000)}'`],
  ['nothing', ''],
])('brings back a text with %s', async (_, name) => {
  const rows = [place('BEFORE'), place('ODD', name), place('AFTER')];
  for (const sql of rows.flatMap((row) => sqlOfRow('places', row)))
    expect(Buffer.byteLength(sql)).toBeLessThan(100_000);
  await load('places', rows);
  expect(await dump(['places'])).toEqual(rows);
});

it.each([[0], [-1], [1e-7], [123.456789012345], [1_768_000_000_000], [9_007_199_254_740_991]])(
  'brings back the number %d',
  async (value) => {
    await load('places', [{ ...place('A'), lat_deg: value }]);
    expect(await dump(['places'])).toEqual([{ ...place('A'), lat_deg: value }]);
  },
);

it('hashes the same rows alike, and others not', async () => {
  const hash = async () => (await readTables(target, { places: [] }, {})).places!;
  await load('places', [place('A'), place('B')]);
  const first = await hash();
  expect(first).toMatchObject({ rows: 2, columns: Object.keys(place('A')) });
  expect(await hash()).toEqual(first);
  await db.prepare("UPDATE places SET name = 'A place' WHERE ident = 'B'").run();
  expect((await hash()).sha256).not.toBe(first.sha256);
});

it('hashes the columns that it is asked for: a table that has grown since compares', async () => {
  await load('places', [place('A')]);
  const columns = ['operator', 'ident'];
  const { places } = await readTables(target, { places: columns }, {});
  expect(places).toMatchObject({ columns, rows: 1 });
});

it('keeps every table but those that are named, all of which are there', async () => {
  const tables = await tablesOf(target);
  expect(tables).toContain('board_log');
  expect([...NOT_KEPT].filter((table) => !tables.includes(table))).toEqual([]);
});

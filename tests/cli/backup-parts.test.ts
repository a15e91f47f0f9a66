/** Reading rows page by page and writing them as SQL, on a database as the service has it. */
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { D1Database } from '@cloudflare/workers-types';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { backUpFrom } from '../../worker/cli/backup.ts';
import { readTables, sha256Of } from '../../worker/cli/backup-folder.ts';
import { dumpRows, NOT_KEPT, tablesOf } from '../../worker/cli/dump-rows.ts';
import { restoreInto } from '../../worker/cli/restore.ts';
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

describe('a backup and its restoring, without the deploy tool', () => {
  const ID = 'abcdefghijklmnopqrstuv';
  const bytes = new TextEncoder().encode('{"brief":1}');
  const folder = mkdtempSync(join(tmpdir(), 'backup-'));

  /** A database and a bucket of their own; SQL of a file is run line by line, as it is written. */
  async function stage() {
    const own = await startLocalD1();
    const objects = new Map<string, Uint8Array>();
    const calls: string[] = [];
    const whole: Omit<Target, 'close'> = {
      query: async (statements) => {
        const answers = await own.db.batch<Row>(statements.map((sql) => own.db.prepare(sql)));
        return answers.map(({ results }) => results);
      },
      runFile: async (path) => {
        calls.push('rows');
        const lines = readFileSync(path, 'utf8').split('\n').slice(0, -1);
        await own.db.batch(lines.map((sql) => own.db.prepare(sql)));
      },
      migrate: async () => {
        calls.push('migrate');
      },
      object: async (key) => objects.get(key),
      putObject: async (key, path) => {
        calls.push(key);
        objects.set(key, new Uint8Array(readFileSync(path)));
      },
    };
    return { ...own, whole, objects, calls };
  }
  let from: Awaited<ReturnType<typeof stage>>;
  let to: Awaited<ReturnType<typeof stage>>;
  let path: string;
  beforeAll(async () => {
    [from, to] = await Promise.all([stage(), stage()]);
  });
  afterAll(async () => {
    rmSync(folder, { recursive: true });
    await Promise.all([from.stop(), to.stop()]);
  });
  beforeEach(async () => {
    for (const { db: own, objects, calls } of [from, to]) {
      await own.batch(
        ['places', 'shared_briefs', 'heartbeats'].map((table) => own.prepare(`DELETE FROM ${table}`)),
      );
      objects.clear();
      calls.length = 0;
    }
    path = mkdtempSync(join(folder, 'one-'));
    await share(ID, sha256Of(bytes));
    await share('taken-back-0123456789a', sha256Of(bytes), 1);
    await share('expired-0123456789abcd', '');
    await from.db.batch(sqlOfRow('places', place('A')).map((sql) => from.db.prepare(sql)));
    await from.db.prepare("INSERT INTO heartbeats VALUES ('schedule', 1, 2)").run();
    for (const ending of ['json', 'png']) from.objects.set(`shared/${ID}.${ending}`, bytes);
  });
  const share = (id: string, sha256: string, revokedMs: number | null = null) =>
    from.db
      .prepare(
        `INSERT INTO shared_briefs (id, created_ms, expires_ms, revoked_ms, sha256, key_sha256, method, operators, request, title, sentence)
         VALUES (?1, 0, 1, ?2, ?3, '', '', '', '', '', '')`,
      )
      .bind(id, revokedMs, sha256)
      .run();

  it('brings back rows and objects, these first', async () => {
    const manifest = await backUpFrom(from.whole, path);
    expect(manifest).toMatchObject({
      missing: [],
      tables: { places: { rows: 1 }, shared_briefs: { rows: 3 } },
    });
    expect(manifest.tables.heartbeats).toBeUndefined();
    await restoreInto(to.whole, path);
    expect(to.calls).toEqual(['migrate', `shared/${ID}.json`, `shared/${ID}.png`, 'rows']);
    expect(to.objects).toEqual(from.objects);
    expect((await backUpFrom(to.whole, mkdtempSync(join(folder, 'two-')))).tables).toEqual(manifest.tables);
  });

  it('names objects that a row asks for and that are not there', async () => {
    from.objects.delete(`shared/${ID}.png`);
    expect((await backUpFrom(from.whole, path)).missing).toEqual([`shared/${ID}.png`]);
  });

  it('takes no bytes that are not those that their row names', async () => {
    from.objects.set(`shared/${ID}.json`, new Uint8Array(3));
    await expect(backUpFrom(from.whole, path)).rejects.toThrow(
      /^shared\/\S+: found SHA-256 .* as its row says$/,
    );
  });

  it('goes into no folder that has files', async () => {
    writeFileSync(join(path, 'mine'), '');
    await expect(backUpFrom(from.whole, path)).rejects.toThrow(/expected an empty folder or none$/);
  });

  it('goes into no database that has rows, but for those that are not kept', async () => {
    await backUpFrom(from.whole, path);
    await to.db.prepare("INSERT INTO heartbeats VALUES ('schedule', 1, 2)").run();
    await restoreInto(to.whole, path);
    to.calls.length = 0;
    await expect(restoreInto(to.whole, path)).rejects.toThrow(
      /^database: found rows in places, expected an empty one$/,
    );
    expect(to.calls).toEqual([]);
  });

  it.each(['tables/places.jsonl', `objects/shared/${ID}.png`])(
    'with damage in %s touches nothing',
    async (name) => {
      await backUpFrom(from.whole, path);
      const damaged = readFileSync(join(path, name));
      damaged[5]! ^= 1;
      writeFileSync(join(path, name), damaged);
      await expect(restoreInto(to.whole, path)).rejects.toThrow(
        /found SHA-256 [0-9a-f]{64}, expected [0-9a-f]{64}$/,
      );
      expect(to.calls).toEqual([]);
    },
  );

  it('of a later version is not loaded', async () => {
    const manifest = await backUpFrom(from.whole, path);
    const later = { ...manifest, migrations: [...manifest.migrations, '9999_later.sql'] };
    writeFileSync(join(path, 'manifest.json'), JSON.stringify(later));
    await expect(restoreInto(to.whole, path)).rejects.toThrow(/^backup: found migration 9999_later.sql/);
    expect(to.calls).toEqual(['migrate']);
  });

  const changed: (target: Omit<Target, 'close'>) => Partial<Target> = ({ runFile }) => ({
    runFile: async (file) => {
      await runFile(file);
      await to.db.prepare('UPDATE places SET lat_deg = lat_deg + 1e-9').run();
    },
  });
  it.each<[string, typeof changed, RegExp]>([
    ['rows are lost', () => ({ runFile: async () => undefined }), /found 0 rows, expected \d/],
    ['a row is another', changed, /^places: found other rows/],
    ['an object is lost', () => ({ object: async () => undefined }), /^shared\/\S+: found other bytes/],
    [
      'an object is another',
      () => ({ object: async () => new Uint8Array(11) }),
      /^shared\/\S+: found other bytes/,
    ],
  ])('is not called restored when %s', async (_, change, message) => {
    await backUpFrom(from.whole, path);
    await expect(restoreInto({ ...to.whole, ...change(to.whole) }, path)).rejects.toThrow(message);
  });
});

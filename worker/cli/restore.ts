/** `npm run restore -- FOLDER [--state DIR | --remote --config FILE]`: a backup into an empty database and its bucket. */
import { appendFileSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { targetArguments } from './backup.ts';
import {
  checkedManifest,
  type Manifest,
  objectPath,
  readTables,
  sha256Of,
  tablePath,
} from './backup-folder.ts';
import { MIGRATIONS, NOT_KEPT, tablesOf } from './dump-rows.ts';
import { sqlOfRow } from './row-sql.ts';
import { openTarget, type Row, type Target, type TargetOptions } from './wrangler-tool.ts';

/** What `npm run restore` does. */
export async function restore(options: TargetOptions, folder: string): Promise<Manifest> {
  const target = openTarget(options);
  try {
    return await restoreInto(target, folder);
  } finally {
    target.close();
  }
}

/**
 * Checks the backup, applies the migrations, loads, and reads everything back.
 *
 * @throws Error before anything is changed when the backup is damaged or the database has rows; afterwards when what was read back is
 *   not what was loaded.
 */
export async function restoreInto(target: Omit<Target, 'close'>, folder: string): Promise<Manifest> {
  const manifest = checkedManifest(folder);
  await refuseRows(target);
  await target.migrate();
  await refuseUnknown(target, manifest);
  // Objects first: a row never asks for what is not there.
  for (const { key } of manifest.objects) await target.putObject(key, objectPath(folder, key));
  await loadTables(target, manifest, folder);
  await checkLoaded(target, manifest);
  return manifest;
}

async function refuseRows(target: Pick<Target, 'query'>): Promise<void> {
  const tables = (await tablesOf(target)).filter((table) => !NOT_KEPT.has(table));
  if (tables.length === 0) return;
  const answers = await target.query(tables.map((table) => `SELECT count(*) AS count FROM "${table}"`));
  const full = tables.find((_, at) => Number(answers[at]?.[0]?.count) > 0);
  if (full !== undefined) throw new Error(`database: found rows in ${full}, expected an empty one`);
}

/** A backup of a later version has what this one does not know. */
async function refuseUnknown(target: Pick<Target, 'query'>, manifest: Manifest): Promise<void> {
  const [rows = []] = await target.query([`SELECT name FROM ${MIGRATIONS}`]);
  const applied = new Set(rows.map(({ name }) => String(name)));
  const unknown = manifest.migrations.find((name) => !applied.has(name));
  if (unknown !== undefined) {
    throw new Error(`backup: found migration ${unknown}, expected those of this version`);
  }
}

async function loadTables(
  target: Pick<Target, 'runFile'>,
  { tables }: Manifest,
  folder: string,
): Promise<void> {
  const work = mkdtempSync(join(tmpdir(), 'rimeway-restore-'));
  try {
    const path = join(work, 'rows.sql');
    let count = 0;
    for (const table of Object.keys(tables)) {
      const lines = readFileSync(tablePath(folder, table), 'utf8').split('\n').slice(0, -1);
      for (const line of lines) {
        appendFileSync(path, `${sqlOfRow(table, JSON.parse(line) as Row).join('\n')}\n`, { mode: 0o600 });
        count += 1;
      }
    }
    if (count > 0) await target.runFile(path);
  } finally {
    rmSync(work, { recursive: true, force: true });
  }
}

async function checkLoaded(
  target: Pick<Target, 'query' | 'object'>,
  { tables, objects }: Manifest,
): Promise<void> {
  const columns = Object.fromEntries(Object.entries(tables).map(([table, facts]) => [table, facts.columns]));
  const found = await readTables(target, columns, {});
  for (const [table, expected] of Object.entries(tables)) {
    const { rows, sha256 } = found[table]!;
    if (rows !== expected.rows) throw new Error(`${table}: found ${rows} rows, expected ${expected.rows}`);
    if (sha256 !== expected.sha256) throw new Error(`${table}: found other rows than those of the backup`);
  }
  for (const { key, sha256 } of objects) {
    const found = await target.object(key);
    if (found === undefined || sha256Of(found) !== sha256)
      throw new Error(`${key}: found other bytes than those of the backup`);
  }
}

if (import.meta.filename === process.argv[1]) {
  try {
    const { folder, options } = targetArguments(process.argv.slice(2));
    const { tables, objects } = await restore(options, folder);
    const rows = Object.values(tables).reduce((sum, each) => sum + each.rows, 0);
    process.stdout.write(
      `restored and read back: ${rows} rows of ${Object.keys(tables).length} tables, ${objects.length} objects\n`,
    );
  } catch (error) {
    process.stderr.write(`restore: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  }
}

/** A backup as it lies in a folder: rows as lines of JSON, objects as they were, and a manifest with the hash of each. */
import { createHash, type Hash } from 'node:crypto';
import { closeSync, existsSync, mkdirSync, openSync, readdirSync, readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import * as z from 'zod/mini';
import { type Columns, dumpRows } from './dump-rows.ts';
import type { Row, Target } from './wrangler-tool.ts';

const hash = z.string().check(z.regex(/^[0-9a-f]{64}$/));
const name = z.string().check(z.regex(/^[a-z0-9_]{1,60}$/));
const manifestSchema = z.object({
  form: z.literal('rimeway-backup-1'),
  madeUtc: z.string(),
  migrations: z.array(z.string()),
  tables: z.record(
    name,
    // Columns are not known of a table without rows.
    z.object({ columns: z.array(name), rows: z.int().check(z.nonnegative()), sha256: hash }),
  ),
  objects: z.array(
    z.object({
      key: z.string().check(z.regex(/^shared\/[A-Za-z0-9_-]{22}\.(json|png|inputs)$/)),
      bytes: z.int(),
      sha256: hash,
    }),
  ),
  /** Objects that a row asks for and that were not there. */
  missing: z.array(z.string()),
});
export type Manifest = z.infer<typeof manifestSchema>;
export type TableFacts = Manifest['tables'];

export const sha256Of = (bytes: Uint8Array | string): string =>
  createHash('sha256').update(bytes).digest('hex');
export const tablePath = (folder: string, table: string): string => join(folder, 'tables', `${table}.jsonl`);
export const objectPath = (folder: string, key: string): string => join(folder, 'objects', key);
export const manifestPath = (folder: string): string => join(folder, 'manifest.json');

/** Made for its owner alone: rows hold hashes of keys, legs and names. @throws Error where something is in it already. */
export function makeFolder(folder: string): void {
  if (existsSync(folder) && readdirSync(folder).length > 0) {
    throw new Error(`${folder}: found files in it, expected an empty folder or none`);
  }
  mkdirSync(join(folder, 'tables'), { recursive: true, mode: 0o700 });
  mkdirSync(join(folder, 'objects', 'shared'), { recursive: true, mode: 0o700 });
}

interface Writing {
  readonly digest: Hash;
  readonly file: number | undefined;
  columns: readonly string[];
  rows: number;
}

/**
 * Reads every row of the tables.
 *
 * @param folder  Where the lines are written; undefined: they are only counted and hashed.
 */
export async function readTables(
  target: Pick<Target, 'query'>,
  columns: Columns,
  { folder, each }: { folder?: string; each?: (table: string, row: Row) => void },
): Promise<TableFacts> {
  const writing = new Map<string, Writing>(
    Object.keys(columns).map((table) => [
      table,
      {
        digest: createHash('sha256'),
        columns: columns[table] ?? [],
        file: folder === undefined ? undefined : openSync(tablePath(folder, table), 'wx', 0o600),
        rows: 0,
      },
    ]),
  );
  await dumpRows(target, columns, (table, row) => {
    const to = writing.get(table)!;
    const line = `${JSON.stringify(row)}\n`;
    to.digest.update(line);
    if (to.file !== undefined) writeSync(to.file, line);
    to.rows += 1;
    to.columns = Object.keys(row);
    each?.(table, row);
  });
  return Object.fromEntries(
    [...writing].map(([table, { digest, file, rows, columns: found }]) => {
      if (file !== undefined) closeSync(file);
      return [table, { columns: [...found], rows, sha256: digest.digest('hex') }];
    }),
  );
}

/** @throws Error when a file is missing, or is not what the manifest says. */
export function checkedManifest(folder: string): Manifest {
  const manifest = manifestSchema.parse(JSON.parse(readFileSync(manifestPath(folder), 'utf8')));
  const files = [
    ...Object.entries(manifest.tables).map(([table, { sha256 }]) => [tablePath(folder, table), sha256]),
    ...manifest.objects.map(({ key, sha256 }) => [objectPath(folder, key), sha256]),
  ] as [string, string][];
  for (const [path, expected] of files) {
    const found = sha256Of(readFileSync(path));
    if (found !== expected) throw new Error(`${path}: found SHA-256 ${found}, expected ${expected}`);
  }
  return manifest;
}

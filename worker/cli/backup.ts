/** `npm run backup -- FOLDER [--state DIR | --remote --config FILE]`: rows of the database and the objects they ask for. */
import { writeFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import {
  type Manifest,
  makeFolder,
  manifestPath,
  objectPath,
  readTables,
  sha256Of,
} from './backup-folder.ts';
import { projectFolder } from './build.ts';
import { MIGRATIONS, NOT_KEPT, tablesOf } from './dump-rows.ts';
import { openTarget, type Row, type Target, type TargetOptions } from './wrangler-tool.ts';

/** What `npm run backup` does. */
export async function backUp(options: TargetOptions, folder: string): Promise<Manifest> {
  const target = openTarget(options);
  try {
    return await backUpFrom(target, folder);
  } finally {
    target.close();
  }
}

/** @throws Error when a shared brief's bytes are not those that its row names. What is not there at all is listed as missing. */
export async function backUpFrom(
  target: Pick<Target, 'query' | 'object'>,
  folder: string,
): Promise<Manifest> {
  makeFolder(folder);
  const all = await tablesOf(target);
  if (!all.includes(MIGRATIONS)) {
    throw new Error('database: found no migrations, expected a database of this service');
  }
  const [applied = []] = await target.query([`SELECT name FROM ${MIGRATIONS} ORDER BY id`]);
  const columns = Object.fromEntries(all.filter((table) => !NOT_KEPT.has(table)).map((table) => [table, []]));
  const shared: Row[] = [];
  const tables = await readTables(target, columns, {
    folder,
    each: (table, row) => {
      if (table === 'shared_briefs' && row.sha256 !== '' && row.revoked_ms === null) shared.push(row);
    },
  });
  const manifest: Manifest = {
    form: 'rimeway-backup-1',
    madeUtc: new Date().toISOString(),
    migrations: applied.map(({ name }) => String(name)),
    tables,
    ...(await keepObjects(target, shared, folder)),
  };
  writeFileSync(manifestPath(folder), `${JSON.stringify(manifest, null, 2)}\n`, { mode: 0o600 });
  return manifest;
}

async function keepObjects(
  target: Pick<Target, 'object'>,
  shared: readonly Row[],
  folder: string,
): Promise<Pick<Manifest, 'objects' | 'missing'>> {
  const objects: Manifest['objects'] = [];
  const missing: string[] = [];
  for (const row of shared) {
    for (const { key, expected } of objectsOf(row)) {
      const bytes = await target.object(key);
      if (bytes === undefined) {
        missing.push(key);
        continue;
      }
      const found = sha256Of(bytes);
      if (expected !== undefined && found !== expected) {
        throw new Error(`${key}: found SHA-256 ${found}, expected ${expected} as its row says`);
      }
      writeFileSync(objectPath(folder, key), bytes, { flag: 'wx', mode: 0o600 });
      objects.push({ key, bytes: bytes.byteLength, sha256: found });
    }
  }
  return { objects, missing };
}

/** What lies on R2 for a row, with the hash that the row has of it. */
function objectsOf({ id, sha256, inputs_sha256: inputs }: Row): { key: string; expected?: string }[] {
  return [
    { key: `shared/${id}.json`, expected: String(sha256) },
    { key: `shared/${id}.png` },
    ...(typeof inputs === 'string' ? [{ key: `shared/${id}.inputs`, expected: inputs }] : []),
  ];
}

/** Options of this command and of the one that restores. */
export function targetArguments(args: readonly string[]): { folder: string; options: TargetOptions } {
  const { values, positionals } = parseArgs({
    args: [...args],
    allowPositionals: true,
    options: {
      remote: { type: 'boolean', default: false },
      state: { type: 'string', default: `${projectFolder}.rimeway/state` },
      config: { type: 'string' },
    },
  });
  const [folder] = positionals;
  if (folder === undefined || positionals.length > 1) throw new Error('folder: expected one');
  if (values.remote && values.config === undefined) {
    throw new Error('--config: expected the file of the deployment with --remote');
  }
  const stateFolder = values.remote ? undefined : values.state;
  return { folder, options: { stateFolder, configFile: values.config ?? `${projectFolder}wrangler.toml` } };
}

if (import.meta.filename === process.argv[1]) {
  try {
    const { folder, options } = targetArguments(process.argv.slice(2));
    const { tables, objects, missing } = await backUp(options, folder);
    const rows = Object.values(tables).reduce((sum, each) => sum + each.rows, 0);
    process.stdout.write(
      `${folder}: ${rows} rows of ${Object.keys(tables).length} tables, ${objects.length} objects\n`,
    );
    for (const key of missing) process.stderr.write(`${key}: not there, though a row asks for it\n`);
    process.exitCode = missing.length === 0 ? 0 : 1;
  } catch (error) {
    process.stderr.write(`backup: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  }
}

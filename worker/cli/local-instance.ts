/** The whole service on this machine: the built Worker in workerd, with R2 and D1 in a folder, and the page. */
import { createHash, randomBytes } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import type { D1Database } from '@cloudflare/workers-types';
import { Miniflare } from 'miniflare';
import { unstable_getMiniflareWorkerOptions } from 'wrangler';
import { projectFolder } from './build.ts';

export interface LocalInstance {
  readonly baseUrl: string;
  /** Runs the schedule now, as the cron trigger does every few minutes. */
  readonly schedule: () => Promise<void>;
  /** Puts messages into the supply's queue. */
  readonly send: (bodies: readonly unknown[]) => Promise<void>;
  readonly stop: () => Promise<void>;
}

export interface LocalOptions {
  /** 0 takes a free port. */
  readonly port: number;
  /** Where R2 and D1 keep their files; undefined keeps everything in memory. */
  readonly stateFolder: string | undefined;
  /** Operator name to its key, in the clear; only the hashes reach the Worker. */
  readonly keys: Readonly<Record<string, string>>;
  readonly operatingArea?: string;
  /** Settings of the supply that differ from wrangler.toml. */
  readonly supply?: Readonly<Partial<Record<SupplySetting, string>>>;
  /** Elevation tiles; none by default. */
  readonly terrain?: Readonly<Partial<Record<TerrainSetting, string>>>;
  /** Address that is told of alarms; none by default. */
  readonly alarmUrl?: string;
  /** Takes what the Worker logs, in the place of the terminal. */
  readonly onLog?: (text: string) => void;
}

type TerrainSetting = 'TERRAIN_TILES_URL' | 'TERRAIN_ATTRIBUTION';
type SupplySetting =
  | ('SUPPLY_MODELS' | 'SUPPLY_HORIZON_HOURS' | 'SUPPLY_BASE_URL')
  | ('BULLETIN_URLS' | 'REPORTS_KEPT_HOURS');

export function newKey(): string {
  return randomBytes(24).toString('base64url');
}

export async function startInstance(options: LocalOptions): Promise<LocalInstance> {
  const { workerOptions } = unstable_getMiniflareWorkerOptions(`${projectFolder}wrangler.toml`);
  const hashes = Object.fromEntries(
    Object.entries(options.keys).map(([operator, key]) => [
      operator,
      createHash('sha256').update(key).digest('hex'),
    ]),
  );
  const miniflare = new Miniflare({
    ...workerOptions,
    modules: workerModules(),
    bindings: {
      ...workerOptions.bindings,
      OPERATOR_KEY_HASHES: JSON.stringify(hashes),
      OPEN_OPERATORS: 'demo,local,open',
      OPERATING_AREA: options.operatingArea ?? '',
      ...options.supply,
      ...options.terrain,
      ALARM_URL: options.alarmUrl ?? '',
    },
    host: '127.0.0.1',
    port: options.port,
    ...logsOf(options),
    ...(options.stateFolder === undefined ? {} : { defaultPersistRoot: options.stateFolder }),
  });
  const url = await miniflare.ready;
  await migrate((await miniflare.getD1Database('DB')) as unknown as D1Database);
  return {
    baseUrl: url.origin.replace('127.0.0.1', 'localhost'),
    schedule: async () => {
      const worker = await miniflare.getWorker();
      await worker.scheduled({ cron: '*/5 * * * *' });
    },
    send: async (bodies) => {
      const queue = await miniflare.getQueueProducer<unknown>('SUPPLY_QUEUE');
      await queue.sendBatch(bodies.map((body) => ({ body })));
    },
    stop: () => miniflare.dispose(),
  };
}

function logsOf({ onLog }: LocalOptions) {
  if (onLog === undefined) return {};
  return {
    handleRuntimeStdio: (...streams: readonly NodeJS.ReadableStream[]) => {
      for (const stream of streams) stream.on('data', (chunk) => onLog(String(chunk)));
    },
  };
}

/** The bundle's script, and whatever it imports beside it (WebAssembly). */
function workerModules() {
  const folder = `${projectFolder}worker/dist/`;
  const wasm = readdirSync(folder).filter((name) => name.endsWith('.wasm'));
  return [
    { type: 'ESModule' as const, path: `${folder}index.js` },
    ...wasm.map((name) => ({ type: 'CompiledWasm' as const, path: folder + name })),
  ];
}

/** Applies each migration once; the table is the one that the deploy tool keeps, so both agree on what was applied. */
export async function migrate(db: D1Database): Promise<void> {
  const folder = `${projectFolder}worker/store/migrations/`;
  await db
    .prepare(
      `CREATE TABLE IF NOT EXISTS d1_migrations (id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT UNIQUE,
       applied_at TIMESTAMP DEFAULT CURRENT_TIMESTAMP NOT NULL)`,
    )
    .run();
  const { results } = await db.prepare('SELECT name FROM d1_migrations').all<{ name: string }>();
  const applied = new Set(results.map((row) => row.name));
  for (const name of readdirSync(folder).sort()) {
    if (applied.has(name)) continue;
    const statements = readFileSync(folder + name, 'utf8')
      .replace(/^--.*$/gm, '')
      .split(';')
      .map((statement) => statement.trim())
      .filter((statement) => statement !== '');
    await db.batch([
      ...statements.map((statement) => db.prepare(statement)),
      db.prepare('INSERT INTO d1_migrations (name) VALUES (?1)').bind(name),
    ]);
  }
}

/** The deploy tool, called as a person calls it: databases and buckets, on this machine or in the account. */
import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { experimental_readRawConfig } from 'wrangler';
import { projectFolder } from './build.ts';

/** A row as the database gives it in JSON. */
export type Row = Readonly<Record<string, string | number | null>>;

export interface TargetOptions {
  /** undefined: the account that the tool is logged in to. */
  readonly stateFolder: string | undefined;
  /** Of wrangler.toml's form: names of the database and the bucket, and which account they are in. */
  readonly configFile: string;
}

/** A database with its bucket. */
export interface Target {
  /** One call for all; the rows of each statement. @throws Error with the tool's words. */
  query(statements: readonly string[]): Promise<Row[][]>;
  runFile(path: string): Promise<void>;
  migrate(): Promise<void>;
  /** @returns undefined where there is no such object. */
  object(key: string): Promise<Uint8Array | undefined>;
  putObject(key: string, path: string): Promise<void>;
  /** Removes what was made for the calls. */
  close(): void;
}

const MOST_OUTPUT_BYTES = 512 * 1024 * 1024;

/** Runs the tool of this clone. @throws Error with what it said. */
export function wrangler(args: readonly string[]): Promise<string> {
  const tool = `${projectFolder}node_modules/.bin/wrangler`;
  const env = { ...process.env, WRANGLER_SEND_METRICS: 'false', WRANGLER_HIDE_BANNER: 'true', CI: '1' };
  const options = { cwd: projectFolder, env, maxBuffer: MOST_OUTPUT_BYTES, encoding: 'utf8' } as const;
  return new Promise((done, fail) => {
    execFile(process.execPath, [tool, ...args], options, (error, stdout, stderr) => {
      if (error === null) return done(stdout);
      const said = `${stdout}${stderr}`.trim().slice(-1000) || error.message;
      fail(new Error(`wrangler ${args.slice(0, 2).join(' ')}: ${said}`, { cause: error }));
    });
  });
}

/** @throws Error when the configuration names no database or no bucket. */
export function openTarget({ stateFolder, configFile }: TargetOptions): Target {
  const { database, bucket } = namesOf(configFile);
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-'));
  const config = ['--config', resolve(configFile)];
  const where = [...config, ...(stateFolder === undefined ? ['--remote'] : localFlags(stateFolder, folder))];
  return {
    async query(statements) {
      const text = await wrangler([
        ...['d1', 'execute', database, ...where, '--yes', '--json', '--command', statements.join(';\n')],
      ]);
      const answers = JSON.parse(text) as readonly { results: Row[] }[];
      if (answers.length !== statements.length) {
        throw new Error(`answers: found ${answers.length}, expected ${statements.length}`);
      }
      return answers.map(({ results }) => results);
    },
    async runFile(path) {
      await wrangler(['d1', 'execute', database, ...where, '--yes', '--file', path]);
    },
    async migrate() {
      await wrangler(['d1', 'migrations', 'apply', database, ...where]);
    },
    async object(key) {
      const path = join(folder, 'object');
      try {
        await wrangler(['r2', 'object', 'get', `${bucket}/${key}`, ...where, '--file', path]);
        return new Uint8Array(readFileSync(path));
      } catch (error) {
        if (error instanceof Error && /key does not exist/.test(error.message)) return undefined;
        throw error;
      } finally {
        rmSync(path, { force: true });
      }
    },
    async putObject(key, path) {
      await wrangler(['r2', 'object', 'put', `${bucket}/${key}`, ...where, '--file', path]);
    },
    close: () => rmSync(folder, { recursive: true, force: true }),
  };
}

/** The tool keeps its local state in a folder `v3` of the one that it is given. */
function localFlags(stateFolder: string, folder: string): string[] {
  mkdirSync(stateFolder, { recursive: true, mode: 0o700 });
  symlinkSync(resolve(stateFolder), join(folder, 'v3'));
  return ['--local', '--persist-to', folder];
}

function namesOf(configFile: string): { readonly database: string; readonly bucket: string } {
  const { rawConfig } = experimental_readRawConfig({ config: resolve(configFile) });
  const database = rawConfig.d1_databases?.[0]?.database_name;
  const bucket = rawConfig.r2_buckets?.[0]?.bucket_name;
  if (database === undefined || bucket === undefined) {
    throw new Error(`${configFile}: expected a D1 database and an R2 bucket with names`);
  }
  return { database, bucket };
}

/**
 * `npm run deploy:config -- --database-id UUID --domain HOST [...]`: writes .rimeway/wrangler.deploy.json, which is wrangler.toml with
 * what belongs to one account. That file is not in git, and no secret is in it.
 */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { experimental_readRawConfig, type Unstable_RawConfig as RawConfig } from 'wrangler';
import { SECRET_SETTINGS } from '../env.ts';
import { projectFolder } from './build.ts';

/** What one deployment has of its own. */
export interface Deployment {
  /** UUID, as `wrangler d1 create` tells it. */
  readonly databaseId: string;
  /** Host name of a zone of the account; undefined: the address that the platform gives. */
  readonly domain: string | undefined;
  /** Of the Worker; bucket, database and queues have names of their own. */
  readonly name: string | undefined;
  /** NAME=VALUE of plain settings. */
  readonly settings: readonly string[];
}

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;
const NOBODYS_UUID = '00000000-0000-0000-0000-000000000000';
const HOST = /^(?=.{4,253}$)([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)+[a-z]{2,63}$/;

/** @throws Error that names the option, what was found and what was expected. */
export function deployConfig(base: RawConfig, deployment: Deployment, folder: string): RawConfig {
  const { databaseId, domain, name } = deployment;
  refuseOdd(deployment);
  const secrets: readonly string[] = SECRET_SETTINGS;
  const plain = Object.entries(base.vars ?? {}).filter(([setting]) => !secrets.includes(setting));
  const inFolder = (path: string) => join(folder, path);
  return {
    ...base,
    ...(name === undefined ? {} : { name }),
    main: join(folder, base.main ?? ''),
    ...(base.assets === undefined
      ? {}
      : { assets: { ...base.assets, directory: join(folder, base.assets.directory ?? '') } }),
    ...(base.alias === undefined
      ? {}
      : {
          alias: Object.fromEntries(Object.entries(base.alias).map(([from, to]) => [from, inFolder(to)])),
        }),
    d1_databases: (base.d1_databases ?? []).map((database) => ({
      ...database,
      database_id: databaseId,
      migrations_dir: join(folder, database.migrations_dir ?? ''),
    })),
    vars: { ...Object.fromEntries(plain), ...settingsOf(deployment.settings, base) },
    ...(domain === undefined
      ? {}
      : { workers_dev: false, routes: [{ pattern: domain, custom_domain: true }] }),
  };
}

function refuseOdd({ databaseId, domain, name }: Deployment): void {
  if (!UUID.test(databaseId) || databaseId === NOBODYS_UUID) {
    throw new Error(`--database-id: found ${JSON.stringify(databaseId)}, expected the UUID of a database`);
  }
  if (domain !== undefined && !HOST.test(domain)) {
    throw new Error(`--domain: found ${JSON.stringify(domain)}, expected a host name in small letters`);
  }
  if (name !== undefined && !/^[a-z0-9][a-z0-9-]{0,53}$/.test(name)) {
    throw new Error(`--name: found ${JSON.stringify(name)}, expected small letters, figures and hyphens`);
  }
}

function settingsOf(settings: readonly string[], { vars }: RawConfig): Record<string, string> {
  const secrets: readonly string[] = SECRET_SETTINGS;
  return Object.fromEntries(
    settings.map((setting) => {
      const at = setting.indexOf('=');
      const name = setting.slice(0, Math.max(0, at));
      // The value is not told: it may be one that was meant for a secret.
      if (secrets.includes(name)) throw new Error(`--set ${name}: expected it as a secret`);
      if (vars?.[name] === undefined)
        throw new Error(`--set: expected NAME=VALUE with a name of wrangler.toml`);
      return [name, setting.slice(at + 1)];
    }),
  );
}

/** Reads wrangler.toml as the deploy tool does. */
export function readBase(): RawConfig {
  return experimental_readRawConfig({ config: `${projectFolder}wrangler.toml` }).rawConfig;
}

function main(): void {
  const { values } = parseArgs({
    options: {
      'database-id': { type: 'string', default: '' },
      domain: { type: 'string' },
      name: { type: 'string' },
      set: { type: 'string', multiple: true, default: [] },
      out: { type: 'string', default: `${projectFolder}.rimeway/wrangler.deploy.json` },
    },
  });
  const deployment = {
    databaseId: values['database-id'],
    domain: values.domain,
    name: values.name,
    settings: values.set,
  };
  const config = deployConfig(readBase(), deployment, projectFolder);
  mkdirSync(`${projectFolder}.rimeway`, { recursive: true, mode: 0o700 });
  writeFileSync(values.out, `${JSON.stringify(config, null, 2)}\n`);
  process.stdout.write(`${values.out}\nto be set as secrets: ${SECRET_SETTINGS.join(', ')}\n`);
}

if (import.meta.filename === process.argv[1]) {
  try {
    main();
  } catch (error) {
    process.stderr.write(`deploy-config: ${error instanceof Error ? error.message : String(error)}\n`);
    process.exitCode = 1;
  }
}

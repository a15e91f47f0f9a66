/** What DEVELOPERS.md says of running the service, held against the deploy tool, the settings and the migrations. */
import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { experimental_getWranglerCommands } from 'wrangler';
import { deployConfig, readBase } from '../../worker/cli/deploy-config.ts';
import { SECRET_SETTINGS } from '../../worker/env.ts';
import { ALARM_CODES } from '../../worker/sources/alarms.ts';

const project = new URL('../../', import.meta.url).pathname;
const read = (path: string) => readFileSync(project + path, 'utf8');
const section = /## Running it for real\n([\s\S]*?)\n## /.exec(read('DEVELOPERS.md'))?.[1] ?? '';
const blocks = [...section.matchAll(/```sh\n([\s\S]*?)```/g)].flatMap(([, lines]) => lines!.split('\n'));
const inline = [...section.matchAll(/`(npx wrangler [^`]+|npm run [^`]+)`/g)].map(([, command]) => command!);
const commands = [...blocks, ...inline]
  .map((line) => line.replace(/\s+#.*$/, '').trim())
  .filter((line) => line !== '');
const wranglers = commands.filter((line) => line.startsWith('npx wrangler ')).map((line) => line.slice(13));

interface Node {
  readonly definition?: {
    readonly type: string;
    readonly args?: Record<string, { alias?: string | string[] }>;
    readonly positionalArgs?: readonly string[];
  };
  readonly subtree: ReadonlyMap<string, Node>;
}
const { registry, globalFlags } = experimental_getWranglerCommands() as unknown as {
  registry: Node;
  globalFlags: Record<string, unknown>;
};

/** What is wrong with a call of the tool; empty where nothing is. */
function faultsOf(command: string): string[] {
  const words = command.match(/"[^"]*"|\S+/g) ?? [];
  let node = registry;
  let at = 0;
  for (; at < words.length && node.subtree.has(words[at]!); at += 1) node = node.subtree.get(words[at]!)!;
  const { definition } = node;
  if (definition?.type !== 'command') return [`no command: ${command}`];
  const known = new Set([...Object.keys(definition.args ?? {}), ...Object.keys(globalFlags)]);
  const rest = words.slice(at);
  const odd = rest.filter(
    (word) => word.startsWith('-') && !known.has(word.replace(/^--/, '').replace(/=.*/, '')),
  );
  const values = rest.filter(
    (word, index) => !word.startsWith('-') && !isValueOf(rest[index - 1], definition.args),
  );
  const most = definition.positionalArgs?.length ?? 0;
  return [
    ...odd.map((flag) => `no such flag: ${flag} in ${command}`),
    ...(values.length > most ? [`too many words: ${command}`] : []),
  ];
}

const isValueOf = (flag: string | undefined, args: Record<string, unknown> | undefined) => {
  if (flag === undefined || !flag.startsWith('--')) return false;
  const name = flag.slice(2);
  const option = (args?.[name] ?? globalFlags[name]) as { type?: string } | undefined;
  return option?.type !== 'boolean';
};

describe('DEVELOPERS.md, Running it for real', () => {
  it('names commands and flags that the installed tool has', () => {
    expect(wranglers.length).toBeGreaterThan(25);
    expect(wranglers.flatMap(faultsOf)).toEqual([]);
  });

  it('is held by a check that knows a wrong command, a wrong flag and a word too many', () => {
    expect(
      [
        'd1 make rimeway',
        'd1 create rimeway --remot',
        'queues create a b',
        'deploy --dry-run --config',
      ].flatMap(faultsOf),
    ).toEqual([
      'no command: d1 make rimeway',
      'no such flag: --remot in d1 create rimeway --remot',
      'too many words: queues create a b',
    ]);
  });

  it('is written for the version of the tool that is installed', () => {
    const { version } = JSON.parse(read('node_modules/wrangler/package.json')) as { version: string };
    expect(section).toContain(`version ${version}`);
  });

  it('names scripts of package.json, and every one that runs the service', () => {
    const { scripts } = JSON.parse(read('package.json')) as { scripts: Record<string, string> };
    const named = new Set(commands.flatMap((line) => /^npm (?:run )?([a-z:]+)/.exec(line)?.[1] ?? []));
    expect([...named].filter((name) => name !== 'ci' && scripts[name] === undefined)).toEqual([]);
    for (const name of ['build', 'backup', 'restore', 'smoke', 'deploy:config', 'new:key'])
      expect(named).toContain(name);
  });

  it('creates every queue, bucket and database of wrangler.toml', () => {
    const base = readBase();
    const queues = [
      ...(base.queues?.producers ?? []).map(({ queue }) => queue),
      ...(base.queues?.consumers ?? []).flatMap(({ queue, dead_letter_queue }) => [queue, dead_letter_queue]),
    ].filter((name) => name !== undefined);
    expect(queues.length).toBeGreaterThan(0);
    for (const name of queues) expect(wranglers).toContain(`queues create ${name}`);
    for (const { bucket_name } of base.r2_buckets ?? [])
      expect(wranglers).toContain(`r2 bucket create ${bucket_name}`);
    for (const { database_name } of base.d1_databases ?? [])
      expect(wranglers).toContain(`d1 create ${database_name}`);
  });

  it('lists every secret, and every alarm with what to do', () => {
    const listed = [...section.matchAll(/^\| `([A-Z_]+)` \|/gm)].map(([, name]) => name!);
    expect(listed).toEqual([...SECRET_SETTINGS]);
    for (const code of ALARM_CODES) expect(section).toContain(`| \`${code}\` |`);
  });
});

describe('the configuration of a deployment', () => {
  const deployment = {
    databaseId: '11111111-2222-3333-4444-555555555555',
    domain: 'rimeway.example.org',
    name: undefined,
    settings: ['OPEN_OPERATORS=open'],
  };
  const config = deployConfig(readBase(), deployment, project);
  const members = [
    ...(/export interface Bindings \{([\s\S]*?)\n\}/.exec(read('worker/env.ts'))?.[1] ?? '').matchAll(
      /readonly (\w+):/g,
    ),
  ].map(([, name]) => name!);

  it('binds what the Worker reads, and leaves out what is to be secret', () => {
    const bound = [
      ...(config.d1_databases ?? []).map(({ binding }) => binding),
      ...(config.r2_buckets ?? []).map(({ binding }) => binding),
      ...(config.queues?.producers ?? []).map(({ binding }) => binding),
      ...(config.durable_objects?.bindings ?? []).map(({ name }) => name),
      config.assets?.binding,
      ...Object.keys(config.vars ?? {}),
    ];
    expect([...bound, ...SECRET_SETTINGS].sort()).toEqual([...members].sort());
  });

  it('takes every setting that sounds like a secret for one', () => {
    const secrets: readonly string[] = SECRET_SETTINGS;
    expect(
      members.filter(
        (name) => /(?<!PUBLIC_)KEY|SECRET|PRIVATE|TOKEN|SIGN_IN/.test(name) && !secrets.includes(name),
      ),
    ).toEqual([]);
  });

  it('has the database, the domain, absolute paths and the settings given', () => {
    expect(config).toMatchObject({
      main: `${project}worker/index.ts`,
      d1_databases: [
        { database_id: deployment.databaseId, migrations_dir: `${project}worker/store/migrations` },
      ],
      routes: [{ pattern: 'rimeway.example.org', custom_domain: true }],
      workers_dev: false,
      triggers: { crons: ['*/5 * * * *'] },
      vars: { OPEN_OPERATORS: 'open', SUPPLY_OPERATOR: 'open' },
    });
    expect(deployConfig(readBase(), { ...deployment, domain: undefined }, project)).toMatchObject({
      workers_dev: true,
    });
  });

  it.each([
    [{ databaseId: '' }, /--database-id: found ""/],
    [{ databaseId: '00000000-0000-0000-0000-000000000000' }, /expected the UUID of a database/],
    [{ domain: 'https://rimeway.example.org/' }, /--domain: found/],
    [{ domain: 'localhost' }, /--domain: found/],
    [{ name: '-x' }, /--name: found/],
    [{ settings: ['ALARM_URL=https://a.example/topsecret'] }, /^--set ALARM_URL: expected it as a secret$/],
    [{ settings: ['NOPE=topsecret'] }, /^--set: expected NAME=VALUE with a name of wrangler.toml$/],
    [{ settings: ['OPEN_OPERATORS'] }, /^--set: expected NAME=VALUE/],
  ])('refuses %j', (changes, message) => {
    const error = (() => {
      try {
        deployConfig(readBase(), { ...deployment, ...changes }, project);
      } catch (thrown) {
        return thrown as Error;
      }
      return new Error('taken');
    })();
    expect(error.message).toMatch(message);
  });
});

describe('migrations', () => {
  const folder = 'worker/store/migrations/';
  const files = readdirSync(project + folder).sort();
  /** What a Worker of the version before may not find any more, or cannot write. */
  const breaks = (sql: string) =>
    sql
      .replace(/--.*$/gm, '')
      .split(';')
      .map((statement) => statement.replace(/\s+/g, ' ').trim())
      .filter(
        (statement) =>
          /\b(DROP|RENAME|DELETE|UPDATE|REPLACE)\b/i.test(statement) ||
          (/\bADD COLUMN\b/i.test(statement) &&
            /\bNOT NULL\b/i.test(statement) &&
            !/\bDEFAULT\b/i.test(statement)),
      );

  it.each(files.filter((name) => !name.startsWith('0002_')))(
    '%s only adds: the version before runs on it',
    (name) => {
      expect(breaks(read(folder + name))).toEqual([]);
    },
  );

  it('are numbered without a gap, and the one that does more is the one that DEVELOPERS.md names', () => {
    expect(files.map((name) => Number(name.slice(0, 4)))).toEqual(files.map((_, at) => at + 1));
    expect(breaks(read(`${folder}0002_temp_reports.sql`))).toHaveLength(2);
    expect(section).toContain('only 0002 does otherwise');
  });

  it('are held by a check that knows what breaks', () => {
    expect(
      breaks('ALTER TABLE a ADD COLUMN b TEXT NOT NULL; DELETE FROM a; CREATE TABLE c (d TEXT); -- DROP\n'),
    ).toHaveLength(2);
  });
});

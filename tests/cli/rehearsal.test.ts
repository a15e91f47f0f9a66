/** The life of a service as DEVELOPERS.md tells it, as far as no account is needed. Expects `npm run build` to have run. */
import { mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { backUp } from '../../worker/cli/backup.ts';
import { projectFolder } from '../../worker/cli/build.ts';
import { loadDemo } from '../../worker/cli/demo.ts';
import { deployConfig, readBase } from '../../worker/cli/deploy-config.ts';
import { type LocalInstance, newKey, startInstance } from '../../worker/cli/local-instance.ts';
import { restore } from '../../worker/cli/restore.ts';
import { sqlOfRow } from '../../worker/cli/row-sql.ts';
import { smoke } from '../../worker/cli/smoke.ts';
import { openTarget, type Row, wrangler } from '../../worker/cli/wrangler-tool.ts';
import type { CreatedBrief } from '../../worker/schema/shared-brief.ts';

const folder = mkdtempSync(join(tmpdir(), 'rehearsal-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const configFile = `${projectFolder}wrangler.toml`;
const state = (name: string) => ({ stateFolder: join(folder, name), configFile });
const backup = join(folder, 'backup');
const keys = { local: newKey(), demo: newKey() };
const atUtc = '2026-01-14T11:30:00Z';

const ODD = 'a\\nb\nc\r\n"\'; -- /* \u0000 \u{1f9ca} é';
/** Texts that files of SQL get wrong, and one over the length that a statement may have. */
const ODD_ROWS: readonly Row[] = [
  { operator: 'odd', ident: 'ONE', name: ODD, lat_deg: -0.1, lon_deg: 1e-7, elevation_m: null },
  {
    operator: 'odd',
    ident: 'TWO',
    name: `${'\u{1f9ca}'.repeat(70_001)}x${ODD}`,
    lat_deg: 45,
    lon_deg: 123.456789012345,
    elevation_m: 0,
  },
];

async function start(name: string): Promise<LocalInstance> {
  return startInstance({ port: 0, stateFolder: join(folder, name), keys });
}

/** Faults of a smoke check; a version without boards has that one. */
async function faultsAt({ baseUrl }: LocalInstance): Promise<string[]> {
  const steps = await smoke({ baseUrl, key: keys.local, route: 'KBTV DCT KBGR', atUtc, isStrict: false });
  expect(steps.map(({ name }) => name)).toEqual([
    'health',
    'page',
    'brief',
    'shared brief',
    'metrics',
    'board',
  ]);
  return steps.flatMap(({ name, fault }) => (fault === undefined ? [] : [`${name}: ${fault}`]));
}

const bytesOf = async ({ baseUrl }: LocalInstance, path: string) =>
  Buffer.from(await (await fetch(baseUrl + path)).arrayBuffer());

async function share({ baseUrl }: LocalInstance): Promise<CreatedBrief> {
  const body = JSON.stringify({
    route: 'KBTV DCT KBGR',
    departure: { atUtc },
    aircraft: 'generic-fluid-turboprop',
    options: { fluidOnBoardL: 80 },
  });
  const response = await fetch(`${baseUrl}/api/briefs`, { method: 'POST', body });
  expect(response.status).toBe(201);
  return (await response.json()) as CreatedBrief;
}

it('is deployed without uploading, with the configuration of one account', async () => {
  const file = join(folder, 'wrangler.deploy.json');
  const deployment = {
    databaseId: '11111111-2222-3333-4444-555555555555',
    domain: 'rimeway.example.org',
    name: undefined,
    settings: [],
  };
  writeFileSync(file, JSON.stringify(deployConfig(readBase(), deployment, projectFolder)));
  const said = await wrangler(['deploy', '--dry-run', '--config', file, '--outdir', join(folder, 'dist')]);
  expect(said).toContain('env.DB (rimeway)');
  expect(said).not.toContain('OPERATOR_KEY_HASHES');
  expect(statSync(join(folder, 'dist/index.js')).size).toBeGreaterThan(100_000);
});

it('runs on a new state, is backed up, and after a restore gives the same bytes', async () => {
  const first = await start('first');
  await first.schedule();
  await loadDemo(first.baseUrl, keys.demo);
  expect(await faultsAt(first)).toEqual([]);
  const { id } = await share(first);
  const before = await Promise.all(
    [`/api/briefs/${id}`, `/b/${id}/picture.png`].map((path) => bytesOf(first, path)),
  );
  await first.stop();
  const target = openTarget(state('first'));
  const rows = join(folder, 'odd.sql');
  writeFileSync(rows, ODD_ROWS.flatMap((row) => sqlOfRow('places', row)).join('\n'));
  await target.runFile(rows);
  target.close();

  const manifest = await backUp(state('first'), backup);
  expect(manifest.missing).toEqual([]);
  // The one that the smoke check shared was taken back.
  expect(manifest.objects.map(({ key }) => key)).toEqual(
    ['json', 'png', 'inputs'].map((ending) => `shared/${id}.${ending}`),
  );
  expect(manifest.tables.soundings!.rows).toBeGreaterThan(1);
  expect(Object.keys(manifest.tables)).not.toContain('grid_hours');
  expect(statSync(backup).mode & 0o077).toBe(0);
  expect(
    readFileSync(join(backup, 'tables/places.jsonl'), 'utf8')
      .split('\n')
      .slice(-3, -1)
      .map((line) => JSON.parse(line)),
  ).toEqual(ODD_ROWS);

  expect(await restore(state('second'), backup)).toEqual(manifest);
  const second = await start('second');
  expect(await faultsAt(second)).toEqual([]);
  const after = await Promise.all(
    [`/api/briefs/${id}`, `/b/${id}/picture.png`].map((path) => bytesOf(second, path)),
  );
  expect(after.map((bytes, at) => bytes.equals(before[at]!))).toEqual([true, true]);
  expect(before.every((bytes) => bytes.byteLength > 1000)).toBe(true);
  await second.stop();
}, 300_000);

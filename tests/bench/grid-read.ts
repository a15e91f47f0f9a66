/**
 * The columns of a leg of 300 NM out of two stored hours at 3 km: ranged reads of R2 as workerd emulates it, checks, inflating and
 * interpolating. CPU of workerd's process, with and without what the emulation of R2 takes: calls that read the same and use nothing.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { R2Bucket } from '@cloudflare/workers-types';
import { Miniflare } from 'miniflare';
import { runTool } from '../../worker/cli/build.ts';
import { createObjectStore } from '../../worker/store/object-store.ts';
import { workerdCpuS } from '../support/cpu-clock.ts';
import { fineHour } from '../support/fine-hour.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { storeHour } from '../support/stored-hour.ts';

const HOURS = 2;
const ROUNDS = 5;
const CALLS = 40;

async function startWorkerd(): Promise<{ instance: Miniflare; folder: string }> {
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-grid-read-'));
  runTool('wrangler', ['deploy', 'tests/bench/grid-read-worker.ts', '--dry-run', '--outdir', folder], {
    WRANGLER_SEND_METRICS: 'false',
  });
  const script = readFileSync(join(folder, 'grid-read-worker.js'), 'utf8');
  const compatibilityDate = '2026-07-01';
  return {
    instance: new Miniflare({ modules: true, script, compatibilityDate, r2Buckets: ['GRIDS'] }),
    folder,
  };
}

/** @returns keys of the manifests. */
async function storeHours(instance: Miniflare): Promise<string[]> {
  const objects = createObjectStore((await instance.getR2Bucket('GRIDS')) as unknown as R2Bucket);
  const keys: string[] = [];
  for (let hour = 0; hour < HOURS; hour += 1) {
    const made = await fineHour({ seed: hour + 1, validMs: hour * 3_600_000 });
    const { prefix } = await storeHour(made, { ...createMemoryStores(), objects });
    keys.push(`${prefix}manifest.json`);
  }
  return keys;
}

const { instance, folder } = await startWorkerd();
const url = (await instance.ready).href;
const keys = (await storeHours(instance)).map((key) => `key=${encodeURIComponent(key)}`).join('&');

/** CPU of a call, ms. */
async function spentMs(what: 'columns' | 'ranges', calls: number): Promise<number> {
  const before = workerdCpuS();
  for (let call = 0; call < calls; call += 1) {
    const answer = await fetch(`${url}?what=${what}&${keys}`);
    if (!answer.ok) throw new Error(`the Worker of the benchmark: ${await answer.text()}`);
    await answer.text();
  }
  return ((workerdCpuS() - before) * 1000) / calls;
}

const coldMs = await spentMs('columns', 1);
const all: number[] = [];
const own: number[] = [];
for (let round = 0; round < ROUNDS; round += 1) {
  const ms = await spentMs('columns', CALLS);
  all.push(ms);
  own.push(ms - (await spentMs('ranges', CALLS)));
}
const span = (values: number[]) =>
  `${Math.min(...values).toFixed(1)} to ${Math.max(...values).toFixed(1)} ms`;
const answer = (await (await fetch(`${url}?what=columns&${keys}`)).json()) as { known: number; sum: number };
process.stdout.write(
  `columns of ${HOURS} hours, workerd CPU: ${coldMs.toFixed(0)} ms cold, ${span(all)} warm (${ROUNDS} rounds of ${CALLS} calls)\n` +
    `of these, less what R2 takes here: ${span(own)}; ${answer.known} columns known, checksum ${answer.sum.toFixed(0)}\n`,
);
await instance.dispose();
rmSync(folder, { recursive: true });

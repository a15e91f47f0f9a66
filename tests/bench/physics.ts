/**
 * The physics of a curtain in four sizes: profiles to columns, the middle estimate, and 64 draws. In Node by the clock, in
 * workerd by the CPU time of its process.
 */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Miniflare } from 'miniflare';
import { runTool } from '../../worker/cli/build.ts';
import { workerdCpuS } from '../support/cpu-clock.ts';
import { type CurtainStages, makeStages } from './physics-curtain.ts';

const SIZES = [
  [30, 40],
  [60, 40],
  [120, 40],
  [60, 64],
] as const;
const RUNS: Readonly<Record<keyof CurtainStages, number>> = { columns: 300, physics: 300, draws: 40 };
const STAGES = Object.keys(RUNS) as (keyof CurtainStages)[];
const ROUNDS = 5;

const median = (values: number[]) => values.sort((a, b) => a - b)[Math.floor(values.length / 2)]!;

/** Milliseconds of one run: the middle of some rounds after a first one to warm up. */
async function timed(spentMs: (runs: number) => Promise<number> | number, runs: number): Promise<number> {
  await spentMs(runs);
  const rounds: number[] = [];
  for (let round = 0; round < ROUNDS; round += 1) rounds.push((await spentMs(runs)) / runs);
  return median(rounds);
}

let checksum = 0;

function inNode(run: () => number): (runs: number) => number {
  return (runs) => {
    const start = performance.now();
    for (let count = 0; count < runs; count += 1) checksum += run();
    return performance.now() - start;
  };
}

async function startWorkerd(): Promise<{ instance: Miniflare; folder: string }> {
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-physics-'));
  runTool('wrangler', ['deploy', 'tests/bench/physics-worker.ts', '--dry-run', '--outdir', folder], {
    WRANGLER_SEND_METRICS: 'false',
  });
  const script = readFileSync(join(folder, 'physics-worker.js'), 'utf8');
  return { instance: new Miniflare({ modules: true, script, compatibilityDate: '2026-07-01' }), folder };
}

const { instance, folder } = await startWorkerd();
const url = await instance.ready;
for (const [points, cells] of SIZES) {
  const stages = makeStages(points, cells);
  const figures: string[] = [];
  for (const stage of STAGES) {
    const inWorkerd = async (runs: number) => {
      const before = workerdCpuS();
      const answer = await fetch(`${url}?stage=${stage}&points=${points}&cells=${cells}&runs=${runs}`);
      checksum += Number(await answer.text());
      return (workerdCpuS() - before) * 1000;
    };
    const nodeMs = await timed(inNode(stages[stage]), RUNS[stage]);
    const workerdMs = await timed(inWorkerd, RUNS[stage]);
    const cellNs = (workerdMs * 1e6) / (points * cells);
    figures.push(
      `${stage} ${nodeMs.toFixed(2)} / ${workerdMs.toFixed(2)} ms (${cellNs.toFixed(0)} ns a cell)`,
    );
  }
  process.stdout.write(`${points} x ${cells} cells, Node / workerd CPU: ${figures.join(', ')}\n`);
}
await instance.dispose();
rmSync(folder, { recursive: true });
process.stdout.write(`checksum ${checksum.toFixed(3)}\n`);

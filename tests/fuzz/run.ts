/**
 * Mutated inputs by the million: `node tests/fuzz/run.ts FORMAT [COUNT] [DATA_FOLDER] [SEED]`, or `all` for every format.
 *
 * Every input is read in this process; one that throws, takes longer or allocates more than its target allows is kept in the
 * folder of temporary files and named. The same seed gives the same inputs.
 */
import { readdirSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { FuzzTarget } from './fuzz-target.ts';
import { mutateBytes, randomFrom } from './mutate-bytes.ts';

const FIXED_MS = 50;
const FIXED_BYTES = 16 * 2 ** 20;
const MOST_DEFECTS = 20;

const [format = 'all', countText = '1000000', dataFolder, seedText = '1'] = process.argv.slice(2);
const targetFolder = new URL('./targets/', import.meta.url);

async function targets(): Promise<FuzzTarget[]> {
  const names = readdirSync(targetFolder).filter((name) => name.endsWith('.ts'));
  const modules = await Promise.all(
    names.map((name) => import(new URL(name, targetFolder).href) as Promise<{ target: FuzzTarget }>),
  );
  return modules.map((each) => each.target).filter(({ name }) => format === 'all' || name === format);
}

/** CPU of this thread, ms: a busy machine makes no defect. */
function cpuMs(): number {
  const { user, system } = process.threadCpuUsage();
  return (user + system) / 1000;
}

/** What is wrong with reading an input; undefined when nothing is. */
function defectOf(target: FuzzTarget, bytes: Uint8Array): string | undefined {
  const startMs = cpuMs();
  const before = process.memoryUsage();
  try {
    target.read(bytes);
  } catch (error) {
    return error instanceof Error ? `${error.name}: ${error.message}` : String(error);
  }
  const spentMs = cpuMs() - startMs;
  const after = process.memoryUsage();
  const grownBytes = after.arrayBuffers - before.arrayBuffers + Math.max(0, after.heapUsed - before.heapUsed);
  if (spentMs > FIXED_MS + target.mostMsPerByte * bytes.length) return `took ${spentMs.toFixed(0)} ms`;
  if (grownBytes > FIXED_BYTES + target.mostBytesPerByte * bytes.length)
    return `allocated ${grownBytes} bytes`;
  return undefined;
}

async function fuzz(target: FuzzTarget, count: number, seed: number): Promise<number> {
  const random = randomFrom(seed);
  const seeds = await target.seeds(dataFolder);
  if (seeds.length === 0) throw new Error(`${target.name}: no seeds`);
  const startMs = performance.now();
  let defects = 0;
  let number = 0;
  for (; number < count && defects < MOST_DEFECTS; number += 1) {
    const from = seeds[random.below(seeds.length)]!;
    const knows = target.mutate !== undefined && random.below(2) === 0;
    const bytes = knows
      ? target.mutate!(from.slice(), random)
      : mutateBytes(from, seeds[random.below(seeds.length)]!, random);
    const defect = defectOf(target, bytes);
    if (defect === undefined) continue;
    defects += 1;
    const path = join(tmpdir(), `fuzz-${target.name}-${seed}-${number}.bin`);
    writeFileSync(path, bytes);
    process.stdout.write(`${target.name} input ${number}: ${defect}; kept as ${path}\n`);
  }
  const seconds = (performance.now() - startMs) / 1000;
  process.stdout.write(
    `${target.name}: ${number} inputs from ${seeds.length} seeds in ${seconds.toFixed(0)} s, ${defects} defects\n`,
  );
  return defects;
}

let total = 0;
for (const target of await targets()) total += await fuzz(target, Number(countText), Number(seedText));
process.exit(total === 0 ? 0 : 1);

/**
 * Reading BUFR files to ascents, ours beside ecCodes: the same files, turn by turn in one run, each in a process of its own.
 * Ours is timed from the bytes of the file to its ascents, thinned as they are stored. ecCodes is timed twice: opening and
 * unpacking every message and taking its levels as arrays through Python, and `bufr_dump -p` with its output thrown away.
 *
 * All by CPU time, the median of batches. The sums of all temperatures must agree, or the times compare different work.
 *
 *   node tests/bench/bufr.ts FOLDER        a folder of .bufr files; without one, an ascent made here
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { createInterface } from 'node:readline';
import { type BufrSubset, decodeMessage } from '../../worker/formats/bufr/decode-message.ts';
import { MessageBuffer } from '../../worker/formats/bufr/message-buffer.ts';
import { readBufr } from '../../worker/formats/bufr/read-bufr.ts';
import { readSections } from '../../worker/formats/bufr/sections.ts';
import { thinnedSounding } from '../../worker/formats/thin/thin-sounding.ts';
import { joined, writeBufrAscent } from '../support/bufr-ascent.ts';
import { ECCODES_PYTHON } from '../support/eccodes.ts';

const TIMING_SCRIPT = new URL('../support/eccodes-bufr-timing.py', import.meta.url).pathname;
const BATCHES = 7;
/** Long beside the steps in which the kernel counts CPU time. */
const BATCH_US = 300_000;

const folder = process.argv[2];
if (folder === undefined) benchMadeFile();
else await bench(filesOf(folder));

function filesOf(path: string): string[] {
  return readdirSync(path)
    .filter((name) => name.endsWith('.bufr'))
    .map((name) => join(path, name));
}

/** Fifty ascents of a hundred levels. */
function benchMadeFile(): void {
  const levels = Array.from({ length: 100 }, (_, n) => ({
    seconds: 20 * n,
    hPa: 1000 - 9 * n,
    heightM: 100 * n,
    temperatureC: 10 - 0.6 * n,
    dewPointC: 8 - 0.7 * n,
    windDeg: 180,
    windMps: 10,
  }));
  const made = mkdtempSync(join(tmpdir(), 'rimeway-bench-'));
  const path = join(made, 'made.bufr');
  writeFileSync(
    path,
    joined(...Array.from({ length: 50 }, (_, n) => writeBufrAscent({ station: n, levels }))),
  );
  void bench([path]).finally(() => rmSync(made, { recursive: true }));
}

async function bench(paths: readonly string[]): Promise<void> {
  print([
    'file',
    'messages',
    'levels',
    'ours msg/s',
    'cold ms',
    'decode %',
    'ascent %',
    'thin %',
    'python',
    'bufr_dump',
  ]);
  const eccodes = openEccodes();
  for (const path of paths) {
    const bytes = new Uint8Array(readFileSync(path));
    const coldUs = cpuUs(() => {
      read(bytes);
    });
    const times = timesIn(() => read(bytes).sum);
    const ours: number[] = [];
    const values: number[] = [];
    const dump: number[] = [];
    const parts: { decode: number[]; ascent: number[] } = { decode: [], ascent: [] };
    for (let batch = 0; batch < BATCHES; batch += 1) {
      ours.push(cpuUs(() => repeat(times, () => read(bytes).sum)) / times);
      parts.decode.push(cpuUs(() => repeat(times, () => decodeAlone(bytes))) / times);
      parts.ascent.push(cpuUs(() => repeat(times, () => ascentsAlone(bytes))) / times);
      values.push((await eccodes.time('values', path, 1))[0]);
      dump.push((await eccodes.time('dump', path, 1))[0]);
    }
    const [, messages, temperatures] = await eccodes.time('values', path, 1);
    const { levels, ascents } = read(bytes);
    if (messages !== ascents) throw new Error(`${path}: ${ascents} ascents beside ${messages} messages`);
    const own = decodeAlone(bytes);
    if (Math.abs(own - temperatures) > 1e-9 * own)
      throw new Error(`${path}: sums ${own} and ${temperatures} differ`);
    const [oursUs, decodeUs, ascentUs] = [median(ours), median(parts.decode), median(parts.ascent)];
    const share = (us: number) => `${((100 * us) / oursUs).toFixed(0)}`;
    print([
      basename(path),
      `${messages}`,
      `${levels}`,
      ((messages / oursUs) * 1e6).toFixed(0),
      (coldUs / 1000).toFixed(0),
      share(decodeUs),
      share(ascentUs - decodeUs),
      share(oursUs - ascentUs),
      (median(values) / oursUs).toFixed(2),
      (median(dump) / oursUs).toFixed(2),
    ]);
  }
  eccodes.close();
  process.stdout.write('\nThe two last columns: CPU time of ecCodes over ours; above 1 ours is faster.\n');
}

/** What is kept of a file: every level is used, so that none is left out. */
function read(bytes: Uint8Array): { ascents: number; levels: number; sum: number } {
  let ascents = 0;
  let levels = 0;
  let sum = 0;
  for (const item of readBufr(bytes)) {
    if (item.kind !== 'ascent') throw new Error(item.error.message);
    const thinned = thinnedSounding(item.sounding);
    ascents += 1;
    levels += item.sounding.levels.levelCount;
    sum += thinned.kind === 'kept' ? thinned.sounding.levels.pressurePa.at(-1)! : 0;
  }
  return { ascents, levels, sum };
}

function ascentsAlone(bytes: Uint8Array): number {
  let levels = 0;
  for (const item of readBufr(bytes)) if (item.kind === 'ascent') levels += item.sounding.levels.levelCount;
  return levels;
}

/** The sum of all temperatures, K. */
function decodeAlone(bytes: Uint8Array): number {
  const buffer = new MessageBuffer();
  let sum = 0;
  for (const part of buffer.parts(bytes)) {
    buffer.append(part);
    for (let cut = buffer.next(false); cut !== undefined; cut = buffer.next(false)) {
      if (cut.kind !== 'message') continue;
      for (const subset of decodeMessage(readSections(cut.bytes, 0))) sum += temperatureSum(subset);
    }
  }
  return sum;
}

function temperatureSum({ layout, values }: BufrSubset): number {
  let sum = 0;
  for (let index = 0; index < layout.codings.length; index += 1) {
    const { descriptor } = layout.codings[index]!;
    if (descriptor !== 12_001 && descriptor !== 12_101) continue;
    const value = values.numbers[index]!;
    if (!Number.isNaN(value)) sum += value;
  }
  return sum;
}

/** The result of each is asked for, so that none is left out. */
function repeat(times: number, work: () => number): void {
  let sum = 0;
  for (let n = 0; n < times; n += 1) sum += work();
  if (!Number.isFinite(sum)) throw new Error('results are not finite');
}

function cpuUs(work: () => void): number {
  const before = process.threadCpuUsage();
  work();
  const { user, system } = process.threadCpuUsage(before);
  return user + system;
}

/** How often fills a batch, found by warming up. */
function timesIn(work: () => number): number {
  for (let times = 1; ; times *= 2) if (cpuUs(() => repeat(times, work)) > BATCH_US) return times;
}

function openEccodes(): {
  time(what: 'values' | 'dump', path: string, times: number): Promise<[number, number, number]>;
  close(): void;
} {
  const child = spawn(ECCODES_PYTHON, [TIMING_SCRIPT]);
  child.stderr.pipe(process.stderr);
  const lines = createInterface(child.stdout);
  return {
    async time(what, path, times) {
      child.stdin.write(`${JSON.stringify([what, path, times])}\n`);
      const [line] = (await once(lines, 'line')) as [string];
      return JSON.parse(line) as [number, number, number];
    },
    close: () => child.stdin.end(),
  };
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function print(cells: readonly string[]): void {
  const widths = [40, 8, 7, 10, 8, 9, 9, 7, 8, 9];
  process.stdout.write(`${cells.map((cell, n) => cell.padEnd(widths[n] ?? 0)).join(' ')}\n`);
}

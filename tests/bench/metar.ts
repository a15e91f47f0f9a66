/**
 * Reading METAR, in messages a second: bulletins cut and reports read, beside the npm parser metar-taf-parser on the same
 * reports, turn by turn in one run. Ours is timed from the bytes of the file, headings and all; the other from the text
 * of each report, already cut.
 *
 *   node tests/bench/metar.ts [COLLECTIVE]      a real file in place of the generated one
 */
import { readFileSync } from 'node:fs';
import { parseMetar } from 'metar-taf-parser';
import { createAerodromeReader } from '../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';

const TURNS = 9;
const NEAR_MS = Date.UTC(2020, 0, 6);
const CHUNK_BYTES = 65_536;
const GENERATED_REPORTS = 5000;

const [path] = process.argv.slice(2);
const bytes = path === undefined ? generated() : new Uint8Array(readFileSync(path));
const texts = readAll().flatMap((item) => (item.kind === 'report' ? [item.report.text] : []));

/** Lasting results, so that no work can be left out. */
let kept = 0;
const ours: number[] = [];
const theirs: number[] = [];
for (let turn = 0; turn < TURNS; turn += 1) {
  ours.push(
    messagesPerSecond(() => {
      kept += readAll().length;
    }),
  );
  theirs.push(
    messagesPerSecond(() => {
      for (const text of texts) kept += parsed(text);
    }),
  );
}
print(['reports', 'bytes', 'state', 'ours /s', 'npm /s', 'ratio']);
for (const [state, from, to] of [
  ['cold', 0, 1],
  ['warm', 1, TURNS],
] as const) {
  const [a, b] = [median(ours.slice(from, to)), median(theirs.slice(from, to))];
  print([`${texts.length}`, `${bytes.length}`, state, a.toFixed(0), b.toFixed(0), (a / b).toFixed(1)]);
}
process.stdout.write(`\n${kept > 0 ? 'Medians; above 1 ours is faster.' : 'nothing was read'}\n`);

function readAll() {
  const reader = createAerodromeReader({ nearMs: NEAR_MS });
  const items = [];
  for (let at = 0; at < bytes.length; at += CHUNK_BYTES) {
    items.push(...reader.push(bytes.subarray(at, at + CHUNK_BYTES)));
  }
  return [...items, ...reader.end()];
}

function parsed(text: string): number {
  try {
    return parseMetar(text).clouds.length;
  } catch {
    return 1;
  }
}

/** By the CPU time of this thread. */
function messagesPerSecond(work: () => void): number {
  const before = process.threadCpuUsage();
  work();
  const { user, system } = process.threadCpuUsage(before);
  return texts.length / ((user + system) / 1e6);
}

/** Bulletins like those of a winter's night, when no file is given. */
function generated(): Uint8Array {
  const weather = ['', '-SN', '-FZDZ BR', 'FZFG', 'RASN', '+SHSN'];
  const reports = Array.from({ length: GENERATED_REPORTS }, (_, n) => {
    const figures = (value: number, width: number) => String(value).padStart(width, '0');
    const wind = `${figures(((n * 7) % 36) * 10, 3)}${figures(n % 40, 2)}KT`;
    const temperature = `M${figures(n % 20, 2)}/M${figures((n % 20) + 2, 2)}`;
    const remarks =
      n % 2 === 0 ? ` RMK AO2 SLP${figures(n % 500, 3)} P0001 T1${figures(n % 200, 3)}1100 I1001` : '';
    const station = `K${String.fromCharCode(65 + (n % 26), 65 + (n % 25), 65 + (n % 23))}`;
    return `${station} 052353Z AUTO ${wind} ${1 + (n % 9)}SM ${weather[n % 6]} OVC${figures(n % 99, 3)} ${temperature} A2990${remarks}=\r\r\n`;
  });
  const text = `\u0001\r\r\n410 \r\r\nSAUS70 KWBC 060000\r\r\nMETAR\r\r\n${reports.join('')}\u0003`;
  return new TextEncoder().encode(text);
}

function median(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[Math.floor(values.length / 2)] ?? Number.NaN;
}

function print(cells: readonly string[]): void {
  const widths = [9, 10, 6, 10, 10, 8];
  process.stdout.write(`${cells.map((cell, n) => cell.padEnd(widths[n] ?? 0)).join(' ')}\n`);
}

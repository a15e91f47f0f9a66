/**
 * `npm run --silent inspect -- FILE [--as KIND] [--values N] [--at LAT,LON] [--near UTC] [--lat D --lon D]`: what a file
 * holds, one JSON line a field, sounding, report, point or line. With --values only the values of field N, one a line in
 * file order. Texts beside ascents are told by their signs, or by --as.
 */
import { createReadStream } from 'node:fs';
import { parseArgs } from 'node:util';
import type { Grib2Field } from '../formats/grib2/field.ts';
import { inspectGrib2Field, valueAt } from '../formats/grib2/inspect.ts';
import { readGrib2 } from '../formats/grib2/read-grib2.ts';
import { inspectSounding } from '../formats/inspect-sounding.ts';
import { findStation } from '../formats/stations.ts';
import { uploadedSoundings } from '../sources/read-uploads.ts';
import { inspectText, TEXT_KINDS, type TextKind, textKindOf } from './inspect-text.ts';
import { callFor, headOf } from './upload.ts';

const { values: options, positionals } = parseArgs({
  allowPositionals: true,
  options: {
    as: { type: 'string' },
    values: { type: 'string' },
    at: { type: 'string' },
    near: { type: 'string' },
    lat: { type: 'string' },
    lon: { type: 'string' },
  },
});

/** A wrong call ends with 2, a file that holds something unreadable with 1. */
const STATUS = { unreadable: 1, wrongCall: 2 } as const;
let problems = 0;

/** Whoever reads our lines may stop early (`| head`): that ends the work, quietly. */
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? 0 : STATUS.unreadable);
});

try {
  const [path, ...more] = positionals;
  if (path === undefined || more.length > 0) fail(`files: found ${positionals.length}, expected one`);
  const textKind = wantedTextKind(path);
  if (textKind !== undefined) await inspectTextFile(path, textKind);
  else if (callFor(path) === '/api/grids') await inspectGrid(path);
  else await inspectSoundings(path);
  process.exitCode = problems === 0 ? 0 : STATUS.unreadable;
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = STATUS.unreadable;
}

async function inspectGrid(file: string): Promise<void> {
  const wantedIndex = options.values === undefined ? undefined : Number(options.values);
  if (wantedIndex !== undefined && !(Number.isInteger(wantedIndex) && wantedIndex >= 0)) {
    fail(`--values: found ${options.values}, expected the index of a field`);
  }
  const place = options.at === undefined ? undefined : parsePlace(options.at);
  let printed = 0;
  for await (const item of readGrib2(createReadStream(file))) {
    if (item.kind === 'rejected') {
      problems += 1;
      process.stderr.write(`message at ${item.messageOffsetBytes}: ${item.error.message}\n`);
    } else if (item.kind === 'field' && wantedIndex === undefined) {
      const at =
        place === undefined
          ? {}
          : { at: { ...place, value: orNull(valueAt(item.field, place.latDeg, place.lonDeg)) } };
      print({ ...inspectGrib2Field(item.field), ...at });
    } else if (item.kind === 'field' && item.field.index === wantedIndex) {
      printValues(item.field);
      printed += 1;
    }
  }
  if (wantedIndex !== undefined && printed === 0) fail(`--values: field ${wantedIndex} is not in the file`);
}

/** File order: the order in which the values were packed, before scanning is undone. */
function printValues(field: Grib2Field): void {
  const order = field.fileOrder;
  const lines = Array.from(field.values, (_, n) => String(field.values[order?.[n] ?? n]));
  process.stdout.write(`${lines.join('\n')}\n`);
}

function wantedTextKind(file: string): TextKind | undefined {
  if (options.as === undefined) return textKindOf(headOf(file));
  const kind = TEXT_KINDS.find((each) => each === options.as);
  return kind ?? fail(`--as: found ${options.as}, expected one of ${TEXT_KINDS.join(', ')}`);
}

async function inspectTextFile(file: string, kind: TextKind): Promise<void> {
  for await (const line of inspectText(file, kind, nearMs())) {
    if ((line as { readonly kind?: string }).kind === 'refused') problems += 1;
    print(line);
  }
}

function nearMs(): number {
  const instantMs = options.near === undefined ? Date.now() : Date.parse(options.near);
  if (!Number.isFinite(instantMs)) fail(`--near: found ${options.near}, expected an ISO 8601 instant`);
  return instantMs;
}

async function inspectSoundings(file: string): Promise<void> {
  const latDeg = Number(options.lat ?? Number.NaN);
  const lonDeg = Number(options.lon ?? Number.NaN);
  const given =
    Number.isFinite(latDeg) && Number.isFinite(lonDeg)
      ? { latDeg, lonDeg, elevationM: Number.NaN }
      : undefined;
  const context = { nearMs: nearMs(), stations: (number: string) => findStation(number) ?? given };
  for await (const item of uploadedSoundings(createReadStream(file), context)) {
    if (item.kind === 'sounding') {
      print(inspectSounding(item.sounding));
      continue;
    }
    problems += 1;
    process.stderr.write(`line ${item.rejection.line}: ${item.rejection.reason}\n`);
  }
}

function parsePlace(text: string): { latDeg: number; lonDeg: number } {
  const [latDeg = Number.NaN, lonDeg = Number.NaN] = text.split(',').map(Number);
  if (!(Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 360)) fail(`--at: found ${text}, expected LAT,LON`);
  return { latDeg, lonDeg };
}

function print(line: object): void {
  process.stdout.write(`${JSON.stringify(line)}\n`);
}

function orNull(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}

function fail(message: string): never {
  process.stderr.write(`${message}\n`);
  process.exit(STATUS.wrongCall);
}

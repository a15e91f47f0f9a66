/**
 * `npm run --silent inspect -- FILE [--as KIND] [--values N] [--at LAT,LON] [--near UTC] [--lat D --lon D
 * [--elevation M]]`: what a file holds, one JSON line a field, sounding, report, point or line. With --values only the
 * values of field N, one a line in file order. Texts beside ascents are told by their signs, or by --as; --lat, --lon and
 * --elevation place an ascent whose station is not known.
 */
import { createReadStream } from 'node:fs';
import { parseArgs } from 'node:util';
import { UnsupportedError } from '../errors.ts';
import type { Grib2Field } from '../formats/grib2/field.ts';
import { inspectGrib2Field, valueAt } from '../formats/grib2/inspect.ts';
import { readGrib2 } from '../formats/grib2/read-grib2.ts';
import { inspectSounding } from '../formats/inspect-sounding.ts';
import { findStation } from '../formats/stations.ts';
import { writtenInstantMs, writtenNumber } from '../formats/written-values.ts';
import { uploadedSoundings } from '../sources/read-uploads.ts';
import { withSignedValues } from './call-arguments.ts';
import { inspectText, TEXT_KINDS, type TextKind, textKindOf, unknownTextReason } from './inspect-text.ts';
import { callFor, headOf } from './upload.ts';

/** A wrong call ends with 2, a file that holds something unreadable with 1. */
const STATUS = { unreadable: 1, wrongCall: 2 } as const;
const { values: options, positionals } = parsedCall();
let problems = 0;

/** Whoever reads our lines may stop early (`| head`): that ends the work, quietly. */
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  process.exit(error.code === 'EPIPE' ? 0 : STATUS.unreadable);
});

try {
  const [path, ...more] = positionals;
  if (path === undefined || more.length > 0) fail(`files: found ${positionals.length}, expected one`);
  const textKind = wantedTextKind(path);
  const isGrid = textKind === undefined && callFor(path) === '/api/grids';
  for (const name of ['values', 'at'] as const) {
    if (options[name] !== undefined && !isGrid) fail(`--${name}: found another kind of file, expected GRIB2`);
  }
  if (textKind !== undefined) inspectTextFile(path, textKind);
  else if (isGrid) await inspectGrid(path);
  else await inspectSoundings(path);
  process.exitCode = problems === 0 ? 0 : STATUS.unreadable;
} catch (error) {
  process.stderr.write(`${error instanceof Error ? error.message : String(error)}\n`);
  process.exitCode = STATUS.unreadable;
}

function parsedCall() {
  const text = { type: 'string' } as const;
  try {
    return parseArgs({
      args: withSignedValues(process.argv.slice(2)),
      allowPositionals: true,
      options: { as: text, values: text, at: text, near: text, lat: text, lon: text, elevation: text },
    });
  } catch (error) {
    return fail(`call: ${error instanceof Error ? error.message : String(error)}`);
  }
}

async function inspectGrid(file: string): Promise<void> {
  const wantedIndex = options.values === undefined ? undefined : writtenNumber(options.values);
  if (wantedIndex !== undefined && !(Number.isInteger(wantedIndex) && wantedIndex >= 0)) {
    fail(`--values: found ${options.values}, expected the index of a field`);
  }
  const place = options.at === undefined ? undefined : parsePlace(options.at);
  let printed = 0;
  const want = (header: { index: number }) => wantedIndex === undefined || header.index === wantedIndex;
  for await (const item of readGrib2(createReadStream(file), { want })) {
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

function inspectTextFile(file: string, kind: TextKind): void {
  for (const line of inspectText(file, kind, nearMs())) {
    if ((line as { readonly kind?: string }).kind === 'refused') problems += 1;
    print(line);
  }
}

function nearMs(): number {
  const instantMs = options.near === undefined ? Date.now() : writtenInstantMs(options.near);
  if (!Number.isFinite(instantMs)) {
    fail(`--near: found ${options.near}, expected an instant such as 2026-01-14T12:00Z`);
  }
  return instantMs;
}

async function inspectSoundings(file: string): Promise<void> {
  const given = givenPlace();
  const context = { nearMs: nearMs(), stations: (number: string) => findStation(number) ?? given };
  try {
    for await (const item of uploadedSoundings(createReadStream(file), context)) {
      if (item.kind === 'sounding') {
        print(inspectSounding(item.sounding));
        continue;
      }
      problems += 1;
      process.stderr.write(`line ${item.rejection.line}: ${item.rejection.reason}\n`);
    }
  } catch (error) {
    const isNoSounding = error instanceof UnsupportedError && error.feature === 'sounding text';
    throw isNoSounding ? new Error(unknownTextReason(headOf(file)), { cause: error }) : error;
  }
}

/** Where an ascent of an unknown station was; undefined when the call does not say. */
function givenPlace(): { latDeg: number; lonDeg: number; elevationM: number } | undefined {
  if (options.lat === undefined && options.lon === undefined) return undefined;
  const [latDeg, lonDeg] = [writtenNumber(options.lat), writtenNumber(options.lon)];
  const elevationM = writtenNumber(options.elevation);
  if (!(Math.abs(latDeg) <= 90 && Math.abs(lonDeg) <= 360)) {
    fail(`--lat, --lon: found ${options.lat}, ${options.lon}, expected degrees north and east`);
  }
  if (options.elevation !== undefined && !Number.isFinite(elevationM)) {
    fail(`--elevation: found ${options.elevation}, expected m above mean sea level`);
  }
  return { latDeg, lonDeg, elevationM };
}

function parsePlace(text: string): { latDeg: number; lonDeg: number } {
  const [latDeg = Number.NaN, lonDeg = Number.NaN] = text.split(',').map(writtenNumber);
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

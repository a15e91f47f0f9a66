/** `npm run ingest -- [--near UTC] [--lat D --lon D [--elevation M]] FILE...`: loads files into a running instance. */
import { readFileSync } from 'node:fs';
import { parseArgs } from 'node:util';
import { projectFolder } from './build.ts';
import { withSignedValues } from './call-arguments.ts';
import { uploadFile } from './upload.ts';

const { values, positionals } = parseArgs({
  args: withSignedValues(process.argv.slice(2)),
  allowPositionals: true,
  options: {
    near: { type: 'string' },
    lat: { type: 'string' },
    lon: { type: 'string' },
    elevation: { type: 'string' },
    url: { type: 'string', default: process.env.RIMEWAY_URL ?? 'http://localhost:8787' },
  },
});

if (positionals.length === 0) {
  process.stderr.write('files: found none, expected at least one sounding, GRIB2, report or places file\n');
  process.exit(2);
}

const query = Object.fromEntries(
  [
    ['near', values.near],
    ['latDeg', values.lat],
    ['lonDeg', values.lon],
    ['elevationM', values.elevation],
  ].filter((pair): pair is [string, string] => pair[1] !== undefined),
);

let failed = 0;
for (const path of positionals) {
  try {
    const { status, answer } = await uploadFile(path, { baseUrl: values.url, key: operatorKey(), query });
    if (status !== 201) failed += 1;
    process.stdout.write(`${JSON.stringify({ file: path, status, ...summary(answer) })}\n`);
  } catch (error) {
    failed += 1;
    process.stderr.write(`${path}: ${reason(error)}\n`);
  }
}
process.exit(failed === 0 ? 0 : 1);

/** Levels are many; the answer's own totals say enough here, inspect shows the rest. */
function summary(answer: Record<string, unknown>): Record<string, unknown> {
  const { soundings, reports, ...rest } = answer;
  const read = soundings ?? reports;
  return Array.isArray(read) ? { ...rest, read: read.length } : rest;
}

function operatorKey(): string {
  if (process.env.RIMEWAY_KEY !== undefined) return process.env.RIMEWAY_KEY;
  try {
    return readFileSync(`${projectFolder}.rimeway/operator-key`, 'utf8').trim();
  } catch (cause) {
    throw new Error('operator key: found none, expected RIMEWAY_KEY or one made by npm start', { cause });
  }
}

function reason(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const cause = error.cause instanceof Error && error.cause.message !== '' ? ` (${error.cause.message})` : '';
  return error.message === 'fetch failed'
    ? `no instance answers at ${values.url}${cause}`
    : error.message + cause;
}

/** GRIB2 messages as ecCodes packs them, live: an independent encoder. */
import { spawnSync } from 'node:child_process';
import { ECCODES_PYTHON } from './eccodes.ts';

export interface FieldToPack {
  readonly columns: number;
  readonly rows: number;
  /** null is missing. */
  readonly values: readonly (number | null)[];
  /** Names of ecCodes: packingType, bitsPerValue, ... */
  readonly keys: Readonly<Record<string, number | string>>;
}

const SCRIPT = new URL('eccodes-pack.py', import.meta.url).pathname;
const MOST_OUTPUT_BYTES = 256 * 1024 * 1024;

/** @returns a message a field; empty where ecCodes refuses to pack it. */
export function packedByEccodes(fields: readonly FieldToPack[]): Uint8Array[] {
  const input = JSON.stringify(
    fields.map(({ columns, rows, values, keys }) => [columns, rows, values, keys]),
  );
  const run = spawnSync(ECCODES_PYTHON, [SCRIPT], { input, maxBuffer: MOST_OUTPUT_BYTES });
  if (run.status !== 0) throw new Error(`ecCodes does not pack: ${run.stderr.toString().trim()}`);
  const messages: Uint8Array[] = [];
  for (let at = 0; at < run.stdout.length; ) {
    const length = run.stdout.readUInt32LE(at);
    messages.push(Uint8Array.from(run.stdout.subarray(at + 4, at + 4 + length)));
    at += 4 + length;
  }
  return messages;
}

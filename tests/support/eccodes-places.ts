/** Where ecCodes puts the points of grids: an independent decoder to compare coordinates with. */
import { spawnSync } from 'node:child_process';
import { ECCODES_PYTHON } from './eccodes.ts';

export interface EccodesGrid {
  readonly template: number;
  /** Offset of the first message that has this grid. */
  readonly offset: number;
  /** 1 when u and v follow the grid; null where ecCodes has no such key. */
  readonly windsAlongGrid: number | null;
  readonly error?: string;
  /** In ecCodes' order; empty when it cannot place the grid. */
  readonly latDeg: Float64Array;
  readonly lonDeg: Float64Array;
}

const SCRIPT = new URL('eccodes-places.py', import.meta.url).pathname;
const MOST_OUTPUT_BYTES = 512 * 1024 * 1024;

/** One entry a distinct section 3 of the file, in order. */
export function eccodesGrids(path: string): EccodesGrid[] {
  const run = spawnSync(ECCODES_PYTHON, [SCRIPT, path], { maxBuffer: MOST_OUTPUT_BYTES });
  if (run.status !== 0) {
    const cause = run.error?.message ?? run.stderr.toString().trim().split('\n').at(-1);
    throw new Error(`ecCodes for ${ECCODES_PYTHON} does not read ${path}: ${cause}`);
  }
  const grids: EccodesGrid[] = [];
  for (let at = 0; at < run.stdout.length; ) {
    const textLength = run.stdout.readUInt32LE(at);
    const { count, ...header } = JSON.parse(run.stdout.toString('utf8', at + 4, at + 4 + textLength));
    at += 4 + textLength;
    const next = () => {
      const array = new Float64Array(count);
      new Uint8Array(array.buffer).set(run.stdout.subarray(at, at + array.byteLength));
      at += array.byteLength;
      return array;
    };
    grids.push({ ...header, latDeg: next(), lonDeg: next() });
  }
  return grids;
}

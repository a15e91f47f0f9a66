/**
 * The order in which a field's values follow each other in the file.
 *
 * Values leave this module row-major: columns ascend eastward (+i), rows follow j in the direction the file has.
 *
 * @source  WMO-No. 306, Volume I.2, flag table 3.4.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';

export interface Scanning {
  /** -i: points of a row run from east to west. */
  readonly westward: boolean;
  /** +j: rows run from south to north. */
  readonly northward: boolean;
  /** Points adjacent in j follow each other: a column after the other. */
  readonly byColumns: boolean;
  /** Every other row (or column) runs the other way. */
  readonly alternating: boolean;
}

/** Rows or columns shifted by half a step, or shortened. */
const OFFSET_ROWS_FLAGS = 0x0f;

/** @throws UnsupportedError when rows or columns are shifted against each other. */
export function readScanning(section3: ByteReader, octet: number): Scanning {
  const flags = section3.uint8(octet);
  if ((flags & OFFSET_ROWS_FLAGS) !== 0) {
    throw new UnsupportedError({
      feature: 'scanning mode',
      table: 'flag table 3.4',
      value: `0x${flags.toString(16)}`,
    });
  }
  return {
    westward: (flags & 0x80) !== 0,
    northward: (flags & 0x40) !== 0,
    byColumns: (flags & 0x20) !== 0,
    alternating: (flags & 0x10) !== 0,
  };
}

/** A run of points that follow each other in the file: row-major index of its first point, and from point to point. */
interface Run {
  readonly start: number;
  readonly stride: number;
}

/** @returns for the n-th value in file order its row-major index; undefined when that is n itself. */
export function fileOrderOf(scanning: Scanning, nx: number, ny: number): Uint32Array | undefined {
  if (isRowMajor(scanning)) return undefined;
  const order = new Uint32Array(nx * ny);
  const runLength = scanning.byColumns ? ny : nx;
  for (let n = 0, run = 0; n < order.length; run += 1) {
    const { start, stride } = runOf(scanning, { nx, ny, run });
    for (let step = 0; step < runLength; step += 1, n += 1) order[n] = start + step * stride;
  }
  return order;
}

/** @returns values moved from file order to row-major order; rows are turned in place, columns make a new array. */
export function toRowMajor(values: Float32Array, scanning: Scanning, nx: number): Float32Array {
  const ny = values.length / nx;
  if (scanning.byColumns) return columnsToRows(values, scanning, { nx, ny });
  if (isRowMajor(scanning)) return values;
  for (let run = 0; run < ny; run += 1) {
    const { stride } = runOf(scanning, { nx, ny, run });
    if (stride < 0) values.subarray(run * nx, (run + 1) * nx).reverse();
  }
  return values;
}

function columnsToRows(
  values: Float32Array,
  scanning: Scanning,
  { nx, ny }: { nx: number; ny: number },
): Float32Array {
  const rowMajor = new Float32Array(values.length);
  for (let n = 0, run = 0; n < values.length; run += 1) {
    const { start, stride } = runOf(scanning, { nx, ny, run });
    for (let step = 0; step < ny; step += 1, n += 1) rowMajor[start + step * stride] = values[n]!;
  }
  return rowMajor;
}

function isRowMajor({ westward, byColumns, alternating }: Scanning): boolean {
  return !westward && !byColumns && !alternating;
}

function runOf(scanning: Scanning, { nx, ny, run }: { nx: number; ny: number; run: number }): Run {
  const isTurned = scanning.alternating && run % 2 === 1;
  if (scanning.byColumns) {
    const i = scanning.westward ? nx - 1 - run : run;
    return isTurned ? { start: (ny - 1) * nx + i, stride: -nx } : { start: i, stride: nx };
  }
  return scanning.westward === isTurned
    ? { start: run * nx, stride: 1 }
    : { start: run * nx + nx - 1, stride: -1 };
}

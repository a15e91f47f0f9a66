/**
 * The inverse of the reversible wavelet transformation (5-3) of whole numbers.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), annex F: F.3 and equations F-5 and F-6.
 */
import type { Resolution } from './jpeg2000-subbands.ts';

/**
 * Turns coefficients whose subbands lie side by side into samples, in place, resolution by resolution.
 *
 * @param stride  From row to row.
 */
export function synthesize(samples: Int32Array, stride: number, resolutions: readonly Resolution[]): void {
  const whole = resolutions.at(-1);
  if (whole === undefined) return;
  const row = new Int32Array(whole.width);
  const area = new Int32Array(whole.width * whole.height);
  for (const [n, { width, height }] of resolutions.entries()) {
    const low = resolutions[n - 1];
    if (low === undefined) continue;
    for (let y = 0; y < height; y += 1) {
      row.set(samples.subarray(y * stride, y * stride + width));
      mergeRow(row, samples.subarray(y * stride, y * stride + width), low.width);
    }
    for (let y = 0; y < height; y += 1) {
      area.set(samples.subarray(y * stride, y * stride + width), y * width);
    }
    mergeRows(area, samples, { width, height, lowRows: low.height, stride });
  }
}

/** Low-pass and high-pass coefficients of a row, one after the other, become its samples; edges are mirrored. */
function mergeRow(from: Int32Array, to: Int32Array, lows: number): void {
  const highs = to.length - lows;
  if (highs === 0) return;
  for (let n = 0; n < lows; n += 1) {
    const before = from[lows + Math.max(n - 1, 0)]!;
    const after = from[lows + Math.min(n, highs - 1)]!;
    to[2 * n] = from[n]! - ((before + after + 2) >> 2);
  }
  for (let n = 0; n < highs; n += 1) {
    const next = to[2 * Math.min(n + 1, lows - 1)]!;
    to[2 * n + 1] = from[lows + n]! + ((to[2 * n]! + next) >> 1);
  }
}

interface Rows {
  readonly width: number;
  readonly height: number;
  readonly lowRows: number;
  /** From row to row of the samples; those of the coefficients follow each other. */
  readonly stride: number;
}

/** The same down every column, row by row. */
function mergeRows(from: Int32Array, to: Int32Array, { width, height, lowRows, stride }: Rows): void {
  const highRows = height - lowRows;
  if (highRows === 0) return;
  for (let n = 0; n < lowRows; n += 1) {
    const low = n * width;
    const before = (lowRows + Math.max(n - 1, 0)) * width;
    const after = (lowRows + Math.min(n, highRows - 1)) * width;
    const even = 2 * n * stride;
    for (let x = 0; x < width; x += 1) {
      to[even + x] = from[low + x]! - ((from[before + x]! + from[after + x]! + 2) >> 2);
    }
  }
  for (let n = 0; n < highRows; n += 1) {
    const high = (lowRows + n) * width;
    const above = 2 * n * stride;
    const below = 2 * Math.min(n + 1, lowRows - 1) * stride;
    const odd = above + stride;
    for (let x = 0; x < width; x += 1) {
      to[odd + x] = from[high + x]! + ((to[above + x]! + to[below + x]!) >> 1);
    }
  }
}

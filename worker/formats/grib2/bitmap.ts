/**
 * Section 6: which grid points have a value.
 *
 * @source  WMO-No. 306, Volume I.2, section 6 and code table 6.0.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { BITMAP_FOLLOWS, type FieldSections } from './sections.ts';

export interface Bitmap {
  /** One bit a point in file order, most significant first; 1 = present. */
  readonly bits: Uint8Array;
  readonly presentCount: number;
}

const PREVIOUS_BITMAP = 254;
const NO_BITMAP = 255;
/** Octet where the bits begin. */
const BITS_OCTET = 7;

/**
 * @param points  Number of grid points.
 * @returns       undefined when every point has a value.
 * @throws UnsupportedError for a bitmap that the centre has defined elsewhere; FormatError for one that is too short or
 *   that no earlier field of the message defines.
 */
export function readBitmap(
  { bitmap, lastBitmap }: Pick<FieldSections, 'bitmap' | 'lastBitmap'>,
  points: number,
): Bitmap | undefined {
  const indicator = bitmap.uint8(6);
  if (indicator === NO_BITMAP) return undefined;
  if (indicator !== BITMAP_FOLLOWS && indicator !== PREVIOUS_BITMAP) {
    throw new UnsupportedError({
      feature: 'bitmap indicator',
      table: 'code table 6.0',
      value: String(indicator),
    });
  }
  if (lastBitmap === undefined) {
    throw bitmap.error(6, {
      what: 'bitmap indicator',
      found: `${PREVIOUS_BITMAP} (the previous bitmap)`,
      expected: 'an earlier field with a bitmap in the same message',
    });
  }
  return bitsOf(lastBitmap, points);
}

/** @returns the values at their points, NaN where the bitmap has none. */
export function spread(packed: Float32Array, { bits }: Bitmap, points: number): Float32Array {
  const values = new Float32Array(points);
  let next = 0;
  for (let n = 0; n < points; n += 1) {
    const isPresent = ((bits[n >>> 3]! << (n & 7)) & 0x80) !== 0;
    values[n] = isPresent ? packed[next]! : Number.NaN;
    if (isPresent) next += 1;
  }
  return values;
}

function bitsOf(section6: ByteReader, points: number): Bitmap {
  const lengthOctets = Math.ceil(points / 8);
  const all = section6.from(BITS_OCTET);
  if (all.length < lengthOctets) {
    throw section6.error(BITS_OCTET, {
      what: 'bitmap',
      found: `${all.length} octets`,
      expected: `${lengthOctets} for ${points} points`,
    });
  }
  const bits = all.subarray(0, lengthOctets);
  return { bits, presentCount: countPresent(bits, points) };
}

function countPresent(bits: Uint8Array, points: number): number {
  let count = 0;
  for (let n = 0; n < points; n += 1) count += (bits[n >>> 3]! >>> (7 - (n & 7))) & 1;
  return count;
}

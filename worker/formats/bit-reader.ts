/** Numbers of 0 to 32 bits, most significant bit first, from anywhere in a run of bytes. */

/**
 * Widest number that, with up to 7 bits before it, ends within one 32-bit word. The loops over packed values write its
 * reading out, since a call for each value costs more than the rest:
 *
 *     ((view.getUint32(bit >>> 3) << (bit & 7)) >>> 1) >>> (31 - width)
 *
 * The shift is split in two because a shift by 32, for a width of 0, would be none.
 */
export const SHORT_BITS = 25;
const WORD_BITS = 32;
const WORD_BYTES = 4;

/**
 * A view from which a 32-bit word and one byte more may be read at every byte of `bytes`. It shares their memory
 * when that goes on far enough after them (what follows is shifted out, never used), and is a copy else.
 */
export function wordView(bytes: Uint8Array): DataView {
  const lengthBytes = bytes.byteLength + WORD_BYTES;
  if (bytes.byteOffset + lengthBytes <= bytes.buffer.byteLength) {
    return new DataView(bytes.buffer, bytes.byteOffset, lengthBytes);
  }
  const copy = new Uint8Array(lengthBytes);
  copy.set(bytes);
  return new DataView(copy.buffer);
}

/**
 * @param view   From wordView.
 * @param bit    Position of the first bit, below 2^31.
 * @param width  0 to 32; a number of no bits is 0.
 * @returns      the number; the caller has checked that it lies within the bytes.
 */
export function bitsAt(view: DataView, bit: number, width: number): number {
  if (width <= SHORT_BITS) return ((view.getUint32(bit >>> 3) << (bit & 7)) >>> 1) >>> (31 - width);
  const before = bit & 7;
  const excess = before + width - WORD_BITS;
  const word = view.getUint32(bit >>> 3);
  if (excess <= 0) return ((word << before) >>> -excess) >>> before;
  const high = (word & (0xffffffff >>> before)) >>> 0;
  return high * 2 ** excess + (view.getUint8((bit >>> 3) + WORD_BYTES) >>> (8 - excess));
}

/**
 * Prefix codes from the lengths of their words, as deflate has them: packed from the low bit on.
 *
 * @source  RFC 1951, section 3.2.2.
 */

export interface Huffman {
  /** For each so many next bits, the symbol times 16 and its length; 0 where its word is longer, or is none. */
  readonly quick: Uint16Array;
  /** How many words there are of each length. */
  readonly counts: Uint16Array;
  /** Symbols by length, and in order of their number. */
  readonly symbols: Uint16Array;
}

export const LONGEST_CODE = 15;
export const QUICK_BITS = 10;

/**
 * @param lengths  Of the word of each symbol, 0 for none, at most 15.
 * @returns        undefined when there are more words than such lengths leave room for. A code with room left is allowed.
 */
export function huffmanOf(lengths: Uint8Array): Huffman | undefined {
  const counts = new Uint16Array(LONGEST_CODE + 1);
  for (const length of lengths) counts[length]! += 1;
  counts[0] = 0;
  const starts = new Uint16Array(LONGEST_CODE + 2);
  const words = new Uint16Array(LONGEST_CODE + 2);
  for (let length = 1, room = 1; length <= LONGEST_CODE; length += 1) {
    room = 2 * room - counts[length]!;
    if (room < 0) return undefined;
    starts[length + 1] = starts[length]! + counts[length]!;
    words[length + 1] = (words[length]! + counts[length]!) << 1;
  }
  const quick = new Uint16Array(1 << QUICK_BITS);
  const symbols = new Uint16Array(lengths.length);
  for (let symbol = 0; symbol < lengths.length; symbol += 1) {
    const length = lengths[symbol]!;
    if (length === 0) continue;
    symbols[starts[length]!] = symbol;
    starts[length]! += 1;
    if (length <= QUICK_BITS) {
      const first = reversed(words[length]!, length);
      for (let bits = first; bits < quick.length; bits += 1 << length) quick[bits] = symbol * 16 + length;
    }
    words[length]! += 1;
  }
  return { quick, counts, symbols };
}

function reversed(word: number, length: number): number {
  let result = 0;
  for (let bit = 0; bit < length; bit += 1) result |= ((word >>> bit) & 1) << (length - 1 - bit);
  return result;
}

/**
 * Inflates a zlib stream into room of a known size, so that no stream can take more than what is there.
 *
 * @source  RFC 1950 (zlib), RFC 1951 (deflate); the canonical walk through long codes follows the manner of RFC 1951,
 *          section 3.2.2.
 */
import { type Huffman, huffmanOf, LONGEST_CODE, QUICK_BITS } from './huffman.ts';

/** What is wrong with the stream; the caller knows where it stands. */
export class InflateError extends Error {}

const LENGTHS = [
  3, 4, 5, 6, 7, 8, 9, 10, 11, 13, 15, 17, 19, 23, 27, 31, 35, 43, 51, 59, 67, 83, 99, 115, 131, 163, 195,
  227, 258,
];
const LENGTH_BITS = [0, 0, 0, 0, 0, 0, 0, 0, 1, 1, 1, 1, 2, 2, 2, 2, 3, 3, 3, 3, 4, 4, 4, 4, 5, 5, 5, 5, 0];
const DISTANCES = [
  1, 2, 3, 4, 5, 7, 9, 13, 17, 25, 33, 49, 65, 97, 129, 193, 257, 385, 513, 769, 1025, 1537, 2049, 3073, 4097,
  6145, 8193, 12289, 16385, 24577,
];
const DISTANCE_BITS = [
  0, 0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 5, 5, 6, 6, 7, 7, 8, 8, 9, 9, 10, 10, 11, 11, 12, 12, 13, 13,
];
/** In which order the lengths of the code of code lengths stand. */
const CODE_LENGTH_ORDER = [16, 17, 18, 0, 8, 7, 9, 6, 10, 5, 11, 4, 12, 3, 13, 2, 14, 1, 15];
const END_OF_BLOCK = 256;
const MOST_LITERALS = 286;
const ADLER_BASE = 65521;
/** Mask of the places where sums are reduced; those of so many octets stay below 2^31. */
const ADLER_RUN_MASK = 0x7ff;
const HEADER_BYTES = 2;
const MOST_HELD_BITS = 32;
const QUICK_MASK = (1 << QUICK_BITS) - 1;
const CHECK_BYTES = 4;

/**
 * @param source  The whole zlib stream, header and checksum included.
 * @param into    Is filled to its last byte.
 * @throws InflateError when the stream is damaged, does not match its checksum, or holds more or less than `into`.
 */
export function inflateInto(source: Uint8Array, into: Uint8Array): void {
  const [method = 0, flags = 0] = source;
  const hasDictionary = (flags & 0x20) !== 0;
  if ((method & 0x0f) !== 8 || (method * 256 + flags) % 31 !== 0 || hasDictionary) {
    throw new InflateError('no zlib header');
  }
  const inflater = new Inflater(source, into);
  while (!inflater.block());
  const at = inflater.endByte();
  if (inflater.filled !== into.length) throw new InflateError(`${inflater.filled} bytes`);
  if (at + CHECK_BYTES !== source.length)
    throw new InflateError(`${source.length - at} bytes after the last block`);
  const check = new DataView(source.buffer, source.byteOffset + at, CHECK_BYTES).getUint32(0);
  if (check !== adler32(into)) throw new InflateError('another checksum');
}

class Inflater {
  readonly #source: Uint8Array;
  readonly #into: Uint8Array;
  #at = HEADER_BYTES;
  #bits = 0;
  #held = 0;
  filled = 0;

  constructor(source: Uint8Array, into: Uint8Array) {
    this.#source = source;
    this.#into = into;
  }

  /** Reads one block; true after the last one. */
  block(): boolean {
    const isLast = this.#take(1) === 1;
    const kind = this.#take(2);
    if (kind === 0) this.#stored();
    else if (kind === 1) this.#coded(FIXED.literals, FIXED.distances);
    else if (kind === 2) this.#coded(...this.#readCodes());
    else throw new InflateError('a block of kind 3');
    return isLast;
  }

  /** Where the bytes after the last block begin. */
  endByte(): number {
    return this.#at - (this.#held >>> 3);
  }

  #stored(): void {
    const from = this.endByte() + 4;
    const source = this.#source;
    const length = source[from - 4]! + 256 * source[from - 3]!;
    const complement = source[from - 2]! + 256 * source[from - 1]!;
    if (length + complement !== 0xffff) throw new InflateError('a stored block whose lengths disagree');
    if (from + length > source.length || this.filled + length > this.#into.length) throw overrun();
    this.#into.set(source.subarray(from, from + length), this.filled);
    this.filled += length;
    this.#at = from + length;
    this.#bits = 0;
    this.#held = 0;
  }

  /** The codes of a block of kind 2. */
  #readCodes(): [Huffman, Huffman] {
    const literalCount = this.#take(5) + 257;
    const distanceCount = this.#take(5) + 1;
    const codeCount = this.#take(4) + 4;
    if (literalCount > MOST_LITERALS) throw new InflateError(`${literalCount} literals`);
    const codeLengths = new Uint8Array(CODE_LENGTH_ORDER.length);
    for (let n = 0; n < codeCount; n += 1) codeLengths[CODE_LENGTH_ORDER[n]!] = this.#take(3);
    const code = codeOf(codeLengths);
    const lengths = new Uint8Array(literalCount + distanceCount);
    for (let n = 0; n < lengths.length; ) {
      const symbol = this.#symbol(code);
      const run = symbol < 16 ? 1 : this.#take([2, 3, 7][symbol - 16]!) + [3, 3, 11][symbol - 16]!;
      if (n + run > lengths.length || (symbol === 16 && n === 0))
        throw new InflateError('a run of lengths too long');
      lengths.fill(symbol < 16 ? symbol : symbol === 16 ? lengths[n - 1]! : 0, n, n + run);
      n += run;
    }
    if (lengths[END_OF_BLOCK] === 0) throw new InflateError('a block without an end');
    return [codeOf(lengths.subarray(0, literalCount)), codeOf(lengths.subarray(literalCount))];
  }

  #coded(literals: Huffman, distances: Huffman): void {
    const into = this.#into;
    for (;;) {
      this.#literals(literals.quick);
      const symbol = this.#symbol(literals);
      if (symbol === END_OF_BLOCK) return;
      if (symbol < END_OF_BLOCK) {
        if (this.filled >= into.length) throw overrun();
        into[this.filled] = symbol;
        this.filled += 1;
        continue;
      }
      const place = symbol - END_OF_BLOCK - 1;
      if (place >= LENGTHS.length) throw new InflateError(`length code ${symbol}`);
      const length = LENGTHS[place]! + this.#take(LENGTH_BITS[place]!);
      const far = this.#symbol(distances);
      if (far >= DISTANCES.length) throw new InflateError(`distance code ${far}`);
      this.#copy(DISTANCES[far]! + this.#take(DISTANCE_BITS[far]!), length);
    }
  }

  /**
   * Literals of short words, as long as they come. Most of an image is that: the bits in hand are local here, since as
   * fields they would be read and written at every symbol.
   */
  #literals(quick: Uint16Array): void {
    const source = this.#source;
    const into = this.#into;
    let at = this.#at;
    let bits = this.#bits;
    let held = this.#held;
    let filled = this.filled;
    for (;;) {
      if (held < QUICK_BITS) {
        for (; held <= MOST_HELD_BITS - 8 && at < source.length; held += 8, at += 1)
          bits |= source[at]! << held;
      }
      const entry = quick[bits & QUICK_MASK]!;
      const width = entry & 0x0f;
      const isLiteral = entry !== 0 && entry < END_OF_BLOCK << 4;
      if (!isLiteral || width > held || filled >= into.length) break;
      into[filled] = entry >>> 4;
      filled += 1;
      bits >>>= width;
      held -= width;
    }
    this.#at = at;
    this.#bits = bits;
    this.#held = held;
    this.filled = filled;
  }

  #copy(distance: number, length: number): void {
    const into = this.#into;
    const from = this.filled;
    if (distance > from || from + length > into.length) throw overrun();
    if (distance >= length) into.copyWithin(from, from - distance, from - distance + length);
    else for (let at = from; at < from + length; at += 1) into[at] = into[at - distance]!;
    this.filled = from + length;
  }

  #symbol({ quick, counts, symbols }: Huffman): number {
    this.#refill();
    const entry = quick[this.#bits & QUICK_MASK]!;
    if (entry !== 0) {
      this.#drop(entry & 0x0f);
      return entry >>> 4;
    }
    let code = 0;
    let first = 0;
    let index = 0;
    for (let length = 1; length <= LONGEST_CODE; length += 1) {
      code |= (this.#bits >>> (length - 1)) & 1;
      const count = counts[length]!;
      if (code - count < first) {
        this.#drop(length);
        return symbols[index + code - first]!;
      }
      index += count;
      first = (first + count) << 1;
      code <<= 1;
    }
    throw new InflateError('a code that is not in use');
  }

  #take(width: number): number {
    this.#refill();
    const number = this.#bits & ((1 << width) - 1);
    this.#drop(width);
    return number;
  }

  /** At least 25 bits, as long as there are so many. */
  #refill(): void {
    while (this.#held <= MOST_HELD_BITS - 8 && this.#at < this.#source.length) {
      this.#bits |= this.#source[this.#at]! << this.#held;
      this.#at += 1;
      this.#held += 8;
    }
  }

  #drop(width: number): void {
    if (width > this.#held) throw overrun();
    this.#bits >>>= width;
    this.#held -= width;
  }
}

function codeOf(lengths: Uint8Array): Huffman {
  const code = huffmanOf(lengths);
  if (code === undefined) throw new InflateError('lengths that make no code');
  return code;
}

const FIXED = {
  literals: codeOf(Uint8Array.from({ length: 288 }, (_, n) => (n < 144 ? 8 : n < 256 ? 9 : n < 280 ? 7 : 8))),
  distances: codeOf(new Uint8Array(30).fill(5)),
};

/** Sums are cut to 32 bits, which they never reach, since the machine need not look for an overflow then. */
function adler32(bytes: Uint8Array): number {
  const length = bytes.length;
  let a = 1;
  let b = 0;
  for (let at = 0; at < length; at += 1) {
    a = (a + bytes[at]!) | 0;
    b = (b + a) | 0;
    if ((at & ADLER_RUN_MASK) !== 0) continue;
    a %= ADLER_BASE;
    b %= ADLER_BASE;
  }
  return (b % ADLER_BASE) * 65536 + (a % ADLER_BASE);
}

const overrun = () => new InflateError('an end before its time, or a reach beyond what is there');

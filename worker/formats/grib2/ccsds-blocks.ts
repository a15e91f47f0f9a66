/**
 * Lossless data compression with an adaptive entropy coder: blocks of mapped prediction errors, each coded by the option
 * that its identifier names.
 *
 * @source  CCSDS 121.0-B-3, Lossless Data Compression, sections 3 (adaptive entropy coder) and 5 (data format); the
 *          options beyond it (no restriction to octets) as in the reference implementation that template 5.42 names.
 */
import { bitsAt } from '../bit-reader.ts';

export interface CcsdsForm {
  /** Bits a sample, 1 to 32. */
  readonly bits: number;
  /** J: samples a block. */
  readonly blockSize: number;
  /** Blocks from one reference sample to the next. */
  readonly intervalBlocks: number;
  /** Short identifiers for samples of 1 to 4 bits; of no meaning for wider ones. */
  readonly isRestricted: boolean;
  /** The first sample of every interval is a reference. */
  readonly hasReference: boolean;
  /** Every interval begins at an octet. */
  readonly isPadded: boolean;
}

/** What is wrong with the coded bits; the caller knows where they stand. */
export class CodedBitsError extends Error {}

/** Zeros after the bytes: a word may be read from the last bit, and no code reaches beyond them. */
const SLACK_BYTES = 8;
/** Valid bits of a word read at any bit. */
const WINDOW_BITS = 25;
/** A run of zero blocks that is coded as this long goes on to the end of the segment. */
const REMAINDER_OF_SEGMENT = 5;
const SEGMENT_BLOCKS = 64;
/** Pairs of the second extension are numbered along the diagonals of equal sums. */
const LARGEST_PAIR_SUM = 12;
const PAIRS = ((LARGEST_PAIR_SUM + 1) * (LARGEST_PAIR_SUM + 2)) / 2;

/** Decodes interval after interval into `errors`, which holds one of them. */
export class CcsdsBlocks {
  /** Prediction errors of the interval; the first is the reference sample where there is one. */
  readonly errors: Uint32Array;
  /** The same as signed integers: faster to write in the two loops that cost the most. */
  readonly #patterns: Int32Array;
  readonly #form: CcsdsForm;
  readonly #view: DataView;
  readonly #endBit: number;
  readonly #identifierBits: number;
  /** All ones: the samples of the block as they are. */
  readonly #plainIdentifier: number;
  readonly #largest: number;
  #bit = 0;

  /** @param count  Samples in all; never more than an interval of them is held. */
  constructor(bytes: Uint8Array, form: CcsdsForm, count: number) {
    const padded = new Uint8Array(bytes.length + SLACK_BYTES);
    padded.set(bytes);
    this.#view = new DataView(padded.buffer);
    this.#endBit = bytes.length * 8;
    this.#form = form;
    this.#identifierBits = identifierBitsOf(form);
    this.#plainIdentifier = 2 ** this.#identifierBits - 1;
    this.#largest = 2 ** form.bits - 1;
    const { blockSize, intervalBlocks } = form;
    this.errors = new Uint32Array(Math.min(intervalBlocks, Math.ceil(count / blockSize)) * blockSize);
    this.#patterns = new Int32Array(this.errors.buffer);
  }

  get usedOctets(): number {
    return Math.ceil(this.#bit / 8);
  }

  /**
   * Reads the next interval, or as many blocks of it as so many samples take.
   *
   * @throws CodedBitsError when the bits end before, or a code stands for no error or run that can be.
   */
  next(samples: number): void {
    const { blockSize, intervalBlocks, hasReference, isPadded } = this.#form;
    const blocks = Math.min(intervalBlocks, Math.ceil(samples / blockSize));
    for (let block = 0; block < blocks; ) {
      block += this.#readBlock(block, hasReference && block === 0 ? 1 : 0);
      if (this.#bit > this.#endBit) throw this.#overrun();
    }
    if (isPadded) this.#bit = Math.ceil(this.#bit / 8) * 8;
  }

  /** Returns how many blocks were read: more than one in a run of zero blocks. */
  #readBlock(block: number, references: number): number {
    const identifier = this.#take(this.#identifierBits);
    const at = block * this.#form.blockSize;
    if (identifier === 0) return this.#readLowEntropy(block, references);
    if (identifier === this.#plainIdentifier) this.#readPlain(at, this.#form.blockSize);
    else {
      this.#readPlain(at, references);
      this.#readSplit(at + references, at + this.#form.blockSize, identifier - 1);
    }
    return 1;
  }

  /** Zero blocks and the second extension share an identifier, and differ in the next bit. */
  #readLowEntropy(block: number, references: number): number {
    const isExtended = this.#take(1) === 1;
    const { blockSize, intervalBlocks } = this.#form;
    const at = block * blockSize;
    this.#readPlain(at, references);
    if (isExtended) {
      this.#readPairs(at, references);
      return 1;
    }
    const left = intervalBlocks - block;
    const coded = this.#fundamental() + 1;
    const toSegmentEnd = Math.min(left, SEGMENT_BLOCKS - (block % SEGMENT_BLOCKS));
    const shortened = coded > REMAINDER_OF_SEGMENT ? coded - 1 : coded;
    const run = coded === REMAINDER_OF_SEGMENT ? toSegmentEnd : shortened;
    if (run > left)
      throw new CodedBitsError(`a run of ${run} zero blocks, ${left} to the end of the interval`);
    this.errors.fill(0, at + references, at + run * blockSize);
    return run;
  }

  /** Samples as they are. */
  #readPlain(at: number, count: number): void {
    const { bits } = this.#form;
    if (this.#bit + bits * count > this.#endBit) throw this.#overrun();
    for (let n = 0; n < count; n += 1) this.errors[at + n] = this.#take(bits);
  }

  /** The high parts of a block as runs of zeros, and then the low parts, k bits each; of no bits for k = 0. */
  #readSplit(from: number, end: number, k: number): void {
    this.#readHighParts(from, end, k);
    if (this.#bit + k * (end - from) > this.#endBit) throw this.#overrun();
    if (k === 0) return;
    const errors = this.#patterns;
    const view = this.#view;
    let bit = this.#bit;
    if (k <= WINDOW_BITS) {
      const shift = 32 - k;
      for (let at = from; at < end; at += 1, bit += k) {
        errors[at]! |= (view.getInt32(bit >>> 3) << (bit & 7)) >>> shift;
      }
    } else {
      for (let at = from; at < end; at += 1, bit += k) errors[at]! += bitsAt(view, bit, k);
    }
    this.#bit = bit;
  }

  #readHighParts(from: number, end: number, k: number): void {
    const errors = this.#patterns;
    const view = this.#view;
    const most = this.#largest >>> k;
    let bit = this.#bit;
    for (let at = from; at < end; at += 1) {
      let zeros = Math.clz32(view.getInt32(bit >>> 3) << (bit & 7));
      if (zeros < WINDOW_BITS) bit += zeros + 1;
      else {
        this.#bit = bit;
        zeros = this.#fundamental();
        bit = this.#bit;
      }
      if (zeros > most) throw this.#beyond(zeros * 2 ** k);
      errors[at] = zeros << k;
    }
    this.#bit = bit;
  }

  /** Two samples a code; with a reference the first half of the first pair stands for it and is nothing. */
  #readPairs(at: number, references: number): void {
    const end = at + this.#form.blockSize;
    for (let to = at; to < end; to += 2) {
      const pair = this.#fundamental();
      if (pair >= PAIRS) throw new CodedBitsError(`pair ${pair} of the second extension`);
      const sum = PAIR_SUM[pair]!;
      const second = pair - (sum * (sum + 1)) / 2;
      if (sum > this.#largest && Math.max(second, sum - second) > this.#largest) throw this.#beyond(sum);
      if (to > at || references === 0) this.errors[to] = sum - second;
      this.errors[to + 1] = second;
    }
  }

  /** A fundamental sequence: as many zeros as the number says, and a one. */
  #fundamental(): number {
    const view = this.#view;
    for (let bit = this.#bit; bit < this.#endBit; ) {
      const zeros = Math.clz32(view.getUint32(bit >>> 3) << (bit & 7));
      if (zeros >= WINDOW_BITS) {
        bit += WINDOW_BITS;
        continue;
      }
      const number = bit + zeros - this.#bit;
      this.#bit = bit + zeros + 1;
      return number;
    }
    throw this.#overrun();
  }

  #take(width: number): number {
    if (this.#bit + width > this.#endBit) throw this.#overrun();
    const number = bitsAt(this.#view, this.#bit, width);
    this.#bit += width;
    return number;
  }

  #overrun(): CodedBitsError {
    return new CodedBitsError(`${this.#endBit / 8} octets, too few for the samples`);
  }

  #beyond(error: number): CodedBitsError {
    return new CodedBitsError(`a prediction error of ${error} for samples of ${this.#form.bits} bits`);
  }
}

const PAIR_SUM = Uint8Array.from({ length: PAIRS }, (_, pair) =>
  Math.floor((Math.sqrt(8 * pair + 1) - 1) / 2),
);

/** Table 5-1 of the standard: 3 bits up to 8, 4 up to 16, 5 above; fewer for the restricted set. */
function identifierBitsOf({ bits, isRestricted }: CcsdsForm): number {
  if (isRestricted && bits <= 4) return bits <= 2 ? 1 : 2;
  if (bits <= 8) return 3;
  return bits <= 16 ? 4 : 5;
}

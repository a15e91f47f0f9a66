/**
 * The adaptive binary arithmetic decoder of JPEG 2000 (the MQ decoder).
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), annex C: table C.2 and the software conventions of figures C.15 to C.20.
 */

/** Table C.2: probability of the less probable symbol, next state after the more and the less probable one, switch. */
const STATES = [
  [0x5601, 1, 1, 1],
  [0x3401, 2, 6, 0],
  [0x1801, 3, 9, 0],
  [0x0ac1, 4, 12, 0],
  [0x0521, 5, 29, 0],
  [0x0221, 38, 33, 0],
  [0x5601, 7, 6, 1],
  [0x5401, 8, 14, 0],
  [0x4801, 9, 14, 0],
  [0x3801, 10, 14, 0],
  [0x3001, 11, 17, 0],
  [0x2401, 12, 18, 0],
  [0x1c01, 13, 20, 0],
  [0x1601, 29, 21, 0],
  [0x5601, 15, 14, 1],
  [0x5401, 16, 14, 0],
  [0x5101, 17, 15, 0],
  [0x4801, 18, 16, 0],
  [0x3801, 19, 17, 0],
  [0x3401, 20, 18, 0],
  [0x3001, 21, 19, 0],
  [0x2801, 22, 19, 0],
  [0x2401, 23, 20, 0],
  [0x2201, 24, 21, 0],
  [0x1c01, 25, 22, 0],
  [0x1801, 26, 23, 0],
  [0x1601, 27, 24, 0],
  [0x1401, 28, 25, 0],
  [0x1201, 29, 26, 0],
  [0x1101, 30, 27, 0],
  [0x0ac1, 31, 28, 0],
  [0x09c1, 32, 29, 0],
  [0x08a1, 33, 30, 0],
  [0x0521, 34, 31, 0],
  [0x0441, 35, 32, 0],
  [0x02a1, 36, 33, 0],
  [0x0221, 37, 34, 0],
  [0x0141, 38, 35, 0],
  [0x0111, 39, 36, 0],
  [0x0085, 40, 37, 0],
  [0x0049, 41, 38, 0],
  [0x0025, 42, 39, 0],
  [0x0015, 43, 40, 0],
  [0x0009, 44, 41, 0],
  [0x0005, 45, 42, 0],
  [0x0001, 45, 43, 0],
  [0x5601, 46, 46, 0],
] as const;

/** A state and its more probable symbol are one number: twice the row, and the symbol. */
const PROBABILITY = Uint16Array.from({ length: 2 * STATES.length }, (_, n) => STATES[n >> 1]![0]);
/** The next state: twice the state, and 1 after the less probable symbol. */
const AFTER = Uint8Array.from({ length: 4 * STATES.length }, (_, n) => {
  const [, afterMore, afterLess, isSwitched] = STATES[n >> 2]!;
  const symbol = (n >> 1) & 1;
  return (n & 1) === 0 ? 2 * afterMore + symbol : 2 * afterLess + (symbol ^ isSwitched);
});

/** Zero bits above the highest one of a 16-bit interval in a word. */
const INTERVAL_TOP_ZEROS = 16;

export class ArithmeticDecoder {
  readonly #octets: Uint8Array;
  #at = 0;
  #code: number;
  #interval = 0x8000;
  #shiftsLeft = 0;

  /** @param octets  The coded ones; after their end come ones without end. */
  constructor(octets: Uint8Array) {
    this.#octets = octets;
    this.#code = this.#octet(0) << 16;
    this.#byteIn();
    this.#code <<= 7;
    this.#shiftsLeft -= 7;
  }

  /**
   * No processor foresees these symbols, so what depends on them is reckoned with masks (-1 for yes) instead of branches.
   *
   * @returns the next symbol, 0 or 1; the state of its context, at `at`, moves on.
   */
  decode(contexts: Uint8Array, at: number): number {
    const state = contexts[at]!;
    const probability = PROBABILITY[state]!;
    const interval = this.#interval - probability;
    const lower = ((this.#code >>> 16) - probability) >> 31;
    this.#code = (this.#code - ((probability << 16) & ~lower)) | 0;
    if ((interval & ~lower & 0x8000) !== 0) {
      this.#interval = interval;
      return state & 1;
    }
    const exchanged = (interval - probability) >> 31;
    const less = (lower ^ exchanged) & 1;
    contexts[at] = AFTER[2 * state + less]!;
    this.#renormalize(interval + ((probability - interval) & lower));
    return (state & 1) ^ less;
  }

  /** Shifts until the highest bit of the interval is set: by all that are held at once, not one by one. */
  #renormalize(interval: number): void {
    let shifts = Math.clz32(interval) - INTERVAL_TOP_ZEROS;
    this.#interval = interval << shifts;
    while (shifts > this.#shiftsLeft) {
      this.#code <<= this.#shiftsLeft;
      shifts -= this.#shiftsLeft;
      this.#byteIn();
    }
    this.#code <<= shifts;
    this.#shiftsLeft -= shifts;
  }

  /** After an octet of ones comes a bit that is none, or a mark that ends the octets. */
  #byteIn(): void {
    if (this.#octet(this.#at) !== 0xff) {
      this.#at += 1;
      this.#code += this.#octet(this.#at) << 8;
      this.#shiftsLeft = 8;
    } else if (this.#octet(this.#at + 1) > 0x8f) {
      this.#code += 0xff00;
      this.#shiftsLeft = 8;
    } else {
      this.#at += 1;
      this.#code += this.#octet(this.#at) << 9;
      this.#shiftsLeft = 7;
    }
  }

  #octet(at: number): number {
    return at < this.#octets.length ? this.#octets[at]! : 0xff;
  }
}

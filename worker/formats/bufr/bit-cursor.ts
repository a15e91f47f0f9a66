/** Where reading stands in the data of section 4: numbers and text of any width, one after the other. */
import { FormatError } from '../../errors.ts';
import { bitsAt, wordView } from '../bit-reader.ts';

const WORD_BITS = 32;
const TWO_POW_32 = 2 ** WORD_BITS;
/** Widest number that is read: whole numbers stay exact. */
export const MOST_NUMBER_BITS = 53;
const OCTET_BITS = 8;
const ALL_ONES_OCTET = 0xff;

export class BitCursor {
  readonly endBit: number;
  readonly #view: DataView;
  readonly #offsetBytes: number;
  #bit = 0;

  /**
   * @param data         Below 2^28 octets, so that every position is a 32-bit integer.
   * @param offsetBytes  Of the first octet in the file, for errors.
   */
  constructor(data: Uint8Array, offsetBytes: number) {
    this.#view = wordView(data);
    this.#offsetBytes = offsetBytes;
    this.endBit = data.length * OCTET_BITS;
  }

  get bit(): number {
    return this.#bit;
  }

  /** @throws FormatError, as all that moves, when the data end before. */
  moveTo(bit: number): void {
    if (bit > this.endBit) throw this.error('length', `${this.endBit} bits of data`, `at least ${bit}`);
    this.#bit = bit;
  }

  skip(bits: number): void {
    this.moveTo(this.#bit + bits);
  }

  /** A whole number of 0 to 53 bits. */
  take(width: number): number {
    const from = this.#bit;
    this.moveTo(from + width);
    return this.at(from, width);
  }

  /** The same from a place that was passed before; moves nothing. */
  at(bit: number, width: number): number {
    if (width <= WORD_BITS) return bitsAt(this.#view, bit, width);
    const high = width - WORD_BITS;
    return bitsAt(this.#view, bit, high) * TWO_POW_32 + bitsAt(this.#view, bit + high, WORD_BITS);
  }

  /** CCITT IA5 text without the blanks around it; undefined when every bit is set, the code's way to say missing. */
  textAt(bit: number, octets: number): string | undefined {
    let text = '';
    let isMissing = true;
    for (let octet = 0; octet < octets; octet += 1) {
      const code = this.at(bit + OCTET_BITS * octet, OCTET_BITS);
      isMissing &&= code === ALL_ONES_OCTET;
      text += String.fromCharCode(code);
    }
    return isMissing ? undefined : text.replaceAll('\u0000', ' ').trim();
  }

  /** An error where reading stands. */
  error(what: string, found: string, expected: string): FormatError {
    return new FormatError({
      format: 'BUFR',
      place: { unit: 'byte', offsetBytes: this.#offsetBytes + (this.#bit >>> 3) },
      what: `section 4 ${what}`,
      found,
      expected,
    });
  }
}

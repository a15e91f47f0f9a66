/**
 * A run of octets of a WMO binary code, read by octet number as the manual prints it: octets count from 1, numbers are
 * big-endian, and a negative integer is a set first bit before a magnitude (regulation 92.1.5), not two's complement.
 */
import { FormatError } from '../errors.ts';

/** What a reader's errors say of the octets it reads. */
export interface ByteOrigin {
  /** Name of the format, as in `GRIB2`. */
  readonly format: string;
  /** What the octets are, as in `section 3`. */
  readonly name: string;
  /** Offset of octet 1 in the file. */
  readonly offsetBytes: number;
}

const TWO_POW_32 = 2 ** 32;

export class ByteReader {
  readonly bytes: Uint8Array;
  readonly origin: ByteOrigin;
  readonly #view: DataView;

  constructor(bytes: Uint8Array, origin: ByteOrigin) {
    this.bytes = bytes;
    this.origin = origin;
    this.#view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  }

  get lengthBytes(): number {
    return this.bytes.length;
  }

  /** @throws FormatError, as every reading method, when the octets lie beyond the end. */
  uint8(octet: number): number {
    return this.#view.getUint8(this.#at(octet, 1));
  }

  uint16(octet: number): number {
    return this.#view.getUint16(this.#at(octet, 2));
  }

  uint32(octet: number): number {
    return this.#view.getUint32(this.#at(octet, 4));
  }

  /** Exact below 2^53, rounded above. */
  uint64(octet: number): number {
    return this.uint32(octet) * TWO_POW_32 + this.uint32(octet + 4);
  }

  /** An integer of 0 to 4 octets; 0 when it has none. */
  uint(octet: number, octets: number): number {
    let value = 0;
    for (let each = 0; each < octets; each += 1) value = value * 256 + this.uint8(octet + each);
    return value;
  }

  /** Sign and magnitude in 0 to 4 octets; 0 when it has none. */
  signed(octet: number, octets: number): number {
    const value = this.uint(octet, octets);
    const signBit = 2 ** (8 * octets - 1);
    return octets > 0 && value >= signBit ? signBit - value : value;
  }

  signed8(octet: number): number {
    return this.signed(octet, 1);
  }

  signed16(octet: number): number {
    return this.signed(octet, 2);
  }

  signed32(octet: number): number {
    return this.signed(octet, 4);
  }

  /** IEEE 754 single precision. */
  float32(octet: number): number {
    return this.#view.getFloat32(this.#at(octet, 4));
  }

  /** True when every bit is set: the code's way to say missing. */
  isMissing(octet: number, octets: number): boolean {
    return this.uint(octet, octets) === 2 ** (8 * octets) - 1;
  }

  /** The octets from one to the end, without a copy; none when the octet is just past the end. */
  from(octet: number): Uint8Array {
    this.#at(octet, 0);
    return this.bytes.subarray(octet - 1);
  }

  /** An error that points at an octet of the file. */
  error(octet: number, fields: { what: string; found: string; expected: string }): FormatError {
    const { format, name, offsetBytes } = this.origin;
    return new FormatError({
      format,
      place: { unit: 'byte', offsetBytes: offsetBytes + octet - 1 },
      what: `${name} ${fields.what}`,
      found: fields.found,
      expected: fields.expected,
    });
  }

  #at(octet: number, length: number): number {
    const last = octet - 1 + length;
    if (octet >= 1 && last <= this.bytes.length) return octet - 1;
    throw this.error(octet, {
      what: length > 1 ? `octets ${octet}-${last}` : `octet ${octet}`,
      found: `${this.bytes.length} octets in all`,
      expected: `at least ${last}`,
    });
  }
}

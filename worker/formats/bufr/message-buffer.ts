/** Bytes of a file as they come, cut into messages and what lies between them. */
import { FormatError, UnsupportedError } from '../../errors.ts';
import { type Gap, indexOfBytes, LONGEST_HEADING, latin1 } from '../message-gap.ts';
import { INDICATOR_OCTETS } from './sections.ts';

export type Cut =
  /** `bytes` is valid until the next call. */
  | { readonly kind: 'message'; readonly offsetBytes: number; readonly bytes: Uint8Array }
  | { readonly kind: 'broken'; readonly offsetBytes: number; readonly error: FormatError | UnsupportedError }
  | { readonly kind: 'gap'; readonly gap: Gap };

const MAGIC = [0x42, 0x55, 0x46, 0x52] as const;
const END_MARK_OCTET = 0x37;
const END_MARK_OCTETS = 4;
/** The indicator, three more sections of a few octets and the end mark: nothing shorter is a message. */
const SHORTEST_MESSAGE = 40;
/** Editions 0 and 1 do not say how long a message is. */
const FIRST_EDITION_WITH_LENGTH = 2;
/** Taken in one go from a chunk, so that a file given whole is not held twice. */
const PART_BYTES = 256 * 1024;

/** Holds at most one message (its length has 24 bits) and a part; what is passed is let go of. */
export class MessageBuffer {
  #buffer = new Uint8Array(2 * PART_BYTES);
  #start = 0;
  #end = 0;
  #offsetBytes = 0;
  #isAtMagic = false;
  /** Of the message given last: let go of at the next call. */
  #givenBytes = 0;
  #gap = emptyGap(0);
  /** What follows a broken message up to the next "BUFR" is told with it. */
  #isAfterBroken = false;

  /** Position in the file of the first byte held. */
  get offsetBytes(): number {
    return this.#offsetBytes;
  }

  *parts(chunk: Uint8Array): Generator<Uint8Array> {
    for (let from = 0; from < chunk.length; from += PART_BYTES) yield chunk.subarray(from, from + PART_BYTES);
  }

  append(part: Uint8Array): void {
    this.#dropGiven();
    const heldBytes = this.#end - this.#start;
    if (this.#end + part.length > this.#buffer.length) {
      // At least as much room again as is held: each byte is moved a few times at most.
      const isRoomy = 2 * (heldBytes + part.length) <= this.#buffer.length;
      const next = isRoomy ? this.#buffer : new Uint8Array(2 * (heldBytes + part.length));
      next.set(this.#buffer.subarray(this.#start, this.#end));
      this.#buffer = next;
      this.#start = 0;
      this.#end = heldBytes;
    }
    this.#buffer.set(part, this.#end);
    this.#end += part.length;
  }

  /** @returns undefined when more bytes are needed or, at the end of the file, when all is told. */
  next(isEnd: boolean): Cut | undefined {
    this.#dropGiven();
    if (!this.#isAtMagic) {
      const gap = this.#seek(isEnd);
      if (gap !== undefined) return { kind: 'gap', gap };
    }
    return this.#isAtMagic ? this.#cut(isEnd) : undefined;
  }

  get #held(): Uint8Array {
    return this.#buffer.subarray(this.#start, this.#end);
  }

  #drop(bytes: number): void {
    this.#start += bytes;
    this.#offsetBytes += bytes;
  }

  #dropGiven(): void {
    this.#drop(this.#givenBytes);
    this.#givenBytes = 0;
  }

  /** Goes to the next "BUFR" or the end; gives the gap before it when there is one to tell of. */
  #seek(isEnd: boolean): Gap | undefined {
    const held = this.#held;
    const at = indexOfBytes(held, MAGIC);
    const keptBytes = isEnd ? 0 : MAGIC.length - 1;
    const passedBytes = at >= 0 ? at : Math.max(0, held.length - keptBytes);
    this.#gap = longerGap(this.#gap, held.subarray(0, passedBytes));
    this.#drop(passedBytes);
    this.#isAtMagic = at >= 0;
    if (at < 0 && !isEnd) return undefined;
    const gap = this.#gap;
    const isTold = gap.lengthBytes > 0 && !this.#isAfterBroken;
    this.#gap = emptyGap(this.#offsetBytes);
    this.#isAfterBroken = false;
    return isTold ? gap : undefined;
  }

  #cut(isEnd: boolean): Cut | undefined {
    const held = this.#held;
    const lengthBytes = held.length < INDICATOR_OCTETS ? INDICATOR_OCTETS : lengthOf(held);
    if (held.length < lengthBytes && !isEnd) return undefined;
    const isWhole = lengthBytes >= SHORTEST_MESSAGE && lengthBytes <= held.length;
    const offsetBytes = this.#offsetBytes;
    this.#isAtMagic = false;
    if (isWhole && hasEndMark(held, lengthBytes)) {
      this.#givenBytes = lengthBytes;
      this.#gap = emptyGap(offsetBytes + lengthBytes);
      return { kind: 'message', offsetBytes, bytes: held.subarray(0, lengthBytes) };
    }
    const error = brokenError(held, lengthBytes, offsetBytes);
    this.#drop(MAGIC.length);
    this.#isAfterBroken = true;
    return { kind: 'broken', offsetBytes, error };
  }
}

/** Octets 5-7 of section 0. */
const lengthOf = (held: Uint8Array): number => held[4]! * 65_536 + held[5]! * 256 + held[6]!;

function hasEndMark(held: Uint8Array, lengthBytes: number): boolean {
  return held.subarray(lengthBytes - END_MARK_OCTETS, lengthBytes).every((octet) => octet === END_MARK_OCTET);
}

function brokenError(
  held: Uint8Array,
  lengthBytes: number,
  offsetBytes: number,
): FormatError | UnsupportedError {
  const edition = held[7];
  if (edition !== undefined && edition < FIRST_EDITION_WITH_LENGTH) {
    return new UnsupportedError({
      feature: 'BUFR edition',
      table: 'octet 8 of section 0',
      value: String(edition),
    });
  }
  const fault = (at: number, what: string, found: string, expected: string) =>
    new FormatError({
      format: 'BUFR',
      place: { unit: 'byte', offsetBytes: offsetBytes + at },
      what,
      found,
      expected,
    });
  if (lengthBytes > held.length) {
    return fault(4, 'message length', `${held.length} bytes to the end of the file`, `${lengthBytes}`);
  }
  if (lengthBytes < SHORTEST_MESSAGE) {
    return fault(4, 'message length', `${lengthBytes}`, `at least ${SHORTEST_MESSAGE}`);
  }
  const at = lengthBytes - END_MARK_OCTETS;
  const found = JSON.stringify(latin1(held.subarray(at, lengthBytes)));
  return fault(at, 'end mark', found, '"7777"');
}

function emptyGap(offsetBytes: number): Gap {
  return { offsetBytes, lengthBytes: 0, head: '' };
}

function longerGap(gap: Gap, bytes: Uint8Array): Gap {
  const missing = LONGEST_HEADING - gap.head.length;
  const head = missing > 0 ? gap.head + latin1(bytes.subarray(0, missing)) : gap.head;
  return { ...gap, lengthBytes: gap.lengthBytes + bytes.length, head };
}

/**
 * Cuts a GRIB edition 2 message into its sections and checks that they fill it from "GRIB" to "7777".
 *
 * @source  WMO-No. 306, Volume I.2, FM 92 GRIB edition 2, sections 0 to 8 and regulations 92.2 and 92.3.
 */
import type { FormatError } from '../../errors.ts';
import { ByteReader } from '../byte-reader.ts';

/** The sections one field is made of; those that repeat from field to field are shared. */
export interface FieldSections {
  readonly grid: ByteReader;
  readonly product: ByteReader;
  readonly representation: ByteReader;
  readonly bitmap: ByteReader;
  /** The last section 6 of the message, up to this field's own, that holds a bitmap. */
  readonly lastBitmap: ByteReader | undefined;
  readonly data: ByteReader;
}

export interface MessageSections {
  readonly offsetBytes: number;
  readonly discipline: number;
  readonly identification: ByteReader;
  readonly fields: readonly FieldSections[];
}

export const INDICATOR_OCTETS = 16;
/** Code table 6.0. */
export const BITMAP_FOLLOWS = 0;
const END_OCTETS = 4;
const END_MARK = '7777';
const HEADER_OCTETS = 5;

/** Services put two fields into a message, seldom all levels of a quantity. */
const MOST_FIELDS = 4096;

/** Shortest length of each section, octets. */
const SHORTEST = [0, 21, 5, 14, 9, 11, 6, 5] as const;
/** Which section may follow which: 2 to 7, 3 to 7 or 4 to 7 may repeat. */
const FOLLOWERS: readonly (readonly number[])[] = [[1], [2, 3], [3], [4], [5], [6], [7], [2, 3, 4]];

/**
 * @param message      The whole message, from its first octet to its last.
 * @param offsetBytes  Offset of its first octet in the file.
 * @throws FormatError when a section is too short, out of order or reaches beyond the message, when "7777" is not at
 *   the end, or when there is no field.
 */
export function walkSections(message: Uint8Array, offsetBytes: number): MessageSections {
  const whole = new ByteReader(message, { format: 'GRIB2', name: 'message', offsetBytes });
  const endAt = message.length - END_OCTETS;
  const latest: ByteReader[] = [];
  const fields: FieldSections[] = [];
  let lastBitmap: ByteReader | undefined;
  let previous = 0;
  for (let at = INDICATOR_OCTETS; at < endAt; at += latest[previous]!.lengthBytes) {
    const section = sectionAt(whole, { at, endAt, previous });
    previous = section.uint8(5);
    latest[previous] = section;
    if (previous === 6 && section.uint8(6) === BITMAP_FOLLOWS) lastBitmap = section;
    if (previous !== 7) continue;
    if (fields.length === MOST_FIELDS) throw tooManyFields(whole, at);
    fields.push({
      grid: latest[3]!,
      product: latest[4]!,
      representation: latest[5]!,
      bitmap: latest[6]!,
      lastBitmap,
      data: section,
    });
  }
  checkEnd(whole, previous);
  return { offsetBytes, discipline: whole.uint8(7), identification: latest[1]!, fields };
}

function tooManyFields(whole: ByteReader, at: number): FormatError {
  return whole.error(at + 1, {
    what: 'fields of one message',
    found: `more than ${MOST_FIELDS}`,
    expected: `at most ${MOST_FIELDS}`,
  });
}

function sectionAt(
  whole: ByteReader,
  { at, endAt, previous }: { at: number; endAt: number; previous: number },
): ByteReader {
  const octet = at + 1;
  if (at + HEADER_OCTETS > endAt) {
    throw wrongEnd(whole, octet, `${endAt - at} octets before the end section`);
  }
  const lengthOctets = whole.uint32(octet);
  const number = whole.uint8(octet + 4);
  const followers = FOLLOWERS[previous] ?? [];
  if (!followers.includes(number)) {
    throw whole.error(octet + 4, {
      what: `section after section ${previous}`,
      found: `section ${number}`,
      expected: `section ${followers.join(' or ')}`,
    });
  }
  const shortest = SHORTEST[number]!;
  if (lengthOctets < shortest || at + lengthOctets > endAt) {
    throw whole.error(octet, {
      what: `section ${number} length`,
      found: `${lengthOctets} octets`,
      expected: `${shortest} to ${endAt - at}`,
    });
  }
  const { format, offsetBytes } = whole.origin;
  const bytes = whole.bytes.subarray(at, at + lengthOctets);
  return new ByteReader(bytes, { format, name: `section ${number}`, offsetBytes: offsetBytes + at });
}

function checkEnd(whole: ByteReader, previous: number): void {
  const octet = whole.lengthBytes - END_OCTETS + 1;
  const mark = String.fromCharCode(...whole.from(octet));
  if (mark !== END_MARK) throw wrongEnd(whole, octet, JSON.stringify(mark));
  if (previous === 7) return;
  throw whole.error(octet, {
    what: `section after section ${previous}`,
    found: 'the end section',
    expected: `section ${(FOLLOWERS[previous] ?? []).join(' or ')}`,
  });
}

function wrongEnd(whole: ByteReader, octet: number, found: string): FormatError {
  return whole.error(octet, { what: 'end section', found, expected: JSON.stringify(END_MARK) });
}

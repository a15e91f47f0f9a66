/** Sections 0, 1, 3, 4 and 5 of one BUFR message, editions 3 and 4: what it is about, and where its data lie. */
import { UnsupportedError } from '../../errors.ts';
import { ByteReader } from '../byte-reader.ts';
import { descriptorOfBits } from './descriptors.ts';

export interface BufrMessage {
  readonly edition: 3 | 4;
  /** Originating center, common code table C-1. */
  readonly center: number;
  readonly masterVersion: number;
  readonly subsetCount: number;
  readonly isCompressed: boolean;
  /** FXXYYY, as section 3 lists them. */
  readonly descriptors: readonly number[];
  /** The data of section 4, its heading left out. */
  readonly data: Uint8Array;
  /** Of the first octet of `data` in the file. */
  readonly dataOffsetBytes: number;
}

/** "BUFR", the length of the message in three octets, the edition. */
export const INDICATOR_OCTETS = 8;
const EDITIONS: readonly number[] = [3, 4];
const END_MARK = '7777';
/** Table A: vertical soundings, other than from satellites. */
const VERTICAL_SOUNDINGS = 2;
/** Octets of a section before its own content: the length, and in sections 2 to 4 one that is reserved. */
const HEADING_OCTETS = 4;

/** Where edition 3 and edition 4 keep what is needed of section 1: octet numbers. */
const SECTION_1_OCTETS = {
  3: { least: 17, center: 6, centerOctets: 1, flags: 8, category: 9, masterVersion: 11 },
  4: { least: 22, center: 5, centerOctets: 2, flags: 10, category: 11, masterVersion: 14 },
} as const;

/**
 * @param bytes        One message from "B" to the end of "7777".
 * @param offsetBytes  Of the message in its file.
 * @throws FormatError       when lengths do not fit together or a section is too short.
 * @throws UnsupportedError  for another edition, master table or category of data.
 */
export function readSections(bytes: Uint8Array, offsetBytes: number): BufrMessage {
  const indicator = readerOf(bytes.subarray(0, INDICATOR_OCTETS), { name: 'section 0', offsetBytes });
  const edition = indicator.uint8(8);
  if (!EDITIONS.includes(edition)) throw unsupported('edition', 'octet 8 of section 0', edition);
  const octets = SECTION_1_OCTETS[edition as 3 | 4];
  const rest = { bytes, fileOffsetBytes: offsetBytes };
  const section1 = takeSection(rest, { number: 1, at: INDICATOR_OCTETS, least: octets.least });
  if (section1.uint8(4) !== 0) throw unsupported('master table', 'octet 4 of section 1', section1.uint8(4));
  const category = section1.uint8(octets.category);
  if (category !== VERTICAL_SOUNDINGS) throw unsupported('data category', 'Table A', category);
  let at = INDICATOR_OCTETS + section1.lengthBytes;
  const hasSection2 = (section1.uint8(octets.flags) & 0x80) !== 0;
  if (hasSection2) at += takeSection(rest, { number: 2, at, least: HEADING_OCTETS }).lengthBytes;
  const section3 = takeSection(rest, { number: 3, at, least: 9 });
  at += section3.lengthBytes;
  const section4 = takeSection(rest, { number: 4, at, least: HEADING_OCTETS });
  at += section4.lengthBytes;
  expectEnd(readerOf(bytes.subarray(at), { name: 'section 5', offsetBytes: offsetBytes + at }));
  return {
    edition: edition as 3 | 4,
    center: section1.uint(octets.center, octets.centerOctets),
    masterVersion: section1.uint8(octets.masterVersion),
    subsetCount: section3.uint16(5),
    isCompressed: (section3.uint8(7) & 0x40) !== 0,
    descriptors: descriptorsOf(section3),
    data: section4.from(HEADING_OCTETS + 1),
    dataOffsetBytes: section4.origin.offsetBytes + HEADING_OCTETS,
  };
}

/** Octets 8 and on, two a descriptor; edition 3 pads sections to an even number of octets. */
function descriptorsOf(section3: ByteReader): number[] {
  const count = Math.floor((section3.lengthBytes - 7) / 2);
  return Array.from({ length: count }, (_, n) => descriptorOfBits(section3.uint16(8 + 2 * n)));
}

function takeSection(
  { bytes, fileOffsetBytes }: { bytes: Uint8Array; fileOffsetBytes: number },
  { number, at, least }: { number: number; at: number; least: number },
): ByteReader {
  const origin = { name: `section ${number}`, offsetBytes: fileOffsetBytes + at };
  const rest = readerOf(bytes.subarray(at), origin);
  const lengthBytes = rest.uint(1, 3);
  const most = rest.lengthBytes - END_MARK.length;
  if (lengthBytes < least || lengthBytes > most) {
    throw rest.error(1, { what: 'length', found: `${lengthBytes}`, expected: `${least} to ${most}` });
  }
  return readerOf(bytes.subarray(at, at + lengthBytes), origin);
}

function expectEnd(section5: ByteReader): void {
  const found = String.fromCharCode(...section5.bytes.subarray(0, END_MARK.length));
  if (section5.lengthBytes === END_MARK.length && found === END_MARK) return;
  throw section5.error(1, {
    what: 'end mark',
    found: `${JSON.stringify(found)} in ${section5.lengthBytes} octets`,
    expected: `"${END_MARK}" in ${END_MARK.length}`,
  });
}

function readerOf(bytes: Uint8Array, origin: { name: string; offsetBytes: number }): ByteReader {
  return new ByteReader(bytes, { format: 'BUFR', ...origin });
}

function unsupported(what: string, table: string, value: number): UnsupportedError {
  return new UnsupportedError({ feature: `BUFR ${what}`, table, value: String(value) });
}

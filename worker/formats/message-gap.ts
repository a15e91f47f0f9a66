/** What stands between the messages of a file: nothing, blanks, or the lines that telecommunication puts around them. */
import { FormatError } from '../errors.ts';

/** Bytes between messages that belong to none. */
export interface Gap {
  readonly offsetBytes: number;
  readonly lengthBytes: number;
  /** Its first bytes as Latin-1 text: LONGEST_HEADING of them or more, where there are as many. */
  readonly head: string;
}

/** Shorter than any GRIB2 message (about 180 bytes) and any ascent in BUFR: no such gap hides a lost one. */
export const LONGEST_HEADING = 128;
/** Bytes of a gap that an error shows. */
const SHOWN = 16;

/**
 * Start and end characters, sequence numbers, lengths with or without asterisks, and the end mark NNNN.
 *
 * @source WMO-No. 386, Manual on the Global Telecommunication System, attachment II-5; from memory.
 */
const ENVELOPE_LINE = /^(ZCZC( .{1,12})?|NNNN|\*{4}\d+\*{4}|\d{3,10})$/;
/** The abbreviated heading: designator, center, day and time, amendment. */
const HEADING_LINE = /^[A-Z]{4}\d{0,2} [A-Z]{4} \d{6}( [A-Z]{3})?$/;
/** Of the country's own, below the abbreviated heading. */
const PRODUCT_LINE = /^[A-Z0-9]{4,6}$/;
/** Start of heading, end of text, padding. */
const CONTROLS = ['\u0001', '\u0003', '\u0000'] as const;

const INDICATORS = { BUFR: 'BUFR', GRIB2: 'GRIB' } as const;

/** @returns what to say of a gap; undefined when it is empty, blank, short padding or a bulletin heading. */
export function faultOfGap(gap: Gap, format: keyof typeof INDICATORS): FormatError | undefined {
  if (gap.lengthBytes === 0 || isHarmless(gap)) return undefined;
  return new FormatError({
    format,
    place: { unit: 'byte', offsetBytes: gap.offsetBytes },
    what: 'message',
    found: `${gap.lengthBytes} bytes that begin ${JSON.stringify(gap.head.slice(0, SHOWN))}`,
    expected: JSON.stringify(INDICATORS[format]),
  });
}

function isHarmless({ head, lengthBytes }: Gap): boolean {
  if (head.length < lengthBytes) return false;
  if (head.trim() === '') return true;
  if (lengthBytes > LONGEST_HEADING) return false;
  const text = CONTROLS.reduce((rest, control) => rest.replaceAll(control, '\n'), head);
  return text
    .split(/\s*[\r\n]+\s*/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .every(isEnvelope);
}

function isEnvelope(line: string, index: number, lines: readonly string[]): boolean {
  if (ENVELOPE_LINE.test(line) || HEADING_LINE.test(line)) return true;
  return PRODUCT_LINE.test(line) && HEADING_LINE.test(lines[index - 1] ?? '');
}

/** True for a text that begins with "BUFR", or with blanks and a bulletin heading before it. */
export function beginsWithMessage(text: string): boolean {
  const at = text.indexOf('BUFR');
  if (at < 0 || at > LONGEST_HEADING) return false;
  return isHarmless({ offsetBytes: 0, lengthBytes: at, head: text.slice(0, at) });
}

/** Where bytes first stand in others; -1 where they do not. */
export function indexOfBytes(bytes: Uint8Array, wanted: readonly number[]): number {
  const first = wanted[0]!;
  for (let at = bytes.indexOf(first); at >= 0; at = bytes.indexOf(first, at + 1)) {
    if (wanted.every((byte, place) => bytes[at + place] === byte)) return at;
  }
  return -1;
}

/** One character a byte: for people only. */
export const latin1 = (bytes: Uint8Array): string => new TextDecoder('latin1').decode(bytes);

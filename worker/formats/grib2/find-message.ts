/** Where the next message begins in a stream, and what lay before it. */
import { FormatError } from '../../errors.ts';
import type { ByteWindow } from './byte-window.ts';

/** Bytes between messages that belong to none. */
export interface Gap {
  readonly offsetBytes: number;
  readonly lengthBytes: number;
  /** Its first bytes, as Latin-1 text. */
  readonly head: string;
}

const MAGIC = [0x47, 0x52, 0x49, 0x42] as const;
/** Bytes looked at in one go. */
const STRIDE = 64 * 1024;
/** Shorter than any message (the shortest has about 180 bytes): no such gap hides a lost one. */
const LONGEST_HEADING = 128;
/** Bytes of a gap that an error shows. */
const SHOWN = 16;

/**
 * The lines that telecommunication puts around a message: start and end characters, sequence numbers, the length
 * between asterisks, and the abbreviated heading (designator, centre, day and time, amendment).
 *
 * @source WMO-No. 386, Manual on the Global Telecommunication System, attachment II-5; from memory.
 */
const HEADING_LINE = /^(\*{4}\d+\*{4}|\d{3,5}|[A-Z]{4}\d{0,2} [A-Z]{4} \d{6}( [A-Z]{3})?)$/;
const START_OF_HEADING = '\u0001';
const END_OF_TEXT = '\u0003';
const PADDING = '\u0000';

/** Moves the window to the next "GRIB", or to the end of the stream. */
export async function findMessage(window: ByteWindow): Promise<{ found: boolean; gap: Gap }> {
  const offsetBytes = window.offsetBytes;
  let head = '';
  for (;;) {
    const isMore = await window.fill(STRIDE);
    const { bytes } = window;
    const at = indexOfMagic(bytes);
    const kept = isMore ? MAGIC.length - 1 : 0;
    const passed = at >= 0 ? at : Math.max(0, bytes.length - kept);
    if (head.length <= LONGEST_HEADING) head += latin1(bytes.subarray(0, Math.min(passed, STRIDE)));
    window.drop(passed);
    if (at >= 0 || !isMore) {
      return { found: at >= 0, gap: { offsetBytes, lengthBytes: window.offsetBytes - offsetBytes, head } };
    }
  }
}

/** @returns what to say of a gap; undefined when it is empty, blank, short padding or a bulletin heading. */
export function faultOfGap(gap: Gap): FormatError | undefined {
  if (gap.lengthBytes === 0 || isHarmless(gap)) return undefined;
  return new FormatError({
    format: 'GRIB2',
    place: { unit: 'byte', offsetBytes: gap.offsetBytes },
    what: 'message',
    found: `${gap.lengthBytes} bytes that begin ${JSON.stringify(gap.head.slice(0, SHOWN))}`,
    expected: '"GRIB"',
  });
}

function isHarmless({ head, lengthBytes }: Gap): boolean {
  if (head.length < lengthBytes) return false;
  const text = head.replaceAll(START_OF_HEADING, ' ').replaceAll(END_OF_TEXT, ' ').trim();
  if (text === '') return true;
  if (lengthBytes > LONGEST_HEADING) return false;
  const isPadding = text.replaceAll(PADDING, '') === '';
  return isPadding || text.split(/\s*[\r\n]+\s*/).every((line) => HEADING_LINE.test(line));
}

function indexOfMagic(bytes: Uint8Array): number {
  for (let at = bytes.indexOf(MAGIC[0]); at >= 0; at = bytes.indexOf(MAGIC[0], at + 1)) {
    if (MAGIC.every((byte, place) => bytes[at + place] === byte)) return at;
  }
  return -1;
}

const latin1 = (bytes: Uint8Array) => new TextDecoder('latin1').decode(bytes);

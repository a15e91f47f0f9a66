/** Which sounding format a file is, told from its content alone, and the reader for it. */
import { UnsupportedError } from '../errors.ts';
import { readBufr, rejectionOf } from './bufr/read-bufr.ts';
import { readIgra } from './igra.ts';
import { beginsWithMessage } from './message-gap.ts';
import type { Rejection, Sounding, SoundingFile } from './sounding.ts';
import { readTemp, type TempContext } from './temp/read-temp.ts';

export type SoundingFormat = Sounding['format'];

/** For errors. */
export const SOUNDING_FORMATS = 'IGRA version 2, WMO FM 35 TEMP, WMO FM 94 BUFR';

/** A header record: the mark, an identifier of eleven characters and a year in their columns. */
const IGRA_HEADER = /^\uFEFF?#[0-9A-Z][0-9A-Z_-]{10} \d{4} /m;
/** A part's name standing alone; the other families are recognized so that they can be refused by name. */
const TEMP_PART = /(?:^|[\s=])(?:TT|UU|II|XX|PP|QQ|EE)(?:AA|BB|CC|DD)\s/;
/** After a damaged beginning: the mark, three octets of length and an edition that says its length. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: editions 2 to 4 are octets of that value
const BUFR_LATER = /BUFR[\s\S]{3}[\u0002-\u0004]/;

/**
 * @param text  the beginning of the file, a character an octet, is enough if it holds one header.
 * @returns     the format, or undefined when the text has the marks of none. Never throws.
 */
export function detectSoundingFormat(text: string): SoundingFormat | undefined {
  if (beginsWithMessage(text)) return 'fm-94-bufr';
  if (IGRA_HEADER.test(text)) return 'igra-v2';
  if (TEMP_PART.test(text)) return 'fm-35-temp';
  return BUFR_LATER.test(text) ? 'fm-94-bufr' : undefined;
}

/**
 * Reads a file of any of the formats; BUFR only from its bytes.
 *
 * @throws UnsupportedError  when it has the marks of no format, or is BUFR made into text.
 */
export function readSoundings(file: string | Uint8Array, context: TempContext): SoundingFile {
  const text = typeof file === 'string' ? file : new TextDecoder('latin1').decode(file);
  const format = detectSoundingFormat(text);
  if (format === 'igra-v2') return readIgra(text);
  if (format === 'fm-35-temp') return readTemp(text, context);
  if (format === 'fm-94-bufr' && typeof file !== 'string') return readBufrFile(file);
  throw new UnsupportedError({
    feature: format === undefined ? 'sounding text' : 'BUFR as text in place of bytes',
    table: SOUNDING_FORMATS,
    value: JSON.stringify(text.slice(0, 40)),
  });
}

function readBufrFile(bytes: Uint8Array): SoundingFile {
  const soundings: Sounding[] = [];
  const rejected: Rejection[] = [];
  for (const item of readBufr(bytes)) {
    if (item.kind === 'ascent') soundings.push(item.sounding);
    else rejected.push(rejectionOf(item));
  }
  return { soundings, rejected };
}

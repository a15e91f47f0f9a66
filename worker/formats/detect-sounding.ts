/** Which sounding format a text is, told from its content alone, and the reader for it. */
import { UnsupportedError } from '../errors.ts';
import { readIgra } from './igra.ts';
import type { SoundingFile } from './sounding.ts';
import { readTemp, type TempContext } from './temp/read-temp.ts';

export type SoundingFormat = 'igra-v2' | 'fm-35-temp';

/** A header record: the mark, an identifier of eleven characters and a year in their columns. */
const IGRA_HEADER = /^\uFEFF?#[0-9A-Z][0-9A-Z_-]{10} \d{4} /m;
/** A part's name standing alone; the other families are recognized so that they can be refused by name. */
const TEMP_PART = /(?:^|[\s=])(?:TT|UU|II|XX|PP|QQ|EE)(?:AA|BB|CC|DD)\s/;

/**
 * @param text  the beginning of the text is enough, if it holds one header.
 * @returns     the format, or undefined when the text has the marks of neither. Never throws.
 */
export function detectSoundingFormat(text: string): SoundingFormat | undefined {
  if (IGRA_HEADER.test(text)) return 'igra-v2';
  return TEMP_PART.test(text) ? 'fm-35-temp' : undefined;
}

/**
 * Reads a text of either format.
 *
 * @throws UnsupportedError  when the text has the marks of neither format.
 */
export function readSoundings(text: string, context: TempContext): SoundingFile {
  const format = detectSoundingFormat(text);
  if (format === 'igra-v2') return readIgra(text);
  if (format === 'fm-35-temp') return readTemp(text, context);
  throw new UnsupportedError({
    feature: 'sounding text',
    table: 'IGRA version 2, WMO FM 35 TEMP',
    value: JSON.stringify(text.slice(0, 40)),
  });
}

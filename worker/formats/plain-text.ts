/**
 * Texts as people paste them: bytes to characters, and the dashes and blanks of word processors to those of the codes.
 * Every character stays where it is, so that offsets and lines told in a reason are those of the text as given.
 */

/** Hyphens, en and em dashes, minus signs. */
const DASHES = /[\u2010-\u2015\u2212\uFE58\uFE63\uFF0D]/g;
/** Blanks that do not break, of other widths or of none, separators of lines, the byte order mark. */
const BLANKS = /[\u00A0\u1680\u2000-\u200B\u2028\u2029\u202F\u205F\u3000\uFEFF]/g;

/** The same text with plain hyphens and blanks, of the same length. */
export function plainText(text: string): string {
  return text.replace(DASHES, '-').replace(BLANKS, ' ');
}

/**
 * Characters of a file: UTF-8 where all of it is, else Latin-1 with the dashes of Windows, as browsers read it. A byte
 * order mark stays in, as a character.
 */
export function decodedText(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    return new TextDecoder('latin1').decode(bytes);
  }
}

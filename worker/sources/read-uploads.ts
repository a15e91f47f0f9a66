/** Ascents out of an upload: IGRA line by line as the bytes come, FM 35 as one short text. */
import { FormatError, UnsupportedError } from '../errors.ts';
import { detectSoundingFormat } from '../formats/detect-sounding.ts';
import { createIgraReader } from '../formats/igra.ts';
import type { Rejection, Sounding } from '../formats/sounding.ts';
import { readTemp, type TempContext } from '../formats/temp/read-temp.ts';

/** Characters looked at to tell the format. */
const HEAD_CHARACTERS = 8192;
/** IGRA lines have 71 columns; a line this long is not text of that kind. */
const LONGEST_LINE = 8192;
/** A bulletin file is short; more text than this is not one. */
const MOST_TEMP_CHARACTERS = 4 * 1024 * 1024;

export type UploadItem =
  | { readonly kind: 'sounding'; readonly sounding: Sounding }
  | { readonly kind: 'rejected'; readonly rejection: Rejection };

/**
 * @returns ascents in file order, then the lines that belong to none.
 * @throws UnsupportedError when the text is neither format.
 */
export async function* uploadedSoundings(
  chunks: AsyncIterable<Uint8Array>,
  context: TempContext,
): AsyncGenerator<UploadItem> {
  const texts = decodedTexts(chunks)[Symbol.asyncIterator]();
  let head = '';
  while (head.length < HEAD_CHARACTERS) {
    const next = await texts.next();
    if (next.done === true) break;
    head += next.value;
  }
  const format = detectSoundingFormat(head);
  if (format === 'igra-v2') yield* igraItems(head, texts);
  else if (format === 'fm-35-temp') yield* tempItems(head, texts, context);
  else {
    throw new UnsupportedError({
      feature: 'sounding text',
      table: 'IGRA version 2, WMO FM 35 TEMP',
      value: JSON.stringify(head.slice(0, 40)),
    });
  }
}

async function* decodedTexts(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('latin1');
  for await (const chunk of chunks) yield decoder.decode(chunk, { stream: true });
}

async function* igraItems(head: string, texts: AsyncIterator<string>): AsyncGenerator<UploadItem> {
  const reader = createIgraReader();
  for await (const line of linesOf(head, texts)) {
    const sounding = reader.line(line);
    if (sounding !== undefined) yield { kind: 'sounding', sounding };
  }
  const last = reader.end();
  if (last !== undefined) yield { kind: 'sounding', sounding: last };
  for (const rejection of reader.rejected) yield { kind: 'rejected', rejection };
}

async function* linesOf(head: string, texts: AsyncIterator<string>): AsyncGenerator<string> {
  let rest = head;
  let line = 1;
  for (;;) {
    const lines = rest.split(/\r?\n/);
    rest = lines.pop() ?? '';
    yield* lines;
    line += lines.length;
    if (rest.length > LONGEST_LINE) throw lineTooLong(line, rest.length);
    const next = await texts.next();
    if (next.done === true) break;
    rest += next.value;
  }
  if (rest !== '') yield rest;
}

function lineTooLong(line: number, length: number): FormatError {
  return new FormatError({
    format: 'IGRA version 2',
    what: 'line length',
    place: { unit: 'line', line },
    found: `${length} characters without a line end`,
    expected: `at most ${LONGEST_LINE}`,
  });
}

async function* tempItems(
  head: string,
  texts: AsyncIterator<string>,
  context: TempContext,
): AsyncGenerator<UploadItem> {
  let text = head;
  for (let next = await texts.next(); next.done !== true; next = await texts.next()) {
    text += next.value;
    if (text.length > MOST_TEMP_CHARACTERS) {
      throw new UnsupportedError({
        feature: 'FM 35 text longer than',
        table: 'bytes a file',
        value: String(MOST_TEMP_CHARACTERS),
      });
    }
  }
  const file = readTemp(text, context);
  for (const sounding of file.soundings) yield { kind: 'sounding', sounding };
  for (const rejection of file.rejected) yield { kind: 'rejected', rejection };
}

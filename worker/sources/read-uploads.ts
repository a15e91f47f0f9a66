/** Ascents out of an upload: IGRA line by line as the bytes come, BUFR message by message, FM 35 as one short text. */
import { FormatError, UnsupportedError } from '../errors.ts';
import { type BufrItem, createBufrReader, rejectionOf } from '../formats/bufr/read-bufr.ts';
import { detectSoundingFormat, SOUNDING_FORMATS } from '../formats/detect-sounding.ts';
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
 * @returns ascents in file order, and the lines that belong to none: of FM 35 behind the ascents, else where they stand.
 * @throws UnsupportedError when the file is of no format.
 */
export async function* uploadedSoundings(
  chunks: AsyncIterable<Uint8Array>,
  context: TempContext,
): AsyncGenerator<UploadItem> {
  const { head, all } = await withHead(chunks);
  const format = detectSoundingFormat(head);
  if (format === 'igra-v2') yield* igraItems(decodedTexts(all));
  else if (format === 'fm-35-temp') yield* tempItems(decodedTexts(all), context);
  else if (format === 'fm-94-bufr') yield* bufrItems(all);
  else {
    throw new UnsupportedError({
      feature: 'sounding text',
      table: SOUNDING_FORMATS,
      value: JSON.stringify(head.slice(0, 40)),
    });
  }
}

/** The first characters, and the bytes from the first one on. */
async function withHead(
  chunks: AsyncIterable<Uint8Array>,
): Promise<{ head: string; all: AsyncGenerator<Uint8Array> }> {
  const iterator = chunks[Symbol.asyncIterator]();
  const decoder = new TextDecoder('latin1');
  const first: Uint8Array[] = [];
  let head = '';
  while (head.length < HEAD_CHARACTERS) {
    const next = await iterator.next();
    if (next.done === true) break;
    first.push(next.value);
    head += decoder.decode(next.value, { stream: true });
  }
  return { head, all: followedBy(first, iterator) };
}

async function* followedBy(
  first: readonly Uint8Array[],
  rest: AsyncIterator<Uint8Array>,
): AsyncGenerator<Uint8Array> {
  try {
    yield* first;
    for (let next = await rest.next(); next.done !== true; next = await rest.next()) yield next.value;
  } finally {
    await rest.return?.();
  }
}

async function* decodedTexts(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<string> {
  const decoder = new TextDecoder('latin1');
  for await (const chunk of chunks) yield decoder.decode(chunk, { stream: true });
}

async function* bufrItems(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<UploadItem> {
  const reader = createBufrReader();
  for await (const chunk of chunks) for (const item of reader.push(chunk)) yield uploadItem(item);
  for (const item of reader.end()) yield uploadItem(item);
}

function uploadItem(item: BufrItem): UploadItem {
  return item.kind === 'ascent'
    ? { kind: 'sounding', sounding: item.sounding }
    : { kind: 'rejected', rejection: rejectionOf(item) };
}

async function* igraItems(texts: AsyncIterable<string>): AsyncGenerator<UploadItem> {
  const reader = createIgraReader();
  for await (const line of linesOf(texts)) {
    const sounding = reader.line(line);
    if (sounding !== undefined) yield { kind: 'sounding', sounding };
    // As they come: a file may hold nothing else, line after line.
    for (const rejection of reader.rejected.splice(0)) yield { kind: 'rejected', rejection };
  }
  const last = reader.end();
  if (last !== undefined) yield { kind: 'sounding', sounding: last };
  for (const rejection of reader.rejected) yield { kind: 'rejected', rejection };
}

async function* linesOf(texts: AsyncIterable<string>): AsyncGenerator<string> {
  let rest = '';
  let line = 1;
  for await (const text of texts) {
    rest += text;
    const lines = rest.split(/\r?\n/);
    rest = lines.pop() ?? '';
    yield* lines;
    line += lines.length;
    if (rest.length > LONGEST_LINE) throw lineTooLong(line, rest.length);
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

async function* tempItems(texts: AsyncIterable<string>, context: TempContext): AsyncGenerator<UploadItem> {
  let text = '';
  for await (const part of texts) {
    text += part;
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

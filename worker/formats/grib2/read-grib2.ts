/**
 * GRIB edition 2 out of a stream of bytes: one message is held at a time, never the file.
 *
 * A message that is broken costs itself only: reading goes on at the next "GRIB".
 */
import { FormatError, UnsupportedError } from '../../errors.ts';
import { ByteReader } from '../byte-reader.ts';
import { faultOfGap } from '../message-gap.ts';
import { type ByteWindow, openByteWindow } from './byte-window.ts';
import { decodeMessage, type Grib2Item } from './decode-message.ts';
import type { Grib2FieldHeader } from './field.ts';
import { findMessage } from './find-message.ts';
import { INDICATOR_OCTETS, type MessageSections, walkSections } from './sections.ts';

export interface ReadGrib2Options {
  /**
   * Longest message held, bytes; its fields' values are held to the same size. At most 256 MiB, so that the position
   * of every bit is a 32-bit integer. Default: 64 MiB.
   */
  readonly maxMessageBytes?: number;
  /** Called before the values are decoded; a field it does not want is skipped. Default: every field. */
  readonly want?: (header: Grib2FieldHeader) => boolean;
}

const DEFAULT_MESSAGE_BYTES = 64 * 1024 * 1024;
const LARGEST_MESSAGE_BYTES = 256 * 1024 * 1024;
/**
 * Grid points decoded in all: a constant field is a few octets of a file, whatever its size. Enough for five hundred
 * constant fields of the largest regional grids beside those that have data.
 */
const POINTS_A_STREAM = 2 ** 30;
const POINTS_A_BYTE = 16;
const MAGIC_OCTETS = 4;
const EDITION_OCTET = 8;
const END_MARK = '7777';

/**
 * @returns  one item a field in file order; one rejection for each message that could not be cut into fields and for
 *           each run of bytes between messages that is not blank, short padding or a bulletin heading. `index` counts the fields
 *           before this one in the file, skipped and rejected ones included (those of a message that could not be cut
 *           cannot be counted).
 * @throws never for what the bytes hold; what the stream or `want` throws passes through.
 */
export async function* readGrib2(
  chunks: AsyncIterable<Uint8Array>,
  options: ReadGrib2Options = {},
): AsyncGenerator<Grib2Item> {
  const { want } = options;
  const most = Math.min(options.maxMessageBytes ?? DEFAULT_MESSAGE_BYTES, LARGEST_MESSAGE_BYTES);
  const decodeOptions = {
    ...(want === undefined ? {} : { want }),
    mostPoints: Math.floor(most / Float32Array.BYTES_PER_ELEMENT),
  };
  const window = openByteWindow(chunks);
  let index = 0;
  let afterBroken = false;
  const budget: PointBudget = { points: 0, isSpent: false };
  try {
    for (;;) {
      const { found, gap } = await findMessage(window);
      const fault = afterBroken ? undefined : faultOfGap(gap, 'GRIB2');
      if (fault !== undefined) yield rejected(gap.offsetBytes, fault);
      if (!found && gap.offsetBytes === 0 && fault === undefined)
        yield rejected(0, noMessage(gap.lengthBytes));
      if (!found) break;
      const held = await holdMessage(window, most);
      if (held.kind === 'message') {
        yield* withinBudget(decodeMessage(held.sections, index, decodeOptions), budget, window);
        if (budget.isSpent) break;
      } else {
        yield rejected(window.offsetBytes, held.error);
      }
      index += held.fieldCount;
      afterBroken = held.kind === 'broken';
      window.drop(held.lengthBytes);
    }
  } finally {
    await window.close();
  }
}

/** Grid points decoded so far; spent when they are more than a file of this length can want. */
interface PointBudget {
  points: number;
  isSpent: boolean;
}

function* withinBudget(
  items: Iterable<Grib2Item>,
  budget: PointBudget,
  window: ByteWindow,
): Generator<Grib2Item> {
  for (const item of items) {
    yield item;
    if (item.kind === 'field') budget.points += item.field.values.length;
    budget.isSpent = budget.points > POINTS_A_STREAM + POINTS_A_BYTE * window.offsetBytes;
    if (!budget.isSpent) continue;
    yield rejected(window.offsetBytes, tooManyPoints(window, budget.points));
    return;
  }
}

/** What stands at "GRIB"; `lengthBytes` is how far to go before the next one is looked for. */
type Held = { readonly lengthBytes: number; readonly fieldCount: number } & (
  | { readonly kind: 'message'; readonly sections: MessageSections }
  | { readonly kind: 'other-edition' | 'broken'; readonly error: FormatError | UnsupportedError }
);

async function holdMessage(window: ByteWindow, most: number): Promise<Held> {
  await window.fill(INDICATOR_OCTETS);
  const indicator = readerOf(window);
  try {
    const edition = indicator.uint8(EDITION_OCTET);
    if (edition !== 2) return await holdOtherEdition(window, edition, most);
    const lengthBytes = indicator.uint64(9);
    await fillWhole(window, lengthBytes, most);
    const sections = walkSections(window.bytes.subarray(0, lengthBytes), window.offsetBytes);
    return { kind: 'message', sections, lengthBytes, fieldCount: sections.fields.length };
  } catch (error) {
    if (!(error instanceof FormatError)) throw error;
    return { kind: 'broken', error, lengthBytes: MAGIC_OCTETS, fieldCount: 0 };
  }
}

/** Holds as many bytes as the message claims; the claim is checked before, and memory grows only as they come. */
async function fillWhole(window: ByteWindow, lengthBytes: number, most: number): Promise<void> {
  const isPossible = lengthBytes > INDICATOR_OCTETS && lengthBytes <= most;
  if (isPossible && (await window.fill(lengthBytes))) return checkEndMark(window, lengthBytes);
  throw readerOf(window).error(9, {
    what: 'length',
    found: isPossible ? `${window.bytes.length} bytes to the end of the file` : `${lengthBytes} bytes`,
    expected: isPossible ? `${lengthBytes}` : `${INDICATOR_OCTETS + 1} to ${most}`,
  });
}

/** Before the sections are walked: of many false marks with great lengths few have it. */
function checkEndMark(window: ByteWindow, lengthBytes: number): void {
  const found = textOf(window.bytes.subarray(lengthBytes - END_MARK.length, lengthBytes));
  if (found === END_MARK) return;
  throw readerOf(window).error(lengthBytes - END_MARK.length + 1, {
    what: 'end section',
    found: JSON.stringify(found),
    expected: JSON.stringify(END_MARK),
  });
}

const textOf = (bytes: Uint8Array): string => String.fromCharCode(...bytes);

/** Edition 1 has its length in octets 5-7 and holds one field; of other editions nothing is known. */
async function holdOtherEdition(window: ByteWindow, edition: number, most: number): Promise<Held> {
  const error = new UnsupportedError({
    feature: 'GRIB edition',
    table: 'octet 8 of section 0',
    value: String(edition),
  });
  if (edition === 1) {
    const lengthBytes = readerOf(window).uint(5, 3);
    const isWhole = lengthBytes > MAGIC_OCTETS && lengthBytes <= most && (await window.fill(lengthBytes));
    const end = window.bytes.subarray(lengthBytes - END_MARK.length, lengthBytes);
    if (isWhole && textOf(end) === END_MARK) {
      return { kind: 'other-edition', error, lengthBytes, fieldCount: 1 };
    }
  }
  return { kind: 'broken', error, lengthBytes: MAGIC_OCTETS, fieldCount: 0 };
}

function tooManyPoints(window: ByteWindow, points: number): FormatError {
  return readerOf(window).error(1, {
    what: 'decoded points of the file up to here; the rest is not read',
    found: String(points),
    expected: `at most ${POINTS_A_STREAM} and ${POINTS_A_BYTE} a byte`,
  });
}

function readerOf(window: ByteWindow): ByteReader {
  const origin = { format: 'GRIB2', name: 'section 0', offsetBytes: window.offsetBytes };
  return new ByteReader(window.bytes, origin);
}

function rejected(messageOffsetBytes: number, error: FormatError | UnsupportedError): Grib2Item {
  return { kind: 'rejected', messageOffsetBytes, error };
}

/** An empty file, or one of blanks and a heading, is a file whose messages are lost. */
function noMessage(lengthBytes: number): FormatError {
  return new FormatError({
    format: 'GRIB2',
    place: { unit: 'byte', offsetBytes: 0 },
    what: 'file',
    found: `${lengthBytes} bytes without a message`,
    expected: '"GRIB"',
  });
}

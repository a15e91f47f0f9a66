/**
 * WMO FM 94 BUFR, editions 3 and 4: bytes as they come, ascents as they end. One message is held at a time, never the
 * file; one that is broken costs itself only, and reading goes on at the next "BUFR".
 */
import { FormatError, UnsupportedError } from '../../errors.ts';
import { faultOfGap, type Gap } from '../message-gap.ts';
import type { Rejection, Sounding } from '../sounding.ts';
import { ascentOf } from './ascent.ts';
import { decodeMessage } from './decode-message.ts';
import { MessageBuffer } from './message-buffer.ts';
import { readSections } from './sections.ts';

/** Where an item comes from. */
export interface BufrPlace {
  /** The "BUFR" of the file, counted from 1; for bytes between messages, the one after them. */
  readonly messageNumber: number;
  /** The subset of the message, counted from 1; 0 when it is about all of the message. */
  readonly subsetNumber: number;
  readonly offsetBytes: number;
}

export type BufrItem =
  | { readonly kind: 'ascent'; readonly place: BufrPlace; readonly sounding: Sounding }
  | {
      readonly kind: 'rejected';
      readonly place: BufrPlace;
      readonly error: FormatError | UnsupportedError;
    };

/** Each call's items are to be taken to the end before the next call. */
export interface BufrReader {
  push(chunk: Uint8Array): Generator<BufrItem>;
  /** To be called once after the last bytes. */
  end(): Generator<BufrItem>;
}

/**
 * A message of several subsets gives an ascent each. Read and refused together are all: every "BUFR" gives an item or
 * more, and so do bytes between messages that are neither blank nor a bulletin heading. What the bytes hold is never
 * thrown. A fault of the data refuses its subset and those after it, for nothing says where they begin; a fault of an
 * ascent, its own subset.
 *
 * @source   WMO-No. 306, Manual on Codes, volume I.2, FM 94.
 * @checked  tests/data/bufr.test.ts, tests/formats/bufr/read-bufr.test.ts
 */
export function createBufrReader(): BufrReader {
  const buffer = new MessageBuffer();
  let messageNumber = 0;
  let hasTold = false;

  function* itemsOf(isEnd: boolean): Generator<BufrItem> {
    for (let cut = buffer.next(isEnd); cut !== undefined; cut = buffer.next(isEnd)) {
      if (cut.kind === 'gap') {
        for (const item of gapItems(cut.gap, messageNumber + 1)) {
          hasTold = true;
          yield item;
        }
        continue;
      }
      messageNumber += 1;
      hasTold = true;
      const place = { messageNumber, subsetNumber: 0, offsetBytes: cut.offsetBytes };
      if (cut.kind === 'broken') yield { kind: 'rejected', place, error: cut.error };
      else yield* messageItems(cut.bytes, place);
    }
  }

  return {
    *push(chunk) {
      for (const part of buffer.parts(chunk)) {
        buffer.append(part);
        yield* itemsOf(false);
      }
    },
    *end() {
      yield* itemsOf(true);
      if (hasTold) return;
      const place = { messageNumber: 1, subsetNumber: 0, offsetBytes: 0 };
      yield { kind: 'rejected', place, error: noMessage(buffer.offsetBytes) };
    },
  };
}

/** Reads bytes that are all there; the rules are createBufrReader's. */
export function* readBufr(bytes: Uint8Array): Generator<BufrItem> {
  const reader = createBufrReader();
  yield* reader.push(bytes);
  yield* reader.end();
}

function* gapItems(gap: Gap, messageNumber: number): Generator<BufrItem> {
  const error = faultOfGap(gap, 'BUFR');
  const place = { messageNumber, subsetNumber: 0, offsetBytes: gap.offsetBytes };
  if (error !== undefined) yield { kind: 'rejected', place, error };
}

function* messageItems(bytes: Uint8Array, place: BufrPlace): Generator<BufrItem> {
  let subsetNumber = 0;
  try {
    const message = readSections(bytes, place.offsetBytes);
    for (const subset of decodeMessage(message)) {
      subsetNumber += 1;
      const own = message.subsetCount === 1 ? place : { ...place, subsetNumber };
      yield itemOf(own, () => ascentOf(subset, message.dataOffsetBytes));
    }
  } catch (error) {
    const following = subsetNumber === 0 ? place : { ...place, subsetNumber: subsetNumber + 1 };
    yield { kind: 'rejected', place: following, error: ownError(error) };
  }
}

function itemOf(place: BufrPlace, read: () => Sounding): BufrItem {
  try {
    return { kind: 'ascent', place, sounding: read() };
  } catch (error) {
    return { kind: 'rejected', place, error: ownError(error) };
  }
}

/** What the format's own code throws is an item; anything else is a defect and goes on. */
function ownError(error: unknown): FormatError | UnsupportedError {
  if (error instanceof FormatError || error instanceof UnsupportedError) return error;
  throw error;
}

/** An empty file, or one of headings, is a file whose messages are lost. */
function noMessage(lengthBytes: number): FormatError {
  return new FormatError({
    format: 'BUFR',
    place: { unit: 'byte', offsetBytes: 0 },
    what: 'file',
    found: `${lengthBytes} bytes without a message`,
    expected: '"BUFR"',
  });
}

/** A refusal as the line that other sounding formats give: its message in the file, and where that begins. */
export function rejectionOf({ place, error }: Extract<BufrItem, { kind: 'rejected' }>): Rejection {
  const subset = place.subsetNumber === 0 ? '' : `, subset ${place.subsetNumber}`;
  return {
    line: place.messageNumber,
    reason: `message at offset ${place.offsetBytes}${subset}: ${error.message}`,
  };
}

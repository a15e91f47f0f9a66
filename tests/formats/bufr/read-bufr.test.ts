/** Files of several messages, whole and damaged, in one piece and in many. */
import { describe, expect, test } from 'vitest';
import {
  type BufrItem,
  createBufrReader,
  readBufr,
  rejectionOf,
} from '../../../worker/formats/bufr/read-bufr.ts';
import { ascentData, joined, type WrittenLevel, writeBufrAscent } from '../../support/bufr-ascent.ts';
import { bufrMessage } from '../../support/bufr-builder.ts';

const LEVELS: readonly WrittenLevel[] = [
  { seconds: 0, hPa: 961, temperatureC: -2.8, dewPointC: -3.5 },
  { seconds: 60, hPa: 925, temperatureC: -3.3, dewPointC: -4.3 },
];
const message = (station: number): Uint8Array => writeBufrAscent({ station, levels: LEVELS });
const [FIRST, SECOND, THIRD] = [message(101), message(102), message(103)];
const LENGTH = FIRST.length;

/** An item in few words: the station, or place and reason of a refusal. */
function shown(item: BufrItem): string {
  const { messageNumber, subsetNumber, offsetBytes } = item.place;
  const place = `${messageNumber}.${subsetNumber}@${offsetBytes}`;
  return item.kind === 'ascent' ? `${place} ${item.sounding.stationId}` : `${place} ${item.error.message}`;
}

const read = (bytes: Uint8Array): string[] => [...readBufr(bytes)].map(shown);

/** The same read from pieces of so many bytes. */
function readInPieces(bytes: Uint8Array, size: number): string[] {
  const reader = createBufrReader();
  const items: string[] = [];
  for (let from = 0; from < bytes.length; from += size) {
    for (const item of reader.push(bytes.subarray(from, from + size))) items.push(shown(item));
  }
  for (const item of reader.end()) items.push(shown(item));
  return items;
}

const flipped = (bytes: Uint8Array, at: number, mask = 0x01): Uint8Array => {
  const copy = bytes.slice();
  copy[at]! ^= mask;
  return copy;
};

describe('a file of messages', () => {
  test('gives the ascent of each, with its place in the file', () => {
    expect(read(joined(FIRST, SECOND, THIRD))).toEqual([
      '1.0@0 72101',
      `2.0@${LENGTH} 72102`,
      `3.0@${2 * LENGTH} 72103`,
    ]);
  });

  test('passes over bulletin headings, sequence numbers, product lines and end marks', () => {
    const heading = '\u0001\r\r\n444 \r\r\nIUSD15 ENMI 260000\r\r\n';
    const second = '\r\r\n\u0003\u0001\r\r\n682 \r\r\nIUSN02 KABQ 220000 RRA\r\r\nDD2ABQ\r\r\n';
    const bytes = joined(
      heading,
      FIRST,
      second,
      SECOND,
      '****0000012345****\n',
      THIRD,
      'NNNN\r\r\n\u0003\u0000\u0000',
    );
    expect(read(bytes).map((text) => text.slice(-5))).toEqual(['72101', '72102', '72103']);
  });

  test.each([1, 2, 3, 7, 64, 1000])('reads the same in pieces of %i bytes', (size) => {
    const bytes = joined('IUSD15 ENMI 260000\r\r\n', FIRST, 'xxxxxxxxx', flipped(SECOND, LENGTH - 1), THIRD);
    expect(readInPieces(bytes, size)).toEqual(read(bytes));
    expect(read(bytes)).toHaveLength(4);
  });

  test('gives an ascent a subset, numbered', () => {
    const data = [101, 102, 103].flatMap((station) => ascentData({ station, levels: LEVELS }));
    const bytes = bufrMessage({ descriptors: ['3 09 052'], data, subsetCount: 3 });
    expect(read(bytes)).toEqual(['1.1@0 72101', '1.2@0 72102', '1.3@0 72103']);
  });
});

describe('damage', () => {
  test('bytes between messages that are no heading are told, and cost nothing', () => {
    expect(read(joined(FIRST, 'what is this', SECOND))).toEqual([
      '1.0@0 72101',
      `2.0@${LENGTH} BUFR message at offset ${LENGTH}: found 12 bytes that begin "what is this", expected "BUFR"`,
      `2.0@${LENGTH + 12} 72102`,
    ]);
  });

  test('a message that has lost its mark is told as such bytes', () => {
    const [, second, third] = read(joined(FIRST, flipped(SECOND, 0), THIRD));
    expect(second).toContain(`2.0@${LENGTH} BUFR message at offset ${LENGTH}: found ${LENGTH} bytes`);
    expect(third).toBe(`2.0@${2 * LENGTH} 72103`);
  });

  test('a message without its end mark is refused there, and the next one read', () => {
    expect(read(joined(FIRST, flipped(SECOND, LENGTH - 1), THIRD))).toEqual([
      '1.0@0 72101',
      `2.0@${LENGTH} BUFR end mark at offset ${2 * LENGTH - 4}: found "7776", expected "7777"`,
      `3.0@${2 * LENGTH} 72103`,
    ]);
  });

  test.each([
    ['shorter', 6, LENGTH - 1],
    ['much longer', 4, LENGTH + 0x10_0000],
  ])('a message whose length says %s is refused, and the next one read', (_, at, length) => {
    const bytes = joined(FIRST, SECOND, THIRD);
    const wrong = bytes.slice();
    wrong.set([length >> 16, (length >> 8) & 255, length & 255], LENGTH + 4);
    const [first, second, third] = read(wrong);
    expect(at).toBeGreaterThan(3);
    expect(first).toBe('1.0@0 72101');
    expect(second).toContain(`2.0@${LENGTH} BUFR`);
    expect(third).toBe(`3.0@${2 * LENGTH} 72103`);
  });

  test('a length that no message has is refused', () => {
    const wrong = FIRST.slice();
    wrong.set([0, 0, 12], 4);
    expect(read(joined(wrong, SECOND))).toEqual([
      '1.0@0 BUFR message length at offset 4: found 12, expected at least 40',
      `2.0@${LENGTH} 72102`,
    ]);
  });

  test('a file cut anywhere in its last message gives the others and one refusal', () => {
    const bytes = joined(FIRST, SECOND);
    for (let length = LENGTH + 4; length < bytes.length; length += 1) {
      const [first, second, ...more] = read(bytes.subarray(0, length));
      expect(first).toBe('1.0@0 72101');
      expect(second, `${length} bytes`).toContain(`2.0@${LENGTH} BUFR`);
      expect(more).toEqual([]);
    }
  });

  test('a descriptor that is not known refuses its message alone', () => {
    const other = bufrMessage({ descriptors: ['0 40 001'], data: [[0, 400]] });
    const [first, second] = read(joined(other, FIRST));
    expect(first).toContain('1.0@0 BUFR descriptor 0 40 001');
    expect(second).toBe(`2.0@${other.length} 72101`);
  });

  test('edition 1, which does not say its length, is refused by number', () => {
    const old = bufrMessage({ descriptors: ['0 11 001'], data: [[0, 90]] }).slice();
    old.set([0, 0, 18, 1], 4);
    const [first, second] = read(joined(old, FIRST));
    expect(first).toBe('1.0@0 BUFR edition 1 (octet 8 of section 0) is not supported');
    expect(second).toBe(`2.0@${old.length} 72101`);
  });

  test('a subset that is no ascent is refused alone, one that does not read takes the following along', () => {
    const [a, c] = [101, 103].map((station) => ascentData({ station, levels: LEVELS }));
    const placeless = ascentData({ station: 102, latDeg: undefined, levels: LEVELS });
    const three = bufrMessage({
      descriptors: ['3 09 052'],
      data: [...a!, ...placeless, ...c!],
      subsetCount: 3,
    });
    const items = read(three);
    expect(items).toHaveLength(3);
    expect(items[1]).toContain('1.2@0 BUFR position of 72102');
    expect(items[2]).toBe('1.3@0 72103');
    const short = bufrMessage({
      descriptors: ['3 09 052'],
      data: [...a!, ...c!.slice(0, -25)],
      subsetCount: 3,
    });
    const cut = read(short);
    expect(cut).toHaveLength(2);
    expect(cut[0]).toBe('1.1@0 72101');
    expect(cut[1]).toContain('1.2@0 BUFR section 4 length');
  });

  test('no flipped bit of a message passes unseen where lengths, marks or counts could tell', () => {
    const bytes = joined(FIRST, SECOND);
    // Sections 0, 1, 3 and the heading of section 4, but center, flags, sub-categories, table versions, dates, reserved.
    const free = new Set([...range(12, 18), ...range(19, 30), 33, 36, 42]);
    const unseen: string[] = [];
    for (let at = 0; at < 30 + 9 + 4; at += 1) {
      for (let bit = 0; bit < 8; bit += 1) {
        const items = read(flipped(bytes, at, 1 << bit));
        const isSeen = items.some((item) => item.includes('BUFR')) && items.at(-1)!.endsWith('72102');
        if (!isSeen && !free.has(at)) unseen.push(`octet ${at}, bit ${bit}: ${items.join('; ')}`);
      }
    }
    expect(unseen).toEqual([]);
  });

  test('a file of marks alone gives a refusal for each', () => {
    const junk = joined(...Array.from({ length: 20_000 }, () => 'BUFR'));
    expect(read(junk)).toHaveLength(20_000);
  });
});

const range = (from: number, to: number) => Array.from({ length: to - from }, (_, n) => from + n);

describe('a file without any message', () => {
  test.each([
    ['empty', ''],
    ['blank', '\r\n\r\n'],
    ['of a heading', 'IUSD15 ENMI 260000\r\r\n'],
  ])('%s: is refused as such', (_, text) => {
    expect(read(joined(text))).toEqual([
      `1.0@0 BUFR file at offset 0: found ${text.length} bytes without a message, expected "BUFR"`,
    ]);
  });

  test('of something else: is told once', () => {
    expect(read(joined('dear diary, it was cold'))).toEqual([
      '1.0@0 BUFR message at offset 0: found 23 bytes that begin "dear diary, it w", expected "BUFR"',
    ]);
  });
});

test('a refusal as a line says which message and where it begins', () => {
  const [, refused] = [...readBufr(joined(FIRST, flipped(SECOND, LENGTH - 1)))];
  expect(refused?.kind === 'rejected' && rejectionOf(refused)).toEqual({
    line: 2,
    reason: `message at offset ${LENGTH}: BUFR end mark at offset ${2 * LENGTH - 4}: found "7776", expected "7777"`,
  });
});

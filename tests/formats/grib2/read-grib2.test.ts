import { describe, expect, test } from 'vitest';
import type { Grib2Item } from '../../../worker/formats/grib2/decode-message.ts';
import type { Grib2FieldHeader } from '../../../worker/formats/grib2/field.ts';
import { readGrib2 } from '../../../worker/formats/grib2/read-grib2.ts';
import {
  ascii,
  concat,
  data,
  identification,
  latLon,
  message,
  microdegrees,
  noBitmap,
  packBits,
  plainMessage,
  product,
  simple,
  u16,
  u32,
} from '../../support/grib2-builder.ts';
import { inChunks, inFileOrder, readAll } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';

const GRID = latLon({ nx: 3, ny: 2 });
const first = plainMessage([1, 2, 3, 4, 5, 6], GRID);
const second = plainMessage([7, 8, 9, 10, 11, 12], GRID);
const text = (...parts: string[]) => Uint8Array.from(ascii(parts.join('')));

/** Items in short: `0: 1 2 3` for a field with its index, `skipped 1`, `rejected at 20`. */
function inShort(items: readonly Grib2Item[]): string[] {
  return items.map((item) => {
    if (item.kind === 'field') return `${item.field.index}: ${inFileOrder(item.field).join(' ')}`;
    if (item.kind === 'skipped') return `skipped ${item.header.index}`;
    return `rejected at ${item.messageOffsetBytes}`;
  });
}
const read = async (...parts: Uint8Array[]) => inShort(await readAll(concat(parts)));

const FIRST = '0: 1 2 3 4 5 6';
const SECOND = '1: 7 8 9 10 11 12';

/** The same message with some of its octets (from 1) put in place. */
function changed(bytes: Uint8Array, octet: number, values: readonly number[]): Uint8Array {
  const copy = Uint8Array.from(bytes);
  copy.set(values, octet - 1);
  return copy;
}

/** A message of two fields on one grid. */
const double = (() => {
  const field = (values: readonly number[]) => [
    ...[product(), simple({ count: 6, bits: 8 }), noBitmap(), data(packBits(values, 8))],
  ];
  const fields = [...field([1, 2, 3, 4, 5, 6]), ...field([7, 8, 9, 10, 11, 12])];
  return message([identification(), GRID, ...fields]);
})();

describe('readGrib2 of a stream', () => {
  test.each([1, 7, 64, 1_000_000])('two messages in chunks of %i bytes', async (chunkBytes) => {
    expect(inShort(await readAll(concat([first, second]), { chunkBytes }))).toEqual([FIRST, SECOND]);
  });

  test('each field names the offset of its message', async () => {
    const items = await readAll(concat([first, double]));
    expect(items.map((item) => item.kind === 'field' && item.field.messageOffsetBytes)).toEqual([
      ...[0, first.length, first.length],
    ]);
  });

  test('two fields in one message count as two', async () => {
    expect(await read(double, first)).toEqual([FIRST, SECOND, '2: 1 2 3 4 5 6']);
  });

  test('a field is given before the next message is asked for', async () => {
    let asked = 0;
    async function* chunks() {
      for await (const chunk of inChunks(concat(Array(3000).fill(first)), 100)) {
        asked += chunk.length;
        yield chunk;
      }
    }
    for await (const item of readGrib2(chunks())) {
      expect(item.kind).toBe('field');
      break;
    }
    expect(asked).toBeLessThan(100_000);
  });

  test('the stream is closed when nobody wants more', async () => {
    let isClosed = false;
    async function* chunks() {
      try {
        for (;;) yield first;
      } finally {
        isClosed = true;
      }
    }
    for await (const item of readGrib2(chunks())) if (item.kind === 'field' && item.field.index === 1) break;
    expect(isClosed).toBe(true);
  });

  test('an error of the stream passes through', async () => {
    async function* chunks() {
      yield first;
      throw new Error('cut off');
    }
    const items = [];
    await expect(async () => {
      for await (const item of readGrib2(chunks())) items.push(item);
    }).rejects.toThrow('cut off');
    expect(items.length).toBeLessThanOrEqual(1);
  });
});

describe('want', () => {
  test('a field that it does not want is skipped with its header, and still counts', async () => {
    const seen: Grib2FieldHeader[] = [];
    const want = (header: Grib2FieldHeader) => seen.push(header) !== 1;
    expect(inShort(await readAll(concat([first, second]), { want }))).toEqual(['skipped 0', SECOND]);
    expect(seen[0]).toEqual({
      ...{ index: 0, messageOffsetBytes: 0, centre: 255, generatingProcess: 96, productTemplate: 0 },
      ...{ gridTemplate: 0, packing: 0, secondLevel: undefined, level: { type: 100, value: 85_000 } },
      parameter: { discipline: 0, category: 0, number: 0 },
      referenceTimeMs: Date.UTC(2024, 0, 15, 12),
      validTimeMs: Date.UTC(2024, 0, 15, 18),
    });
  });

  test('a field that is not wanted is not decoded: what could not be read is skipped, not rejected', async () => {
    const unreadable = changed(first, 16 + 21 + 13, u16(20));
    expect(inShort(await readAll(unreadable, { want: () => false }))).toEqual(['skipped 0']);
    expect(inShort(await readAll(unreadable))).toEqual(['rejected at 0']);
  });
});

describe('what lies between messages', () => {
  test.each([
    ['blanks and line ends', text(' \r\r\n\n ')],
    ['a bulletin heading', text('\u0001\r\r\n123 \r\r\nHTUA85 KWBC 151200\r\r\n')],
    [
      'a heading with an amendment, after an end of text',
      text('\r\r\n\u0003\u0001\r\r\nHTUA85 KWBC 151200 CCA\r\r\n'),
    ],
    [
      'lengths between asterisks before headings',
      text('****0001018346****\nYGUZ98 KWBN 292156\r\r\n****0000257587****\nYGUB00 KWBN 292156\r\r\n'),
    ],
    ['zero padding shorter than any message', new Uint8Array(119)],
  ])('%s is passed over in silence', async (_, gap) => {
    expect(await read(gap, first, gap, second, gap)).toEqual([FIRST, SECOND]);
  });

  test.each([
    ['letters that are no heading', text('HELLO'), 5],
    ['zeros as long as a message', new Uint8Array(200), 200],
    ['a lost beginning', first.subarray(4), first.length - 4],
    ['a broken word', text('GRI'), 3],
  ])('%s is rejected once, with its offset and length', async (_, gap, length) => {
    const items = await readAll(concat([first, gap, second]));
    expect(inShort(items)).toEqual([FIRST, `rejected at ${first.length}`, SECOND]);
    expect(items[1]?.kind === 'rejected' && items[1].error.message).toContain(`found ${length} bytes`);
  });

  test('megabytes of other bytes are one rejection', async () => {
    const noise = new Uint8Array(3_000_000).fill(0x47);
    expect(await read(noise, first)).toEqual(['rejected at 0', FIRST]);
  });

  test.each([
    ['no bytes', new Uint8Array(0)],
    ['blanks only', text('  \n')],
    ['a heading only', text('HTUA85 KWBC 151200\r\r\n')],
    ['other text', text('<html>not found</html>')],
  ])('a file of %s is rejected, not passed off as one without fields', async (_, bytes) => {
    expect(await read(bytes)).toEqual(['rejected at 0']);
  });
});

describe('a broken message costs itself only', () => {
  const END = first.length - 3;

  test.each([
    ['a wrong end', changed(first, END, ascii('7778'))],
    ['a length that is too short', changed(first, 16, [first.length - 1])],
    ['a length that reaches into the next message', changed(first, 16, [first.length + 9])],
    ['a length that covers the next message', changed(first, 15, u16(first.length + second.length))],
    ['a length of zero', changed(first, 16, [0])],
    ['a length of many gigabytes', changed(first, 9, [0xff])],
    ['a section length of zero', changed(first, 17, [0, 0, 0, 0])],
    ['a section beyond the message', changed(first, 17, [0, 1, 0, 0])],
    ['a missing tail', first.subarray(0, 150)],
  ])('%s', async (_, broken) => {
    expect(await read(broken, second)).toEqual(['rejected at 0', SECOND.replace('1:', '0:')]);
  });

  test('a field that cannot be read leaves the other fields of its message', async () => {
    const octet = 16 + 21 + 72 + 8;
    expect(await read(changed(double, octet, u16(9)), first)).toEqual([
      ...['rejected at 0', SECOND, '2: 1 2 3 4 5 6'],
    ]);
  });

  test('the last message, cut short, is rejected with its offset, what is there and what was claimed', async () => {
    const items = await readAll(concat([first, second.subarray(0, 100)]));
    const last = items[1];
    expect(inShort(items)).toEqual([FIRST, `rejected at ${first.length}`]);
    expect(last?.kind === 'rejected' && last.error).toMatchObject({
      found: '100 bytes to the end of the file',
      expected: String(second.length),
    });
    expect(last?.kind === 'rejected' && offsetOf(last.error)).toBe(first.length + 8);
  });

  test('GRIB and nothing after it', async () => {
    expect(await read(first, text('GRIB'))).toEqual([FIRST, `rejected at ${first.length}`]);
  });
});

describe('lengths that are claimed', () => {
  /** 200 bytes that claim to be a message of 1 GiB. */
  const claiming = changed(
    concat([first, new Uint8Array(200)]).subarray(0, 200),
    9,
    [0, 0, 0, 0, 0x40, 0, 0, 0],
  );

  test('1 GiB in a file of 200 bytes is an error, not an allocation', async () => {
    const before = process.memoryUsage().arrayBuffers;
    const items = await readAll(claiming);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(8 * 1024 * 1024);
    expect(rejectionOf(items)).toMatchObject({ found: `${2 ** 30} bytes`, expected: `17 to ${2 ** 26}` });
  });

  test('a claim within the limit takes memory as the bytes come, not before', async () => {
    const before = process.memoryUsage().arrayBuffers;
    const items = await readAll(changed(claiming, 13, [0x03, 0xff, 0xff, 0xff]));
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(8 * 1024 * 1024);
    expect(rejectionOf(items)).toMatchObject({ found: '200 bytes to the end of the file' });
  });

  test('a message longer than maxMessageBytes is rejected, the next one read', async () => {
    const large = plainMessage(Array(400).fill(1), latLon({ nx: 20, ny: 20 }));
    const bytes = concat([large, second]);
    const items = await readAll(bytes, { maxMessageBytes: 500 });
    expect(inShort(items)).toEqual(['rejected at 0', SECOND.replace('1:', '0:')]);
  });

  test('a grid of more points than maxMessageBytes holds values is refused before it is made', async () => {
    // 64 million points in a message of 200 bytes: a constant field needs no data.
    const huge = message([
      ...[identification(), latLon({ nx: 8000, ny: 8000 }, { 55: [0], 56: [0], 60: [0x10] }), product()],
      ...[simple({ count: 64_000_000, bits: 0 }), noBitmap(), data(new Uint8Array(0))],
    ]);
    const before = process.memoryUsage().arrayBuffers;
    const error = rejectionOf(await readAll(huge));
    expect(unsupported(error)).toEqual([`this reader's limit of ${2 ** 24}`, '64000000']);
    expect(process.memoryUsage().arrayBuffers - before).toBeLessThan(8 * 1024 * 1024);
  });
});

describe('other editions', () => {
  /** Edition 1: length in octets 5-7, 28 octets in all. */
  const edition1 = concat([text('GRIB'), Uint8Array.of(0, 0, 28, 1), new Uint8Array(16), text('7777')]);

  test('edition 1 is refused by number, counted, and passed over whole', async () => {
    const items = await readAll(concat([edition1, first]));
    expect(inShort(items)).toEqual(['rejected at 0', FIRST.replace('0:', '1:')]);
    expect(items[0]?.kind === 'rejected' && unsupported(items[0].error)).toEqual([
      ...['octet 8 of section 0', '1'],
    ]);
  });

  test.each([0, 3, 255])('edition %i is refused by number', async (edition) => {
    const items = await readAll(concat([changed(first, 8, [edition]), second]));
    expect(inShort(items)).toEqual(['rejected at 0', SECOND.replace('1:', '0:')]);
    expect(items[0]?.kind === 'rejected' && unsupported(items[0].error)[1]).toBe(String(edition));
  });
});

describe('readGrib2 on hostile streams', () => {
  test.each([65_532, 65_533, 65_534, 65_535, 65_536])(
    'a message is found wherever its mark lies in the stretches looked at: offset %i',
    async (offset) => {
      const noise = new Uint8Array(offset).fill(0x78);
      expect(await read(noise, first)).toEqual(['rejected at 0', FIRST]);
    },
  );

  test('false marks that share one long chain of sections cost a look at their end, not a walk each', async () => {
    // 2,000 marks that all claim to reach the end of the stream, and 20,000 small sections that lack an end mark.
    const chain = concat(
      Array.from({ length: 5000 }, () => [
        product(),
        simple({ count: 6, bits: 8 }),
        noBitmap(),
        data(Uint8Array.of(1)),
      ]).flat(),
    );
    const total = 2000 * 16 + chain.length;
    const marks = Array.from({ length: 2000 }, (_, at) =>
      Uint8Array.from([...ascii('GRIB'), 0, 0, 0, 2, ...u16(0), ...u16(0), ...u32(total - 16 * at)]),
    );
    const items = await readAll(concat([...marks, chain]));
    expect(items).toHaveLength(2000);
    expect(
      items.every((item) => item.kind === 'rejected' && item.error.message.includes('end section')),
    ).toBe(true);
  });

  test('a file of constant fields without end is read up to a bound on its points, and the rest is told', async () => {
    const big = latLon(
      { nx: 4096, ny: 4096 },
      {
        56: microdegrees(50 - 4.095),
        60: microdegrees(10 + 4.095),
        64: microdegrees(0.001),
        68: microdegrees(0.001),
      },
    );
    const constant = message([
      identification(),
      big,
      ...Array.from({ length: 70 }, () => [
        product(),
        simple({ count: 4096 * 4096, bits: 0 }),
        noBitmap(),
        data(new Uint8Array(0)),
      ]).flat(),
    ]);
    let fields = 0;
    let last: Grib2Item | undefined;
    for await (const item of readGrib2(inChunks(constant, 4096))) {
      if (item.kind === 'field') fields += 1;
      last = item;
    }
    expect(fields).toBe(65);
    expect(last?.kind === 'rejected' && last.error.message).toContain(
      'decoded points of the file up to here',
    );
  });
});

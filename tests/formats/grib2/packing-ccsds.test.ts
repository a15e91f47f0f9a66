import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import { packedByEccodes } from '../../support/eccodes-pack.ts';
import { concat } from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf } from '../../support/grib2-errors.ts';
import { bits, type CcsdsOptions, ccsds, packedMessage } from '../../support/grib2-packings.ts';

/** 4-bit samples in blocks of 8, two blocks from reference to reference, so 3 bits of identifier. */
const made = (count: number, coded: string, options: CcsdsOptions & { width?: number } = {}) =>
  packedMessage({ nx: count / 4, ny: 4 }, ccsds({ count, bits: options.width ?? 4 }, options), bits(coded));

/** Read by us, after a check that ecCodes reads the same. */
async function valuesOf(message: Uint8Array): Promise<number[]> {
  const field = await readOne(message);
  expect(differences(field, eccodesFieldsOf(message)[0]!)).toEqual([]);
  return inFileOrder(field);
}

const same = (count: number, value: number) => Array<number>(count).fill(value);

describe('each coding option by hand, also read by ecCodes', () => {
  test('fundamental sequence: errors 0 1 2 3 0 0 2 after a reference of 5 are steps 0 -1 1 -2 0 0 1', async () => {
    const coded = '001 0101 1 01 001 0001 1 1 001';
    expect(await valuesOf(made(8, coded))).toEqual([5, 5, 4, 5, 3, 3, 3, 4]);
  });

  test('a zero block repeats the last sample', async () => {
    const coded = '001 0101 1 01 001 0001 1 1 001   000 0 1';
    expect((await valuesOf(made(16, coded))).slice(8)).toEqual(same(8, 4));
  });

  test('split samples: the high parts as sequences, then two low bits each', async () => {
    const coded = '011 0001  1 01 1 1 1 001 1  10 01 00 11 00 00 01';
    expect(await valuesOf(made(8, coded))).toEqual([1, 2, 5, 5, 3, 3, 8, 7]);
  });

  test('second extension: a pair a code; the first half of the first pair stands for the reference', async () => {
    const coded = '000 1 0111  001  01  1  00000001';
    expect(await valuesOf(made(8, coded))).toEqual([7, 6, 5, 5, 5, 5, 6, 5]);
  });

  test('no compression: samples of errors as they are, after the reference', async () => {
    const coded = '111 0110 0000 0001 0010 0011 0100 0101 0110';
    expect(await valuesOf(made(8, coded))).toEqual([6, 6, 5, 6, 4, 6, 3, 6]);
  });

  test('an error beyond the nearer end of the range counts from the other end', async () => {
    const coded = '111 0001 1000 0000 1111 0000 0000 0000 0000';
    expect(await valuesOf(made(8, coded))).toEqual([1, 8, 8, 0, 0, 0, 0, 0]);
  });

  test('a reference in the first block of every interval, and in no other', async () => {
    const block = '001 1 1 1 1 1 1 1 1';
    const first = (reference: string) => `001 ${reference} 1 1 1 1 1 1 1`;
    const coded = `${first('0011')} ${block} ${first('1100')} ${block}`;
    expect(await valuesOf(made(32, coded))).toEqual([...same(16, 3), ...same(16, 12)]);
  });

  test('without prediction the samples themselves are coded', async () => {
    const coded = '001 1 01 001 0001 1 1 001 01';
    expect(await valuesOf(made(8, coded, { flags: 0 }))).toEqual([0, 1, 2, 3, 0, 0, 2, 1]);
  });

  test('the restricted set has identifiers of 1 bit up to samples of 2 bits', async () => {
    const coded = '1 01 00 01 10 11 00 00 00  0 0 1';
    expect(await valuesOf(made(16, coded, { flags: 8 + 16, width: 2 }))).toEqual([
      ...[1, 1, 0, 2, 0, 0, 0, 0],
      ...same(8, 0),
    ]);
  });

  test('intervals that are padded begin at an octet', async () => {
    const firstTwo = '001 0011 1 1 1 1 1 1 1  001 1 1 1 1 1 1 1 1';
    const coded = `${firstTwo} 0000000  001 1001 1 1 1 1 1 1 1`;
    expect(await valuesOf(made(24, coded, { flags: 8 + 32 }))).toEqual([...same(16, 3), ...same(8, 9)]);
  });
});

describe('runs of zero blocks', () => {
  const first = '001 0011 1 1 1 1 1 1 1';
  const change = '111 0010 0000 0000 0000 0000 0000 0000 0000';

  test.each([
    ['1', 1],
    ['0001', 4],
    ['000001', 5],
    ['0000001', 6],
  ])('%s is a run of %i', async (code, run) => {
    const blocks = run + 2;
    const message = made(8 * blocks, `${first} 000 0 ${code} ${change}`, { interval: 100 });
    expect(await valuesOf(message)).toEqual([...same(8 * (run + 1), 3), ...same(8, 4)]);
  });

  test('00001 goes on to the end of the segment of 64 blocks', async () => {
    const message = made(8 * 65, `${first} 000 0 00001 ${change}`, { interval: 100 });
    expect(await valuesOf(message)).toEqual([...same(8 * 64, 3), ...same(8, 4)]);
  });

  test('00001 goes on to the end of an interval that is shorter', async () => {
    const message = made(8 * 11, `${first} 000 0 00001 ${first}`, { interval: 10 });
    expect(await valuesOf(message)).toEqual(same(8 * 11, 3));
  });
});

describe('as ecCodes packs it', () => {
  /** Smooth, noisy and constant stretches, so that every option is chosen somewhere. */
  const values = Array.from({ length: 2400 }, (_, n) => {
    const noise = n % 800 < 300 ? (n * 7919) % 1009 : 0;
    return n % 800 > 600 ? 42 : Math.round(1000 * Math.sin(n / 50)) + noise;
  });
  const cases = [1, 2, 3, 4, 7, 8, 9, 12, 16, 17, 20, 24, 25, 31, 32].flatMap((width) =>
    [14, 6].map((flags, n) => ({
      width,
      flags,
      block: [8, 16, 32, 64][(width + n) % 4]!,
      interval: [1, 5, 128][width % 3]!,
    })),
  );
  const messages = packedByEccodes(
    cases.map(({ width, flags, block, interval }) => ({
      columns: 60,
      rows: 40,
      values,
      keys: {
        packingType: 'grid_ccsds',
        ...{ bitsPerValue: width, ccsdsFlags: flags, ccsdsBlockSize: block, ccsdsRsi: interval },
      },
    })),
  );

  const truths = eccodesFieldsOf(concat(messages)).map(({ header, ...rest }) => ({
    ...rest,
    header: { ...header, offset: 0 },
  }));

  test.each(cases.map((each, n) => ({ ...each, n })))(
    '$width bits, flags $flags, blocks of $block, intervals of $interval',
    async ({ n, width }) => {
      const truth = truths[n];
      expect([truth?.header.dataRepresentationTemplateNumber, truth?.header.bitsPerValue]).toEqual([
        42,
        width,
      ]);
      expect(differences(await readOne(messages[n]!), truth!, { halfStep: width < 20 })).toEqual([]);
    },
  );

  test('a bitmap: coded are the present points only', async () => {
    const some = values.map((value, n) => (n % 7 === 3 ? null : value));
    const keys = { packingType: 'grid_ccsds', bitsPerValue: 12 };
    const [packed] = packedByEccodes([{ columns: 60, rows: 40, values: some, keys }]);
    const field = await readOne(packed!);
    expect(field.missingCount).toBe(some.filter((value) => value === null).length);
    expect(differences(field, eccodesFieldsOf(packed!)[0]!)).toEqual([]);
  });
});

/** After sections 0, 1, 3, 4, then 5, and 5 and 6. */
const SECTION_5_OFFSET = 16 + 21 + 72 + 34;
const SECTION_7_OFFSET = SECTION_5_OFFSET + 25 + 6;

describe('CCSDS packing is refused', () => {
  const SOUND = '001 0101 1 01 001 0001 1 1 001';
  const rejected = async (message: Uint8Array) => offsetOf(rejectionOf(await readAll(message)));

  test.each([
    ['a flag of no meaning', { flags: 8 + 128 }, 22],
    ['a block size that is none of the standard', { block: 10 }, 23],
    ['no block from reference to reference', { interval: 0 }, 24],
    ['more than 4096 blocks from reference to reference', { interval: 4097 }, 24],
    ['more than 32 bits a sample', { width: 33 }, 20],
  ])('%s', async (_, options, octet) => {
    expect(await rejected(made(8, SOUND, options))).toBe(SECTION_5_OFFSET + octet - 1);
  });

  test.each([
    ['a stream cut in a block', SOUND.slice(0, 16)],
    ['no stream', ''],
    ['an error that no sample of 4 bits has', `001 0101 ${'0'.repeat(16)}1 1 1 1 1 1 1`],
    ['a pair that is not in the table', `000 1 0111 ${'0'.repeat(91)}1 1 1 1`],
    ['a run of zero blocks beyond the interval', '000 0 0101 0001'],
    ['zeros without end', `001 0101 ${'0'.repeat(200)}`],
  ])('%s', async (_, coded) => {
    expect(await rejected(made(8, coded))).toBe(SECTION_7_OFFSET + 6 - 1);
  });

  test('octets left over after the last block', async () => {
    expect(await rejected(made(8, SOUND.padEnd(100, '0')))).toBeGreaterThan(SECTION_7_OFFSET);
  });

  test('a negative sample: decoders do not agree on what it means', async () => {
    expect(await rejected(made(8, '001 1111 1 1 1 1 1 1 1', { flags: 9 }))).toBe(SECTION_7_OFFSET + 6 - 1);
  });
});

/** Compressed data: a least value, the width of the increments, an increment a subset. */
import { describe, expect, test } from 'vitest';
import { type Bits, bufrMessage, missing } from '../../support/bufr-builder.ts';
import { expectLikeEccodes, ownValues } from '../../support/bufr-values.ts';

/** A field of three subsets: R0, then increments of so many bits. */
const field = (base: Bits, width: number, ...increments: number[]): Bits[] => [
  base,
  [width, 6],
  ...increments.map((increment): Bits => [increment, width]),
];

const message = (descriptors: readonly string[], data: readonly Bits[], subsetCount = 3) =>
  bufrMessage({ descriptors, data, subsetCount, isCompressed: true });

const valuesOf = (bytes: Uint8Array) => ownValues(bytes).map((subset) => subset.map(({ value }) => value));

const errorOf = (bytes: Uint8Array): string => {
  try {
    valuesOf(bytes);
  } catch (error) {
    return (error as Error).message;
  }
  return 'nothing';
};

describe('compressed data', () => {
  test('a number is the least value and its subset’s increment', () => {
    const bytes = message(
      ['0 12 101', '0 11 001'],
      [...field([27_000, 16], 9, 0, 315, 115), ...field([90, 9], 0)],
    );
    expect(valuesOf(bytes)).toEqual([
      [270, 90],
      [273.15, 90],
      [271.15, 90],
    ]);
    expect(expectLikeEccodes(bytes)).toBe(6);
  });

  test('an increment with every bit set is a missing value, and so is a least value without increments', () => {
    const bytes = message(
      ['0 12 101', '0 11 001', '0 08 002'],
      [...field([27_000, 16], 9, 0, 511, 115), ...field(missing(9), 0), ...field([1, 6], 2, 3, 1, 0)],
    );
    expect(valuesOf(bytes)).toEqual([
      [270, Number.NaN, Number.NaN],
      [Number.NaN, Number.NaN, 2],
      [271.15, Number.NaN, 1],
    ]);
    expect(expectLikeEccodes(bytes)).toBe(9);
  });

  test('text is the same in all, or each in its own octets', () => {
    const bytes = message(
      ['0 01 011', '0 01 062'],
      ['SHIP     ', [0, 6], '    ', [4, 6], 'ABCD', 'EFGH', '\u00ff\u00ff\u00ff\u00ff'],
    );
    expect(valuesOf(bytes)).toEqual([
      ['SHIP', 'ABCD'],
      ['SHIP', 'EFGH'],
      ['SHIP', undefined],
    ]);
    expect(expectLikeEccodes(bytes)).toBe(6);
  });

  test('one replication factor serves all subsets', () => {
    const bytes = message(
      ['1 01 000', '0 31 001', '0 11 001'],
      [...field([2, 8], 0), ...field([90, 9], 4, 0, 1, 2), ...field([180, 9], 0)],
    );
    expect(valuesOf(bytes)).toEqual([
      [2, 90, 180],
      [2, 91, 180],
      [2, 92, 180],
    ]);
    expect(expectLikeEccodes(bytes)).toBe(9);
  });

  test('refuses a replication factor that differs from subset to subset', () => {
    const bytes = message(
      ['1 01 000', '0 31 001', '0 11 001'],
      [...field([1, 8], 2, 0, 0, 1), ...field([90, 9], 0), ...field([180, 9], 0)],
    );
    expect(errorOf(bytes)).toContain('found one that differs between subsets');
  });

  test('a factor whose increments are all 0 is the same in all', () => {
    const bytes = message(
      ['1 01 000', '0 31 001', '0 11 001'],
      [...field([1, 8], 2, 0, 0, 0), ...field([90, 9], 0)],
    );
    expect(valuesOf(bytes)).toEqual([
      [1, 90],
      [1, 90],
      [1, 90],
    ]);
  });

  test('refuses an increment that leads beyond the width of its element', () => {
    const bytes = message(['0 11 001', '0 11 001'], [...field([500, 9], 8, 0, 11, 12), ...field([1, 9], 0)]);
    expect(errorOf(bytes)).toContain('section 4 increment');
  });

  test('operators that pass data over pass the increments over too', () => {
    const bytes = message(
      ['2 04 002', '0 31 021', '0 12 101', '2 04 000', '2 05 002', '2 06 011', '0 12 192', '0 11 001'],
      [
        ...field([2, 6], 0),
        ...field([0, 2], 2, 0, 1, 2), // associated field
        ...field([27_000, 16], 9, 0, 315, 115),
        ...['ab', [0, 6] as Bits], // inserted text
        ...field([7, 11], 3, 0, 1, 2), // local element
        ...field([90, 9], 2, 0, 1, 2),
      ],
    );
    expect(valuesOf(bytes).map((values) => values.filter((value) => !Number.isNaN(value)))).toEqual([
      [2, 270, 90],
      [2, 273.15, 91],
      [2, 271.15, 92],
    ]);
  });

  test('2 03 takes one new reference value for all', () => {
    const bytes = message(
      ['2 03 012', '0 10 009', '2 03 255', '0 10 009', '2 03 000'],
      [...field([2048 + 400, 12], 0), ...field([1400, 17], 4, 0, 1, 2)],
    );
    expect(valuesOf(bytes)).toEqual([[1000], [1001], [1002]]);
  });

  test('refuses more subsets than the data have octets', () => {
    expect(errorOf(message(['0 11 001'], field([90, 9], 0), 65_535))).toContain(
      'section 4 subsets at offset 43: found 65535, expected 1 to 2',
    );
  });

  test('refuses more values than the data can stand for', () => {
    // 200 fields of 8 bits that 200 subsets share: 40,000 values from 1,600 bits.
    const shared = Array.from({ length: 200 }, () => field([1, 2], 0)).flat();
    expect(errorOf(message(['1 01 200', '0 33 021'], shared, 200))).toContain(
      'section 4 compressed values at offset 245: found 40000, expected at most 13800',
    );
    expect(valuesOf(message(['1 01 200', '0 33 021'], shared, 60))).toHaveLength(60);
  });

  test('refuses data that end among the increments', () => {
    expect(
      errorOf(
        message(
          ['0 12 101'],
          [
            [27_000, 16],
            [9, 6],
            [0, 9],
          ],
        ),
      ),
    ).toContain('section 4 length');
  });
});

describe('subsets that are not compressed', () => {
  test('follow each other bit by bit, each with its own counts', () => {
    const bytes = bufrMessage({
      descriptors: ['1 01 000', '0 31 001', '0 11 001'],
      data: [
        [2, 8],
        [10, 9],
        [20, 9],
        [0, 8],
        [1, 8],
        [30, 9],
      ],
      subsetCount: 3,
    });
    expect(valuesOf(bytes)).toEqual([[2, 10, 20], [0], [1, 30]]);
    expect(expectLikeEccodes(bytes)).toBe(6);
  });

  test('are refused when there are none, or more than the data have octets', () => {
    const of = (subsetCount: number, data: readonly Bits[]) =>
      errorOf(bufrMessage({ descriptors: ['0 31 031'], data, subsetCount }));
    expect(of(0, [[1, 8]])).toContain('section 4 subsets at offset 43: found 0, expected 1 to 1');
    expect(of(8, [[255, 8]])).toContain('found 8, expected 1 to 1');
  });

  test('are refused when one has no data', () => {
    const bytes = bufrMessage({ descriptors: ['2 01 000'], data: [[0, 80]], subsetCount: 10 });
    expect(errorOf(bytes)).toContain('found no data');
  });
});

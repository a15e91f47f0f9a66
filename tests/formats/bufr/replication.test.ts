/** Replication of descriptors, counted in the template or in the data, and repetition of data. */
import { describe, expect, test } from 'vitest';
import { decodeMessage } from '../../../worker/formats/bufr/decode-message.ts';
import { readSections } from '../../../worker/formats/bufr/sections.ts';
import { type Bits, bufrMessage } from '../../support/bufr-builder.ts';
import { expectLikeEccodes, ownValues } from '../../support/bufr-values.ts';

const wind = (directionDeg: number): Bits => [directionDeg, 9];

/** Values of the only subset; factors are among them. */
const valuesOf = (descriptors: readonly string[], data: readonly Bits[]) =>
  ownValues(bufrMessage({ descriptors, data }))[0]!.map(({ value }) => value);

const errorOf = (descriptors: readonly string[], data: readonly Bits[]): string => {
  try {
    valuesOf(descriptors, data);
  } catch (error) {
    return (error as Error).message;
  }
  return 'nothing';
};

const CASES = [
  {
    name: '1 01 003: the next descriptor three times',
    descriptors: ['1 01 003', '0 11 001'],
    data: [wind(10), wind(20), wind(30)],
    expected: [10, 20, 30],
  },
  {
    name: '1 02 002 with a sequence counted as one descriptor',
    descriptors: ['1 02 002', '3 01 011', '0 11 001'],
    data: [[2024, 12], [2, 4], [26, 6], wind(10), [2025, 12], [3, 4], [27, 6], wind(20)],
    expected: [2024, 2, 26, 10, 2025, 3, 27, 20],
  },
  {
    name: '0 31 000: once',
    descriptors: ['1 01 000', '0 31 000', '0 11 001', '0 08 002'],
    data: [[1, 1], wind(10), [5, 6]],
    expected: [1, 10, 5],
  },
  {
    name: '0 31 000: not at all',
    descriptors: ['1 01 000', '0 31 000', '0 11 001', '0 08 002'],
    data: [
      [0, 1],
      [5, 6],
    ],
    expected: [0, 5],
  },
  {
    name: '0 31 001: two times',
    descriptors: ['1 01 000', '0 31 001', '0 11 001'],
    data: [[2, 8], wind(10), wind(20)],
    expected: [2, 10, 20],
  },
  {
    name: '0 31 001: 255 times, which is no missing value',
    descriptors: ['1 01 000', '0 31 001', '0 08 002'],
    data: [[255, 8], ...Array.from({ length: 255 }, (_, n): Bits => [n % 60, 6])],
    expected: [255, ...Array.from({ length: 255 }, (_, n) => n % 60)],
  },
  {
    name: '0 31 002: 300 times',
    descriptors: ['1 01 000', '0 31 002', '0 08 002'],
    data: [[300, 16], ...Array.from({ length: 300 }, (_, n): Bits => [n % 60, 6])],
    expected: [300, ...Array.from({ length: 300 }, (_, n) => n % 60)],
  },
  {
    name: 'a replication in a replication, each time with its own count',
    descriptors: ['1 04 002', '0 08 002', '1 01 000', '0 31 001', '0 11 001'],
    data: [[1, 6], [2, 8], wind(10), wind(20), [2, 6], [1, 8], wind(30)],
    expected: [1, 2, 10, 20, 2, 1, 30],
  },
] as const;

describe('replication', () => {
  test.each(CASES)('$name', ({ descriptors, data, expected }) => {
    expect(valuesOf(descriptors, data)).toEqual(expected);
    expect(expectLikeEccodes(bufrMessage({ descriptors, data }))).toBe(expected.length);
  });

  test('0 31 011 and 0 31 012: the data stand once and are repeated', () => {
    const data: Bits[] = [wind(10), [5, 6], wind(90)];
    const repeated = ['0 11 001', '0 08 002'];
    expect(valuesOf(['1 02 000', '0 31 011', ...repeated, '0 11 001'], [[3, 8], ...data])).toEqual([
      3, 10, 5, 10, 5, 10, 5, 90,
    ]);
    expect(valuesOf(['1 02 000', '0 31 012', ...repeated, '0 11 001'], [[2, 16], ...data])).toEqual([
      2, 10, 5, 10, 5, 90,
    ]);
  });

  test('each time round has a number of its own, the rest has 0', () => {
    const message = bufrMessage({
      descriptors: ['0 08 002', '1 02 002', '0 11 001', '0 11 001', '1 01 000', '0 31 001', '0 11 001'],
      data: [[1, 6], wind(1), wind(2), wind(3), wind(4), [1, 8], wind(5)],
    });
    const [subset] = decodeMessage(readSections(message, 0));
    expect(subset!.layout.groups).toEqual([0, 1, 1, 2, 2, 0, 3]);
  });

  test('refuses a replication with too few descriptors, of none, or without a factor', () => {
    expect(errorOf(['1 03 002', '0 11 001'], [wind(10)])).toContain('descriptor 1 03 002');
    expect(errorOf(['1 00 002', '0 11 001'], [wind(10)])).toContain('descriptor 1 00 002');
    expect(errorOf(['1 01 000', '0 11 001', '0 11 001'], [wind(10)])).toContain('found 0 11 001 after it');
    expect(errorOf(['1 01 000', '0 31 021', '0 11 001'], [wind(10)])).toContain('found 0 31 021 after it');
  });

  test('refuses nine replications in one another', () => {
    const nested = Array.from({ length: 9 }, (_, n) => `1 ${String(9 - n).padStart(2, '0')} 001`);
    expect(errorOf([...nested, '0 11 001'], [wind(10)])).toContain('9 replications in one another');
    expect(valuesOf([...nested.slice(1), '0 11 001'], [wind(10)])).toEqual([10]);
  });

  test('refuses a count that the data do not bear out, and says where they end', () => {
    const descriptors = ['1 01 000', '0 31 001', '0 08 002'];
    const sixty = Array.from({ length: 60 }, (): Bits => [21, 6]);
    expect(errorOf(descriptors, [[61, 8], ...sixty])).toBe(
      'BUFR section 4 length at offset 93: found 368 bits of data, expected at least 374',
    );
    expect(errorOf(descriptors, [[40, 8], ...sixty])).toBe(
      'BUFR section 4 length at offset 78: found 120 bits after the last value, expected fewer than 16',
    );
  });

  test('refuses a replication of nothing that would go on for ever', () => {
    const nothing = ['1 03 255', '1 02 255', '1 01 255', '2 01 000', '0 11 001'];
    expect(errorOf(nothing, [wind(10)])).toContain('steps');
  });
});

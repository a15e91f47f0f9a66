/** Operators of Table C on messages small enough to count their bits; what ecCodes reads of the same bytes is beside it. */
import { describe, expect, test } from 'vitest';
import { FormatError, UnsupportedError } from '../../../worker/errors.ts';
import { type Bits, bufrMessage, missing } from '../../support/bufr-builder.ts';
import { expectLikeEccodes, type OwnValue, ownValues } from '../../support/bufr-values.ts';
import { bufrDumpOf } from '../../support/eccodes-bufr.ts';

/** Values of the only subset of an edition 4 message. */
function valuesOf(descriptors: readonly string[], data: readonly Bits[]): OwnValue['value'][] {
  return ownValues(bufrMessage({ descriptors, data }))[0]!.map(({ value }) => value);
}

interface Case {
  readonly name: string;
  readonly descriptors: readonly string[];
  readonly data: readonly Bits[];
  readonly expected: readonly (number | string | undefined)[];
}

const CASES: readonly Case[] = [
  {
    name: 'without operators: scale, reference value and width of Table B',
    // Pressure in tens of Pa, height from -1000, latitude from -90 degrees, temperature in hundredths.
    descriptors: ['0 07 004', '0 10 009', '0 05 001', '0 12 101', '0 12 101'],
    data: [[8500, 14], [2457, 17], [9_000_000 - 4_250_000, 25], [27_315, 16], missing(16)],
    expected: [85_000, 1457, -42.5, 273.15, Number.NaN],
  },
  {
    name: 'text is trimmed, and missing when every bit is set',
    descriptors: ['0 01 011', '0 01 006'],
    data: ['SHIP7    ', '\u00ff'.repeat(8)],
    expected: ['SHIP7', undefined],
  },
  {
    name: '2 01 adds bits to numbers, not to codes, flags and text',
    descriptors: ['2 01 131', '0 12 101', '0 08 002', '0 01 062', '2 01 000', '0 12 101'],
    data: [[27_315, 19], [9, 6], 'ABCD', [1, 16]],
    expected: [273.15, 9, 'ABCD', 0.01],
  },
  {
    name: '2 01 takes bits away below 128',
    descriptors: ['2 01 126', '0 11 001', '2 01 000'],
    data: [[90, 7]],
    expected: [90],
  },
  {
    name: '2 02 adds to the scale, and takes from it below 128',
    descriptors: ['2 02 129', '0 12 101', '2 02 127', '0 11 001', '2 02 000', '0 11 001'],
    data: [
      [27_315, 16],
      [9, 9],
      [9, 9],
    ],
    expected: [27.315, 90, 9],
  },
  {
    name: '2 03 puts new reference values in force, negative ones by their first bit',
    descriptors: [
      '2 03 012',
      '0 10 009',
      '0 11 002',
      '2 03 255',
      '0 10 009',
      '0 11 002',
      '2 03 000',
      '0 10 009',
    ],
    data: [
      [2048 + 400, 12], // -400
      [100, 12],
      [1400, 17],
      [50, 12],
      [1400, 17],
    ],
    expected: [1000, 15, 400],
  },
  {
    name: '2 04 puts a field before every element but the one that says what it means',
    descriptors: ['2 04 002', '0 31 021', '0 12 101', '0 08 002', '2 04 000', '0 12 101'],
    data: [
      [2, 6],
      [1, 2],
      [27_315, 16],
      [3, 2],
      [9, 6],
      [27_415, 16],
    ],
    expected: [2, 273.15, 9, 274.15],
  },
  {
    name: '2 05 inserts text, which is passed over',
    descriptors: ['0 11 001', '2 05 003', '0 11 001'],
    data: [[90, 9], 'abc', [180, 9]],
    expected: [90, 180],
  },
  {
    name: '2 06 lets an unknown local element be passed over by its width',
    descriptors: ['0 11 001', '2 06 011', '0 12 192', '0 11 001'],
    data: [
      [90, 9],
      [1234, 11],
      [180, 9],
    ],
    expected: [90, Number.NaN, 180],
  },
  {
    name: '2 06 before an element of that width leaves it what it is',
    descriptors: ['2 06 009', '0 11 001'],
    data: [[90, 9]],
    expected: [90],
  },
  {
    name: '2 07 raises scale, reference value and width of numbers together',
    // Scale 2 more: 100 times the reference value, (10 x 2 + 2) / 3 = 7 bits more.
    descriptors: [
      '2 07 002',
      '0 10 009',
      '0 08 002',
      '2 07 000',
      '2 07 001',
      '0 07 004',
      '2 07 000',
      '0 07 004',
    ],
    data: [
      [245_712, 24],
      [9, 6],
      [85_012, 18], // 3 decimal places less one: 12 / 3 = 4 bits more
      [8501, 14],
    ],
    expected: [1457.12, 9, 85_012, 85_010],
  },
  {
    name: '2 08 sets the length of text',
    descriptors: ['2 08 003', '0 01 011', '2 08 000', '0 01 062'],
    data: ['XYZ', 'ABCD'],
    expected: ['XYZ', 'ABCD'],
  },
  {
    name: '2 21 leaves out the data of the elements after it, but those of classes 1 to 9',
    descriptors: ['2 21 003', '0 12 101', '0 07 004', '0 11 001', '0 11 002'],
    data: [
      [8500, 14],
      [55, 12],
    ],
    expected: [85_000, 5.5],
  },
];

describe('operators', () => {
  test.each(CASES)('$name', ({ descriptors, data, expected }) => {
    expect(valuesOf(descriptors, data)).toEqual(
      expected.map((value) =>
        typeof value === 'number' && !Number.isNaN(value) ? expect.closeTo(value, 9) : value,
      ),
    );
  });

  test.each(CASES.filter(({ name }) => !name.startsWith('2 21')))('as ecCodes has it: $name', (each) => {
    expect(expectLikeEccodes(bufrMessage(each))).toBe(each.expected.length);
  });

  test('2 21 is beyond ecCodes 2.28, so that nothing is beside it here', () => {
    const { descriptors, data } = CASES.find(({ name }) => name.startsWith('2 21'))!;
    expect(() => bufrDumpOf(bufrMessage({ descriptors, data }), 1)).toThrow('Internal error');
  });
});

describe('what is refused', () => {
  const refused = (descriptors: readonly string[], data: readonly Bits[] = [[0, 400]]): string => {
    try {
      valuesOf(descriptors, data);
    } catch (error) {
      if (error instanceof FormatError || error instanceof UnsupportedError) return error.message;
      throw error;
    }
    return 'nothing';
  };

  test('an element and a sequence that the reduced tables do not hold, by descriptor', () => {
    expect(refused(['0 11 001', '0 40 001'])).toBe(
      'BUFR descriptor 0 40 001 (FM 94 Table B as far as ascents need it, version 39) is not supported',
    );
    expect(refused(['3 21 007'])).toBe(
      'BUFR descriptor 3 21 007 (FM 94 Table D as far as ascents need it, version 39) is not supported',
    );
  });

  test('an unknown local element without 2 06 before it', () => {
    expect(refused(['0 11 001', '0 12 192'])).toContain('BUFR descriptor 0 12 192');
    expect(refused(['2 06 011', '0 11 001', '0 12 192'])).toContain('BUFR descriptor 0 12 192');
  });

  test('an operator that is not read, by descriptor', () => {
    expect(refused(['2 43 000'])).toContain('BUFR operator 2 43 000');
    expect(refused(['2 09 032', '0 12 101'])).toContain('BUFR operator 2 09 032');
  });

  test('an element whose table was another at the version that the message names', () => {
    const message = bufrMessage({ descriptors: ['0 33 024'], data: [[1, 4]], masterVersion: 6, edition: 3 });
    expect(() => ownValues(message)).toThrow('BUFR descriptor 0 33 024');
  });

  test('a width that no number has', () => {
    expect(refused(['2 01 118', '0 11 001'])).toContain('0 11 001 width at offset 45: found -1 bits');
    expect(refused(['2 01 119', '0 11 001'])).toContain('found 0 bits');
    expect(refused(['2 01 173', '0 11 001'])).toContain('found 54 bits');
  });

  test('2 06 that no element follows', () => {
    expect(refused(['2 06 011'])).toContain('descriptor 2 06 011');
    expect(refused(['2 06 011', '3 01 001'])).toContain('found 3 01 001 after it');
  });
});

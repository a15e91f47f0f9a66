/** Quality and other information about earlier values, told of by bitmaps. */
import { describe, expect, test } from 'vitest';
import { decodeMessage } from '../../../worker/formats/bufr/decode-message.ts';
import { readSections } from '../../../worker/formats/bufr/sections.ts';
import { type Bits, bufrMessage, missing } from '../../support/bufr-builder.ts';
import { expectInformationLikeEccodes, ownValues } from '../../support/bufr-values.ts';

/** Three values for bitmaps to speak of. */
const AIR = ['0 12 101', '0 11 001', '0 11 002'];
const AIR_DATA: Bits[] = [
  [27_315, 16],
  [270, 9],
  [55, 12],
];
const FLAGS = ['1 01 003', '0 31 031'];
const flags = (...bits: number[]): Bits[] => bits.map((bit) => [bit, 1]);
/** Center and application, which follow a bitmap. */
const SOURCE = ['0 01 031', '0 01 032'];
const SOURCE_DATA: Bits[] = [
  [98, 16],
  [1, 8],
];

const subsetOf = (descriptors: readonly string[], data: readonly Bits[]) =>
  [...decodeMessage(readSections(bufrMessage({ descriptors, data }), 0))][0]!;

const errorOf = (descriptors: readonly string[], data: readonly Bits[]): string => {
  try {
    subsetOf(descriptors, data);
  } catch (error) {
    return (error as Error).message;
  }
  return 'nothing';
};

/** The value of class 33 for each value it tells of. */
function qualities(descriptors: readonly string[], data: readonly Bits[]): [of: number, value: number][] {
  const { layout, values } = subsetOf(descriptors, data);
  return layout.qualities.map(({ index, of }) => [of, values.numbers[index]!]);
}

describe('2 22 000', () => {
  test('gives each value whose flag is 0 the next value of class 33', () => {
    const descriptors = [...AIR, '2 22 000', ...FLAGS, ...SOURCE, '1 01 002', '0 33 007'];
    const data = [...AIR_DATA, ...flags(0, 1, 0), ...SOURCE_DATA, [70, 7], [82, 7]] as Bits[];
    expect(qualities(descriptors, data)).toEqual([
      [0, 70],
      [2, 82],
    ]);
  });

  test('reads bitmaps whose length and count stand in the data, and counts factors among the values', () => {
    const descriptors = [
      ...['1 01 000', '0 31 001', '0 11 001'],
      ...['2 22 000', '1 01 000', '0 31 002', '0 31 031', ...SOURCE, '1 01 000', '0 31 002', '0 33 007'],
    ];
    const data: Bits[] = [
      [2, 8],
      [10, 9],
      [20, 9],
      [3, 16],
      ...flags(1, 0, 0),
      ...SOURCE_DATA,
      [2, 16],
      [40, 7],
      [50, 7],
    ];
    expect(qualities(descriptors, data)).toEqual([
      [1, 40],
      [2, 50],
    ]);
  });

  test('speaks of the values just before it when its bitmap is shorter than all', () => {
    const descriptors = [...AIR, '2 22 000', '1 01 002', '0 31 031', ...SOURCE, '1 01 002', '0 33 007'];
    const data = [...AIR_DATA, ...flags(0, 0), ...SOURCE_DATA, [70, 7], [82, 7]] as Bits[];
    expect(qualities(descriptors, data)).toEqual([
      [1, 70],
      [2, 82],
    ]);
  });

  test('does not take a value of class 33 before it for information', () => {
    const descriptors = ['0 33 007', ...AIR, '2 22 000', ...FLAGS, ...SOURCE, '0 33 007'];
    const data = [[11, 7], ...AIR_DATA, ...flags(1, 1, 0), ...SOURCE_DATA, [82, 7]] as Bits[];
    expect(qualities(descriptors, data)).toEqual([[3, 82]]);
  });

  test('uses a bitmap again that 2 36 000 defined, until 2 37 255 cancels it', () => {
    const first = ['2 22 000', '2 36 000', ...FLAGS, ...SOURCE, '1 01 002', '0 33 007'];
    const again = ['2 22 000', '2 37 000', ...SOURCE, '1 01 002', '0 33 002'];
    const data = [
      ...[...AIR_DATA, ...flags(0, 1, 0), ...SOURCE_DATA, [70, 7], [82, 7]],
      ...[...SOURCE_DATA, [0, 2], [1, 2]],
    ] as Bits[];
    expect(qualities([...AIR, ...first, ...again], data)).toEqual([
      [0, 70],
      [2, 82],
      [0, 0],
      [2, 1],
    ]);
    expect(errorOf([...AIR, ...first, '2 37 255', ...again], data)).toContain(
      'found 2 37 000, expected a bitmap defined before by 2 36 000',
    );
    expect(
      errorOf([...AIR, '2 22 000', ...FLAGS, ...SOURCE, '1 01 002', '0 33 007', ...again], data),
    ).toContain('found 2 37 000');
  });
});

describe('markers', () => {
  const marked = (operator: string, marker: string, extra: readonly string[] = []) => [
    ...AIR,
    operator,
    ...FLAGS,
    ...SOURCE,
    ...extra,
    '1 01 002',
    marker,
  ];
  const numbersAfter = (descriptors: readonly string[], data: readonly Bits[]) =>
    ownValues(bufrMessage({ descriptors, data }))[0]!
      .slice(-2)
      .map(({ descriptor, value }) => [descriptor, value]);

  test('2 23 255 is coded like the value it replaces', () => {
    const data = [...AIR_DATA, ...flags(0, 1, 0), ...SOURCE_DATA, [27_400, 16], missing(12)] as Bits[];
    const descriptors = marked('2 23 000', '2 23 255');
    expect(numbersAfter(descriptors, data)).toEqual([
      [223_255, 274],
      [223_255, Number.NaN],
    ]);
  });

  test('2 24 255 and 2 32 255 likewise; 2 25 255 has a bit more for the sign of its difference', () => {
    const data = [...AIR_DATA, ...flags(1, 0, 0), ...SOURCE_DATA, [4, 6], [180, 9], [60, 12]] as Bits[];
    expect(numbersAfter(marked('2 24 000', '2 24 255', ['0 08 023']), data)).toEqual([
      [224_255, 180],
      [224_255, 6],
    ]);
    const retained = [...AIR_DATA, ...flags(1, 0, 0), ...SOURCE_DATA, [180, 9], [60, 12]] as Bits[];
    expect(numbersAfter(marked('2 32 000', '2 32 255'), retained)).toEqual([
      [232_255, 180],
      [232_255, 6],
    ]);
    const difference = [
      ...[...AIR_DATA, ...flags(1, 0, 0), ...SOURCE_DATA, [4, 6]],
      ...[[512 - 30, 10] as Bits, [4096 + 15, 13] as Bits],
    ] as Bits[];
    expect(numbersAfter(marked('2 25 000', '2 25 255', ['0 08 024']), difference)).toEqual([
      [225_255, -30],
      [225_255, 1.5],
    ]);
  });

  test('a second bitmap speaks of the same values as the first', () => {
    const descriptors = [
      ...[...AIR, '2 22 000', ...FLAGS, ...SOURCE, '0 33 007'],
      ...['2 23 000', ...FLAGS, ...SOURCE, '2 23 255'],
    ];
    const data = [
      ...[...AIR_DATA, ...flags(1, 1, 0), ...SOURCE_DATA, [82, 7]],
      ...[...flags(0, 1, 1), ...SOURCE_DATA, [27_400, 16]],
    ] as Bits[];
    expect(ownValues(bufrMessage({ descriptors, data }))[0]!.at(-1)).toEqual({
      descriptor: 223_255,
      value: 274,
    });
  });

  test('2 35 000 makes the next bitmap speak of what stands before itself', () => {
    const descriptors = [
      ...[...AIR, '2 22 000', ...FLAGS, ...SOURCE, '0 33 007', '2 35 000', '0 12 101'],
      ...['2 22 000', '0 31 031', ...SOURCE, '0 33 007'],
    ];
    const data = [
      ...[...AIR_DATA, ...flags(1, 1, 0), ...SOURCE_DATA, [82, 7], [27_400, 16]],
      ...[...flags(0), ...SOURCE_DATA, [50, 7]],
    ] as Bits[];
    const [, second] = qualities(descriptors, data);
    const { layout } = subsetOf(descriptors, data);
    expect(layout.codings[second![0]]!.descriptor).toBe(12_101);
    expect(second).toEqual([9, 50]);
  });
});

describe('information that contradicts its bitmap', () => {
  const quality = (count: number) => [...AIR, '2 22 000', ...FLAGS, ...SOURCE, `1 01 00${count}`, '0 33 007'];
  const data = (...confidences: number[]) =>
    [...AIR_DATA, ...flags(0, 1, 0), ...SOURCE_DATA, ...confidences.map((each) => [each, 7])] as Bits[];

  test('is refused when there is more of it', () => {
    expect(errorOf(quality(3), data(1, 2, 3))).toContain('bitmap at offset');
    expect(errorOf(quality(3), data(1, 2, 3))).toContain('found one more, expected 2 values of information');
  });

  test('is refused when there is less of it', () => {
    expect(errorOf(quality(1), data(1))).toContain('found 1 values of information, expected 2');
  });

  test('is refused when there are more flags than values', () => {
    const descriptors = [...AIR, '2 22 000', '1 01 004', '0 31 031', ...SOURCE, '0 33 007'];
    const more = [...AIR_DATA, ...flags(1, 1, 1, 0), ...SOURCE_DATA, [5, 7]] as Bits[];
    expect(errorOf(descriptors, more)).toContain('found 4 flags, expected at most 3');
  });

  test('data after the last value are let pass only where a bitmap confirms the count of all', () => {
    const left: Bits[] = Array.from({ length: 8 }, () => [0xa5, 8]);
    expect(errorOf(quality(2), [...data(1, 2), ...left])).toBe('nothing');
    // 78 bits of values, 64 bits left, filled to 144.
    expect(subsetOf(quality(2), [...data(1, 2), ...left]).unreadBits).toBe(66);
    expect(subsetOf(quality(2), data(1, 2)).unreadBits).toBe(0);
    expect(errorOf(AIR, [...AIR_DATA, ...left])).toContain('bits after the last value');
    // The same with zeros is fill.
    expect(errorOf(AIR, [...AIR_DATA, [0, 64]])).toBe('nothing');
  });
});

describe('ecCodes reads the same of', () => {
  test('confidences under a bitmap', () => {
    const descriptors = [...AIR, '2 22 000', ...FLAGS, ...SOURCE, '1 01 002', '0 33 007'];
    const data = [...AIR_DATA, ...flags(0, 1, 0), ...SOURCE_DATA, [70, 7], [82, 7]] as Bits[];
    expectInformationLikeEccodes(bufrMessage({ descriptors, data }));
  });

  test('substituted values under a second bitmap', () => {
    const descriptors = [
      ...[...AIR, '2 22 000', ...FLAGS, ...SOURCE, '0 33 007'],
      ...['2 23 000', ...FLAGS, ...SOURCE, '2 23 255'],
    ];
    const data = [
      ...[...AIR_DATA, ...flags(1, 1, 0), ...SOURCE_DATA, [82, 7]],
      ...[...flags(0, 1, 1), ...SOURCE_DATA, [27_400, 16]],
    ] as Bits[];
    expectInformationLikeEccodes(bufrMessage({ descriptors, data }));
  });
});

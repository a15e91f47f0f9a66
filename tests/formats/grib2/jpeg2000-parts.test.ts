import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { ArithmeticDecoder } from '../../../worker/formats/grib2/arithmetic-decoder.ts';
import { TagTree } from '../../../worker/formats/grib2/jpeg2000-tag-tree.ts';
import { synthesize } from '../../../worker/formats/grib2/jpeg2000-wavelet.ts';
import { bytes } from '../../support/grib2-builder.ts';

describe('the arithmetic decoder', () => {
  /** ITU-T T.88, H.2, test sequence for the arithmetic coder; typed from memory (M), 256 decisions in one context. */
  const CODED = '84 c7 3b fc e1 a1 43 04 02 20 00 00 41 0d bb 86 f4 31 7f ff 88 ff 37 47 1a db 6a df ff ac';
  const DECISIONS =
    '00 02 00 51 00 00 00 c0 03 52 87 2a aa aa aa aa 82 c0 20 00 fc d7 9e f6 bf 7f ed 90 4f 46 a3 bf';

  test('decodes the test sequence of the standard', () => {
    const decoder = new ArithmeticDecoder(bytes(CODED));
    const contexts = new Uint8Array(1);
    const decoded = Array.from({ length: 32 }, () => {
      let octet = 0;
      for (let bit = 0; bit < 8; bit += 1) octet = octet * 2 + decoder.decode(contexts, 0);
      return octet;
    });
    expect(decoded).toEqual([...bytes(DECISIONS)]);
  });
});

describe('a tag tree', () => {
  /** The example of ISO/IEC 15444-1, B.10.2 (M): 6 x 3 numbers that begin 1 3 2, coded 01111 001 101. */
  const bitsOf = (text: string) => {
    const bits = Array.from(text, Number);
    return { next: () => bits.shift()!, left: () => bits.length };
  };

  test('reads the example of the standard', () => {
    const tree = new TagTree(6, 3);
    const { next, left } = bitsOf('01111001101');
    expect([0, 1, 2].map((leaf) => tree.valueBelow(10, leaf, next))).toEqual([1, 3, 2]);
    expect(left()).toBe(0);
  });

  test('reads no more than it takes to know that a number is not below a limit', () => {
    const tree = new TagTree(6, 3);
    const { next, left } = bitsOf('01111001101');
    expect(tree.valueBelow(1, 0, next)).toBeUndefined();
    expect(left()).toBe(10);
    expect(tree.valueBelow(2, 0, next)).toBe(1);
    expect(left()).toBe(6);
  });
});

/** The forward transformation of ISO/IEC 15444-1, F.4.8, equations F-11 and F-12, along one line. */
function analyzed(line: readonly number[]): number[] {
  const at = (values: readonly number[], n: number) => {
    const last = line.length - 1;
    const folded = n < 0 ? -n : n > last ? 2 * last - n : n;
    return values[folded]!;
  };
  if (line.length === 1) return [...line];
  const odd = line.map((value, n) =>
    n % 2 === 1 ? value - Math.floor((at(line, n - 1) + at(line, n + 1)) / 2) : value,
  );
  const both = odd.map((value, n) =>
    n % 2 === 0 ? value + Math.floor((at(odd, n - 1) + at(odd, n + 1) + 2) / 4) : value,
  );
  return [...both.filter((_, n) => n % 2 === 0), ...both.filter((_, n) => n % 2 === 1)];
}

/** One level in two dimensions: columns first, then rows, subbands side by side. */
function analyzedArea(area: readonly number[], width: number, height: number): number[] {
  const columns = Array.from({ length: width }, (_, x) =>
    analyzed(Array.from({ length: height }, (_, y) => area[y * width + x]!)),
  );
  return Array.from({ length: height }, (_, y) => analyzed(columns.map((column) => column[y]!))).flat();
}

describe('the inverse wavelet transformation', () => {
  const size = fc.integer({ min: 1, max: 17 });

  test('undoes the forward one of the standard, one level, for every small size', () => {
    fc.assert(
      fc.property(
        size,
        size,
        fc.infiniteStream(fc.integer({ min: -(2 ** 25), max: 2 ** 25 })),
        (w, h, stream) => {
          const area = Array.from({ length: w * h }, () => stream.next().value as number);
          const samples = Int32Array.from(analyzedArea(area, w, h));
          const half = { width: Math.ceil(w / 2), height: Math.ceil(h / 2), precincts: [] };
          synthesize(samples, w, [half, { width: w, height: h, precincts: [] }]);
          expect([...samples]).toEqual(area);
        },
      ),
      { seed: 15444, numRuns: 300 },
    );
  });

  test('by hand: low 10 20 30 and high 4 -2 are 8 17 19 23 31', () => {
    const samples = Int32Array.of(10, 20, 30, 4, -2);
    synthesize(samples, 5, [
      { width: 3, height: 1, precincts: [] },
      { width: 5, height: 1, precincts: [] },
    ]);
    expect([...samples]).toEqual([8, 17, 19, 23, 31]);
  });
});

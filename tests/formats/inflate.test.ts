import { constants, deflateSync } from 'node:zlib';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { huffmanOf } from '../../worker/formats/huffman.ts';
import { InflateError, inflateInto } from '../../worker/formats/inflate.ts';

function inflated(source: Uint8Array, length: number): Uint8Array {
  const into = new Uint8Array(length);
  inflateInto(source, into);
  return into;
}

/** Text, runs, noise and a long way back, so that every kind of code comes up. */
const SAMPLE = Uint8Array.from({ length: 100_000 }, (_, n) => {
  if (n % 40_000 < 3_000) return (n * n * 7919) >>> 5;
  return n % 1000 < 400 ? 0 : 'the wind and the cloud '.charCodeAt(n % 23);
});

describe('inflateInto gives what zlib deflated', () => {
  test.each([
    ['stored blocks', { level: 0 }],
    ['fixed codes', { strategy: constants.Z_FIXED }],
    ['literals only', { strategy: constants.Z_HUFFMAN_ONLY }],
    ['runs only', { strategy: constants.Z_RLE }],
    ['the fastest level', { level: 1 }],
    ['the best level', { level: 9 }],
  ])('%s', (_, options) => {
    expect(inflated(deflateSync(SAMPLE, options), SAMPLE.length)).toEqual(SAMPLE);
  });

  test('a copy from nearly as far back as there is', () => {
    const noise = Uint8Array.from({ length: 32_000 }, (_, n) => Math.imul(n * n + 7, 2654435761) >>> 24);
    const twice = Uint8Array.from([...noise, ...noise]);
    const deflated = deflateSync(twice, { level: 9 });
    expect(deflated.length).toBeLessThan(40_000);
    expect(inflated(deflated, twice.length)).toEqual(twice);
  });

  test('nothing', () => {
    expect(inflated(deflateSync(new Uint8Array(0)), 0)).toHaveLength(0);
  });

  test('codes longer than the quick table: literals whose counts double', () => {
    const skewed = Uint8Array.from(
      { length: 2 ** 17 },
      (_, n) => 31 - Math.clz32((n * 2654435761) >>> 0 || 1),
    );
    const deflated = deflateSync(skewed, { strategy: constants.Z_HUFFMAN_ONLY });
    expect(inflated(deflated, skewed.length)).toEqual(skewed);
  });
});

/** RFC 1950 and 1951 by hand: header 78 01, one block of fixed codes holding "a", its Adler-32 0x00620062. */
const LETTER_A = [0x78, 0x01, 0x4b, 0x04, 0x00, 0x00, 0x62, 0x00, 0x62];

describe('inflateInto by hand', () => {
  test('one letter', () => {
    expect(inflated(Uint8Array.from(LETTER_A), 1)).toEqual(Uint8Array.of(0x61));
  });

  test.each([
    ['a header of another method', 0, 0x79],
    ['a header whose check does not divide', 1, 0x02],
    ['a block of a kind that is none', 2, 0x4f],
    ['another checksum', 8, 0x63],
  ])('%s is refused', (_, at, octet) => {
    const damaged = Uint8Array.from(LETTER_A);
    damaged[at] = octet;
    expect(() => inflated(damaged, 1)).toThrow(InflateError);
  });
});

describe('huffmanOf', () => {
  const chain = (last: readonly number[]) =>
    Uint8Array.from([...Array.from({ length: 14 }, (_, n) => n + 1), ...last]);

  test('takes lengths that leave no room, and lengths that leave some', () => {
    expect(huffmanOf(chain([15, 15]))?.counts[15]).toBe(2);
    expect(huffmanOf(chain([15]))?.counts[15]).toBe(1);
  });

  test('takes no lengths of one word too many', () => {
    expect([huffmanOf(chain([15, 15, 15])), huffmanOf(Uint8Array.of(1, 1, 1))]).toEqual([
      undefined,
      undefined,
    ]);
  });
});

describe('inflateInto is bounded', () => {
  const deflated = deflateSync(SAMPLE);

  test('a stream of more than there is room for is refused, and room for more than the stream', () => {
    expect(() => inflated(deflated, SAMPLE.length - 1)).toThrow(InflateError);
    expect(() => inflated(deflated, SAMPLE.length + 1)).toThrow(InflateError);
  });

  test('cut anywhere it is refused', () => {
    const short = deflateSync(SAMPLE.subarray(0, 500));
    let refused = 0;
    for (let length = 0; length < short.length; length += 1) {
      expect(() => inflated(short.subarray(0, length), 500), `cut to ${length}`).toThrow(InflateError);
      refused += 1;
    }
    expect(refused).toBe(short.length);
  });

  test('with any bit flipped it is refused or gives the same bytes', () => {
    const short = deflateSync(SAMPLE.subarray(30_000, 31_000));
    const truth = SAMPLE.slice(30_000, 31_000);
    let refused = 0;
    for (let bit = 0; bit < 8 * short.length; bit += 1) {
      const damaged = Uint8Array.from(short);
      damaged[bit >> 3]! ^= 1 << (bit & 7);
      try {
        expect(inflated(damaged, truth.length)).toEqual(truth);
      } catch (error) {
        if (!(error instanceof InflateError)) throw error;
        refused += 1;
      }
    }
    expect(refused).toBeGreaterThan(7 * short.length);
  });

  test('random bytes after a sound header are refused in its own class of error', () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 300 }), (noise) => {
        expect(() => inflated(Uint8Array.of(0x78, 0x01, ...noise), 5_000)).toThrow(InflateError);
      }),
      { seed: 1951, numRuns: 2000 },
    );
  });
});

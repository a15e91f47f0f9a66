import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { bitsAt, wordView } from '../../worker/formats/bit-reader.ts';

/** Slow and plain: the bits as text. */
function bitsAsText(bytes: Uint8Array, bit: number, width: number): number {
  const text = Array.from(bytes, (byte) => byte.toString(2).padStart(8, '0')).join('');
  return width === 0 ? 0 : Number.parseInt(text.slice(bit, bit + width), 2);
}

// 1010 1100 | 0011 0101
const TWO_BYTES = wordView(Uint8Array.of(0xac, 0x35));

test('bitsAt(12) reads across a byte boundary', () => {
  expect(bitsAt(TWO_BYTES, 2, 12)).toBe(0b101100001101);
});

test('bitsAt(0) is 0, also just past the end', () => {
  expect(bitsAt(TWO_BYTES, 16, 0)).toBe(0);
});

describe('bitsAt agrees with bits read as text', () => {
  test('every width at every position of seven bytes', () => {
    const bytes = Uint8Array.of(0x9d, 0x00, 0xff, 0x5a, 0xc3, 0x81, 0x7e);
    const view = wordView(bytes);
    let compared = 0;
    for (let width = 0; width <= 32; width += 1) {
      for (let bit = 0; bit + width <= 56; bit += 1) {
        expect(bitsAt(view, bit, width), `${width} bits at ${bit}`).toBe(bitsAsText(bytes, bit, width));
        compared += 1;
      }
    }
    expect(compared).toBe(33 * 57 - (32 * 33) / 2);
  });

  test('random bytes, positions and widths', () => {
    const drawn = fc.record({
      bytes: fc.uint8Array({ minLength: 5, maxLength: 40 }),
      width: fc.integer({ min: 0, max: 32 }),
      part: fc.double({ min: 0, max: 1, noNaN: true }),
    });
    fc.assert(
      fc.property(drawn, ({ bytes, width, part }) => {
        const bit = Math.floor(part * (bytes.length * 8 - width));
        expect(bitsAt(wordView(bytes), bit, width)).toBe(bitsAsText(bytes, bit, width));
      }),
      { seed: 20240115, numRuns: 2000 },
    );
  });
});

describe('wordView lets the last bytes be read as whole words', () => {
  test('at the very end of a buffer', () => {
    expect(bitsAt(wordView(Uint8Array.of(0xab)), 0, 8)).toBe(0xab);
  });

  test('in the middle of a buffer, without what follows', () => {
    const part = Uint8Array.of(1, 2, 0xab, 0xff, 0xff, 0xff, 0xff, 0xff).subarray(2, 3);
    expect(bitsAt(wordView(part), 0, 8)).toBe(0xab);
  });
});

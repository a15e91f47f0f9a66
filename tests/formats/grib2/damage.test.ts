import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { FormatError, UnsupportedError } from '../../../worker/errors.ts';
import type { Grib2Item } from '../../../worker/formats/grib2/decode-message.ts';
import { concat } from '../../support/grib2-builder.ts';
import { inFileOrder, readAll } from '../../support/grib2-compare.ts';
import { HAND_MADE } from '../../support/grib2-seeds.ts';

/** Small messages of each packing, with and without bitmaps and missing values. */
const KINDS = Object.keys(HAND_MADE);

/** What must hold of any item, whatever the bytes were. */
function checkItem(item: Grib2Item): void {
  if (item.kind === 'rejected') {
    const { error } = item;
    expect(error instanceof FormatError || error instanceof UnsupportedError).toBe(true);
    return;
  }
  if (item.kind !== 'field') throw new Error('nothing was to be skipped');
  const { values, grid, missingCount } = item.field;
  expect(values).toHaveLength(grid.nx * grid.ny);
  let missing = 0;
  for (const value of values) {
    if (Number.isNaN(value)) missing += 1;
    else expect(Number.isFinite(value)).toBe(true);
  }
  expect(missing).toBe(missingCount);
}

describe.each(KINDS)('a message of %s packing', (kind) => {
  const bytes = HAND_MADE[kind]!;

  test('is read as it is', async () => {
    const items = await readAll(bytes);
    expect(items.length).toBeGreaterThan(0);
    expect(items.filter((item) => item.kind !== 'field')).toEqual([]);
  });

  test('cut after any octet is rejected once, and a message after it is read', async () => {
    for (let length = 1; length < bytes.length; length += 1) {
      const cut = bytes.subarray(0, length);
      const alone = await readAll(cut);
      expect(
        alone.map((item) => item.kind),
        `cut to ${length}`,
      ).toEqual(['rejected']);
      const followed = await readAll(concat([cut, HAND_MADE.simple!]));
      expect(followed.at(-1)?.kind, `cut to ${length}`).toBe('field');
    }
  });

  test('with any one bit flipped gives a sound field or a named error, and the next message is read', async () => {
    let changedCount = 0;
    for (let octet = 0; octet < bytes.length; octet += 1) {
      for (const flip of [0x01, 0x10, 0x80, 0xff]) {
        const damaged = Uint8Array.from(bytes);
        damaged[octet]! ^= flip;
        const items = await readAll(concat([damaged, HAND_MADE.simple!]), { maxMessageBytes: 1 << 20 });
        for (const item of items) checkItem(item);
        const last = items.at(-1);
        if (last?.kind !== 'field') throw new Error(`octet ${octet + 1}: the next message was lost`);
        expect(inFileOrder(last.field)).toEqual([1, 2, 3, 4, 5, 6, 7, 8]);
        changedCount += 1;
      }
    }
    expect(changedCount).toBe(4 * bytes.length);
  });

  test('with several octets changed at once gives sound fields or named errors', async () => {
    const changes = fc.array(fc.tuple(fc.nat(bytes.length - 1), fc.integer({ min: 0, max: 255 })), {
      minLength: 2,
      maxLength: 12,
    });
    await fc.assert(
      fc.asyncProperty(changes, async (each) => {
        const damaged = Uint8Array.from(bytes);
        for (const [at, value] of each) damaged[at] = value;
        for (const item of await readAll(damaged, { maxMessageBytes: 1 << 20 })) checkItem(item);
      }),
      { seed: 306, numRuns: 400 },
    );
  });
});

describe('a flipped bit where the octets decide what is read is never passed over', () => {
  /** Octets of section 5 and 7 whose every change must be noticed: counts, widths and lengths that must add up. */
  test.each([
    ['number of grid points', 16 + 21 + 7, 4],
    ['number of packed values', 16 + 21 + 72 + 34 + 6, 4],
    ['number of groups', 16 + 21 + 72 + 34 + 32, 4],
    ['length of the last group', 16 + 21 + 72 + 34 + 43, 4],
    ['reference of group lengths', 16 + 21 + 72 + 34 + 38, 4],
  ])('%s', async (_, firstOctet, octets) => {
    for (let bit = 0; bit < 8 * octets; bit += 1) {
      const damaged = Uint8Array.from(HAND_MADE.complex!);
      damaged[firstOctet - 1 + (bit >> 3)]! ^= 0x80 >> (bit & 7);
      const items = await readAll(damaged);
      expect(
        items.map((item) => item.kind),
        `bit ${bit}`,
      ).toEqual(['rejected']);
    }
  });
});

test('random bytes after GRIB and edition 2 give named errors', async () => {
  await fc.assert(
    fc.asyncProperty(fc.uint8Array({ minLength: 0, maxLength: 400 }), async (noise) => {
      const start = [0x47, 0x52, 0x49, 0x42, 0, 0, 0, 2, 0, 0, 0, 0, 0, 0];
      const items = await readAll(concat([Uint8Array.from(start), noise]));
      expect(items.length).toBeGreaterThan(0);
      for (const item of items) expect(item.kind).toBe('rejected');
    }),
    { seed: 92, numRuns: 1000 },
  );
});

import { describe, expect, test } from 'vitest';
import { FormatError, UnsupportedError } from '../../../worker/errors.ts';
import { concat, u16, u32 } from '../../support/grib2-builder.ts';
import { readAll } from '../../support/grib2-compare.ts';
import { grib2ErrorOf, offsetOf, rejectionOf, unsupported } from '../../support/grib2-errors.ts';
import { jpeg2000, packedMessage } from '../../support/grib2-packings.ts';
import { codestreamsOf, parsed } from '../../support/jpeg2000-samples.ts';

const FORM = { columns: 20, rows: 15, bits: 9 };
const POINTS = FORM.columns * FORM.rows;
const [SOUND = new Uint8Array(0), DEEP = new Uint8Array(0)] = codestreamsOf([FORM, { ...FORM, bits: 20 }]);

/** Octet of the first such marker, from 1. */
function octetOf(marker: number, codestream = SOUND): number {
  const at = codestream.findIndex(
    (octet, n) => octet === marker >>> 8 && codestream[n + 1] === (marker & 0xff),
  );
  if (at < 0) throw new Error(`no marker ${marker.toString(16)}`);
  return at + 1;
}

function changed(entries: Readonly<Record<number, readonly number[]>>): Uint8Array {
  const copy = Uint8Array.from(SOUND);
  for (const [octet, octets] of Object.entries(entries)) copy.set(octets, Number(octet) - 1);
  return copy;
}

const COD = octetOf(0xff52);
const SOT = octetOf(0xff90);

test('the sample is sound', () => {
  const { width, height, bits, parts, usedOctets } = parsed(SOUND, POINTS);
  expect([width, height, bits, parts.length, usedOctets]).toEqual([20, 15, 9, 1, SOUND.length]);
});

describe('headers that do not fit are refused where they stand', () => {
  test.each([
    ['another number of points', { 9: u32(19) }, 9],
    ['signed samples', { 43: [0x88] }, 43],
    ['no layer', { [COD + 6]: u16(0) }, COD + 6],
    ['more levels than there are', { [COD + 9]: [33] }, COD + 9],
    ['code blocks too large', { [COD + 10]: [5, 6] }, COD + 9],
    ['more packets than octets', { [COD + 6]: u16(65_535) }, 1],
    ['a part that goes beyond the stream', { [SOT + 6]: u32(SOUND.length) }, SOT],
    ['a part shorter than its header', { [SOT + 6]: u32(11) }, SOT],
    ['a second part first', { [SOT + 10]: [1] }, SOT],
    ['no start mark', { 1: [0xff, 0x4e] }, 1],
  ])('%s', (_, entries, octet) => {
    expect(offsetOf(grib2ErrorOf(() => parsed(changed(entries), POINTS)))).toBe(1000 + octet - 1);
  });

  test('an image of 2^31 x 2^31 points is refused before anything is made', () => {
    const huge = changed({ 9: u32(2 ** 31), 13: u32(2 ** 31), 25: u32(2 ** 31), 29: u32(2 ** 31) });
    expect(offsetOf(grib2ErrorOf(() => parsed(huge, POINTS)))).toBe(1008);
  });
});

describe('what the template has no use for is refused by name', () => {
  test.each([
    ['two components', { 41: u16(2) }, '2 components'],
    ['an offset', { 17: u32(1) }, '1 components, offset'],
    ['tiles', { 25: u32(10) }, '1 components, tiles'],
    ['a marker of another use', { [COD]: [0xff, 0x5f] }, '0xff5f'],
  ])('%s', (_, entries, value) => {
    expect(unsupported(grib2ErrorOf(() => parsed(changed(entries), POINTS)))[1]).toBe(value);
  });
});

describe.each([
  ['of 9 bits, by OpenJPEG', SOUND, 9],
  ['of 20 bits, by the decoder of deep samples', DEEP, 20],
])('a damaged codestream %s', (_, sound, bits) => {
  const read = (codestream: Uint8Array) =>
    readAll(packedMessage({ nx: 20, ny: 15 }, jpeg2000({ count: POINTS, bits }), codestream));

  test('is read when it is not damaged, with padding to a word after it', async () => {
    const items = await read(concat([sound, new Uint8Array(3)]));
    expect(items.map((item) => item.kind)).toEqual(['field']);
  });

  test('is refused when cut anywhere', async () => {
    let refused = 0;
    for (let length = 0; length < sound.length; length += 1) {
      expect(rejectionOf(await read(sound.subarray(0, length))), `cut to ${length}`).toBeInstanceOf(Error);
      refused += 1;
    }
    expect(refused).toBe(sound.length);
  });

  test('is refused when octets follow it', async () => {
    expect(rejectionOf(await read(concat([sound, new Uint8Array(4)])))).toBeInstanceOf(FormatError);
  });

  test('is refused when section 5 says another width', async () => {
    const made = packedMessage({ nx: 20, ny: 15 }, jpeg2000({ count: POINTS, bits: bits + 1 }), sound);
    expect(rejectionOf(await readAll(made)).message).toContain(`the ${bits} of the codestream`);
  });

  test('with an octet lost from its packets is refused: the headers must account for each', async () => {
    const at = octetOf(0xff93, sound) + 20;
    const shorter = concat([sound.subarray(0, at), sound.subarray(at + 1)]);
    const sot = octetOf(0xff90, sound);
    const length = new DataView(sound.buffer, sound.byteOffset).getUint32(sot + 5);
    shorter.set(u32(length - 1), sot + 5);
    expect(rejectionOf(await read(shorter)).message).toContain('codestream image');
  });

  test('with any bit flipped gives finite values in range, or an error of its own class', async () => {
    const counts = { field: 0, rejected: 0 };
    for (let bit = 0; bit < 8 * sound.length; bit += 3) {
      const damaged = Uint8Array.from(sound);
      damaged[bit >> 3]! ^= 0x80 >> (bit & 7);
      const [item] = await read(damaged);
      if (item?.kind === 'field') {
        expect(item.field.values.every((value) => value >= 0 && value < 2 ** bits)).toBe(true);
        counts.field += 1;
      } else if (item?.kind === 'rejected') {
        expect(item.error instanceof FormatError || item.error instanceof UnsupportedError).toBe(true);
        counts.rejected += 1;
      }
    }
    expect(counts.field + counts.rejected).toBe(Math.ceil((8 * sound.length) / 3));
    expect(counts.rejected).toBeGreaterThan(200);
  });
});

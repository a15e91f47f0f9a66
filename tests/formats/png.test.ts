import { describe, expect, test } from 'vitest';
import { FormatError } from '../../worker/errors.ts';
import { ByteReader } from '../../worker/formats/byte-reader.ts';
import { readPng } from '../../worker/formats/png.ts';
import { concat } from '../support/grib2-builder.ts';
import { grib2ErrorOf, offsetOf, unsupported } from '../support/grib2-errors.ts';
import { chunk, filtered, headerChunk, PNG_SIGNATURE, type PngForm, pngOf } from '../support/png-builder.ts';

const read = (bytes: Uint8Array, pixels: number) =>
  readPng(new ByteReader(bytes, { format: 'PNG', name: 'image', offsetBytes: 1000 }), pixels);

const GREY: PngForm = { width: 4, height: 3, depth: 8, colourType: 0 };
/** The second pixel of the second row is as far from what is above as from the corner: filter 4 takes what is above. */
const ROWS = [
  [100, 80, 30, 255],
  [110, 50, 200, 3],
  [7, 7, 7, 8],
];
const SOUND = pngOf(GREY, filtered(ROWS, 0, 1));

describe('readPng', () => {
  test.each([0, 1, 2, 3, 4])('undoes filter %i', (type) => {
    expect([...read(pngOf(GREY, filtered(ROWS, type, 1)), 12).rows]).toEqual(ROWS.flat());
  });

  test.each([0, 1, 2, 3, 4])('undoes filter %i over pixels of three octets', (type) => {
    const form = { width: 2, height: 2, depth: 8, colourType: 2 };
    const rows = [
      [1, 2, 3, 250, 5, 6],
      [9, 8, 7, 6, 5, 100],
    ];
    const image = read(pngOf(form, filtered(rows, type, 3)), 4);
    expect([image.pixelBits, [...image.rows]]).toEqual([24, rows.flat()]);
  });

  test.each([
    [1, 0, 1],
    [2, 0, 2],
    [4, 0, 4],
    [16, 0, 16],
    [8, 6, 32],
  ])('depth %i of colour type %i is %i bits a pixel', (depth, colourType, pixelBits) => {
    const rowOctets = Math.ceil((3 * pixelBits) / 8);
    const image = read(pngOf({ width: 3, height: 1, depth, colourType }, new Uint8Array(1 + rowOctets)), 3);
    expect([image.pixelBits, image.rowOctets, image.usedOctets]).toEqual([
      pixelBits,
      rowOctets,
      expect.any(Number),
    ]);
  });

  test('joins data chunks and passes over chunks that it does not know', () => {
    const parts = pngOf(GREY, filtered(ROWS, 2, 1), 3);
    const [start, rest] = [parts.subarray(0, 33), parts.subarray(33)];
    const image = read(concat([start, chunk('tEXt', Uint8Array.of(65, 0, 66)), rest]), 12);
    expect([...image.rows]).toEqual(ROWS.flat());
  });
});

describe('readPng refuses', () => {
  test('another signature, at the first octet', () => {
    const damaged = Uint8Array.from(SOUND);
    damaged[0] = 0x88;
    expect(offsetOf(grib2ErrorOf(() => read(damaged, 12)))).toBe(1000);
  });

  test('another number of pixels, before anything is inflated', () => {
    const huge = concat([
      Uint8Array.from(PNG_SIGNATURE),
      headerChunk({ ...GREY, width: 2 ** 30, height: 2 ** 20 }),
      chunk('IEND', new Uint8Array(0)),
    ]);
    expect(offsetOf(grib2ErrorOf(() => read(huge, 12)))).toBe(1000 + 16);
  });

  test.each([
    ['a palette', { ...GREY, colourType: 3 }, '3 8 0 0 0'],
    ['grey with alpha', { ...GREY, colourType: 4 }, '4 8 0 0 0'],
    ['true colour of 16 bits a channel', { ...GREY, colourType: 2, depth: 16 }, '2 16 0 0 0'],
    ['interlacing', { ...GREY, interlace: 1 }, '0 8 0 0 1'],
  ])('%s, by its header', (_, form, value) => {
    const error = grib2ErrorOf(() => read(pngOf(form, filtered(ROWS, 0, 1)), 12));
    expect(unsupported(error)[1]).toBe(value);
  });

  test('a filter that is none', () => {
    expect(
      grib2ErrorOf(() =>
        read(
          pngOf(
            GREY,
            filtered(ROWS, 0, 1).map((octet, n) => (n === 0 ? 5 : octet)),
          ),
          12,
        ),
      ).message,
    ).toContain('filter type');
  });

  test('rows of another number of octets', () => {
    expect(grib2ErrorOf(() => read(pngOf(GREY, filtered(ROWS.slice(1), 0, 1)), 12)).message).toContain(
      '10 bytes',
    );
  });

  test('an image that is cut anywhere', () => {
    let refused = 0;
    for (let length = 0; length < SOUND.length; length += 1) {
      expect(
        grib2ErrorOf(() => read(SOUND.subarray(0, length), 12)),
        `cut to ${length}`,
      ).toBeInstanceOf(FormatError);
      refused += 1;
    }
    expect(refused).toBe(SOUND.length);
  });

  test('any octet changed: each chunk has its check value', () => {
    let refused = 0;
    for (let at = 0; at < SOUND.length; at += 1) {
      const damaged = Uint8Array.from(SOUND);
      damaged[at]! ^= 0x10;
      grib2ErrorOf(() => read(damaged, 12));
      refused += 1;
    }
    expect(refused).toBe(SOUND.length);
  });
});

import { describe, expect, test } from 'vitest';
import { FormatError, UnsupportedError } from '../../worker/errors.ts';
import { NO_HEIGHT_M, readTerrariumTile } from '../../worker/formats/terrarium.ts';
import { elevationTile, terrariumOctets } from '../support/elevation-tiles.ts';
import { concat } from '../support/grib2-builder.ts';
import { chunk, headerChunk, PNG_SIGNATURE, pngOf } from '../support/png-builder.ts';

const FLAT = elevationTile(() => 100);

/** The error that reading throws. */
function refusalOf(bytes: Uint8Array): unknown {
  try {
    readTerrariumTile(bytes);
  } catch (error) {
    return error;
  }
  throw new Error('the tile was read');
}

describe('readTerrariumTile', () => {
  test('gives the highest and lowest pixel of each block, row by row from the north-western corner', () => {
    const peaks = new Map([
      ['0 0', 1000],
      ['15 15', 1200],
      ['16 0', 700],
      ['0 16', 900],
      ['255 255', 2000],
    ]);
    const { highestM, lowestM } = readTerrariumTile(
      elevationTile((column, row) => peaks.get(`${column} ${row}`) ?? 100),
    );
    expect([highestM[0], highestM[1], highestM[16], highestM[255]]).toEqual([1200, 700, 900, 2000]);
    expect(highestM.filter((heightM) => heightM === 100)).toHaveLength(252);
    expect(new Set(lowestM)).toEqual(new Set([100]));
  });

  test('rounds the highest up and the lowest down', () => {
    const { highestM, lowestM } = readTerrariumTile(
      elevationTile((column) => (column % 16 === 3 ? 500.25 : column % 16 === 5 ? -20.75 : 10)),
    );
    expect([highestM[7], lowestM[7]]).toEqual([501, -21]);
  });

  test('reads true colour with alpha the same', () => {
    const heightOf = (column: number, row: number) => column * 3 + row;
    const plain = readTerrariumTile(elevationTile(heightOf));
    expect(readTerrariumTile(elevationTile(heightOf, () => 255))).toEqual(plain);
  });

  const isOdd = (column: number, row: number) => column === 20 && row === 20;
  test.each([
    [
      'a pixel that is not opaque',
      elevationTile(
        () => 50,
        (...at) => (isOdd(...at) ? 254 : 255),
      ),
    ],
    ['a pixel deeper than any sea', elevationTile((...at) => (isOdd(...at) ? -32_768 : 50))],
    ['a pixel higher than any mountain', elevationTile((...at) => (isOdd(...at) ? 9001 : 50))],
  ])('leaves a block with %s unknown, and no other', (...[, bytes]) => {
    const { highestM, lowestM } = readTerrariumTile(bytes);
    const unknownOf = (heightsM: Int16Array) =>
      Array.from(heightsM.keys()).filter((block) => heightsM[block] === NO_HEIGHT_M);
    expect([unknownOf(highestM), unknownOf(lowestM)]).toEqual([[17], [17]]);
  });

  test.each([
    ['half as high and twice as wide', { width: 512, height: 128, depth: 8, colourType: 2 }, '512 x 128'],
    ['smaller', { width: 255, height: 256, depth: 8, colourType: 2 }, '255 x 256'],
    [
      'larger than memory',
      { width: 2 ** 31 - 1, height: 2 ** 31 - 1, depth: 8, colourType: 2 },
      '2147483647',
    ],
  ])('refuses an image that is %s, before it inflates anything', (...[, form, found]) => {
    const bytes =
      form.width === 512
        ? pngOf(form, new Uint8Array(128 * (1 + 512 * 3)))
        : concat([Uint8Array.from(PNG_SIGNATURE), headerChunk(form), chunk('IEND', new Uint8Array(0))]);
    const error = refusalOf(bytes);
    expect(error).toBeInstanceOf(FormatError);
    expect((error as FormatError).found).toContain(found);
  });

  test('refuses grey pixels', () => {
    const bytes = pngOf({ width: 256, height: 256, depth: 16, colourType: 0 }, new Uint8Array(256 * 513));
    expect(refusalOf(bytes)).toBeInstanceOf(UnsupportedError);
  });

  test('refuses rows that inflate to more than the image has', () => {
    const bytes = pngOf({ width: 256, height: 256, depth: 8, colourType: 2 }, new Uint8Array(2 ** 22));
    expect(refusalOf(bytes)).toBeInstanceOf(FormatError);
  });

  test('refuses a tile that is cut anywhere, and any octet turned', () => {
    for (let cut = 0; cut < FLAT.length; cut += 7) {
      expect(refusalOf(FLAT.subarray(0, cut)), `cut to ${cut}`).toBeInstanceOf(FormatError);
      const turned = Uint8Array.from(FLAT);
      turned[cut]! ^= 0x20;
      expect(() => readTerrariumTile(turned), `octet ${cut} turned`).toThrow();
    }
  });

  test('the builder and the reader are each other’s inverse', () => {
    expect(terrariumOctets(1.5)).toEqual([128, 1, 128]);
    expect(terrariumOctets(-0.00390625)).toEqual([127, 255, 255]);
  });
});

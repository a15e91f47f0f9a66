import { describe, expect, test } from 'vitest';
import { eccodesFieldsOf } from '../../support/eccodes.ts';
import { packedByEccodes } from '../../support/eccodes-pack.ts';
import { concat } from '../../support/grib2-builder.ts';
import { differences, inFileOrder, readAll, readOne } from '../../support/grib2-compare.ts';
import { offsetOf, rejectionOf } from '../../support/grib2-errors.ts';
import { packedMessage, payloadOf, png } from '../../support/grib2-packings.ts';
import { filtered, type PngForm, pngOf } from '../../support/png-builder.ts';

/** 6 points in 2 rows. */
function made(bits: number, form: Omit<PngForm, 'width' | 'height'>, rows: number[][], reference = 0) {
  const image = pngOf({ width: 3, height: 2, ...form }, filtered(rows, 0, 1));
  return packedMessage({ nx: 3, ny: 2 }, png({ count: 6, bits, reference }), image);
}

/** Read by us, after a check that ecCodes reads the same. */
async function valuesOf(message: Uint8Array): Promise<number[]> {
  const field = await readOne(message);
  expect(differences(field, eccodesFieldsOf(message)[0]!)).toEqual([]);
  return inFileOrder(field);
}

describe('PNG images by hand, each also read by ecCodes', () => {
  test('8 bits above a reference', async () => {
    const rows = [
      [1, 2, 3],
      [4, 5, 255],
    ];
    expect(await valuesOf(made(8, { depth: 8, colourType: 0 }, rows, -1.5))).toEqual([
      -0.5, 0.5, 1.5, 2.5, 3.5, 253.5,
    ]);
  });

  test('16 bits, the first octet first', async () => {
    const rows = [
      [0, 1, 1, 0, 255, 255],
      [0, 2, 2, 0, 128, 0],
    ];
    const values = await valuesOf(made(16, { depth: 16, colourType: 0 }, rows));
    expect(values).toEqual([1, 256, 65535, 2, 512, 32768]);
  });

  test('24 bits in the three channels of true colour', async () => {
    const rows = [
      [0, 0, 1, 0, 1, 0, 1, 0, 0],
      [255, 255, 255, 0, 0, 0, 1, 2, 3],
    ];
    const values = await valuesOf(made(24, { depth: 8, colourType: 2 }, rows));
    expect(values).toEqual([1, 256, 65536, 16777215, 0, 66051]);
  });

  test('32 bits in four channels', async () => {
    const rows = [
      [0, 0, 0, 1, 0, 0, 1, 0, 0, 1, 0, 0],
      [128, 0, 0, 0, 0, 0, 0, 0, 1, 0, 0, 0],
    ];
    const values = await valuesOf(made(32, { depth: 8, colourType: 6 }, rows));
    expect(values).toEqual([1, 256, 65536, 2 ** 31, 0, 2 ** 24]);
  });
});

describe('PNG images of less than 8 bits by hand: every row begins at an octet', () => {
  test.each([
    [1, [[0b10100000], [0b01000000]], [1, 0, 1, 0, 1, 0]],
    [2, [[0b11100100], [0b00011000]], [3, 2, 1, 0, 1, 2]],
    [
      4,
      [
        [0x12, 0x30],
        [0xf0, 0xe0],
      ],
      [1, 2, 3, 15, 0, 14],
    ],
  ])('%i bits', async (depth, rows, values) => {
    expect(inFileOrder(await readOne(made(depth, { depth, colourType: 0 }, rows)))).toEqual(values);
  });
});

test('a width of no bits is R / 10^D everywhere', async () => {
  const constant = packedMessage(
    { nx: 3, ny: 2 },
    png({ count: 6, bits: 0, reference: 25, decimal: 1 }),
    new Uint8Array(0),
  );
  expect(inFileOrder(await readOne(constant))).toEqual(Array(6).fill(2.5));
});

describe('as ecCodes packs it, which rounds images up to octets', () => {
  const values = Array.from({ length: 600 }, (_, n) => Math.round(1000 * Math.sin(n / 20)) + ((n * 31) % 17));
  const widths = [1, 2, 3, 4, 7, 8, 9, 12, 16, 17, 24, 25, 32];
  const messages = packedByEccodes(
    widths.map((bitsPerValue) => ({
      columns: 30,
      rows: 20,
      values,
      keys: { packingType: 'grid_png', bitsPerValue },
    })),
  );
  const truths = eccodesFieldsOf(concat(messages));

  test.each(widths.map((width, n) => ({ width, n })))('$width bits', async ({ width, n }) => {
    const { header, ...rest } = truths[n]!;
    expect([header.dataRepresentationTemplateNumber, header.bitsPerValue]).toEqual([41, width]);
    const truth = { ...rest, header: { ...header, offset: 0 } };
    expect(differences(await readOne(messages[n]!), truth, { halfStep: width < 20 })).toEqual([]);
  });
});

/** After sections 0, 1, 3, 4, then 5 and 6. */
const SECTION_5_OFFSET = 16 + 21 + 72 + 34;
const SECTION_7_OFFSET = SECTION_5_OFFSET + 21 + 6;

describe('PNG packing is refused', () => {
  const ROWS = [
    [1, 2, 3],
    [4, 5, 6],
  ];
  const SOUND = made(8, { depth: 8, colourType: 0 }, ROWS);
  const rejectedAt = async (message: Uint8Array) => offsetOf(rejectionOf(await readAll(message)));

  test('an image of more bits than a value takes octets', async () => {
    expect(await rejectedAt(made(16, { depth: 8, colourType: 0 }, ROWS))).toBe(SECTION_5_OFFSET + 20 - 1);
  });

  test('a pixel of more bits than a value', async () => {
    expect(await rejectedAt(made(2, { depth: 8, colourType: 0 }, ROWS))).toBe(SECTION_7_OFFSET + 6 - 1);
  });

  test('an image of another number of points', async () => {
    const image = payloadOf(SOUND);
    const made9 = packedMessage({ nx: 3, ny: 3 }, png({ count: 9, bits: 8 }), image);
    expect(await rejectedAt(made9)).toBe(SECTION_7_OFFSET + 6 - 1 + 16);
  });

  test('octets after the image', async () => {
    const longer = concat([payloadOf(SOUND), new Uint8Array(4)]);
    const made6 = packedMessage({ nx: 3, ny: 2 }, png({ count: 6, bits: 8 }), longer);
    expect(await rejectedAt(made6)).toBe(SECTION_7_OFFSET + 6 - 1 + payloadOf(SOUND).length);
  });
});

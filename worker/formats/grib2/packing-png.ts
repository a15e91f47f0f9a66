/**
 * Data representation template 5.41 with data template 7.41: grid point data, an image in Portable Network Graphics.
 *
 * The image has as many bits a pixel as section 5 has bits a value, or, as some encoders write it, as many as fill octets.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.41, data template 7.41.
 */
import { bitsAt, SHORT_BITS, wordView } from '../bit-reader.ts';
import { ByteReader } from '../byte-reader.ts';
import { type PngImage, readPng } from '../png.ts';
import {
  checkRange,
  checkRest,
  PAYLOAD_OCTET,
  readScale,
  readWidth,
  type Scale,
  type Unpacked,
} from './data-representation.ts';

const WORD_BITS = 32;

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order, a pixel each; a width of no bits makes every value R / 10^D.
 * @throws FormatError when the image is damaged or holds another number of pixels or bits than section 5 says;
 *   UnsupportedError for images that the template has no use for.
 */
export function unpackPng(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const scale = readScale(section5);
  const width = readWidth(section5);
  checkRange(section5, scale, 2 ** width - 1);
  const values = new Float32Array(count);
  if (width === 0) {
    checkRest(section7, 0);
    return { values: values.fill(scale.offset), missingCount: 0 };
  }
  const { format, offsetBytes } = section7.origin;
  const origin = { format, name: 'PNG image', offsetBytes: offsetBytes + PAYLOAD_OCTET - 1 };
  const image = readPng(new ByteReader(section7.from(PAYLOAD_OCTET), origin), count);
  checkRest(section7, image.usedOctets);
  if (image.pixelBits !== width && image.pixelBits !== Math.ceil(width / 8) * 8) {
    throw section5.error(20, {
      what: 'bits a value',
      found: String(width),
      expected: `the ${image.pixelBits} of the image, or as many as take as many octets`,
    });
  }
  const wide = scalePixels(values, image, { ...scale, largest: 2 ** width - 1 });
  if (wide === undefined) return { values, missingCount: 0 };
  throw section7.error(PAYLOAD_OCTET, {
    what: 'packed value',
    found: String(wide),
    expected: `at most ${width} bits`,
  });
}

/** Returns a pixel that is larger than its width in bits allows, where there is one. */
function scalePixels(
  values: Float32Array,
  { width, height, pixelBits, rowOctets, rows }: PngImage,
  { largest, ...scale }: Scale & { largest: number },
): number | undefined {
  const view = wordView(rows);
  const scaleRow = pixelBits <= SHORT_BITS ? scaleShort : scaleLong;
  for (let y = 0; y < height; y += 1) {
    const row = values.subarray(y * width, (y + 1) * width);
    const most = scaleRow(row, view, 8 * y * rowOctets, { pixelBits, ...scale });
    if (most > largest) return most;
  }
  return undefined;
}

/** Returns the largest pixel of a row that begins at a bit. */
type ScaleRow = (row: Float32Array, view: DataView, bit: number, form: PixelForm) => number;
type PixelForm = Scale & { readonly pixelBits: number };

const scaleShort: ScaleRow = (row, view, start, { pixelBits, offset, step }) => {
  const count = row.length;
  const shift = WORD_BITS - pixelBits;
  let most = 0;
  for (let x = 0, bit = start; x < count; x += 1, bit += pixelBits) {
    const packed = (view.getUint32(bit >>> 3) << (bit & 7)) >>> shift;
    if (packed > most) most = packed;
    row[x] = offset + step * packed;
  }
  return most;
};

const scaleLong: ScaleRow = (row, view, start, { pixelBits, offset, step }) => {
  let most = 0;
  for (let x = 0, bit = start; x < row.length; x += 1, bit += pixelBits) {
    const packed = bitsAt(view, bit, pixelBits);
    if (packed > most) most = packed;
    row[x] = offset + step * packed;
  }
  return most;
};

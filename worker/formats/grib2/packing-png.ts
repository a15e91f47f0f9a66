/**
 * Data representation template 5.41 with data template 7.41: grid point data, an image in Portable Network Graphics.
 *
 * The image has as many bits a pixel as section 5 has bits a value, or, as some encoders write it, as many as fill octets.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.41, data template 7.41.
 */
import { bitsAt, wordView } from '../bit-reader.ts';
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

/** Returns the first pixel that is larger than its width in bits allows, where there is one. */
function scalePixels(
  values: Float32Array,
  image: PngImage,
  { offset, step, largest }: Scale & { largest: number },
): number | undefined {
  const { width, height, pixelBits, rowOctets, rows } = image;
  const view = wordView(rows);
  for (let y = 0, n = 0; y < height; y += 1) {
    for (let x = 0, bit = 8 * y * rowOctets; x < width; x += 1, n += 1, bit += pixelBits) {
      const packed = bitsAt(view, bit, pixelBits);
      if (packed > largest) return packed;
      values[n] = offset + step * packed;
    }
  }
  return undefined;
}

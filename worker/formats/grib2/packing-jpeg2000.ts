/**
 * Data representation template 5.40 with data template 7.40: grid point data, a JPEG 2000 codestream.
 *
 * @source  WMO-No. 306, Volume I.2, data representation template 5.40, data template 7.40.
 */
import { ByteReader } from '../byte-reader.ts';
import {
  checkRange,
  checkRest,
  PAYLOAD_OCTET,
  readScale,
  readWidth,
  type Scale,
  type Unpacked,
} from './data-representation.ts';
import { type Codestream, readCodestream } from './jpeg2000-codestream.ts';
import { checkPackets, decodeDeepImage } from './jpeg2000-decoder.ts';
import { ImageFault } from './jpeg2000-packets.ts';
import { decodeJpeg2000, LONGEST_SIDE, MOST_SAMPLE_BITS } from './openjpeg.ts';

/**
 * @param count  Number of packed values, already checked against the grid or its bitmap.
 * @returns      the values in file order, a sample each; a width of no bits makes every value R / 10^D.
 * @throws FormatError when the codestream is damaged, or holds another number of samples or bits than section 5 says;
 *   UnsupportedError for codestreams that the template has no use for.
 */
export function unpackJpeg2000(section5: ByteReader, section7: ByteReader, count: number): Unpacked {
  const scale = readScale(section5);
  const width = readWidth(section5);
  checkRange(section5, scale, 2 ** width - 1);
  const values = new Float32Array(count);
  if (width === 0) return { values: values.fill(scale.offset), missingCount: 0 };
  const { format, offsetBytes } = section7.origin;
  const origin = { format, name: 'codestream', offsetBytes: offsetBytes + PAYLOAD_OCTET - 1 };
  const file = new ByteReader(section7.from(PAYLOAD_OCTET), origin);
  const codestream = readCodestream(file, count);
  checkRest(section7, codestream.usedOctets);
  if (codestream.bits !== width) {
    const expected = `the ${codestream.bits} of the codestream`;
    throw section5.error(20, { what: 'bits a value', found: String(width), expected });
  }
  scaleSamples(values, samplesOf(file, codestream), scale);
  return { values, missingCount: 0 };
}

function samplesOf(file: ByteReader, codestream: Codestream): ArrayLike<number> {
  const damaged = (found: string) =>
    file.error(1, { what: 'image', found, expected: 'what its headers say' });
  const { width, height, bits } = codestream;
  try {
    if (bits > MOST_SAMPLE_BITS || Math.max(width, height) > LONGEST_SIDE) return decodeDeepImage(codestream);
    checkPackets(codestream);
  } catch (error) {
    if (error instanceof ImageFault) throw damaged(error.message);
    throw error;
  }
  const decoded = decodeJpeg2000(file.bytes, width * height);
  if ('fault' in decoded) throw damaged(decoded.fault);
  return decoded.samples;
}

function scaleSamples(values: Float32Array, samples: ArrayLike<number>, { offset, step }: Scale): void {
  for (let n = 0; n < values.length; n += 1) values[n] = offset + step * samples[n]!;
}

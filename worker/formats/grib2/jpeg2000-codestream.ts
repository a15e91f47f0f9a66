/**
 * The headers of a JPEG 2000 codestream of one component and one tile, which is what data template 7.40 holds.
 *
 * Everything that says how much there is to decode is held against the number of points and the octets that are there,
 * before a decoder sees any of it.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), annex A (codestream syntax), B.6 and B.7 (precincts, packets).
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import {
  type CodingStyle,
  lengthAt,
  MARKER,
  type Parameters,
  type Quantization,
  readSegment,
} from './jpeg2000-parameters.ts';
import { readParts, type TilePart } from './jpeg2000-tile-parts.ts';

export interface Codestream {
  readonly width: number;
  readonly height: number;
  /** Bits a sample, unsigned. */
  readonly bits: number;
  readonly coding: CodingStyle;
  readonly quantization: Quantization;
  readonly parts: readonly TilePart[];
  /** Octets from the first to the last of the end mark. */
  readonly usedOctets: number;
}

const MOST_BITS = 38;

/**
 * @param file    The codestream, whatever follows its end mark.
 * @param points  How many samples there must be.
 * @throws FormatError when a segment is cut or out of place, when the image is not unsigned, of another size, or would need
 *   more packets than there are octets; UnsupportedError for more components or tiles and for markers of other uses.
 */
export function readCodestream(file: ByteReader, points: number): Codestream {
  expectMarker(file, 1, MARKER.start);
  expectMarker(file, 3, MARKER.size);
  const size = readSize(file, points);
  let parameters: Partial<Parameters> = {};
  let octet = 5 + file.uint16(5);
  for (let marker = file.uint16(octet); marker !== MARKER.tilePart; marker = file.uint16(octet)) {
    parameters = readSegment(file, octet, parameters);
    octet += 2 + lengthAt(file, octet + 2);
  }
  const { parts, usedOctets, coding, quantization } = readParts(file, octet, parameters);
  checkPackets(file, { ...size, coding }, parts);
  return { ...size, coding, quantization, parts, usedOctets };
}

function expectMarker(file: ByteReader, octet: number, marker: number): void {
  const found = file.uint16(octet);
  if (found === marker) return;
  const expected = `0x${marker.toString(16)}`;
  throw file.error(octet, { what: 'marker', found: `0x${found.toString(16)}`, expected });
}

/** A.5.1: the image begins at the origin of its grid and is one tile. */
function readSize(file: ByteReader, points: number): Pick<Codestream, 'width' | 'height' | 'bits'> {
  const width = file.uint32(9);
  const height = file.uint32(13);
  const components = file.uint16(41);
  const bits = (file.uint8(43) & 0x7f) + 1;
  const hasOffset = file
    .from(17)
    .subarray(0, 8)
    .some((each) => each !== 0);
  const isTiled =
    file.uint32(25) < width || file.uint32(29) < height || file.uint32(33) + file.uint32(37) > 0;
  const isPlain = !hasOffset && !isTiled && components === 1 && file.uint16(44) === 0x0101;
  if (!isPlain) {
    const value = `${components} components${hasOffset ? ', offset' : ''}${isTiled ? ', tiles' : ''}`;
    throw new UnsupportedError({ feature: 'JPEG 2000 image', table: 'ISO/IEC 15444-1, A.5.1', value });
  }
  if (width * height !== points) {
    const found = `${width} x ${height} samples`;
    throw file.error(9, { what: 'image size', found, expected: `${points} samples` });
  }
  if (file.uint8(43) < MOST_BITS) return { width, height, bits };
  const found = `depth octet ${file.uint8(43)}`;
  throw file.error(43, { what: 'sample depth', found, expected: `unsigned, at most ${MOST_BITS} bits` });
}

/** Every packet has an octet at least: more packets than octets are a false count, and long to walk through. */
function checkPackets(
  file: ByteReader,
  { width, height, coding }: { width: number; height: number; coding: CodingStyle },
  parts: readonly TilePart[],
): void {
  let precincts = 0;
  for (const [resolution, [widthLog2, heightLog2]] of coding.precincts.entries()) {
    const reduced = 2 ** (coding.levels - resolution);
    const across = Math.ceil(Math.ceil(width / reduced) / 2 ** widthLog2);
    precincts += across * Math.ceil(Math.ceil(height / reduced) / 2 ** heightLog2);
  }
  const octets = parts.reduce((sum, { data }) => sum + data.length, 0);
  if (precincts * coding.layers <= octets) return;
  throw file.error(1, {
    what: 'packets',
    found: `${precincts * coding.layers} of ${coding.layers} layers`,
    expected: `at most the ${octets} octets of the tile`,
  });
}

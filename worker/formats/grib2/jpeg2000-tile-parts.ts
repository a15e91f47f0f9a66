/**
 * The parts that a JPEG 2000 tile is cut into, from the first to the end mark.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), A.4.2 to A.4.4.
 */
import type { ByteReader } from '../byte-reader.ts';
import { lengthAt, MARKER, type Parameters, readSegment } from './jpeg2000-parameters.ts';

export interface TilePart {
  readonly data: Uint8Array;
}

const HEADER_OCTETS = 12;
const END_OCTETS = 2;

/**
 * @param octet   Where the first part begins.
 * @param common  What the main header says; the first part may say otherwise.
 * @returns       the data of each part in turn, where the end mark ends, and how the tile is coded.
 * @throws FormatError when a length does not lead to the next part or to the end mark, or when it is nowhere said how the
 *   tile is coded; UnsupportedError for markers of other uses.
 */
export function readParts(
  file: ByteReader,
  octet: number,
  common: Partial<Parameters>,
): Parameters & { parts: TilePart[]; usedOctets: number } {
  const parts: TilePart[] = [];
  let parameters = common;
  let at = octet;
  while (file.uint16(at) !== MARKER.end) {
    const end = at + partLength(file, at, parts.length);
    let dataOctet = at + HEADER_OCTETS;
    for (; file.uint16(dataOctet) !== MARKER.data; dataOctet += 2 + lengthAt(file, dataOctet + 2)) {
      parameters = readSegment(file, dataOctet, parameters);
    }
    dataOctet += 2;
    if (dataOctet > end) {
      throw file.error(at, { what: 'tile part', found: 'a longer header', expected: 'its length' });
    }
    parts.push({ data: file.bytes.subarray(dataOctet - 1, end - 1) });
    at = end;
  }
  const { coding, quantization } = parameters;
  if (coding !== undefined && quantization !== undefined) {
    return { coding, quantization, parts, usedOctets: at - 1 + END_OCTETS };
  }
  const found = coding === undefined ? 'no coding style' : 'no quantization';
  throw file.error(octet, { what: 'headers', found, expected: 'both' });
}

/** From the marker of the part on. */
function partLength(file: ByteReader, octet: number, part: number): number {
  const marker = file.uint16(octet);
  const tile = file.uint16(octet + 4);
  const lengthOctets = file.uint32(octet + 6);
  const room = file.lengthBytes - END_OCTETS - octet + 1;
  const isNext = marker === MARKER.tilePart && tile === 0 && file.uint8(octet + 10) === part;
  if (isNext && lengthOctets >= HEADER_OCTETS && lengthOctets <= room) return lengthOctets;
  throw file.error(octet, {
    what: 'tile part',
    found: `marker 0x${marker.toString(16)}, tile ${tile}, ${lengthOctets} octets`,
    expected: `part ${part} of tile 0 with ${HEADER_OCTETS} to ${room} octets`,
  });
}

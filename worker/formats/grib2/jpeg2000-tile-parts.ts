/**
 * The parts that a JPEG 2000 tile is cut into, from the first to the end mark.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), A.4.2 to A.4.4.
 */
import type { ByteReader } from '../byte-reader.ts';
import { lengthAt, MARKER, unsupportedMarker } from './jpeg2000-markers.ts';

export interface TilePart {
  readonly data: Uint8Array;
}

const SKIPPED: readonly number[] = [MARKER.comment, MARKER.packetLengths];
const HEADER_OCTETS = 12;
const END_OCTETS = 2;

/**
 * @param octet  Where the first part begins.
 * @returns      the data of each part in turn, and where the end mark ends.
 * @throws FormatError when a length does not lead to the next part or to the end mark; UnsupportedError for more tiles.
 */
export function checkParts(file: ByteReader, octet: number): { parts: TilePart[]; usedOctets: number } {
  const parts: TilePart[] = [];
  let at = octet;
  for (let marker = file.uint16(at); marker !== MARKER.end; marker = file.uint16(at)) {
    const lengthOctets = file.uint32(at + 6);
    const isSound = marker === MARKER.tilePart && file.uint16(at + 2) === 10 && file.uint16(at + 4) === 0;
    const room = file.lengthBytes - END_OCTETS - at + 1;
    if (
      !isSound ||
      file.uint8(at + 10) !== parts.length ||
      lengthOctets < HEADER_OCTETS ||
      lengthOctets > room
    ) {
      const found = `marker 0x${marker.toString(16)} of tile ${file.uint16(at + 4)} with ${lengthOctets} octets`;
      const expected = `part ${parts.length} of tile 0 with ${HEADER_OCTETS} to ${room} octets`;
      throw file.error(at, { what: 'tile part', found, expected });
    }
    const dataOctet = endOfHeader(file, at);
    const end = at + lengthOctets;
    if (dataOctet > end)
      throw file.error(at, { what: 'tile part', found: 'a longer header', expected: 'its length' });
    parts.push({ data: file.bytes.subarray(dataOctet - 1, end - 1) });
    at = end;
  }
  return { parts, usedOctets: at - 1 + END_OCTETS };
}

/** The octet after the start-of-data marker. */
function endOfHeader(file: ByteReader, octet: number): number {
  let at = octet + HEADER_OCTETS;
  for (let marker = file.uint16(at); marker !== MARKER.data; marker = file.uint16(at)) {
    if (!SKIPPED.includes(marker)) throw unsupportedMarker(marker);
    at += 2 + lengthAt(file, at + 2);
  }
  return at + 2;
}

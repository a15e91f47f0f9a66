/**
 * The marks between the parts of a JPEG 2000 codestream.
 *
 * @source  ISO/IEC 15444-1 (ITU-T T.800), table A.2.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';

export const MARKER = {
  ...{ start: 0xff4f, size: 0xff51, coding: 0xff52, quantization: 0xff5c, comment: 0xff64 },
  ...{ tileLengths: 0xff55, packetLengths: 0xff58, tilePart: 0xff90, data: 0xff93, end: 0xffd9 },
} as const;
export function unsupportedMarker(marker: number): UnsupportedError {
  const table = 'ISO/IEC 15444-1, table A.2';
  return new UnsupportedError({ feature: 'JPEG 2000 marker', table, value: `0x${marker.toString(16)}` });
}

/** Length of a marker segment, less than its own octets in no sound one. */
export function lengthAt(file: ByteReader, octet: number): number {
  const length = file.uint16(octet);
  if (length >= 2) return length;
  throw file.error(octet, { what: 'segment length', found: String(length), expected: 'at least 2' });
}

/** Octets of section 3 that many templates share. */
import type { ByteReader } from '../byte-reader.ts';
import { wrapLonDeg } from './grid-index.ts';

export const RAD_PER_DEG = Math.PI / 180;
const UNITS_PER_DEG = 1e6;

/** Flag table 3.3: u and v follow the grid. */
const ALONG_GRID_FLAG = 0x08;

export function windsAlongGrid(section3: ByteReader, octet: number): boolean {
  return (section3.uint8(octet) & ALONG_GRID_FLAG) !== 0;
}

/** Millionths of a degree; -90 to 90. */
export function latitudeDeg(section3: ByteReader, octet: number): number {
  const latDeg = section3.signed32(octet) / UNITS_PER_DEG;
  if (Math.abs(latDeg) <= 90) return latDeg;
  throw section3.error(octet, { what: 'latitude', found: `${latDeg} deg`, expected: '-90 to 90 deg' });
}

/**
 * Millionths of a degree, -360 to 360 in the file. A longitude in two's complement lies beyond: read as sign and magnitude it
 * would be turns away, and a wrong place without a word.
 *
 * @returns in [-180, 180).
 */
export function longitudeDeg(section3: ByteReader, octet: number): number {
  const lonDeg = section3.signed32(octet) / UNITS_PER_DEG;
  if (Math.abs(lonDeg) <= 360) return wrapLonDeg(lonDeg);
  throw section3.error(octet, { what: 'longitude', found: `${lonDeg} deg`, expected: '-360 to 360 deg' });
}

/** A grid length; m when there are 1000 units in one, as in most templates. */
export function lengthM(section3: ByteReader, octet: number, unitsPerM = 1000): number {
  const length = section3.uint32(octet) / unitsPerM;
  if (length > 0 && !section3.isMissing(octet, 4)) return length;
  throw section3.error(octet, { what: 'grid length', found: `${length} m`, expected: 'more than 0 m' });
}

/**
 * The figure of the earth of a grid.
 *
 * @source  WMO-No. 306, Volume I.2, code table 3.2; axes of the named ellipsoids as printed there.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';

export interface EarthShape {
  /** Radius of the sphere, or semi-major axis, m. */
  readonly semiMajorAxisM: number;
  /** (major - minor) / major; 0 for a sphere. */
  readonly flattening: number;
}

/** Axes given by the producer must lie in this range, m: kilometers given as meters are off by a thousand. */
const SMALLEST_AXIS_M = 6_300_000;
const LARGEST_AXIS_M = 6_450_000;

const NAMED: ReadonlyMap<number, EarthShape> = new Map([
  [0, { semiMajorAxisM: 6_367_470, flattening: 0 }],
  [2, { semiMajorAxisM: 6_378_160, flattening: 1 / 297 }],
  [4, { semiMajorAxisM: 6_378_137, flattening: 1 / 298.257222101 }],
  [5, { semiMajorAxisM: 6_378_137, flattening: 1 / 298.257223563 }],
  [6, { semiMajorAxisM: 6_371_229, flattening: 0 }],
  [8, { semiMajorAxisM: 6_371_200, flattening: 0 }],
]);

/** Octets where a scale factor stands; its scaled value follows. */
const RADIUS_OCTET = 16;
const MAJOR_OCTET = 21;
const MINOR_OCTET = 26;

/**
 * @param section3  Of any template that has the shape in octets 15-30.
 * @throws UnsupportedError for other shapes than 0-8; FormatError for axes that are not the earth's.
 */
export function readEarthShape(section3: ByteReader): EarthShape {
  const shape = section3.uint8(15);
  const named = NAMED.get(shape);
  if (named !== undefined) return named;
  if (shape === 1) return { semiMajorAxisM: axisM(section3, RADIUS_OCTET, 1), flattening: 0 };
  if (shape === 3 || shape === 7) {
    const unitM = shape === 3 ? 1000 : 1;
    const majorM = axisM(section3, MAJOR_OCTET, unitM);
    const minorM = axisM(section3, MINOR_OCTET, unitM);
    return { semiMajorAxisM: majorM, flattening: (majorM - minorM) / majorM };
  }
  throw new UnsupportedError({
    feature: 'shape of the earth',
    table: 'code table 3.2',
    value: String(shape),
  });
}

function axisM(section3: ByteReader, octet: number, unitM: number): number {
  const lengthM = (section3.uint32(octet + 1) / 10 ** section3.signed8(octet)) * unitM;
  if (lengthM >= SMALLEST_AXIS_M && lengthM <= LARGEST_AXIS_M) return lengthM;
  throw section3.error(octet, {
    what: 'radius or axis of the earth',
    found: `${lengthM} m`,
    expected: `${SMALLEST_AXIS_M} to ${LARGEST_AXIS_M} m`,
  });
}

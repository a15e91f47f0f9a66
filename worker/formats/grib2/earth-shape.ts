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
/** Three times that of the earth. More is a fault of an axis; less than none would stand the earth on end. */
const MOST_FLATTENING = 0.01;

const NAMED: ReadonlyMap<number, EarthShape> = new Map([
  [0, { semiMajorAxisM: 6_367_470, flattening: 0 }],
  // IAU 1965. The table prints 1/297.0 beside a minor axis of 6 356 775.0 m, which is 1/298.25: decoders go by the axis.
  [2, { semiMajorAxisM: 6_378_160, flattening: (6_378_160 - 6_356_775) / 6_378_160 }],
  [4, { semiMajorAxisM: 6_378_137, flattening: 1 / 298.257222101 }],
  [5, { semiMajorAxisM: 6_378_137, flattening: 1 / 298.257223563 }],
  [6, { semiMajorAxisM: 6_371_229, flattening: 0 }],
  [8, { semiMajorAxisM: 6_371_200, flattening: 0 }],
  [9, { semiMajorAxisM: 6_377_563.396, flattening: 1 / 299.3249646 }],
]);

/** Octets where a scale factor stands; its scaled value follows. */
const RADIUS_OCTET = 16;
const MAJOR_OCTET = 21;
const MINOR_OCTET = 26;

/**
 * @param section3  Of any template that has the shape in octets 15-30.
 * @throws UnsupportedError for other shapes than 0-9; FormatError for axes that are not the earth's.
 */
export function readEarthShape(section3: ByteReader): EarthShape {
  const shape = section3.uint8(15);
  const named = NAMED.get(shape);
  if (named !== undefined) return named;
  if (shape === 1) return { semiMajorAxisM: axisM(section3, RADIUS_OCTET, 1), flattening: 0 };
  if (shape === 3 || shape === 7) return readAxes(section3, shape === 3 ? 1000 : 1);
  throw new UnsupportedError({
    feature: 'shape of the earth',
    table: 'code table 3.2',
    value: String(shape),
  });
}

/** The figure of a grid that is kept; a sphere is told by the absence of a flattening. */
export function earthOf(kept: {
  readonly earthRadiusM: number;
  readonly earthFlattening?: number;
}): EarthShape {
  return { semiMajorAxisM: kept.earthRadiusM, flattening: kept.earthFlattening ?? 0 };
}

export function flatteningOf({ flattening }: EarthShape): { earthFlattening?: number } {
  return flattening === 0 ? {} : { earthFlattening: flattening };
}

function readAxes(section3: ByteReader, unitM: number): EarthShape {
  const majorM = axisM(section3, MAJOR_OCTET, unitM);
  const minorM = axisM(section3, MINOR_OCTET, unitM);
  const flattening = (majorM - minorM) / majorM;
  if (flattening >= 0 && flattening <= MOST_FLATTENING) return { semiMajorAxisM: majorM, flattening };
  throw section3.error(MINOR_OCTET, {
    what: 'axes of the earth',
    found: `${majorM} m and ${minorM} m`,
    expected: `a minor axis that is shorter by 0 to ${MOST_FLATTENING * 100} %`,
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

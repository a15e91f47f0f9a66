/**
 * Grid definition template 3.12: transverse Mercator.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.12: lengths in hundredths of a meter.
 */
import type { ByteReader } from '../byte-reader.ts';
import { earthOf, flatteningOf, readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { wrapLonDeg } from './grid-index.ts';
import { latitudeDeg, lengthM, longitudeDeg, windsAlongGrid } from './grid-octets.ts';
import { planeGrid } from './grid-plane.ts';
import type { TransverseMercatorDefinition } from './grid-templates.ts';
import { readScanning, type Scanning } from './scanning.ts';
import { transverseMercatorMap } from './transverse-mercator-projection.ts';

const UNITS_PER_M = 100;
const UNITS_PER_DEG = 1e6;
/** A scale further from 1 than this is no map in use (m is 0.9996 to 1). */
const MOST_SCALE_ERROR = 0.1;
/** How far the last point of the file may be from first + (n - 1) steps, in steps. */
const MOST_MISFIT_STEPS = 0.75;

/** @throws FormatError for a scale that is none and for corners that contradict the steps. */
export function readTransverseMercator(section3: ByteReader): {
  definition: TransverseMercatorDefinition;
  scanning: Scanning;
} {
  const scanning = readScanning(section3, 60);
  const shape = readEarthShape(section3);
  const falseEastingM = section3.signed32(52) / UNITS_PER_M;
  const falseNorthingM = section3.signed32(56) / UNITS_PER_M;
  const columns = readAxis(section3, {
    ...{ countOctet: 31, stepOctet: 61, firstOctet: 69, lastOctet: 77 },
    isBackward: scanning.westward,
    alternates: scanning.alternating && !scanning.byColumns,
  });
  const rows = readAxis(section3, {
    ...{ countOctet: 35, stepOctet: 65, firstOctet: 73, lastOctet: 81 },
    isBackward: !scanning.northward,
    alternates: scanning.alternating && scanning.byColumns,
  });
  return {
    definition: {
      template: 12,
      nx: columns.count,
      ny: rows.count,
      earthRadiusM: shape.semiMajorAxisM,
      ...flatteningOf(shape),
      referenceLatDeg: latitudeDeg(section3, 39),
      referenceLonDeg: referenceLonDeg(section3, 43),
      scaleFactor: readScaleFactor(section3, 48),
      firstXM: (scanning.westward ? columns.lastM : columns.firstM) - falseEastingM,
      firstYM: rows.firstM - falseNorthingM,
      dxM: columns.stepM,
      dyM: scanning.northward ? rows.stepM : -rows.stepM,
      windsAlongGrid: windsAlongGrid(section3, 47),
    },
    scanning,
  };
}

export function transverseMercatorGrid(definition: TransverseMercatorDefinition): Grib2Grid {
  const map = transverseMercatorMap(earthOf(definition), definition);
  return planeGrid(definition, map, { xM: definition.firstXM, yM: definition.firstYM });
}

/**
 * Producers write this longitude in two's complement too; within a turn of Greenwich no number has both readings.
 *
 * @returns in [-180, 180).
 */
function referenceLonDeg(section3: ByteReader, octet: number): number {
  const lonDeg = (section3.uint32(octet) - 2 ** 32) / UNITS_PER_DEG;
  const isTwosComplement = lonDeg >= -360 && !section3.isMissing(octet, 4);
  return isTwosComplement ? wrapLonDeg(lonDeg) : longitudeDeg(section3, octet);
}

function readScaleFactor(section3: ByteReader, octet: number): number {
  const scale = section3.float32(octet);
  if (Math.abs(scale - 1) <= MOST_SCALE_ERROR) return scale;
  throw section3.error(octet, { what: 'scale factor', found: String(scale), expected: 'about 1' });
}

interface AxisOctets {
  readonly countOctet: number;
  readonly stepOctet: number;
  readonly firstOctet: number;
  readonly lastOctet: number;
  /** Coordinates fall in the file's order. */
  readonly isBackward: boolean;
  /** Every other run is turned: the last point may lie at the first one's end. */
  readonly alternates: boolean;
}

/** @returns the first point's coordinate and that of the far end of its run, false easting or northing included, m. */
function readAxis(
  section3: ByteReader,
  octets: AxisOctets,
): { count: number; stepM: number; firstM: number; lastM: number } {
  const count = section3.uint32(octets.countOctet);
  const stepM = lengthM(section3, octets.stepOctet, UNITS_PER_M);
  const firstM = section3.signed32(octets.firstOctet) / UNITS_PER_M;
  const lastM = firstM + (octets.isBackward ? -1 : 1) * Math.max(count - 1, 0) * stepM;
  const toldM = section3.signed32(octets.lastOctet) / UNITS_PER_M;
  const isLast = (expectedM: number) => Math.abs(toldM - expectedM) <= MOST_MISFIT_STEPS * stepM;
  if (isLast(lastM) || (octets.alternates && isLast(firstM))) return { count, stepM, firstM, lastM };
  throw section3.error(octets.lastOctet, {
    what: 'last point',
    found: `${toldM} m after ${firstM} m, ${count} points and steps of ${stepM} m`,
    expected: 'corners, counts, lengths and scanning that agree',
  });
}

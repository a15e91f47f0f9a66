/**
 * Section 3 of a field, and grids rebuilt from what was kept of it.
 *
 * @source  WMO-No. 306, Volume I.2, section 3, code tables 3.0 and 3.1.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import type { Grib2Grid, Grib2GridDefinition } from './field.ts';
import { gaussianGrid, readGaussian } from './grid-gaussian.ts';
import { lambertGrid, readLambert } from './grid-lambert.ts';
import { latLonGrid, readLatLon } from './grid-lat-lon.ts';
import { mercatorGrid, readMercator } from './grid-mercator.ts';
import { checkOnMap } from './grid-plane.ts';
import { polarStereographicGrid, readPolarStereographic } from './grid-polar-stereographic.ts';
import { readRotated, rotatedGrid } from './grid-rotated.ts';
import { readTransverseMercator, transverseMercatorGrid } from './grid-transverse-mercator.ts';
import type { Scanning } from './scanning.ts';

type Reader = (section3: ByteReader) => { definition: Grib2GridDefinition; scanning: Scanning };

/** Code table 3.1. */
const READERS: ReadonlyMap<number, Reader> = new Map<number, Reader>([
  [0, readLatLon],
  [1, readRotated],
  [10, readMercator],
  [12, readTransverseMercator],
  [20, readPolarStereographic],
  [30, readLambert],
  [40, readGaussian],
]);

/** Grid definition template number, without a look at the rest. */
export function gridTemplateOf(section3: ByteReader): number {
  return section3.uint16(13);
}

/**
 * @param mostPoints  A grid of more points is refused before anything is allocated.
 * @throws UnsupportedError naming the table and number of what is not read; FormatError for contradictions.
 */
export function readGridDefinition(
  section3: ByteReader,
  mostPoints: number,
): { grid: Grib2Grid; scanning: Scanning } {
  refuseSource(section3);
  const { definition, scanning } = readTemplate(section3);
  const points = section3.uint32(7);
  const { nx, ny } = definition;
  if (points !== nx * ny || points === 0) {
    throw section3.error(7, {
      what: 'number of points',
      found: `${points} in a grid of ${nx} x ${ny}`,
      expected: nx * ny === 0 ? 'at least one' : String(nx * ny),
    });
  }
  if (points > mostPoints) {
    throw new UnsupportedError({
      feature: 'number of grid points',
      table: `this reader's limit of ${mostPoints}`,
      value: String(points),
    });
  }
  const grid = gridFromDefinition(definition);
  if ('windsAlongGrid' in definition && 'dxM' in definition) checkOnMap(section3, grid);
  return { grid, scanning };
}

/** The grid that a definition, fresh or read back from JSON, describes; equal definitions give equal grids. */
export function gridFromDefinition(definition: Grib2GridDefinition): Grib2Grid {
  switch (definition.template) {
    case 0:
      return latLonGrid(definition);
    case 1:
      return rotatedGrid(definition);
    case 10:
      return mercatorGrid(definition);
    case 12:
      return transverseMercatorGrid(definition);
    case 20:
      return polarStereographicGrid(definition);
    case 30:
      return lambertGrid(definition);
    case 40:
      return gaussianGrid(definition);
  }
}

function readTemplate(section3: ByteReader): { definition: Grib2GridDefinition; scanning: Scanning } {
  const template = gridTemplateOf(section3);
  const read = READERS.get(template);
  if (read !== undefined) return read(section3);
  throw new UnsupportedError({
    feature: 'grid definition template',
    table: 'code table 3.1',
    value: String(template),
  });
}

function refuseSource(section3: ByteReader): void {
  const source = section3.uint8(6);
  if (source === 0) return;
  throw new UnsupportedError({
    feature: 'source of grid definition',
    table: 'code table 3.0',
    value: String(source),
  });
}

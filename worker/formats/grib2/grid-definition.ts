/**
 * Section 3 of a field, and grids rebuilt from what was kept of it.
 *
 * @source  WMO-No. 306, Volume I.2, section 3, code tables 3.0 and 3.1.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import type { Grib2Grid, Grib2GridDefinition } from './field.ts';
import { lambertGrid, readLambert } from './grid-lambert.ts';
import { latLonGrid, readLatLon } from './grid-lat-lon.ts';
import type { Scanning } from './scanning.ts';

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
  return { grid: gridFromDefinition(definition), scanning };
}

/** The grid that a definition, fresh or read back from JSON, describes; equal definitions give equal grids. */
export function gridFromDefinition(definition: Grib2GridDefinition): Grib2Grid {
  return definition.template === 0 ? latLonGrid(definition) : lambertGrid(definition);
}

function readTemplate(section3: ByteReader): { definition: Grib2GridDefinition; scanning: Scanning } {
  const template = gridTemplateOf(section3);
  if (template === 0) return readLatLon(section3);
  if (template === 30) return readLambert(section3);
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

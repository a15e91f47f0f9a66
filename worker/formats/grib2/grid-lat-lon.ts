/**
 * Grid definition template 3.0: latitude and longitude.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.0 and code table 3.11.
 */
import type { ByteReader } from '../byte-reader.ts';
import { readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { columnAxis, evenRows, graticuleGrid } from './grid-axes.ts';
import { readColumns, readGraticule, readRows } from './grid-lat-lon-octets.ts';
import type { LatLonDefinition } from './grid-templates.ts';
import { readScanning, type Scanning } from './scanning.ts';

/**
 * @throws UnsupportedError for rows of unequal length and for shifted rows; FormatError when counts, corners and
 *   increments contradict each other.
 */
export function readLatLon(section3: ByteReader): { definition: LatLonDefinition; scanning: Scanning } {
  const scanning = readScanning(section3, 72);
  const graticule = readGraticule(section3, scanning, 'latitude and longitude grid');
  const { firstLatDeg, latStepDeg } = readRows(section3, graticule);
  const { firstLonDeg, lonStepDeg } = readColumns(section3, graticule);
  return {
    definition: {
      template: 0,
      nx: graticule.nx,
      ny: graticule.ny,
      earthRadiusM: readEarthShape(section3).semiMajorAxisM,
      firstLatDeg,
      firstLonDeg,
      latStepDeg,
      lonStepDeg,
    },
    scanning,
  };
}

export function latLonGrid(definition: LatLonDefinition): Grib2Grid {
  const { nx, firstLatDeg, firstLonDeg, latStepDeg, lonStepDeg } = definition;
  return graticuleGrid(definition, {
    columns: columnAxis(nx, firstLonDeg, lonStepDeg),
    rows: evenRows(firstLatDeg, latStepDeg),
  });
}

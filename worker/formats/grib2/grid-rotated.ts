/**
 * Grid definition template 3.1: rotated latitude and longitude.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.1.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { columnAxis, evenRows } from './grid-axes.ts';
import { snapToPoint, wrapLonDeg } from './grid-index.ts';
import { readColumns, readGraticule, readRows } from './grid-lat-lon-octets.ts';
import { latitudeDeg, longitudeDeg, windsAlongGrid } from './grid-octets.ts';
import type { RotatedDefinition } from './grid-templates.ts';
import { rotatedSphere } from './rotated-pole.ts';
import { readScanning, type Scanning } from './scanning.ts';

/** @throws as readLatLon; UnsupportedError for a further turn about the new pole. */
export function readRotated(section3: ByteReader): { definition: RotatedDefinition; scanning: Scanning } {
  const scanning = readScanning(section3, 72);
  const graticule = readGraticule(section3, scanning, 'rotated latitude and longitude grid');
  refuseTurnAboutPole(section3);
  const { firstLatDeg, latStepDeg } = readRows(section3, graticule);
  const { firstLonDeg, lonStepDeg } = readColumns(section3, graticule);
  return {
    definition: {
      template: 1,
      nx: graticule.nx,
      ny: graticule.ny,
      earthRadiusM: readEarthShape(section3).semiMajorAxisM,
      firstLatDeg,
      firstLonDeg,
      latStepDeg,
      lonStepDeg,
      southPoleLatDeg: latitudeDeg(section3, 73),
      southPoleLonDeg: longitudeDeg(section3, 77),
      windsAlongGrid: windsAlongGrid(section3, 55),
    },
    scanning,
  };
}

export function rotatedGrid(definition: RotatedDefinition): Grib2Grid {
  const { nx, ny, earthRadiusM, firstLatDeg, firstLonDeg, latStepDeg, lonStepDeg } = definition;
  const sphere = rotatedSphere(definition.southPoleLatDeg, definition.southPoleLonDeg);
  const columns = columnAxis(nx, firstLonDeg, lonStepDeg);
  const rows = evenRows(firstLatDeg, latStepDeg);
  return {
    ...{ template: 1, nx, ny, earthRadiusM },
    toLatLon: (i, j) => {
      const { latDeg, lonDeg } = sphere.toGeographic(rows.latDegAt(j), columns.lonDegAt(i));
      return { latDeg, lonDeg: wrapLonDeg(lonDeg) };
    },
    toIndex: (latDeg, lonDeg) => {
      const rotated = sphere.toRotated(latDeg, lonDeg);
      return { i: columns.indexOf(rotated.lonDeg), j: snapToPoint(rows.indexOf(rotated.latDeg)) };
    },
    wrapsEast: columns.wrapsEast,
    windsAlongGrid: definition.windsAlongGrid,
    windAngleRad: sphere.angleRad,
    key: JSON.stringify(definition),
    definition,
  };
}

/**
 * The angle is an IEEE number, and decoders do not agree on which longitudes it is added to; no model in use turns its grid so.
 */
function refuseTurnAboutPole(section3: ByteReader): void {
  const angleDeg = section3.float32(81);
  if (angleDeg === 0) return;
  throw new UnsupportedError({
    feature: 'angle of rotation about the new polar axis',
    table: 'grid definition template 3.1, octets 81-84',
    value: String(angleDeg),
  });
}

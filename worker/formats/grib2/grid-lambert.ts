/**
 * Grid definition template 3.30: Lambert conformal.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.30, flag tables 3.3, 3.4 and 3.5.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { earthOf, flatteningOf, readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { latitudeDeg, lengthM, longitudeDeg, windsAlongGrid } from './grid-octets.ts';
import { aboutMeridian, type MapProjection, movedWest, planeGrid } from './grid-plane.ts';
import type { LambertDefinition } from './grid-templates.ts';
import { type Cone, lambertCone } from './lambert-projection.ts';
import { readScanning, type Scanning } from './scanning.ts';

/** Flag table 3.5: bi-polar and symmetric projection. */
const BIPOLAR_FLAG = 0x40;
/** Cells by which the farthest point may move with the reading of LaD; see refuseFarLatitudeOfLengths. */
const MOST_SHIFT_CELLS = 0.1;

/** @throws UnsupportedError for what is named above; FormatError for parallels and lengths that make no cone. */
export function readLambert(section3: ByteReader): { definition: LambertDefinition; scanning: Scanning } {
  const nx = section3.uint32(31);
  const ny = section3.uint32(35);
  refuseBipolar(section3);
  const scanning = readScanning(section3, 65);
  const shape = readEarthShape(section3);
  const standardLat1Deg = latitudeDeg(section3, 66);
  const standardLat2Deg = latitudeDeg(section3, 70);
  checkParallels(section3, standardLat1Deg, standardLat2Deg);
  const cone = lambertCone({ ...shape, standardLat1Deg, standardLat2Deg });
  refuseFarLatitudeOfLengths(section3, cone, Math.max(nx, ny));
  const orientationLonDeg = longitudeDeg(section3, 52);
  const dxM = lengthM(section3, 56);
  const corner = { latDeg: latitudeDeg(section3, 39), lonDeg: longitudeDeg(section3, 43) };
  const first = scanning.westward
    ? movedWest(coneMap(cone, orientationLonDeg), corner, (nx - 1) * dxM)
    : corner;
  return {
    definition: {
      template: 30,
      nx,
      ny,
      earthRadiusM: shape.semiMajorAxisM,
      ...flatteningOf(shape),
      firstLatDeg: first.latDeg,
      firstLonDeg: first.lonDeg,
      orientationLonDeg,
      standardLat1Deg,
      standardLat2Deg,
      dxM,
      dyM: scanning.northward ? lengthM(section3, 60) : -lengthM(section3, 60),
      windsAlongGrid: windsAlongGrid(section3, 47),
    },
    scanning,
  };
}

export function lambertGrid(definition: LambertDefinition): Grib2Grid {
  const cone = lambertCone({ ...definition, ...earthOf(definition) });
  const map = coneMap(cone, definition.orientationLonDeg);
  return planeGrid(definition, map, map.project(definition.firstLatDeg, definition.firstLonDeg));
}

function coneMap(cone: Cone, orientationLonDeg: number): MapProjection {
  return aboutMeridian(orientationLonDeg, {
    ...cone,
    angleRad: (_, lambda) => cone.coneConstant * lambda,
  });
}

function refuseBipolar(section3: ByteReader): void {
  const flags = section3.uint8(64);
  if ((flags & BIPOLAR_FLAG) === 0) return;
  throw new UnsupportedError({
    feature: 'projection center flag',
    table: 'flag table 3.5',
    value: `0x${flags.toString(16)}`,
  });
}

/**
 * By the template Dx and Dy are true at the latitude LaD; in use they are lengths on the map, true at the standard
 * parallels. Where LaD is one of the parallels both are the same. A grid on which the two readings differ by more than
 * a tenth of a cell at its far end is refused: one of them would put its weather in a wrong place.
 */
function refuseFarLatitudeOfLengths(section3: ByteReader, cone: Cone, mostCells: number): void {
  const latDeg = latitudeDeg(section3, 48);
  if (Math.abs(cone.scaleAt(latDeg) - 1) * mostCells <= MOST_SHIFT_CELLS) return;
  throw new UnsupportedError({
    feature: 'grid lengths that are true away from the standard parallels, at latitude',
    table: 'grid definition template 3.30, octets 48-51',
    value: String(latDeg),
  });
}

function checkParallels(section3: ByteReader, lat1Deg: number, lat2Deg: number): void {
  const isCone = Math.abs(lat1Deg) < 90 && Math.abs(lat2Deg) < 90 && lat1Deg + lat2Deg !== 0;
  if (isCone) return;
  throw section3.error(66, {
    what: 'standard parallels',
    found: `${lat1Deg} and ${lat2Deg} deg`,
    expected: 'two latitudes short of the poles, not opposite to each other',
  });
}

/**
 * Grid definition template 3.30: Lambert conformal.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.30, flag tables 3.3, 3.4 and 3.5.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { type EarthShape, readEarthShape } from './earth-shape.ts';
import type { Grib2Grid, Grib2GridDefinition } from './field.ts';
import { snapToPoint, wrapLonDeg } from './grid-index.ts';
import { type Cone, lambertCone } from './lambert-projection.ts';
import { readScanning, type Scanning } from './scanning.ts';

export type LambertDefinition = Extract<Grib2GridDefinition, { template: 30 }>;

const UNITS_PER_DEG = 1e6;
const MM_PER_M = 1000;
const RAD_PER_DEG = Math.PI / 180;
/** Flag table 3.3: u and v follow the grid. */
const ALONG_GRID_FLAG = 0x08;
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
  const corner = {
    latDeg: latitudeDeg(section3, 39),
    lonDeg: longitudeDeg(section3, 43),
  };
  const first = scanning.westward
    ? movedWest(cone, { ...corner, orientationLonDeg, byM: (nx - 1) * dxM })
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
      windsAlongGrid: (section3.uint8(47) & ALONG_GRID_FLAG) !== 0,
    },
    scanning,
  };
}

export function lambertGrid(definition: LambertDefinition): Grib2Grid {
  const { orientationLonDeg, dxM, dyM, earthRadiusM, earthFlattening: flattening = 0 } = definition;
  const cone = lambertCone({ ...definition, semiMajorAxisM: earthRadiusM, flattening });
  const fromCentralDeg = (lonDeg: number) => wrapLonDeg(lonDeg - orientationLonDeg);
  const first = cone.project(definition.firstLatDeg, fromCentralDeg(definition.firstLonDeg));
  return {
    template: 30,
    nx: definition.nx,
    ny: definition.ny,
    earthRadiusM,
    toLatLon: (i, j) => {
      const place = cone.unproject(first.xM + i * dxM, first.yM + j * dyM);
      return { latDeg: place.latDeg, lonDeg: wrapLonDeg(orientationLonDeg + place.fromCentralDeg) };
    },
    toIndex: (latDeg, lonDeg) => {
      const { xM, yM } = cone.project(latDeg, fromCentralDeg(lonDeg));
      return { i: snapToPoint((xM - first.xM) / dxM), j: snapToPoint((yM - first.yM) / dyM) };
    },
    wrapsEast: false,
    windsAlongGrid: definition.windsAlongGrid,
    windAngleRad: (lonDeg) => cone.coneConstant * fromCentralDeg(lonDeg) * RAD_PER_DEG,
    key: JSON.stringify(definition),
    definition,
  };
}

function flatteningOf({ flattening }: EarthShape): { earthFlattening?: number } {
  return flattening === 0 ? {} : { earthFlattening: flattening };
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

function latitudeDeg(section3: ByteReader, octet: number): number {
  const latDeg = section3.signed32(octet) / UNITS_PER_DEG;
  if (Math.abs(latDeg) <= 90) return latDeg;
  throw section3.error(octet, { what: 'latitude', found: `${latDeg} deg`, expected: '-90 to 90 deg' });
}

function longitudeDeg(section3: ByteReader, octet: number): number {
  const lonDeg = section3.signed32(octet) / UNITS_PER_DEG;
  if (Math.abs(lonDeg) <= 360) return wrapLonDeg(lonDeg);
  throw section3.error(octet, { what: 'longitude', found: `${lonDeg} deg`, expected: '-360 to 360 deg' });
}

function lengthM(section3: ByteReader, octet: number): number {
  const length = section3.uint32(octet) / MM_PER_M;
  if (length > 0) return length;
  throw section3.error(octet, { what: 'grid length', found: `${length} m`, expected: 'more than 0 m' });
}

/** Where the row's western end lies when the file begins at its eastern one. */
function movedWest(
  cone: Cone,
  from: { latDeg: number; lonDeg: number; orientationLonDeg: number; byM: number },
): { latDeg: number; lonDeg: number } {
  const { xM, yM } = cone.project(from.latDeg, wrapLonDeg(from.lonDeg - from.orientationLonDeg));
  const place = cone.unproject(xM - from.byM, yM);
  return { latDeg: place.latDeg, lonDeg: wrapLonDeg(from.orientationLonDeg + place.fromCentralDeg) };
}

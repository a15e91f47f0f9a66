/**
 * Grid definition template 3.20: polar stereographic.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.20, flag tables 3.3, 3.4 and 3.5.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { earthOf, flatteningOf, readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { latitudeDeg, lengthM, longitudeDeg, windsAlongGrid } from './grid-octets.ts';
import { movedWest, planeGrid } from './grid-plane.ts';
import type { PolarDefinition } from './grid-templates.ts';
import { polarStereographicMap } from './polar-stereographic-projection.ts';
import { readScanning, type Scanning } from './scanning.ts';

/** Flag table 3.5: the south pole is on the projection plane. */
const SOUTH_POLE_FLAG = 0x80;

/** @throws UnsupportedError for grid lengths true in the other hemisphere; FormatError for a first point at its pole. */
export function readPolarStereographic(section3: ByteReader): {
  definition: PolarDefinition;
  scanning: Scanning;
} {
  const scanning = readScanning(section3, 65);
  const shape = readEarthShape(section3);
  const pole = (section3.uint8(64) & SOUTH_POLE_FLAG) === 0 ? 'north' : 'south';
  const nx = section3.uint32(31);
  const dxM = lengthM(section3, 56);
  const orientationLonDeg = longitudeDeg(section3, 52);
  const trueLatDeg = readTrueLatitude(section3, pole);
  const corner = { latDeg: firstLatitudeDeg(section3, pole), lonDeg: longitudeDeg(section3, 43) };
  const map = polarStereographicMap(shape, { pole, orientationLonDeg, trueLatDeg });
  const first = scanning.westward ? movedWest(map, corner, (nx - 1) * dxM) : corner;
  return {
    definition: {
      template: 20,
      nx,
      ny: section3.uint32(35),
      earthRadiusM: shape.semiMajorAxisM,
      ...flatteningOf(shape),
      pole,
      firstLatDeg: first.latDeg,
      firstLonDeg: first.lonDeg,
      orientationLonDeg,
      trueLatDeg,
      dxM,
      dyM: scanning.northward ? lengthM(section3, 60) : -lengthM(section3, 60),
      windsAlongGrid: windsAlongGrid(section3, 47),
    },
    scanning,
  };
}

export function polarStereographicGrid(definition: PolarDefinition): Grib2Grid {
  const map = polarStereographicMap(earthOf(definition), definition);
  return planeGrid(definition, map, map.project(definition.firstLatDeg, definition.firstLonDeg));
}

/** A latitude of the other hemisphere is one with its sign lost to some decoders, and to others what it says: no place is sure. */
function readTrueLatitude(section3: ByteReader, pole: 'north' | 'south'): number {
  const latDeg = latitudeDeg(section3, 48);
  if (pole === 'north' ? latDeg >= 0 : latDeg <= 0) return latDeg;
  throw new UnsupportedError({
    feature: `grid lengths about the ${pole} pole that are true at latitude`,
    table: 'grid definition template 3.20, octets 48-51',
    value: String(latDeg),
  });
}

function firstLatitudeDeg(section3: ByteReader, pole: 'north' | 'south'): number {
  const latDeg = latitudeDeg(section3, 39);
  if (latDeg !== (pole === 'north' ? -90 : 90)) return latDeg;
  throw section3.error(39, {
    what: 'latitude',
    found: `${latDeg} deg`,
    expected: `one that a map about the ${pole} pole reaches`,
  });
}

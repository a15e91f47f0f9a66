/** Grids drawn with equal steps on a plane map of the earth. */
import type { ByteReader } from '../byte-reader.ts';
import type { Grib2Grid, Grib2GridDefinition } from './field.ts';
import { snapToPoint, wrapLonDeg } from './grid-index.ts';
import { RAD_PER_DEG } from './grid-octets.ts';

/** A map: m east and north on it, and degrees on the earth. */
export interface MapProjection {
  /** Not finite where the map does not reach. */
  readonly project: (latDeg: number, lonDeg: number) => MapPoint;
  /** Longitude in [-180, 180). */
  readonly unproject: (xM: number, yM: number) => { latDeg: number; lonDeg: number };
  /** Angle from the map's north to true north, counter-clockwise, rad: see Grib2Grid.windAngleRad. */
  readonly windAngleRad: (latDeg: number, lonDeg: number) => number;
}

export interface MapPoint {
  readonly xM: number;
  readonly yM: number;
}

type PlaneDefinition = Extract<Grib2GridDefinition, { dxM: number; windsAlongGrid: boolean }>;

/** @param first  Column 0 and row 0 on the map. */
export function planeGrid(definition: PlaneDefinition, map: MapProjection, first: MapPoint): Grib2Grid {
  const { template, nx, ny, earthRadiusM, dxM, dyM } = definition;
  return {
    ...{ template, nx, ny, earthRadiusM },
    toLatLon: (i, j) => map.unproject(first.xM + i * dxM, first.yM + j * dyM),
    toIndex: (latDeg, lonDeg) => {
      const { xM, yM } = map.project(latDeg, lonDeg);
      return { i: snapToPoint((xM - first.xM) / dxM), j: snapToPoint((yM - first.yM) / dyM) };
    },
    wrapsEast: false,
    windsAlongGrid: definition.windsAlongGrid,
    windAngleRad: map.windAngleRad,
    key: JSON.stringify(definition),
    definition,
  };
}

/** Where a row's western end lies when the file begins at its eastern one, `byM` further east on the map. */
export function movedWest(
  map: MapProjection,
  from: { readonly latDeg: number; readonly lonDeg: number },
  byM: number,
): { latDeg: number; lonDeg: number } {
  const { xM, yM } = map.project(from.latDeg, from.lonDeg);
  return map.unproject(xM - byM, yM);
}

/** A map that turns about one meridian, given longitudes from that meridian. */
export function aboutMeridian(
  centralLonDeg: number,
  local: {
    readonly project: (latDeg: number, fromCentralDeg: number) => MapPoint;
    readonly unproject: (xM: number, yM: number) => { latDeg: number; fromCentralDeg: number };
    readonly angleRad: (phi: number, lambda: number) => number;
  },
): MapProjection {
  const fromCentralDeg = (lonDeg: number) => wrapLonDeg(lonDeg - centralLonDeg);
  return {
    project: (latDeg, lonDeg) => local.project(latDeg, fromCentralDeg(lonDeg)),
    unproject: (xM, yM) => {
      const place = local.unproject(xM, yM);
      return { latDeg: place.latDeg, lonDeg: wrapLonDeg(centralLonDeg + place.fromCentralDeg) };
    },
    windAngleRad: (latDeg, lonDeg) =>
      local.angleRad(latDeg * RAD_PER_DEG, fromCentralDeg(lonDeg) * RAD_PER_DEG),
  };
}

/** Of a cell: rounding stays far below, a corner beyond the edge of its map misses by whole cells. */
const MOST_CORNER_MISS_CELLS = 0.01;

/** @throws FormatError for a grid that reaches beyond its map, where places have no or two columns and rows. */
export function checkOnMap(section3: ByteReader, { nx, ny, toLatLon, toIndex }: Grib2Grid): void {
  for (const i of [0, nx - 1]) {
    for (const j of [0, ny - 1]) {
      const { latDeg, lonDeg } = toLatLon(i, j);
      const back = toIndex(latDeg, lonDeg);
      if (Math.hypot(back.i - i, back.j - j) <= MOST_CORNER_MISS_CELLS) continue;
      throw section3.error(31, {
        what: 'grid',
        found: `column ${i} and row ${j} at ${latDeg} deg and ${lonDeg} deg, which is not on the map`,
        expected: 'corners on the map',
      });
    }
  }
}

/**
 * Grid definition template 3.10: Mercator.
 *
 * @source  WMO-No. 306, Volume I.2, grid definition template 3.10.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';
import { earthOf, flatteningOf, readEarthShape } from './earth-shape.ts';
import type { Grib2Grid } from './field.ts';
import { columnAxis, graticuleGrid, type RowAxis } from './grid-axes.ts';
import { wrapLonDeg } from './grid-index.ts';
import { latitudeDeg, lengthM, longitudeDeg } from './grid-octets.ts';
import type { MercatorDefinition } from './grid-templates.ts';
import { mercatorMap } from './mercator-projection.ts';
import { readScanning, type Scanning } from './scanning.ts';

/**
 * How far the last point of the file may be from first + (n - 1) steps: in steps, or as a part of all of them. The lengths are what
 * places the points; one producer left a last latitude of three rows more.
 */
const MOST_MISFIT_STEPS = 0.75;
const MOST_MISFIT_RATIO = 0.02;

/** @throws UnsupportedError for a grid at an angle to the equator; FormatError for corners that contradict the steps. */
export function readMercator(section3: ByteReader): { definition: MercatorDefinition; scanning: Scanning } {
  refuseTurnedGrid(section3);
  const scanning = readScanning(section3, 60);
  const shape = readEarthShape(section3);
  const nx = section3.uint32(31);
  const trueLatDeg = equatorwardDeg(section3, 48);
  const dxM = lengthM(section3, 65);
  const lonStepDeg = dxM / mercatorMap(shape, trueLatDeg).metersPerLonDeg;
  const fileLonDeg = longitudeDeg(section3, 43);
  const definition: MercatorDefinition = {
    template: 10,
    nx,
    ny: section3.uint32(35),
    earthRadiusM: shape.semiMajorAxisM,
    ...flatteningOf(shape),
    firstLatDeg: equatorwardDeg(section3, 39),
    firstLonDeg: scanning.westward ? wrapLonDeg(fileLonDeg - (nx - 1) * lonStepDeg) : fileLonDeg,
    trueLatDeg,
    dxM,
    dyM: scanning.northward ? lengthM(section3, 69) : -lengthM(section3, 69),
  };
  checkLastPoint(section3, definition, scanning);
  return { definition, scanning };
}

export function mercatorGrid(definition: MercatorDefinition): Grib2Grid {
  const map = mercatorMap(earthOf(definition), definition.trueLatDeg);
  const lonStepDeg = definition.dxM / map.metersPerLonDeg;
  return graticuleGrid(definition, {
    columns: columnAxis(definition.nx, definition.firstLonDeg, lonStepDeg),
    rows: rowsOf(definition),
  });
}

function rowsOf(definition: MercatorDefinition): RowAxis {
  const map = mercatorMap(earthOf(definition), definition.trueLatDeg);
  const firstM = map.northingM(definition.firstLatDeg);
  return {
    latDegAt: (j) => map.latDeg(firstM + j * definition.dyM),
    indexOf: (latDeg) => (map.northingM(latDeg) - firstM) / definition.dyM,
  };
}

/** The last point of the file's order; with alternating runs it may lie at either end of the last one. */
function checkLastPoint(section3: ByteReader, definition: MercatorDefinition, scanning: Scanning): void {
  const { nx, ny } = definition;
  const { i, j } = mercatorGrid(definition).toIndex(latitudeDeg(section3, 52), longitudeDeg(section3, 56));
  const lastI = scanning.westward ? 0 : nx - 1;
  const isNear = (found: number, expected: number, count: number) =>
    Math.abs(found - expected) <= Math.max(MOST_MISFIT_STEPS, MOST_MISFIT_RATIO * count);
  const isAtColumn = (column: number) => isNear(i, column, nx);
  const isAtRow = (row: number) => isNear(j, row, ny);
  const fitsColumn =
    isAtColumn(lastI) || (scanning.alternating && !scanning.byColumns && isAtColumn(nx - 1 - lastI));
  const fitsRow = isAtRow(ny - 1) || (scanning.alternating && scanning.byColumns && isAtRow(0));
  if (fitsColumn && fitsRow) return;
  throw section3.error(52, {
    what: 'last point',
    found: `column ${i.toFixed(2)} and row ${j.toFixed(2)} by the grid lengths`,
    expected: `column ${lastI} and row ${ny - 1}, by counts and scanning`,
  });
}

function equatorwardDeg(section3: ByteReader, octet: number): number {
  const latDeg = latitudeDeg(section3, octet);
  if (Math.abs(latDeg) < 90) return latDeg;
  throw section3.error(octet, { what: 'latitude', found: `${latDeg} deg`, expected: 'short of the poles' });
}

function refuseTurnedGrid(section3: ByteReader): void {
  const angle = section3.uint32(61);
  if (angle === 0 || section3.isMissing(61, 4)) return;
  throw new UnsupportedError({
    feature: 'orientation of the grid, an angle to the equator',
    table: 'grid definition template 3.10, octets 61-64',
    value: String(angle),
  });
}

/** The part of a grid that covers an area. */
import type { Area } from '../env.ts';
import type { Grib2Grid } from '../formats/grib2/field.ts';

/** Columns i0 .. i0+nx-1 and rows j0 .. j0+ny-1 of the whole grid. */
export interface GridCrop {
  readonly i0: number;
  readonly j0: number;
  readonly nx: number;
  readonly ny: number;
}

/** Points along each side of the area at which its edge is traced through the grid. */
const SIDE_POINTS = 40;
/** Grid points kept around the area, so that a place on its edge still has four neighbours. */
const MARGIN = 2;

/**
 * @returns the rows and columns that hold the area with a margin; the whole grid without an area; undefined when the
 *   area lies outside the grid. A grid around the globe keeps all its columns when the area crosses its seam.
 */
export function gridCrop(grid: Grib2Grid, area: Area | undefined): GridCrop | undefined {
  if (area === undefined) return { i0: 0, j0: 0, nx: grid.nx, ny: grid.ny };
  const spanDeg = (((area.eastDeg - area.westDeg) % 360) + 360) % 360 || 360;
  let lowI = Number.POSITIVE_INFINITY;
  let highI = Number.NEGATIVE_INFINITY;
  let lowJ = Number.POSITIVE_INFINITY;
  let highJ = Number.NEGATIVE_INFINITY;
  for (let a = 0; a <= SIDE_POINTS; a += 1) {
    for (let b = 0; b <= SIDE_POINTS; b += 1) {
      const latDeg = area.southDeg + ((area.northDeg - area.southDeg) * a) / SIDE_POINTS;
      const { i, j } = grid.toIndex(latDeg, wrapLonDeg(area.westDeg + (spanDeg * b) / SIDE_POINTS));
      if (!Number.isFinite(i) || !Number.isFinite(j)) continue;
      lowI = Math.min(lowI, i);
      highI = Math.max(highI, i);
      lowJ = Math.min(lowJ, j);
      highJ = Math.max(highJ, j);
    }
  }
  const j0 = Math.max(0, Math.floor(lowJ) - MARGIN);
  const j1 = Math.min(grid.ny - 1, Math.ceil(highJ) + MARGIN);
  const crossesSeam = grid.wrapsEast && highI - lowI > grid.nx / 2;
  const i0 = crossesSeam ? 0 : Math.max(0, Math.floor(lowI) - MARGIN);
  const i1 = crossesSeam ? grid.nx - 1 : Math.min(grid.nx - 1, Math.ceil(highI) + MARGIN);
  if (!(i1 >= i0 && j1 >= j0)) return undefined;
  return { i0, j0, nx: i1 - i0 + 1, ny: j1 - j0 + 1 };
}

function wrapLonDeg(lonDeg: number): number {
  return ((((lonDeg + 180) % 360) + 360) % 360) - 180;
}

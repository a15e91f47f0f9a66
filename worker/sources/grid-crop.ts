/** The part of a grid that covers an area. */
import type { Area } from '../env.ts';
import type { Grib2Grid } from '../formats/grib2/field.ts';

/**
 * Columns i0 .. i0+nx-1 and rows j0 .. j0+ny-1 of the whole grid. On a grid around the globe columns are counted on across its
 * seam: column i of the crop's is column i modulo the grid's nx.
 */
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
 *   area lies outside the grid.
 */
export function gridCrop(grid: Grib2Grid, area: Area | undefined): GridCrop | undefined {
  if (area === undefined) return { i0: 0, j0: 0, nx: grid.nx, ny: grid.ny };
  const { lowI, highI, lowJ, highJ } = reach(grid, area);
  const j0 = Math.max(0, Math.floor(lowJ) - MARGIN);
  const j1 = Math.min(grid.ny - 1, Math.ceil(highJ) + MARGIN);
  const i0 = Math.floor(lowI) - MARGIN;
  const i1 = Math.ceil(highI) + MARGIN;
  const columns = grid.wrapsEast ? aroundTheGlobe(grid, i0, i1) : within(grid, i0, i1);
  if (!(columns.nx > 0 && j1 >= j0)) return undefined;
  return { ...columns, j0, ny: j1 - j0 + 1 };
}

function within(grid: Grib2Grid, i0: number, i1: number) {
  const first = Math.max(0, i0);
  return { i0: first, nx: Math.min(grid.nx - 1, i1) - first + 1 };
}

function aroundTheGlobe(grid: Grib2Grid, i0: number, i1: number) {
  const nx = i1 - i0 + 1;
  return nx >= grid.nx ? { i0: 0, nx: grid.nx } : { i0: ((i0 % grid.nx) + grid.nx) % grid.nx, nx };
}

/** Least and greatest indices of an area in a grid, columns counted on across the seam of a grid around the globe. */
function reach(grid: Grib2Grid, area: Area) {
  const spanDeg = (((area.eastDeg - area.westDeg) % 360) + 360) % 360 || 360;
  const found = {
    lowI: Number.POSITIVE_INFINITY,
    highI: Number.NEGATIVE_INFINITY,
    lowJ: Number.POSITIVE_INFINITY,
    highJ: Number.NEGATIVE_INFINITY,
  };
  let rowStartI: number | undefined;
  for (let a = 0; a <= SIDE_POINTS; a += 1) {
    const latDeg = area.southDeg + ((area.northDeg - area.southDeg) * a) / SIDE_POINTS;
    let lastI = rowStartI;
    for (let b = 0; b <= SIDE_POINTS; b += 1) {
      const at = grid.toIndex(latDeg, wrapLonDeg(area.westDeg + (spanDeg * b) / SIDE_POINTS));
      if (!Number.isFinite(at.i) || !Number.isFinite(at.j)) continue;
      lastI = grid.wrapsEast ? nearestTurn(at.i, lastI, grid.nx) : at.i;
      if (b === 0) rowStartI = lastI;
      found.lowI = Math.min(found.lowI, lastI);
      found.highI = Math.max(found.highI, lastI);
      found.lowJ = Math.min(found.lowJ, at.j);
      found.highJ = Math.max(found.highJ, at.j);
    }
  }
  return found;
}

/** The index of the same column that lies nearest to the one before. */
function nearestTurn(i: number, lastI: number | undefined, nx: number): number {
  return lastI === undefined ? i : i + nx * Math.round((lastI - i) / nx);
}

function wrapLonDeg(lonDeg: number): number {
  return ((((lonDeg + 180) % 360) + 360) % 360) - 180;
}

/** Arithmetic that all grids share. */

/** Rounding of coordinates stays far below this part of a cell (0.1 mm of a kilometer). */
const SNAP_CELLS = 1e-7;

/** @returns the same direction in [-180, 180). */
export function wrapLonDeg(lonDeg: number): number {
  if (lonDeg >= -180 && lonDeg < 180) return lonDeg;
  return ((((lonDeg + 180) % 360) + 360) % 360) - 180;
}

/** A fractional index moved onto a grid point that it misses by rounding only, so that no neighbor is involved; never -0. */
export function snapToPoint(index: number): number {
  const point = Math.round(index) + 0;
  return Math.abs(index - point) < SNAP_CELLS ? point : index;
}

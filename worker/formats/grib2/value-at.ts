/** The value of a field at a place: of the nearest grid point, or between the four around it. */
import type { Grib2Field, Grib2Grid } from './field.ts';

/** Columns and rows around a place, and how far it is from the first to the second of each, 0-1. */
interface Cell {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
  readonly right: number;
  readonly onward: number;
}

const RAD_PER_DEG = Math.PI / 180;

/**
 * Nearest of the four grid points around a place along the great circle, as other decoders list it for a place.
 *
 * @returns the field's unit; NaN outside the grid, however near, and where that point's value is missing.
 */
export function valueAt(field: Grib2Field, latDeg: number, lonDeg: number): number {
  const cell = cellAround(field.grid, latDeg, lonDeg);
  if (cell === undefined) return Number.NaN;
  const place = unitVector(latDeg, lonDeg);
  let nearest = Number.NaN;
  let leastChord = Number.POSITIVE_INFINITY;
  for (const j of cell.rows) {
    for (const i of cell.columns) {
      const point = field.grid.toLatLon(i, j);
      const [x, y, z] = unitVector(point.latDeg, point.lonDeg);
      const chord = Math.hypot(x - place[0], y - place[1], z - place[2]);
      if (chord >= leastChord) continue;
      leastChord = chord;
      nearest = field.values[j * field.grid.nx + i]!;
    }
  }
  return nearest;
}

/**
 * Bilinear in column and row between the four grid points around a place; across the seam of a grid around the globe.
 *
 * @returns the field's unit; NaN outside the grid and where a corner that has weight is missing.
 */
export function interpolateAt(field: Grib2Field, latDeg: number, lonDeg: number): number {
  const cell = cellAround(field.grid, latDeg, lonDeg);
  if (cell === undefined) return Number.NaN;
  let sum = 0;
  for (const [place, j] of cell.rows.entries()) {
    for (const [side, i] of cell.columns.entries()) {
      const weight =
        (side === 1 ? cell.right : 1 - cell.right) * (place === 1 ? cell.onward : 1 - cell.onward);
      if (weight > 0) sum += weight * field.values[j * field.grid.nx + i]!;
    }
  }
  return sum;
}

function cellAround(grid: Grib2Grid, latDeg: number, lonDeg: number): Cell | undefined {
  const { i, j } = grid.toIndex(latDeg, lonDeg);
  const lastI = grid.wrapsEast ? grid.nx : grid.nx - 1;
  if (!(i >= 0 && i <= lastI && j >= 0 && j <= grid.ny - 1)) return undefined;
  const column = Math.floor(i);
  const row = Math.floor(j);
  const next = grid.wrapsEast ? (column + 1) % grid.nx : Math.min(column + 1, grid.nx - 1);
  return {
    columns: [column % grid.nx, next],
    rows: [row, Math.min(row + 1, grid.ny - 1)],
    right: i - column,
    onward: j - row,
  };
}

function unitVector(latDeg: number, lonDeg: number): readonly [number, number, number] {
  const phi = latDeg * RAD_PER_DEG;
  const lambda = lonDeg * RAD_PER_DEG;
  return [Math.cos(phi) * Math.cos(lambda), Math.cos(phi) * Math.sin(lambda), Math.sin(phi)];
}

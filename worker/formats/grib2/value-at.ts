/** The value of a field at a place: of the nearest grid point. */
import type { Grib2Field, Grib2Grid } from './field.ts';

/** Columns and rows around a place. */
interface Cell {
  readonly columns: readonly [number, number];
  readonly rows: readonly [number, number];
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
  };
}

function unitVector(latDeg: number, lonDeg: number): readonly [number, number, number] {
  const phi = latDeg * RAD_PER_DEG;
  const lambda = lonDeg * RAD_PER_DEG;
  return [Math.cos(phi) * Math.cos(lambda), Math.cos(phi) * Math.sin(lambda), Math.sin(phi)];
}

/** Where an altitude lies among the cells of the common axis. */
import type { AltitudeAxis } from '../science/columns.ts';

export type CellLayout = Pick<AltitudeAxis, 'lowestM' | 'cellDepthM'>;

/** An altitude this part of a cell under an edge counts as on it, and an edge belongs to the cell above. */
const EDGE_PART = 1e-6;

/** Number of the cell holding an altitude, counted from the lowest edge; may lie outside the axis. */
export function cellNumber(layout: CellLayout, pressureAltitudeM: number): number {
  return Math.floor((pressureAltitudeM - layout.lowestM) / layout.cellDepthM + EDGE_PART);
}

/** Cell of the axis holding an altitude, or undefined above, below or at NaN: nothing is known there. */
export function cellAt(
  axis: Pick<AltitudeAxis, 'lowestM' | 'cellDepthM' | 'cellCount'>,
  pressureAltitudeM: number,
): number | undefined {
  const cell = cellNumber(axis, pressureAltitudeM);
  return cell >= 0 && cell < axis.cellCount ? cell : undefined;
}

/** Pressure altitude of the lower edge of a cell, m. */
export function cellLowerEdgeM(layout: CellLayout, cell: number): number {
  return layout.lowestM + cell * layout.cellDepthM;
}

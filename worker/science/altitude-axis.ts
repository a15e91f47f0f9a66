/** The vertical axis all columns share. */
import type { AltitudeAxis } from './columns.ts';
import { pressurePaFromPressureAltitudeM } from './standard-atmosphere.ts';

/**
 * Cells of equal depth in pressure altitude.
 *
 * @param layout.lowestM     Lower edge of the lowest cell, pressure altitude, m.
 * @param layout.cellDepthM  Depth of each cell, m, positive.
 * @param layout.cellCount   Number of cells.
 * @returns                  Middle and edge pressures, Pa, strictly decreasing.
 * @throws                   RangeError when depth or count is not positive.
 * @source                   ICAO standard atmosphere, see standard-atmosphere.ts.
 */
export function makeAltitudeAxis(layout: {
  readonly lowestM: number;
  readonly cellDepthM: number;
  readonly cellCount: number;
}): AltitudeAxis {
  const { lowestM, cellDepthM, cellCount } = layout;
  if (!(cellDepthM > 0 && cellCount > 0)) {
    throw new RangeError(
      `altitude axis: found ${cellCount} cells of ${cellDepthM} m, expected both positive`,
    );
  }
  const pressureAtCells = (cells: number) => pressurePaFromPressureAltitudeM(lowestM + cells * cellDepthM);
  return {
    cellCount,
    lowestM,
    cellDepthM,
    middlePressurePa: Float64Array.from({ length: cellCount }, (_, cell) => pressureAtCells(cell + 0.5)),
    edgePressurePa: Float64Array.from({ length: cellCount + 1 }, (_, edge) => pressureAtCells(edge)),
  };
}

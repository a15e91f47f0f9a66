/** Grids of terrain blocks out of a height by column and row, for tests of what is made of them. */
import type { BlockGrid } from '../../worker/flight/tile-ground.ts';

export const TEST_ZOOM = 9;
export const TEST_SIDE = 16 * 2 ** TEST_ZOOM;

/** Both heights of a block; NaN is unknown. Columns are those of the world. */
export function blockGrid(
  highestM: (column: number, row: number) => number,
  lowestM: (column: number, row: number) => number = highestM,
): BlockGrid {
  return { zoom: TEST_ZOOM, blocksPerSide: TEST_SIDE, highestM, lowestM };
}

/** The highest ground of a stretch, and whether it lies among mountains, from blocks of elevation tiles. Pure. */
import { latDegFromWorldY, TILE_PIXELS, worldSideM } from '../science/web-mercator.ts';
import { cellsNear } from './cells-near.ts';
import type { StretchGround, TerrainStretch } from './terrain-stretch.ts';

/**
 * Mountainous area: ground changes by more than 900 m (3,000 ft) within 18.5 km (10 NM).
 * @source Regulation (EU) 2016/1185, and ICAO Doc 8168 volume II, definitions; looked up as quoted.
 */
const MOUNTAIN_CHANGE_M = 900;
export const MOUNTAIN_REACH_M = 18_500;
/** As far northward or southward, rounded up. */
const MOUNTAIN_REACH_DEG = 0.2;

/**
 * A pixel is a mean or a sample, and the summit is higher: the flank of a ridge that rises by 0.7 (35 degrees) falls by half
 * of a pixel's side from its crest to a sample 0.7 of a side away, which is as far as one can be (judgement).
 */
const SUMMIT_PER_PIXEL = 0.5;
/** Absolute error that nine tenths of the heights stay within: the radar mission's own specification, m. */
const HEIGHT_ERROR_M = 16;

/** Tiles hold the floor of the sea: its ground is the surface. No land lies lower than the shore of the Dead Sea, m. */
const SURFACE_M = 0;
const LOWEST_LAND_M = -450;

/** Highest and lowest ground of blocks, m; NaN where unknown. Rows outside the world are unknown. */
export interface BlockGrid {
  /** Of the tiles. */
  readonly zoom: number;
  /** Blocks along the side of the world. */
  readonly blocksPerSide: number;
  readonly highestM: (column: number, row: number) => number;
  readonly lowestM: (column: number, row: number) => number;
}

/** What summits may stand above the pixels of tiles, m. */
export function tileAllowanceM(zoom: number, latDeg: number): number {
  return HEIGHT_ERROR_M + SUMMIT_PER_PIXEL * (worldSideM(latDeg) / (TILE_PIXELS * 2 ** zoom));
}

/** One a stretch, in order. */
export function tileGround(
  grid: BlockGrid,
  stretches: readonly TerrainStretch[],
  halfWidthM: number,
): StretchGround[] {
  const mountains = new Map<number, boolean | undefined>();
  return stretches.map((stretch) => {
    const allowanceM = Math.max(...stretch.line.map(({ latDeg }) => tileAllowanceM(grid.zoom, latDeg)));
    const cells = cellsNear(stretch, halfWidthM, grid.blocksPerSide);
    if (cells === undefined) return { ...NOTHING_KNOWN, allowanceM };
    const { atLeastM, isWhole } = highestOf(grid, cells);
    return {
      highestM: isWhole ? atLeastM : Number.NaN,
      atLeastM,
      allowanceM,
      isMountainous: isAmongMountains(grid, cells, mountains),
    };
  });
}

const NOTHING_KNOWN = { highestM: Number.NaN, atLeastM: Number.NaN, isMountainous: undefined };

/** NaN where no cell is known. */
function highestOf(grid: BlockGrid, cells: ReadonlySet<number>): { atLeastM: number; isWhole: boolean } {
  let atLeastM = Number.NaN;
  let isWhole = cells.size > 0;
  for (const cell of cells) {
    const heightM = grid.highestM(cell % grid.blocksPerSide, Math.floor(cell / grid.blocksPerSide));
    if (Number.isNaN(heightM)) isWhole = false;
    else if (!(heightM <= atLeastM)) atLeastM = Math.max(SURFACE_M, heightM);
  }
  return { atLeastM, isWhole };
}

/** One mountainous block makes the stretch so; else one that is not known leaves it open. */
function isAmongMountains(
  grid: BlockGrid,
  cells: ReadonlySet<number>,
  answers: Map<number, boolean | undefined>,
): boolean | undefined {
  let isKnown = true;
  for (const cell of cells) {
    if (!answers.has(cell)) {
      const [column, row] = [cell % grid.blocksPerSide, Math.floor(cell / grid.blocksPerSide)];
      answers.set(cell, isMountainous(grid, column, row));
    }
    const answer = answers.get(cell);
    if (answer === true) return true;
    isKnown &&= answer === false;
  }
  return isKnown ? false : undefined;
}

/** Summits count with their allowance; blocks count as far apart as their nearest edges. */
function isMountainous(grid: BlockGrid, column: number, row: number): boolean | undefined {
  const { blocksPerSide, zoom } = grid;
  const latDeg = latDegFromWorldY((row + 0.5) / blocksPerSide);
  const reach = MOUNTAIN_REACH_M / (worldSideM(Math.abs(latDeg) + MOUNTAIN_REACH_DEG) / blocksPerSide);
  const rows = Math.floor(reach) + 1;
  const allowanceM = tileAllowanceM(zoom, latDeg);
  const lowM = Math.max(LOWEST_LAND_M, grid.lowestM(column, row));
  const highM = Math.max(SURFACE_M, grid.highestM(column, row)) + allowanceM;
  let isKnown = true;
  for (let down = -rows; down <= rows; down += 1) {
    const gap = Math.max(0, Math.abs(down) - 1);
    const columns = Math.floor(Math.sqrt(Math.max(0, reach * reach - gap * gap))) + 1;
    for (let right = -columns; right <= columns; right += 1) {
      const otherColumn = (column + right + blocksPerSide) % blocksPerSide;
      const riseM = grid.highestM(otherColumn, row + down) + allowanceM - lowM;
      const fallM = highM - Math.max(LOWEST_LAND_M, grid.lowestM(otherColumn, row + down));
      if (riseM > MOUNTAIN_CHANGE_M || fallM > MOUNTAIN_CHANGE_M) return true;
      isKnown &&= !Number.isNaN(riseM + fallM);
    }
  }
  return isKnown ? false : undefined;
}

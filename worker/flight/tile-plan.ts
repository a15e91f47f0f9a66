/** Which elevation tiles a leg's corridor needs, and at which zoom. Decided before anything is read. */
import { worldSideM } from '../science/web-mercator.ts';
import { cellsNear } from './cells-near.ts';
import type { TerrainStretch } from './terrain-stretch.ts';
import { MOUNTAIN_REACH_M } from './tile-ground.ts';

export interface TilePlan {
  readonly zoom: number;
  /** In the order in which they are wanted: those under the corridor along the route, then those around it. */
  readonly tiles: readonly { readonly x: number; readonly y: number }[];
}

const FINEST_ZOOM = 9;
const COARSEST_ZOOM = 6;
/**
 * The finest zoom is taken that needs no more for a corridor of usual width and the look around it for mountains: 300 NM have
 * about 40. A wider corridor may need more tiles of that zoom.
 */
const USUAL_TILES = 44;
const USUAL_HALF_WIDTH_M = 18_520;
/** Never more are read for one brief; the ground under the others is unknown. */
export const MOST_TILES = 96;
/** Blocks beyond the look around for mountains that it may touch all the same. */
const BLOCKS_BEYOND = 3;

/** The zoom follows from the route alone, so that a wider corridor is never judged on coarser tiles. */
export function planTiles(
  stretches: readonly TerrainStretch[],
  halfWidthM: number,
  blocksPerTile: number,
): TilePlan {
  const zoom = zoomOf(stretches);
  const side = 2 ** zoom;
  const under = new Set<number>();
  const around = new Set<number>();
  for (const stretch of stretches) {
    const tileM = Math.max(...stretch.line.map(({ latDeg }) => worldSideM(latDeg))) / side;
    const beyondM = MOUNTAIN_REACH_M + (BLOCKS_BEYOND * tileM) / blocksPerTile;
    for (const tile of cellsNear(stretch, halfWidthM, side) ?? []) under.add(tile);
    for (const tile of cellsNear(stretch, halfWidthM + beyondM, side) ?? []) around.add(tile);
  }
  const wanted = [...new Set([...under, ...around])].slice(0, MOST_TILES);
  return { zoom, tiles: wanted.map((tile) => ({ x: tile % side, y: Math.floor(tile / side) })) };
}

function zoomOf(stretches: readonly TerrainStretch[]): number {
  for (let zoom = FINEST_ZOOM; zoom > COARSEST_ZOOM; zoom -= 1) {
    const tiles = new Set<number>();
    for (const stretch of stretches) {
      for (const tile of cellsNear(stretch, USUAL_HALF_WIDTH_M + MOUNTAIN_REACH_M, 2 ** zoom) ?? []) {
        tiles.add(tile);
      }
    }
    if (tiles.size <= USUAL_TILES) return zoom;
  }
  return COARSEST_ZOOM;
}

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
/** The finest zoom that needs no more for a corridor of usual width is taken; a wider one may need more tiles of it. */
const USUAL_TILES = 40;
const USUAL_HALF_WIDTH_M = 18_520;
/** Never more are read for one brief; the ground under the others is unknown. */
export const MOST_TILES = 96;
/** Blocks that the look around for mountains may reach beyond its distance. */
const BLOCKS_BEYOND = 3;

/** The zoom follows from the route alone, so that a wider corridor is never judged on coarser tiles. */
export function planTiles(
  stretches: readonly TerrainStretch[],
  halfWidthM: number,
  blocksPerTile: number,
): TilePlan {
  const zoom = zoomOf(stretches);
  const under = new Map<number, { x: number; y: number }>();
  const around = new Map<number, { x: number; y: number }>();
  const blocksPerSide = blocksPerTile * 2 ** zoom;
  for (const stretch of stretches) {
    const blockM = Math.max(...stretch.line.map(({ latDeg }) => worldSideM(latDeg))) / blocksPerSide;
    const beyondM = MOUNTAIN_REACH_M + BLOCKS_BEYOND * blockM;
    for (const [found, reachM] of [
      [under, halfWidthM],
      [around, halfWidthM + beyondM],
    ] as const) {
      for (const { column, row } of cellsNear(stretch, reachM, blocksPerSide) ?? []) {
        const tile = { x: Math.floor(column / blocksPerTile), y: Math.floor(row / blocksPerTile) };
        found.set(tile.y * 2 ** zoom + tile.x, tile);
      }
    }
  }
  return { zoom, tiles: [...new Map([...under, ...around]).values()].slice(0, MOST_TILES) };
}

function zoomOf(stretches: readonly TerrainStretch[]): number {
  for (let zoom = FINEST_ZOOM; zoom > COARSEST_ZOOM; zoom -= 1) {
    const tiles = new Set<number>();
    for (const stretch of stretches) {
      for (const { column, row } of cellsNear(stretch, USUAL_HALF_WIDTH_M, 2 ** zoom) ?? []) {
        tiles.add(row * 2 ** zoom + column);
      }
    }
    if (tiles.size <= USUAL_TILES) return zoom;
  }
  return COARSEST_ZOOM;
}

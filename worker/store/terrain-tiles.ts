/**
 * Open elevation tiles as a source of terrain: each is fetched once, reduced to blocks and kept, so that a later brief reads a
 * kilobyte of it. A tile that is missing, late, damaged or of another kind leaves its ground unknown.
 */
import { AppBug, SourceError } from '../errors.ts';
import { type BlockGrid, tileGround } from '../flight/tile-ground.ts';
import { planTiles, type TilePlan } from '../flight/tile-plan.ts';
import { NO_HEIGHT_M, readTerrariumTile, type TerrainBlocks, TILE_BLOCKS } from '../formats/terrarium.ts';
import type { ObjectStore, TerrainSource } from '../sources/ports.ts';
import type { RangedHttp, RangedHttpSettings } from '../sources/ranged-http.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import { terrainBaseUrl, terrainTileUrl } from '../sources/terrain-url.ts';
import { readTerrainRecord, writeTerrainRecord } from './terrain-record.ts';

export interface TileTerrainSettings {
  /** Checked by isTerrainTemplate. */
  readonly template: string;
  readonly attribution: string;
}

export interface TileTerrainDeps {
  readonly objects: ObjectStore;
  readonly http: RangedHttp;
  /** Aborted when a brief must wait no longer for tiles. */
  readonly deadline: () => AbortSignal;
}

/** Of a tile's file: raw pixels with alpha take 262 kB, and a packed tile is smaller. */
const MOST_TILE_BYTES = 320 * 1024;
/** Hex digits of the template's SHA-256; 64 bits. */
const FOLDER_DIGITS = 16;
const AT_ONCE = 6;
/** After so many failures the source is left alone: each may have cost its whole time. A tile that is not there is none. */
const MOST_FAILURES = 6;

/** A brief waits for these. */
const TERRAIN_HTTP_LIMITS: Omit<RangedHttpSettings, 'allowed'> = {
  retry: { attempts: 2, firstWaitMs: 200, greatestWaitMs: 500, greatestRetryAfterMs: 1000 },
  answerTimeoutMs: 4000,
  wholeTimeoutMs: 6000,
};
export const TERRAIN_DEADLINE_MS = 8000;

/** Only what lies under the template's own base may be fetched, redirects included. */
export function terrainHttpSettings(template: string): RangedHttpSettings {
  return { ...TERRAIN_HTTP_LIMITS, allowed: { hosts: [], rehearsalBaseUrl: terrainBaseUrl(template) } };
}

export function createTileTerrain(deps: TileTerrainDeps, settings: TileTerrainSettings): TerrainSource {
  return {
    attribution: settings.attribution,
    highestGround: async (stretches, halfWidthM) => {
      const plan = planTiles(stretches, halfWidthM, TILE_BLOCKS);
      const tiles = await readTiles(deps, settings.template, plan);
      return tileGround(blockGrid(plan.zoom, tiles), stretches, halfWidthM);
    },
  };
}

/** By row * 2^zoom + column; tiles that could not be had are not in it. */
type Tiles = ReadonlyMap<number, TerrainBlocks>;

async function readTiles(deps: TileTerrainDeps, template: string, { zoom, tiles }: TilePlan): Promise<Tiles> {
  const found = new Map<number, TerrainBlocks>();
  const signal = deps.deadline();
  // Tiles of another template are other tiles.
  const folder = `terrain/${(await sha256Hex(template)).slice(0, FOLDER_DIGITS)}`;
  let next = 0;
  let failures = 0;
  const reader = async () => {
    while (next < tiles.length) {
      const { x, y } = tiles[next]!;
      next += 1;
      const key = `${folder}/${zoom}/${x}/${y}`;
      const url = terrainTileUrl(template, { z: zoom, x, y });
      const blocks =
        (await keptTile(deps.objects, key)) ??
        (failures < MOST_FAILURES ? await fetchTile(deps, { url, key, signal }) : 'failed');
      if (blocks === 'failed') failures += 1;
      else if (blocks !== 'missing') found.set(y * 2 ** zoom + x, blocks);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, reader));
  return found;
}

/** What cannot be read back is fetched again. */
async function keptTile(objects: ObjectStore, key: string): Promise<TerrainBlocks | undefined> {
  const bytes = await orUndefined(objects.get(key));
  return bytes === undefined ? undefined : readTerrainRecord(bytes);
}

/** Whatever goes wrong leaves ground unknown, and the brief goes on without it. */
async function fetchTile(
  { http, objects }: TileTerrainDeps,
  { url, key, signal }: { readonly url: string; readonly key: string; readonly signal: AbortSignal },
): Promise<TerrainBlocks | 'missing' | 'failed'> {
  try {
    const blocks = readTerrariumTile(await http.bytes(url, { mostBytes: MOST_TILE_BYTES, signal }));
    await orUndefined(objects.put(key, writeTerrainRecord(blocks)));
    return blocks;
  } catch (error) {
    if (error instanceof AppBug) throw error;
    return error instanceof SourceError && error.fault === 'not-there-yet' ? 'missing' : 'failed';
  }
}

/** A store that fails costs a fetch, and no brief. */
async function orUndefined<Value>(asked: Promise<Value>): Promise<Value | undefined> {
  try {
    return await asked;
  } catch (error) {
    if (error instanceof AppBug) throw error;
    return undefined;
  }
}

function blockGrid(zoom: number, tiles: Tiles): BlockGrid {
  let lastKey = -1;
  let last: TerrainBlocks | undefined;
  const heightM = (name: keyof TerrainBlocks, column: number, row: number) => {
    const key = Math.floor(row / TILE_BLOCKS) * 2 ** zoom + Math.floor(column / TILE_BLOCKS);
    if (key !== lastKey) {
      lastKey = key;
      last = tiles.get(key);
    }
    const found = last?.[name][(row % TILE_BLOCKS) * TILE_BLOCKS + (column % TILE_BLOCKS)];
    return found === undefined || found === NO_HEIGHT_M ? Number.NaN : found;
  };
  return {
    zoom,
    blocksPerSide: TILE_BLOCKS * 2 ** zoom,
    highestM: (column, row) => heightM('highestM', column, row),
    lowestM: (column, row) => heightM('lowestM', column, row),
  };
}

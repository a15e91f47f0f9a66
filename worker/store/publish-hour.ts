/** Writes one settled hour: its shards, what says how they are read, and last the row that makes it visible. */
import {
  GRID_QUANTITIES,
  type GridManifest,
  type GridRepository,
  type GridShard,
  type ObjectStore,
} from '../sources/ports.ts';
import { CHUNK_SIDE, encodeShard, SHARD_SIDE, shardPlaces } from './grid-chunks.ts';
import type { HourInMemory, HourSlice } from './grid-hour.ts';
import { packingOf } from './grid-packing.ts';
import { gridSpacingM } from './grid-spacing.ts';
import { shardKey, zarrMetadata } from './zarr-metadata.ts';

export interface PublishDeps {
  readonly objects: ObjectStore;
  readonly grids: GridRepository;
  readonly operator: string;
  /** Called before the hour becomes visible; what it throws leaves the hour as it was. */
  readonly beforeVisible?: (() => Promise<void>) | undefined;
  /** Called when a step is done; for tests that interrupt a publication there. */
  readonly reached?: ((step: PublishStep) => Promise<void> | void) | undefined;
}

/** fields: all are gathered; chunks, manifest: these are written; row: the hour is visible. */
export type PublishStep = 'fields' | 'chunks' | 'manifest' | 'row';

/** @returns what was published; a fault between two steps leaves the hour as it was before. */
export async function publishHour(
  deps: PublishDeps,
  hour: HourInMemory,
  { rejected, nowMs }: { rejected: GridManifest['rejected']; nowMs: () => number },
): Promise<{ manifest: GridManifest; replaced: boolean }> {
  const prefix = `grids/${deps.operator}/${hour.model}/${hour.runMs}/${hour.validMs}/${nowMs()}-${crypto.randomUUID()}`;
  const slices = [...hour.slices.values()].sort(bySlice);
  const described = describe(hour, slices);
  await deps.reached?.('fields');
  await deps.grids.begin({ prefix, operator: deps.operator, nowMs: nowMs() });
  const shards = await putShards(deps, `${prefix}/`, { crop: hour.crop, slices, described });
  await deps.reached?.('chunks');
  await deps.objects.put(`${prefix}/zarr.json`, JSON.stringify(zarrMetadata(described)));
  const manifest: GridManifest = { ...described, shards, rejected };
  const manifestKey = `${prefix}/manifest.json`;
  await deps.objects.put(manifestKey, JSON.stringify(manifest));
  await deps.reached?.('manifest');
  await deps.beforeVisible?.();
  const replaced = await deps.grids.publish({
    operator: deps.operator,
    model: hour.model,
    runMs: hour.runMs,
    validMs: hour.validMs,
    manifestKey,
    // What it replaces is retired now: briefs have been reading it all the while.
    ingestedMs: nowMs(),
    spacingM: gridSpacingM(hour.grid.definition),
    hasCloudWater: hour.condensateBasis !== 'none',
  });
  await deps.reached?.('row');
  return { manifest, replaced: replaced !== undefined };
}

/** What is known of an hour before its shards are written. */
type Described = Omit<GridManifest, 'shards' | 'rejected'>;

function describe(hour: HourInMemory, slices: readonly HourSlice[]): Described {
  return {
    version: 3,
    model: hour.model,
    attribution: hour.attribution,
    runMs: hour.runMs,
    validMs: hour.validMs,
    definition: hour.grid.definition,
    crop: hour.crop,
    wrapsEast: hour.grid.wrapsEast && hour.crop.nx === hour.grid.nx,
    condensateBasis: hour.condensateBasis,
    humidityBasis: hour.humidityBasis,
    cloudBasis: hour.cloudBasis,
    slices: slices.map(({ quantity, levelPa, values }) => ({
      ...{ quantity, levelPa },
      ...packingOf(quantity, values),
    })),
    chunkSide: CHUNK_SIDE,
    shardSide: SHARD_SIDE,
  };
}

/** One shard after the other, so that memory holds the hour and one of them. */
async function putShards(
  deps: PublishDeps,
  prefix: string,
  hour: { crop: HourInMemory['crop']; slices: readonly HourSlice[]; described: Described },
): Promise<GridShard[]> {
  const packed = hour.slices.map(({ values }, index) => ({ values, packing: hour.described.slices[index]! }));
  const shards: GridShard[] = [];
  for (const place of shardPlaces(hour.crop)) {
    const { bytes, lengthBytes, crc32 } = await encodeShard(packed, hour.crop, place);
    const key = prefix + shardKey(place);
    await deps.objects.put(key, bytes);
    shards.push({ key, lengthBytes, crc32 });
  }
  return shards;
}

function bySlice(a: HourSlice, b: HourSlice): number {
  const order = GRID_QUANTITIES.indexOf(a.quantity) - GRID_QUANTITIES.indexOf(b.quantity);
  return order === 0 ? (b.levelPa ?? 0) - (a.levelPa ?? 0) : order;
}

/**
 * Chunks out of the shards of an hour, by what its manifest says of them: neighbors in one range, each held to its length and checksum.
 *
 * A chunk that is not listed, not there, of another length or with another content is undefined, never a fill value.
 */
import type { GridManifest, ObjectReader } from '../sources/ports.ts';
import { chunkCodeCount, type PointPlace } from './grid-chunks.ts';
import { gunzip, statedCrc32 } from './gzip.ts';

/** One chunk: which, and where its bytes lie in its shard. */
interface ListedChunk {
  readonly id: string;
  readonly offsetBytes: number;
  readonly lengthBytes: number;
  readonly crc32: number;
}

/** Bytes of one shard that are read at once, and the chunks that lie one behind the other in them. */
export interface PlannedRead {
  readonly key: string;
  readonly offsetBytes: number;
  readonly lengthBytes: number;
  readonly chunks: readonly ListedChunk[];
}

/** Codes by chunk, [slice][point]; see grid-chunks.ts. A chunk that cannot be had is not in it. */
export type ChunkCodes = ReadonlyMap<string, Uint16Array>;

export const chunkId = ({ shard, chunk }: Pick<PointPlace, 'shard' | 'chunk'>) => `${shard} ${chunk}`;

/** The ranges that hold the chunks of some points; chunks the manifest does not list are left out. */
export function planReads(manifest: GridManifest, places: Iterable<PointPlace>): PlannedRead[] {
  const byShard = new Map<number, Set<number>>();
  for (const { shard, chunk } of places) byShard.set(shard, (byShard.get(shard) ?? new Set()).add(chunk));
  return [...byShard].flatMap(([shard, chunks]) => {
    const listed = manifest.shards[shard];
    return listed === undefined ? [] : readsOfShard(listed, shard, chunks);
  });
}

function readsOfShard(
  { key, lengthBytes, crc32 }: GridManifest['shards'][number],
  shard: number,
  wanted: ReadonlySet<number>,
): PlannedRead[] {
  const reads: { key: string; offsetBytes: number; lengthBytes: number; chunks: ListedChunk[] }[] = [];
  let offsetBytes = 0;
  lengthBytes.forEach((length, chunk) => {
    if (wanted.has(chunk)) {
      const last = wanted.has(chunk - 1) ? reads.at(-1) : undefined;
      const read = last ?? { key, offsetBytes, lengthBytes: 0, chunks: [] };
      if (last === undefined) reads.push(read);
      read.lengthBytes += length;
      const id = chunkId({ shard, chunk });
      read.chunks.push({ id, offsetBytes, lengthBytes: length, crc32: crc32[chunk] ?? Number.NaN });
    }
    offsetBytes += length;
  });
  return reads;
}

/** Reads and inflates the chunks of some points. */
export async function readChunks(
  objects: ObjectReader,
  manifest: GridManifest,
  places: Iterable<PointPlace>,
): Promise<ChunkCodes> {
  const codeCount = chunkCodeCount(manifest.slices.length);
  const codes = new Map<string, Uint16Array>();
  await Promise.all(
    planReads(manifest, places).map(async (read) => {
      const bytes = await objects.getRange(read.key, read);
      if (bytes === undefined) return;
      for (const chunk of read.chunks) {
        const own = new Uint8Array(bytes).subarray(chunk.offsetBytes - read.offsetBytes);
        const decoded = await decodeChunk(own.subarray(0, chunk.lengthBytes), chunk.crc32, codeCount);
        if (decoded !== undefined) codes.set(chunk.id, decoded);
      }
    }),
  );
  return codes;
}

/**
 * The manifest states the CRC-32 of the codes; gzip states it again at its end, and inflating proves it. So a chunk is refused that
 * was changed, is of another length, or stands in the place of another. (A few bits of gzip say nothing of what is in it; a change of
 * those is not met, and changes nothing.)
 */
async function decodeChunk(
  bytes: Uint8Array,
  crc32: number,
  codeCount: number,
): Promise<Uint16Array | undefined> {
  if (statedCrc32(bytes) !== crc32) return undefined;
  const inflated = await gunzip(bytes);
  if (inflated?.byteLength !== codeCount * Uint16Array.BYTES_PER_ELEMENT) return undefined;
  return new Uint16Array(inflated.buffer);
}

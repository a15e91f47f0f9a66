/**
 * How an hour lies on R2: one Zarr array [slice][row][column] of 16-bit codes, cut into chunks of CHUNK_SIDE x CHUNK_SIDE points
 * with every slice, so that a column of air is one chunk. Chunks are gathered in shards of SHARD_SIDE x SHARD_SIDE points, one
 * object each, row by row; past the grid's edge a chunk is filled up, and a chunk without any point is not written.
 *
 * @source  Zarr v3 core specification; sharding codec 1.0, section "Binary shard format".
 */
import { crc32c } from './crc32c.ts';
import { codesOf, MISSING_CODE, type SlicePacking } from './grid-packing.ts';
import { gzip, joined, statedCrc32 } from './gzip.ts';

/** Chosen by tests/bench/grid-chunking.ts. */
export const CHUNK_SIDE = 12;
export const SHARD_SIDE = 96;
/** Chunks along a side of a shard. */
const SHARD_CHUNKS = SHARD_SIDE / CHUNK_SIDE;
const CHUNK_POINTS = CHUNK_SIDE * CHUNK_SIDE;

/** In the index of a shard: offset and length of a chunk that is not there. */
const ABSENT = 0xffff_ffff_ffff_ffffn;
/** Offset and length, 64 bits each. */
const INDEX_ENTRY_BYTES = 16;

interface Size {
  readonly nx: number;
  readonly ny: number;
}

/** A shard by its row and column among the shards. */
export interface ShardPlace {
  readonly row: number;
  readonly column: number;
}

/** Every shard of a grid, row by row. */
export function shardPlaces({ nx, ny }: Size): ShardPlace[] {
  const rows = Math.ceil(ny / SHARD_SIDE);
  const columns = Math.ceil(nx / SHARD_SIDE);
  return Array.from({ length: rows * columns }, (_, index) => ({
    row: Math.floor(index / columns),
    column: index % columns,
  }));
}

/** Chunks with points of the grid in a shard: rows and columns of them. */
function chunksWithin({ nx, ny }: Size, shard: ShardPlace): { rows: number; columns: number } {
  const within = (points: number, place: number) =>
    Math.min(SHARD_CHUNKS, Math.ceil(points / CHUNK_SIDE) - place * SHARD_CHUNKS);
  return { rows: within(ny, shard.row), columns: within(nx, shard.column) };
}

/** Where a grid point is kept. */
export interface PointPlace {
  /** Index among shardPlaces. */
  readonly shard: number;
  /** Index of its chunk among those of the shard. */
  readonly chunk: number;
  /** Index of the point in each slice of the chunk. */
  readonly point: number;
}

export function placeOfPoint(size: Size, column: number, row: number): PointPlace {
  const shard = { row: Math.floor(row / SHARD_SIDE), column: Math.floor(column / SHARD_SIDE) };
  const chunkRow = Math.floor((row % SHARD_SIDE) / CHUNK_SIDE);
  const chunkColumn = Math.floor((column % SHARD_SIDE) / CHUNK_SIDE);
  return {
    shard: shard.row * Math.ceil(size.nx / SHARD_SIDE) + shard.column,
    chunk: chunkRow * chunksWithin(size, shard).columns + chunkColumn,
    point: (row % CHUNK_SIDE) * CHUNK_SIDE + (column % CHUNK_SIDE),
  };
}

/** The code of a slice at a point of a chunk. */
export const codeIndex = (slice: number, point: number) => slice * CHUNK_POINTS + point;

export const chunkCodeCount = (sliceCount: number) => sliceCount * CHUNK_POINTS;

/** A slice with the packing that was made for it; values row by row over the whole cropped grid. */
export interface PackedSlice {
  readonly packing: SlicePacking;
  readonly values: Float32Array;
}

export interface EncodedShard {
  /** Chunks from the first byte on, one behind the other, then the index and its CRC-32C. */
  readonly bytes: Uint8Array;
  readonly lengthBytes: readonly number[];
  /** Of each chunk's codes before they were gzipped. */
  readonly crc32: readonly number[];
}

/** One shard, chunk by chunk: only its gzipped chunks are held at a time. */
export async function encodeShard(
  slices: readonly PackedSlice[],
  size: Size,
  shard: ShardPlace,
): Promise<EncodedShard> {
  const { rows, columns } = chunksWithin(size, shard);
  const chunks: Uint8Array[] = [];
  for (let chunk = 0; chunk < rows * columns; chunk += 1) {
    const row = shard.row * SHARD_CHUNKS + Math.floor(chunk / columns);
    const column = shard.column * SHARD_CHUNKS + (chunk % columns);
    chunks.push(await gzip(chunkBytes(slices, size, { row: row * CHUNK_SIDE, column: column * CHUNK_SIDE })));
  }
  const lengthBytes = chunks.map(({ byteLength }) => byteLength);
  return {
    bytes: joined([...chunks, shardIndex(lengthBytes, columns)]),
    lengthBytes,
    crc32: chunks.map((chunk) => statedCrc32(chunk)!),
  };
}

/** Little-endian codes, as on every platform that workerd and Node run on. */
function chunkBytes(slices: readonly PackedSlice[], size: Size, first: ShardPlace): Uint8Array {
  const codes = new Uint16Array(chunkCodeCount(slices.length)).fill(MISSING_CODE);
  const rows = Math.min(CHUNK_SIDE, size.ny - first.row);
  const columns = Math.min(CHUNK_SIDE, size.nx - first.column);
  slices.forEach(({ packing, values }, slice) => {
    const { pack } = codesOf(packing);
    for (let row = 0; row < rows; row += 1) {
      const from = (first.row + row) * size.nx + first.column;
      const to = codeIndex(slice, row * CHUNK_SIDE);
      for (let column = 0; column < columns; column += 1) codes[to + column] = pack(values[from + column]!);
    }
  });
  return new Uint8Array(codes.buffer);
}

/** Offset and length of every chunk of a whole shard, row by row, those without points too. */
function shardIndex(lengthBytes: readonly number[], columns: number): Uint8Array {
  const entriesBytes = SHARD_CHUNKS * SHARD_CHUNKS * INDEX_ENTRY_BYTES;
  const index = new DataView(new ArrayBuffer(entriesBytes + Uint32Array.BYTES_PER_ELEMENT));
  for (let at = 0; at < entriesBytes; at += BigUint64Array.BYTES_PER_ELEMENT) {
    index.setBigUint64(at, ABSENT, true);
  }
  let offset = 0;
  lengthBytes.forEach((length, chunk) => {
    const place = Math.floor(chunk / columns) * SHARD_CHUNKS + (chunk % columns);
    index.setBigUint64(place * INDEX_ENTRY_BYTES, BigInt(offset), true);
    index.setBigUint64(place * INDEX_ENTRY_BYTES + BigUint64Array.BYTES_PER_ELEMENT, BigInt(length), true);
    offset += length;
  });
  index.setUint32(entriesBytes, crc32c(new Uint8Array(index.buffer, 0, entriesBytes)), true);
  return new Uint8Array(index.buffer);
}

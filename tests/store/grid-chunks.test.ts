/** Where a grid point lies in the objects of an hour, and what those objects hold octet by octet. */
import { gunzipSync } from 'node:zlib';
import { describe, expect, test } from 'vitest';
import { crc32c } from '../../worker/store/crc32c.ts';
import {
  CHUNK_SIDE,
  chunkCodeCount,
  codeIndex,
  encodeShard,
  placeOfPoint,
  SHARD_SIDE,
  shardPlaces,
} from '../../worker/store/grid-chunks.ts';
import { statedCrc32 } from '../../worker/store/gzip.ts';

/** Codes that name their place: whole numbers are their own codes. */
const WHOLE = { scaleFactor: 1, addOffset: 0 };
const named = (nx: number, ny: number, slice: number) => ({
  packing: WHOLE,
  values: Float32Array.from({ length: nx * ny }, (_, index) => index + slice),
});

describe('CRC-32C', () => {
  test.each([
    // RFC 3720, B.4, from memory; the last is the check value of the catalogue of parametrised CRC algorithms.
    ['32 octets of 0', new Uint8Array(32), 0x8a9136aa],
    ['32 octets of 255', new Uint8Array(32).fill(0xff), 0x62a8ab43],
    ['0 to 31', Uint8Array.from({ length: 32 }, (_, index) => index), 0x46dd794e],
    ['the digits 1 to 9', new TextEncoder().encode('123456789'), 0xe3069283],
  ])('of %s', (_, bytes, expected) => {
    expect(crc32c(bytes)).toBe(expected);
  });
});

describe('the shards of a grid', () => {
  test.each([
    [1, 1],
    [12, 12],
    [13, 25],
    [96, 97],
    [150, 205],
  ])('of %i x %i points hold every point once, at its own place', async (nx, ny) => {
    const slices = [0, 1].map((slice) => named(nx, ny, slice));
    const shards = await Promise.all(
      shardPlaces({ nx, ny }).map((place) => encodeShard(slices, { nx, ny }, place)),
    );
    const chunks = shards.map(({ bytes, lengthBytes }) => {
      let offset = 0;
      return lengthBytes.map((length) => {
        const chunk = gunzipSync(bytes.subarray(offset, offset + length));
        offset += length;
        expect(chunk.byteLength).toBe(2 * chunkCodeCount(slices.length));
        return new Uint16Array(new Uint8Array(chunk).buffer);
      });
    });
    const seen = new Set<string>();
    for (let index = 0; index < nx * ny; index += 1) {
      const { shard, chunk, point } = placeOfPoint({ nx, ny }, index % nx, Math.floor(index / nx));
      seen.add(`${shard} ${chunk} ${point}`);
      expect(chunks[shard]![chunk]![codeIndex(0, point)]).toBe(index);
      expect(chunks[shard]![chunk]![codeIndex(1, point)]).toBe(index + 1);
    }
    expect(seen.size).toBe(nx * ny);
    const filled = chunks
      .flat(1)
      .reduce((sum, chunk) => sum + chunk.filter((code) => code === 65_535).length, 0);
    const places = chunks.flat(1).length * CHUNK_SIDE ** 2;
    expect(filled).toBe(slices.length * (places - nx * ny));
  });

  test('end in an index of all their chunks, row by row, and its checksum', async () => {
    const [nx, ny] = [13, 30];
    const { bytes, lengthBytes, crc32 } = await encodeShard(
      [named(nx, ny, 0)],
      { nx, ny },
      { row: 0, column: 0 },
    );
    const perSide = SHARD_SIDE / CHUNK_SIDE;
    const indexBytes = perSide * perSide * 16;
    const index = new DataView(bytes.buffer, bytes.byteLength - indexBytes - 4);
    let offset = 0;
    for (let entry = 0; entry < perSide * perSide; entry += 1) {
      const [row, column] = [Math.floor(entry / perSide), entry % perSide];
      const stated = [index.getBigUint64(entry * 16, true), index.getBigUint64(entry * 16 + 8, true)];
      if (row < 3 && column < 2) {
        const length = lengthBytes[row * 2 + column]!;
        expect(stated).toEqual([BigInt(offset), BigInt(length)]);
        expect(statedCrc32(bytes.subarray(offset, offset + length))).toBe(crc32[row * 2 + column]);
        offset += length;
      } else expect(stated).toEqual([2n ** 64n - 1n, 2n ** 64n - 1n]);
    }
    expect(bytes.byteLength).toBe(offset + indexBytes + 4);
    expect(index.getUint32(indexBytes, true)).toBe(crc32c(bytes.subarray(offset, offset + indexBytes)));
  });
});

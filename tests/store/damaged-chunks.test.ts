/** Chunks lost, cut, changed and exchanged: the air over them is unknown, the air beside them as it was, and no number is wrong. */
import fc from 'fast-check';
import { beforeAll, describe, expect, test } from 'vitest';
import { CELL_STATE } from '../../worker/science/columns.ts';
import type { GridManifest, GridShard } from '../../worker/sources/ports.ts';
import { placeOfPoint } from '../../worker/store/grid-chunks.ts';
import type { GridColumn } from '../../worker/store/grid-reader.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { columnsOf, hourOf, type StoredHour, storeHour, waveSlices } from '../support/stored-hour.ts';

/** Two shards, of 8 x 2 and of 2 x 2 chunks. */
const [NX, NY] = [110, 14];
const UNKNOWN = { kind: 'unknown', state: CELL_STATE.decodeFailed };

let stored: StoredHour;
let whole: GridColumn[];
beforeAll(async () => {
  stored = await storeHour(hourOf(NX, NY, waveSlices(NX, NY)));
  whole = await columnsOf(stored);
  expect(whole.every((column) => column.kind === 'profile')).toBe(true);
});

interface Place {
  readonly shard: number;
  readonly chunk: number;
}

const everyChunk = () =>
  stored.manifest.shards.flatMap(({ lengthBytes }, shard) =>
    lengthBytes.map((_, chunk): Place => ({ shard, chunk })),
  );

const offsetOf = ({ lengthBytes }: GridShard, chunk: number) =>
  lengthBytes.slice(0, chunk).reduce((sum, length) => sum + length, 0);

/** The hour with one object made new; undefined takes it away. */
function withShard(shard: number, change: (bytes: Uint8Array) => Uint8Array | undefined): StoredHour {
  const stores = createMemoryStores();
  for (const [key, bytes] of stored.stores.objectMap) stores.objectMap.set(key, bytes.slice());
  const { key } = stored.manifest.shards[shard]!;
  const changed = change(stores.objectMap.get(key)!);
  if (changed === undefined) stores.objectMap.delete(key);
  else stores.objectMap.set(key, changed);
  return { ...stored, stores };
}

/** Chunks that hold a grid point with a share in the column of a point. */
function chunksOfColumn(index: number): string[] {
  const [column, row] = [index % NX, Math.floor(index / NX)];
  const names: string[] = [];
  // columnsOf stands a hundredth of a step inside the edge; elsewhere rounding may touch either neighbor.
  for (const j of [row - 1, row, row + 1])
    for (const i of [column - 1, column, column + 1]) {
      if (i < 0 || j < 0 || i >= NX || j >= NY) continue;
      const { shard, chunk } = placeOfPoint({ nx: NX, ny: NY }, i, j);
      names.push(`${shard} ${chunk}`);
    }
  return names;
}

/** Points in the chunk are unknown, points away from it unchanged, points beside it one of the two. */
async function expectOnlyLost(hour: StoredHour, lost: readonly Place[]): Promise<void> {
  const names = new Set(lost.map(({ shard, chunk }) => `${shard} ${chunk}`));
  const columns = await columnsOf(hour);
  let unknown = 0;
  columns.forEach((column, index) => {
    const own = placeOfPoint({ nx: NX, ny: NY }, index % NX, Math.floor(index / NX));
    if (names.has(`${own.shard} ${own.chunk}`)) expect(column).toEqual(UNKNOWN);
    else if (!chunksOfColumn(index).some((name) => names.has(name))) expect(column).toEqual(whole[index]);
    else if (column.kind === 'profile') expect(column).toEqual(whole[index]);
    if (column.kind === 'unknown') unknown += 1;
  });
  expect(unknown).toBeGreaterThan(0);
}

describe('each chunk in turn', () => {
  test('not listed in the manifest is unknown', async () => {
    for (const { shard, chunk } of everyChunk()) {
      const shards = stored.manifest.shards.map((each, index) =>
        index === shard ? { ...each, lengthBytes: each.lengthBytes.slice(0, chunk) } : each,
      );
      const rest = everyChunk().filter((each) => each.shard === shard && each.chunk >= chunk);
      await expectOnlyLost({ ...stored, manifest: { ...stored.manifest, shards } }, rest);
    }
  });

  test('without a checksum in the manifest is unknown', async () => {
    const [first] = stored.manifest.shards;
    const shards = [{ ...first!, crc32: first!.crc32.slice(0, -1) }, ...stored.manifest.shards.slice(1)];
    const last = { shard: 0, chunk: first!.lengthBytes.length - 1 };
    await expectOnlyLost({ ...stored, manifest: { ...stored.manifest, shards } }, [last]);
  });

  test('of a shard that is gone is unknown', async () => {
    for (const shard of [0, 1]) {
      const lost = everyChunk().filter((each) => each.shard === shard);
      await expectOnlyLost(
        withShard(shard, () => undefined),
        lost,
      );
    }
  });

  test('of a shard the manifest does not list is unknown', async () => {
    const manifest: GridManifest = { ...stored.manifest, shards: stored.manifest.shards.slice(0, 1) };
    await expectOnlyLost(
      { ...stored, manifest },
      everyChunk().filter(({ shard }) => shard === 1),
    );
  });

  test('cut short with all that follows is unknown, and neighbors read in one range with it', async () => {
    for (const place of everyChunk()) {
      const { shard, chunk } = place;
      const listed = stored.manifest.shards[shard]!;
      const hour = withShard(shard, (bytes) => bytes.slice(0, offsetOf(listed, chunk + 1) - 1));
      const columns = await columnsOf(hour);
      columns.forEach((column, index) => {
        const own = placeOfPoint({ nx: NX, ny: NY }, index % NX, Math.floor(index / NX));
        if (own.shard === shard && own.chunk >= chunk) expect(column).toEqual(UNKNOWN);
        else if (column.kind === 'profile') expect(column).toEqual(whole[index]);
      });
    }
  });

  test('with some octets taken out of it is unknown, and so is what follows', async () => {
    for (const { shard, chunk } of everyChunk()) {
      const at = offsetOf(stored.manifest.shards[shard]!, chunk) + 20;
      const hour = withShard(shard, (bytes) => Uint8Array.of(...bytes.slice(0, at), ...bytes.slice(at + 3)));
      await expectOnlyLost(
        hour,
        everyChunk().filter((each) => each.shard === shard && each.chunk >= chunk),
      );
    }
  });

  test('in the place of another is unknown, even of equal length', async () => {
    for (const place of everyChunk()) {
      const other = everyChunk().find(
        (each) => each.shard === place.shard && each.chunk === (place.chunk + 1) % 4,
      )!;
      if (other.chunk === place.chunk) continue;
      await expectOnlyLost(exchanged(place, other.chunk), [place]);
    }
  });

  /** The hour with another chunk's bytes in a chunk's place, and lengths that agree with it. */
  function exchanged({ shard, chunk }: Place, other: number): StoredHour {
    const listed = stored.manifest.shards[shard]!;
    const own = (index: number) => [offsetOf(listed, index), offsetOf(listed, index + 1)] as const;
    const hour = withShard(shard, (bytes) =>
      Uint8Array.of(
        ...bytes.slice(0, own(chunk)[0]),
        ...bytes.slice(...own(other)),
        ...bytes.slice(own(chunk)[1]),
      ),
    );
    const lengthBytes = listed.lengthBytes.map((length, index) =>
      index === chunk ? listed.lengthBytes[other]! : length,
    );
    const shards = stored.manifest.shards.map((each, index) =>
      index === shard ? { ...each, lengthBytes } : each,
    );
    return { ...hour, manifest: { ...stored.manifest, shards } };
  }

  test('of an hour whose shards stand in each other’s place is unknown', async () => {
    const [first, second] = stored.manifest.shards;
    const shards = [
      { ...first!, key: second!.key },
      { ...second!, key: first!.key },
    ];
    await expectOnlyLost({ ...stored, manifest: { ...stored.manifest, shards } }, everyChunk());
  });
});

describe('a bit that is changed', () => {
  test('anywhere in a chunk makes it unknown, or changes no number: a few bits of gzip say nothing of what is in it', async () => {
    const chunks = everyChunk();
    let flips = 0;
    let unknown = 0;
    await fc.assert(
      fc.asyncProperty(fc.nat(), fc.nat(), fc.nat(7), async (pick, where, bit) => {
        const { shard, chunk } = chunks[pick % chunks.length]!;
        const listed = stored.manifest.shards[shard]!;
        const hour = withShard(shard, (bytes) => {
          bytes[offsetOf(listed, chunk) + (where % listed.lengthBytes[chunk]!)]! ^= 1 << bit;
          return bytes;
        });
        const columns = await columnsOf(hour);
        columns.forEach((column, index) => {
          if (column.kind === 'profile') expect(column).toEqual(whole[index]);
          else expect(column).toEqual(UNKNOWN);
        });
        flips += 1;
        unknown += columns.some((column) => column.kind === 'unknown') ? 1 : 0;
      }),
      { numRuns: 60 },
    );
    expect(unknown).toBeGreaterThan(flips / 2);
  });

  test.each([0, 1, 2, 10, 11, -10, -8, -5, -4, -1])('octet %i of a chunk: unknown', async (octet) => {
    const place = { shard: 1, chunk: 2 };
    const listed = stored.manifest.shards[1]!;
    const from = offsetOf(listed, octet < 0 ? place.chunk + 1 : place.chunk);
    const hour = withShard(1, (bytes) => {
      bytes[from + octet]! ^= 0x10;
      return bytes;
    });
    await expectOnlyLost(hour, [place]);
  });
});

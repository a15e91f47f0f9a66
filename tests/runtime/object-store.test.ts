/** One suite for every store of objects: the one in memory that tests use, and R2 in workerd. */
import type { R2Bucket } from '@cloudflare/workers-types';
import { Miniflare } from 'miniflare';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CELL_STATE } from '../../worker/science/columns.ts';
import type { ObjectStore } from '../../worker/sources/ports.ts';
import { createObjectStore } from '../../worker/store/object-store.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { columnsOf, hourOf, storeHour, waveSlices } from '../support/stored-hour.ts';

let miniflare: Miniflare;
const stores: { memory?: ObjectStore; r2?: ObjectStore } = {};
beforeAll(async () => {
  const script = 'export default { fetch() { return new Response() } }';
  miniflare = new Miniflare({ modules: true, script, r2Buckets: ['BUCKET'] });
  stores.memory = createMemoryStores().objects;
  stores.r2 = createObjectStore((await miniflare.getR2Bucket('BUCKET')) as unknown as R2Bucket);
});
afterAll(() => miniflare.dispose());

const TEN = Uint8Array.of(0, 1, 2, 3, 4, 5, 6, 7, 8, 9);

describe.each(['memory', 'r2'] as const)('the store of objects in %s', (name) => {
  let objects: ObjectStore;
  beforeAll(async () => {
    objects = stores[name]!;
    await objects.put('ten', TEN);
  });

  test('gives back what was put, and undefined for what was not', async () => {
    expect(new Uint8Array((await objects.get('ten'))!)).toEqual(TEN);
    expect(await objects.get('eleven')).toBeUndefined();
    expect(await objects.getRange('eleven', { offsetBytes: 0, lengthBytes: 1 })).toBeUndefined();
  });

  test.each([
    [0, 10, TEN],
    [0, 3, Uint8Array.of(0, 1, 2)],
    [4, 2, Uint8Array.of(4, 5)],
    [9, 1, Uint8Array.of(9)],
  ])('gives the range from %i of %i bytes', async (offsetBytes, lengthBytes, expected) => {
    expect(new Uint8Array((await objects.getRange('ten', { offsetBytes, lengthBytes }))!)).toEqual(expected);
  });

  test.each([
    [8, 3],
    [0, 11],
    [10, 1],
    [500, 20],
  ])(
    'gives nothing for the range from %i of %i bytes, which ends past the object',
    async (offsetBytes, lengthBytes) => {
      expect(await objects.getRange('ten', { offsetBytes, lengthBytes })).toBeUndefined();
    },
  );

  test('lists the keys under a prefix behind one, in order, so many of them, with when they were written', async () => {
    for (const key of ['p/b', 'p/a', 'p/c', 'q/a']) await objects.put(key, TEN);
    const keys = async (...asked: Parameters<ObjectStore['listBehind']>) =>
      (await objects.listBehind(...asked)).map(({ key }) => key);
    expect(await keys('p/', '', 10)).toEqual(['p/a', 'p/b', 'p/c']);
    expect(await keys('p/', 'p/a', 10)).toEqual(['p/b', 'p/c']);
    expect(await keys('p/', 'p/aa', 1)).toEqual(['p/b']);
    expect(await keys('p/', 'p/c', 10)).toEqual([]);
    for (const { writtenMs } of await objects.listBehind('p/', '', 10))
      expect(Math.abs(writtenMs - Date.now())).toBeLessThan(60_000);
  });

  test('has deleted what was deleted', async () => {
    await objects.put('gone', TEN);
    await objects.delete(['gone']);
    expect(await objects.get('gone')).toBeUndefined();
  });

  test.each([
    ['gone', 0],
    ['cut to its first octets', 40],
  ])('an hour in it whose shard is %s is unknown all over', async (_, keptBytes) => {
    const stored = await storeHour(hourOf(14, 14, waveSlices(14, 14)), { ...createMemoryStores(), objects });
    expect((await columnsOf(stored)).every(({ kind }) => kind === 'profile')).toBe(true);
    const { key } = stored.manifest.shards[0]!;
    const bytes = new Uint8Array((await objects.get(key))!);
    if (keptBytes === 0) await objects.delete([key]);
    else await objects.put(key, bytes.slice(0, keptBytes));
    expect(
      new Set((await columnsOf(stored)).map((column) => column.kind === 'unknown' && column.state)),
    ).toEqual(new Set([CELL_STATE.decodeFailed]));
  });
});

test('a failure of R2 itself is one: it is not taken for a lost object', async () => {
  const fault = new Error('R2 has gone away');
  const bucket = {
    get: () => Promise.reject(fault),
    head: async () => ({ size: 100 }),
  } as unknown as R2Bucket;
  const range = { offsetBytes: 0, lengthBytes: 10 };
  await expect(createObjectStore(bucket).getRange('key', range)).rejects.toBe(fault);
});

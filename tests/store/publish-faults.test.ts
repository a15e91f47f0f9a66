/** A store that fails in the middle of a publication: the new hour is not seen, and the one before it is served whole. */
import { describe, expect, test } from 'vitest';
import type { Dependencies } from '../../worker/sources/ports.ts';
import { readManifest } from '../../worker/store/grid-reader.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { columnsOf, hourOf, storeHour, waveSlices } from '../support/stored-hour.ts';

const [NX, NY] = [110, 5];

/** Two shards, zarr.json, the manifest; then the row. */
const PUTS = 4;

const older = () => hourOf(NX, NY, waveSlices(NX, NY));
const newer = () =>
  hourOf(
    NX,
    NY,
    waveSlices(NX, NY).map((slice) => ({ ...slice, values: slice.values.map((value) => value * 0.9) })),
  );

/** Stores whose n-th put fails, or whose publication does. */
function failing(stores: Dependencies, atPut: number): Dependencies {
  let puts = 0;
  const fault = new Error('the store has gone away');
  return {
    ...stores,
    objects: {
      ...stores.objects,
      put: async (key, bytes) => {
        puts += 1;
        if (puts === atPut) throw fault;
        await stores.objects.put(key, bytes);
      },
    },
    grids: {
      ...stores.grids,
      publish: async (hour) => {
        if (atPut > PUTS) throw fault;
        return stores.grids.publish(hour);
      },
    },
  };
}

/** What a brief would find. */
async function served(stores: ReturnType<typeof createMemoryStores>) {
  const hours = await stores.grids.find(['demo'], 0, 10_000_000);
  expect(hours.length).toBeLessThanOrEqual(1);
  if (hours.length === 0) return undefined;
  const manifest = (await readManifest(stores.objects, hours[0]!.manifestKey))!;
  return columnsOf({ stores, manifest });
}

const FAULTS = Array.from({ length: PUTS + 1 }, (_, index) => index + 1);

describe('a publication that fails', () => {
  test.each(FAULTS)('at step %i leaves nothing to be seen', async (step) => {
    const stores = createMemoryStores();
    const broken = { ...stores, ...failing(stores, step) };
    await expect(storeHour(newer(), broken)).rejects.toThrow('the store has gone away');
    expect(await served(stores)).toBeUndefined();
  });

  test.each(FAULTS)('at step %i leaves the older hour as it was', async (step) => {
    const stores = createMemoryStores();
    await storeHour(older(), stores);
    const before = await served(stores);
    await expect(storeHour(newer(), { ...stores, ...failing(stores, step) })).rejects.toThrow();
    expect(await served(stores)).toEqual(before);
  });

  test('is a real one: without a fault the newer hour is served', async () => {
    const stores = createMemoryStores();
    await storeHour(older(), stores);
    const before = await served(stores);
    await storeHour(newer(), { ...stores, ...failing(stores, 0) });
    expect(await served(stores)).not.toEqual(before);
  });

  test('writes its objects in the order shards, zarr.json, manifest', async () => {
    const stores = createMemoryStores();
    await storeHour(older(), stores);
    const names = [...stores.objectMap.keys()].map((key) => key.replace(/^grids\/.*?\/0-[0-9a-f-]+\//, ''));
    expect(names).toEqual(['c/0/0/0', 'c/0/0/1', 'zarr.json', 'manifest.json']);
    expect(names).toHaveLength(PUTS);
  });
});

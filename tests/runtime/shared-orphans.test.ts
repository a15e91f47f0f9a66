/** Objects of shared briefs that no row stands for go, bit by bit, and nothing else does. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import type { ListedObject, ObjectStore } from '../../worker/sources/ports.ts';
import { randomName } from '../../worker/sources/shared-briefs.ts';
import { createSharedBriefRepository } from '../../worker/store/shared-brief-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const NOON_MS = Date.UTC(2026, 0, 14, 12);
const DAY_MS = 86_400_000;
const MADE = { brief: new Uint8Array([1]), picture: new Uint8Array([2]), inputs: new Uint8Array([3]) };

let local: LocalD1;
beforeAll(async () => {
  local = await startLocalD1();
});
afterAll(() => local.stop());
beforeEach(async () => {
  for (const table of ['shared_briefs', 'shared_sweeps'])
    await local.db.prepare(`DELETE FROM ${table}`).run();
});

/** Every object was written so long before noon, unless said otherwise of its key. */
function repository({ ageMs = 2 * DAY_MS, ages = new Map<string, number>() } = {}) {
  const memory = createMemoryStores().objects;
  const asked: number[] = [];
  const objects: ObjectStore = {
    ...memory,
    listBehind: async (prefix, afterKey, limit) => {
      const found = await memory.listBehind(prefix, afterKey, limit);
      asked.push(found.length);
      return found.map(({ key }): ListedObject => ({ key, writtenMs: NOON_MS - (ages.get(key) ?? ageMs) }));
    },
  };
  const briefs = createSharedBriefRepository(local.db, objects);
  const share = async () => {
    const id = randomName(16);
    await briefs.put(
      {
        ...{ id, createdMs: NOON_MS, expiresMs: NOON_MS + 30 * DAY_MS, revokedMs: undefined },
        ...{ sha256: 'a', keySha256: 'b', method: '7', operators: ['demo'], request: '{}' },
        ...{ title: '', sentence: '', inputsSha256: 'c', maker: undefined },
      },
      MADE,
    );
    return id;
  };
  const orphan = async (id = randomName(16)) => {
    for (const [ending, bytes] of Object.entries({
      json: MADE.brief,
      png: MADE.picture,
      inputs: MADE.inputs,
    }))
      await objects.put(`shared/${id}.${ending}`, bytes);
    return id;
  };
  return { briefs, objects, share, orphan, asked };
}

it('what was written more than a day ago without a row is deleted, all three of it', async () => {
  const { briefs, objects, share, orphan } = repository();
  const [kept, lost] = [await share(), await orphan()];
  expect(await briefs.sweepOrphans(NOON_MS)).toBe(3);
  expect(await objects.list(`shared/${lost}`)).toEqual([]);
  expect(await objects.list(`shared/${kept}`)).toHaveLength(3);
  expect(await briefs.sweepOrphans(NOON_MS)).toBe(0);
});

it('what was written within the day stays: its row may be about to come', async () => {
  const { briefs, objects, orphan } = repository({ ageMs: DAY_MS - 1 });
  const id = await orphan();
  expect(await briefs.sweepOrphans(NOON_MS)).toBe(0);
  expect(await briefs.sweepOrphans(NOON_MS + 2)).toBe(3);
  expect(await objects.list(`shared/${id}`)).toEqual([]);
});

it('what was taken back while its objects could not be deleted goes with the next round, however young', async () => {
  const { briefs, objects, share, orphan } = repository({ ageMs: 1000 });
  const id = await share();
  const failing = createSharedBriefRepository(local.db, {
    ...objects,
    delete: () => Promise.reject(new Error('no store')),
  });
  await expect(failing.revoke(id, NOON_MS)).rejects.toThrow('no store');
  await orphan(id);
  expect(await briefs.sweepOrphans(NOON_MS)).toBe(3);
  expect(await objects.list('shared/')).toEqual([]);
});

it('what expired is left to the round that empties its row', async () => {
  const { briefs, objects, share } = repository();
  await share();
  const afterMs = NOON_MS + 31 * DAY_MS;
  expect(await briefs.sweepOrphans(afterMs)).toBe(0);
  await briefs.forgetExpired(afterMs);
  expect(await objects.list('shared/')).toEqual([]);
});

it('no other object is touched, wherever it lies and whatever its name', async () => {
  const { briefs, objects } = repository();
  const others = [
    'grids/one',
    `shared/${'x'.repeat(21)}.json`,
    'shared/list',
    `shared/${'x'.repeat(22)}.txt`,
  ];
  for (const key of others) await objects.put(key, MADE.brief);
  expect(await briefs.sweepOrphans(NOON_MS)).toBe(0);
  expect(await objects.list('')).toHaveLength(others.length);
});

it('looks at so many a round, goes on behind them in the next, and begins anew at the end', async () => {
  const { briefs, objects, share, orphan, asked } = repository();
  for (let each = 0; each < 150; each += 1) await orphan();
  const kept = [await share(), await share(), await share()];
  const swept: number[] = [];
  for (let round = 0; round < 3; round += 1) swept.push(await briefs.sweepOrphans(NOON_MS));
  expect(asked[0]).toBe(400);
  expect(asked[0]! + asked[1]!).toBe(459);
  expect(swept[0]! + swept[1]!).toBe(450);
  // From the beginning: only what stands is left.
  expect([asked[2], swept[2]]).toEqual([9, 0]);
  expect(await objects.list('shared/')).toHaveLength(3 * kept.length);
});

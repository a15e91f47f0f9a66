/** Rows of shared briefs on D1 and their bytes: what ends leaves nothing behind but that it ended. */
import { afterAll, beforeAll, beforeEach, expect, it } from 'vitest';
import type { SharedBrief } from '../../worker/sources/shared-briefs.ts';
import {
  createSharedBriefRepository,
  createWriteCounts,
} from '../../worker/store/shared-brief-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const NOON_MS = Date.UTC(2026, 0, 14, 12);
const DAY_MS = 86_400_000;

let local: LocalD1;
beforeAll(async () => {
  local = await startLocalD1();
});
afterAll(() => local.stop());
beforeEach(async () => {
  for (const table of ['shared_briefs', 'write_counts']) await local.db.prepare(`DELETE FROM ${table}`).run();
});

function repository() {
  const { objects } = createMemoryStores();
  return { briefs: createSharedBriefRepository(local.db, objects), objects };
}

function sharedBrief(id: string, more: Partial<SharedBrief> = {}): SharedBrief {
  return {
    id,
    createdMs: NOON_MS,
    expiresMs: NOON_MS + 30 * DAY_MS,
    revokedMs: undefined,
    sha256: 'a'.repeat(64),
    keySha256: 'b'.repeat(64),
    method: '7',
    operators: ['demo', 'open'],
    request: '{"route":"AAAA BBBB"}',
    title: "AAAA to BBBB: it's 11,000 ft",
    sentence: 'File 11,000 ft',
    inputsSha256: 'c'.repeat(64),
    maker: { operator: 'local' },
    ...more,
  };
}
const MADE = {
  brief: new TextEncoder().encode('{}'),
  picture: new Uint8Array([137, 80, 78, 71]),
  inputs: new Uint8Array([31, 139]),
};
const LEG_WORDS = /AAAA|11,000/;
const rowOf = async (id: string) =>
  JSON.stringify(await local.db.prepare('SELECT * FROM shared_briefs WHERE id = ?1').bind(id).first());

it('gives back what was put, bytes, picture and inputs beside it', async () => {
  const { briefs } = repository();
  await briefs.put(sharedBrief('one'), MADE);
  expect(await briefs.find('one')).toEqual(sharedBrief('one'));
  expect(new Uint8Array((await briefs.bytesOf('one'))!)).toEqual(MADE.brief);
  expect(new Uint8Array((await briefs.pictureOf('one'))!)).toEqual(MADE.picture);
  expect(new Uint8Array((await briefs.inputsOf('one'))!)).toEqual(MADE.inputs);
  expect(await briefs.find('other')).toBeUndefined();
});

it.each([undefined, { operator: 'local' }, { operator: 'local', boardKeyId: 'k1' }])(
  'keeps that it was made by %j, with inputs or without',
  async (maker) => {
    const { briefs } = repository();
    const { brief, picture } = MADE;
    const made = sharedBrief('one', { maker, inputsSha256: undefined });
    await briefs.put(made, { brief, picture });
    expect(await briefs.find('one')).toEqual(made);
    expect(await briefs.inputsOf('one')).toBeUndefined();
  },
);

it('never writes over one that is there', async () => {
  const { briefs } = repository();
  await briefs.put(sharedBrief('one'), MADE);
  await expect(briefs.put(sharedBrief('one', { title: 'another' }), MADE)).rejects.toThrow(/UNIQUE/);
  expect(await briefs.find('one')).toEqual(sharedBrief('one'));
});

it('taken back leaves no bytes, no picture, no inputs and no word of the leg, and keeps the first time it was', async () => {
  const { briefs, objects } = repository();
  await briefs.put(sharedBrief('one'), MADE);
  await briefs.put(sharedBrief('two'), MADE);
  expect(await rowOf('one')).toMatch(LEG_WORDS);
  await briefs.revoke('one', NOON_MS + 1);
  await briefs.revoke('one', NOON_MS + 2);
  expect((await briefs.find('one'))?.revokedMs).toBe(NOON_MS + 1);
  expect(await objects.list('shared/one')).toEqual([]);
  expect(await rowOf('one')).not.toMatch(LEG_WORDS);
  expect(await briefs.find('two')).toEqual(sharedBrief('two'));
  expect(await objects.list('shared/two')).toHaveLength(3);
});

it('expired goes in rounds, once each, and the row goes long after', async () => {
  const { briefs, objects } = repository();
  await briefs.put(sharedBrief('old'), MADE);
  await briefs.put(sharedBrief('new', { expiresMs: NOON_MS + 40 * DAY_MS }), MADE);
  const afterMs = NOON_MS + 30 * DAY_MS + 1;
  expect(await briefs.forgetExpired(afterMs - 1)).toBe(0);
  expect(await briefs.forgetExpired(afterMs)).toBe(1);
  expect(await briefs.forgetExpired(afterMs)).toBe(0);
  expect(await objects.list('shared/old')).toEqual([]);
  expect(await objects.list('shared/new')).toHaveLength(3);
  expect(await rowOf('old')).not.toMatch(LEG_WORDS);
  expect((await briefs.find('old'))?.expiresMs).toBe(NOON_MS + 30 * DAY_MS);
  await briefs.forgetExpired(NOON_MS + 121 * DAY_MS);
  expect(await briefs.find('old')).toBeUndefined();
});

it('counts writes of each sender and window apart, also at once, and forgets old windows', async () => {
  const counts = createWriteCounts(local.db);
  const at = (sender: string, windowMs: number) => counts.count(sender, windowMs);
  expect((await Promise.all([at('a', 0), at('a', 0), at('a', 0)])).toSorted()).toEqual([1, 2, 3]);
  expect([await at('b', 0), await at('a', 600_000)]).toEqual([1, 1]);
  await counts.forgetBefore(600_000);
  expect([await at('a', 0), await at('a', 600_000)]).toEqual([1, 2]);
});

/** A shared brief is made again from what it was made from, for as long as its link is open, whatever the stores hold by then. */
import { gunzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { replayInputs } from '../../worker/brief/recorded-inputs.ts';
import { proofSchema } from '../../worker/schema/shared-brief.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import type { SharedBytes } from '../../worker/sources/shared-briefs.ts';
import { gridStores } from '../brief/hourly-grids.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { type SharingService, sharingService } from '../support/sharing-service.ts';
import { DECK_AIR, DRY_AIR, LEG, NOON_MS, over } from '../support/winter-leg.ts';

const HOUR_MS = 3_600_000;
const prove = async ({ ask }: SharingService, id: string) =>
  proofSchema.parse(await (await ask(`/api/briefs/${id}/proof`, { method: 'POST' })).json());
const bytesOf = async (response: Response) => new Uint8Array(await response.arrayBuffer());

/** Every store but that of the shared briefs is another, with nothing in it. */
function empty({ stores }: SharingService): void {
  const { sharedBriefs, writeCounts, page, nowMs } = stores;
  Object.assign(stores, createMemoryStores(), { sharedBriefs, writeCounts, page, nowMs });
}

describe('the proof', () => {
  it('is equal at once, after newer data have come, and after what it was made from was replaced', async () => {
    const all = await sharingService();
    const { id, sha256 } = await all.share();
    const equal = { outcome: 'equal', over: 'inputs', againSha256: sha256, why: '' };
    expect(await prove(all, id)).toMatchObject(equal);
    all.later(HOUR_MS);
    await all.stores.soundings.put('demo', [over(DECK_AIR, NOON_MS)], all.stores.nowMs());
    expect(await prove(all, id)).toMatchObject(equal);
    await all.stores.soundings.put('demo', [over(DECK_AIR, NOON_MS - HOUR_MS)], all.stores.nowMs());
    expect(await prove(all, id)).toMatchObject(equal);
  });

  it('is equal after every store was emptied, to the last minute of the link', async () => {
    const all = await sharingService();
    const { id, sha256 } = await all.share();
    empty(all);
    expect((await all.ask('/api/brief', { method: 'POST', body: JSON.stringify(LEG) })).status).toBe(422);
    expect(await prove(all, id)).toMatchObject({ outcome: 'equal', againSha256: sha256 });
    all.later(30 * 24 * HOUR_MS - 1);
    expect(await prove(all, id)).toMatchObject({ outcome: 'equal', againSha256: sha256 });
  });

  it('is equal after the forecast that it was made from was retired and its objects deleted', async () => {
    const stores = await gridStores([0, 1, 2].map((afterH) => ({ afterH, isMoist: true })));
    const all = await sharingService(stores);
    const { id, sha256 } = await all.share();
    const brief = await (await all.ask(`/api/briefs/${id}`)).json();
    expect(brief.brief.data.map(({ kind }: { kind: string }) => kind)).toContain('grid');
    await stores.grids.retire('demo', { validBeforeMs: NOON_MS + 9 * HOUR_MS, keepRuns: 0, nowMs: NOON_MS });
    await stores.objects.delete(await stores.objects.list('grids/'));
    expect(await all.brief()).not.toBe(JSON.stringify(brief));
    expect(await prove(all, id)).toMatchObject({ outcome: 'equal', againSha256: sha256 });
  });

  it('differs where a byte of the inputs or of the brief is another, or they are gone', async () => {
    const all = await sharingService();
    const { id } = await all.share();
    const { sharedBriefs } = all.stores;
    const row = (await sharedBriefs.find(id))!;
    const kept: SharedBytes = {
      brief: new Uint8Array((await sharedBriefs.bytesOf(id))!),
      picture: new Uint8Array(),
      inputs: new Uint8Array((await sharedBriefs.inputsOf(id))!),
    };
    const flipped = (bytes: Uint8Array) => bytes.with(40, bytes[40]! ^ 1);
    for (const [damage, why] of [
      [{ inputs: flipped(kept.inputs!) }, /stored inputs/],
      [{ inputs: undefined }, /stored inputs/],
      [{ brief: flipped(kept.brief) }, /stored brief/],
    ] as const) {
      await sharedBriefs.put(row, { ...kept, ...damage });
      const proof = await prove(all, id);
      expect(proof).toMatchObject({ outcome: 'different', againSha256: null });
      expect(proof.why).toMatch(why);
    }
    await sharedBriefs.put(row, kept);
    expect((await prove(all, id)).outcome).toBe('equal');
  });

  it('differs where the row names other inputs, which make another brief or too little for one', async () => {
    const [all, other] = [await sharingService(), await sharingService()];
    await other.stores.soundings.put('demo', [over(DECK_AIR, NOON_MS - HOUR_MS)], NOON_MS);
    const body = JSON.stringify({ ...LEG, route: 'BBBB AAAA' });
    const elsewhere = (await (await other.ask('/api/briefs', { method: 'POST', body })).json()) as {
      id: string;
    };
    const { id } = await all.share();
    for (const [of, why] of [
      [(await other.share()).id, /From the same inputs/],
      [elsewhere.id, /reads what was not read then/],
    ] as const) {
      const inputs = new Uint8Array((await other.stores.sharedBriefs.inputsOf(of))!);
      const row = { ...(await all.stores.sharedBriefs.find(id))!, inputsSha256: await sha256Hex(inputs) };
      const brief = new Uint8Array((await all.stores.sharedBriefs.bytesOf(id))!);
      await all.stores.sharedBriefs.put(row, { brief, picture: new Uint8Array(), inputs });
      const proof = await prove(all, id);
      expect(proof.outcome).toBe('different');
      expect(proof.why).toMatch(why);
    }
  });

  it('is not tried with another version of the method, nor with a request that is taken no more', async () => {
    const all = await sharingService();
    const { id } = await all.share();
    const row = (await all.stores.sharedBriefs.find(id))!;
    const bytes = {
      brief: new Uint8Array((await all.stores.sharedBriefs.bytesOf(id))!),
      picture: new Uint8Array(),
    };
    await all.stores.sharedBriefs.put({ ...row, method: '0.0.1' }, bytes);
    expect(await prove(all, id)).toMatchObject({ outcome: 'other-method', againSha256: null });
    await all.stores.sharedBriefs.put({ ...row, request: '{"way":"AAAA BBBB"}' }, bytes);
    const proof = await prove(all, id);
    expect(proof).toMatchObject({ outcome: 'different', againSha256: null });
    expect(proof.why).toContain('does not fit the contract');
  });
});

describe('a brief that was shared without its inputs', () => {
  const withoutInputs = async () => {
    const all = await sharingService();
    const { id, sha256 } = await all.share();
    const row = { ...(await all.stores.sharedBriefs.find(id))!, inputsSha256: undefined };
    const brief = new Uint8Array((await all.stores.sharedBriefs.bytesOf(id))!);
    await all.stores.sharedBriefs.put(row, { brief, picture: new Uint8Array() });
    return { all, id, sha256 };
  };

  it('is made again from what the stores still hold of that time: equal, also after newer data have come', async () => {
    const { all, id, sha256 } = await withoutInputs();
    const equal = { outcome: 'equal', over: 'stores', againSha256: sha256 };
    expect(await prove(all, id)).toMatchObject(equal);
    all.later(HOUR_MS);
    await all.stores.soundings.put('demo', [over(DECK_AIR, NOON_MS)], all.stores.nowMs());
    expect(await prove(all, id)).toMatchObject(equal);
  });

  it('differs once the data it was made from were replaced', async () => {
    const { all, id, sha256 } = await withoutInputs();
    all.later(HOUR_MS);
    await all.stores.soundings.put('demo', [over(DECK_AIR, NOON_MS - HOUR_MS)], all.stores.nowMs());
    const proof = await prove(all, id);
    expect(proof).toMatchObject({ outcome: 'different', over: 'stores', sha256 });
    expect(proof.againSha256).not.toBe(sha256);
    expect(proof.why).toContain('loaded again, replaced or retired');
  });

  it('has none to give', async () => {
    const { all, id } = await withoutInputs();
    const response = await all.ask(`/api/briefs/${id}/inputs`);
    expect(response.status).toBe(404);
    expect((await response.json()).title).toMatch(/not kept/);
  });
});

describe('the inputs', () => {
  it('are given to whoever has the link, who makes the same bytes of them alone', async () => {
    const { ask, share } = await sharingService();
    const { id, sha256, inputsSha256 } = await share();
    const response = await ask(`/api/briefs/${id}/inputs`);
    expect(response.headers.get('cache-control')).toMatch(/private/);
    expect(response.headers.get('x-robots-tag')).toMatch(/noindex/);
    expect(response.headers.get('content-type')).toBe('application/gzip');
    const file = await bytesOf(response);
    expect(await sha256Hex(file)).toBe(inputsSha256);
    const calls = JSON.parse(gunzipSync(file).toString()).answers.map(({ call }: { call: string }) => call);
    expect(calls).toEqual(expect.arrayContaining(['soundings.find', 'grids.find', 'places.byIdent']));
    const request = { ...LEG, options: { ...LEG.options, curtain: true } };
    const again = await makeBrief(await replayInputs(file), request, { operators: ['demo'] });
    expect(await sha256Hex(JSON.stringify(again))).toBe(sha256);
  });

  it('go with the brief: none are given once it was taken back or has expired', async () => {
    const { ask, share, remove, later, stores } = await sharingService();
    const [one, other] = [await share(), await share()];
    await remove(one.id, one.key);
    expect((await ask(`/api/briefs/${one.id}/inputs`)).status).toBe(410);
    expect(await stores.sharedBriefs.inputsOf(one.id)).toBeUndefined();
    later(30 * 24 * HOUR_MS);
    expect((await ask(`/api/briefs/${other.id}/inputs`)).status).toBe(410);
  });

  it('hold what was there and nothing that came later', async () => {
    const { ask, share, stores, later } = await sharingService();
    const { id } = await share();
    const before = await bytesOf(await ask(`/api/briefs/${id}/inputs`));
    later(HOUR_MS);
    await stores.soundings.put('demo', [over(DRY_AIR, NOON_MS)], stores.nowMs());
    expect(await bytesOf(await ask(`/api/briefs/${id}/inputs`))).toEqual(before);
  });
});

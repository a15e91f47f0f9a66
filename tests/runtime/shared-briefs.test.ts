/** Shared briefs with real D1 and R2: bytes that outlive the service that made them, and end when they should. */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { replayInputs } from '../../worker/brief/recorded-inputs.ts';
import { loadDemo } from '../../worker/cli/demo.ts';
import { type LocalInstance, newKey, startInstance } from '../../worker/cli/local-instance.ts';
import type { AboutBrief, CreatedBrief } from '../../worker/schema/shared-brief.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';

const keys = { local: newKey(), demo: newKey() };
const stateFolder = mkdtempSync(join(tmpdir(), 'rimeway-shared-'));
let instance: LocalInstance;
const start = () => startInstance({ port: 0, stateFolder, keys });
beforeAll(async () => {
  instance = await start();
  await loadDemo(instance.baseUrl, keys.demo);
});
afterAll(async () => {
  await instance?.stop();
  rmSync(stateFolder, { recursive: true, force: true });
});

const LEG = {
  route: 'KBTV KBGR',
  departure: { atUtc: '2026-01-14T11:30:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: { fluidOnBoardL: 80 },
};
const share = async (): Promise<CreatedBrief> =>
  (await (
    await fetch(`${instance.baseUrl}/api/briefs`, { method: 'POST', body: JSON.stringify(LEG) })
  ).json()) as CreatedBrief;
const open = (id: string) => fetch(`${instance.baseUrl}/api/briefs/${id}`);

it('the bytes are the same after the service was stopped and started anew, and prove to be what the data make', async () => {
  const { id, sha256 } = await share();
  const before = await (await open(id)).text();
  await instance.stop();
  instance = await start();
  const after = await open(id);
  expect(await after.text()).toBe(before);
  expect(after.headers.get('etag')).toBe(`"${sha256}"`);
  const proof = await fetch(`${instance.baseUrl}/api/briefs/${id}/proof`, { method: 'POST' });
  expect(await proof.json()).toMatchObject({ outcome: 'equal', over: 'inputs', againSha256: sha256 });
});

it('gives what it was made from, with the hash that was told, and it makes the same bytes here too', async () => {
  const { id, sha256, inputsSha256 } = await share();
  const answer = await fetch(`${instance.baseUrl}/api/briefs/${id}/inputs`);
  expect(answer.headers.get('content-type')).toBe('application/gzip');
  const inputs = new Uint8Array(await answer.arrayBuffer());
  expect(await sha256Hex(inputs)).toBe(inputsSha256);
  const { request } = (await (
    await fetch(`${instance.baseUrl}/api/briefs/${id}/about`)
  ).json()) as AboutBrief;
  const operators = ['demo', 'local', 'open'];
  const again = await makeBrief(await replayInputs(inputs), request!, { operators });
  expect(await sha256Hex(JSON.stringify(again))).toBe(sha256);
});

it('its link opens the built page with a preview, at once', async () => {
  const { link } = await share();
  const html = await (await fetch(`${instance.baseUrl}${link}`)).text();
  expect(html).toContain('og:title" content="KBTV to KBGR, 2026-01-14 11:30 UTC: file 11,000 ft"');
  expect(html).toContain('og:description" content="Invented data. As of ');
  expect(html).toContain('<div id="page">');
});

it('what is taken back is gone, and the round of the schedule goes through', async () => {
  const { id, key } = await share();
  const headers = { authorization: `Bearer ${key}` };
  const removed = await fetch(`${instance.baseUrl}/api/briefs/${id}`, { method: 'DELETE', headers });
  expect(removed.status).toBe(204);
  expect((await open(id)).status).toBe(410);
  await instance.schedule();
  expect((await open(id)).status).toBe(410);
});

it('two at once are two, each with a key of its own', async () => {
  const [one, other] = await Promise.all([share(), share()]);
  expect(one.id).not.toBe(other.id);
  expect(one.sha256).toBe(other.sha256);
  const headers = { authorization: `Bearer ${one.key}` };
  expect(
    (await fetch(`${instance.baseUrl}/api/briefs/${other.id}`, { method: 'DELETE', headers })).status,
  ).toBe(401);
});

/** What is told of a shared brief stays told, whatever the contract takes by then. */
import { expect, it } from 'vitest';
import { aboutBriefSchema } from '../../worker/schema/shared-brief.ts';
import { frozenShared } from '../support/frozen-shared.ts';
import { type SharingService, sharingService } from '../support/sharing-service.ts';

const about = async ({ ask }: SharingService, id: string) => {
  const response = await ask(`/api/briefs/${id}/about`);
  expect(response.status).toBe(200);
  return aboutBriefSchema.parse(await response.json());
};

async function withRequest(request: object) {
  const all = await sharingService();
  const { id } = await all.share();
  const row = { ...(await all.stores.sharedBriefs.find(id))!, request: JSON.stringify(request) };
  const brief = new TextEncoder().encode(frozenShared('v1').brief);
  await all.stores.sharedBriefs.put(row, { brief, picture: new Uint8Array() });
  return { all, id };
}

it('a request of a released shape is told as it was asked, and can be asked again', async () => {
  const { request } = frozenShared('v1').about;
  const { all, id } = await withRequest(request);
  const told = await about(all, id);
  expect(told.request).toEqual(request);
  expect(told).not.toHaveProperty('storedRequest');
});

it.each([
  ['has a member that is gone', { ...frozenShared('v1').about.request, wingColor: 'red' }],
  ['lacks one that is new', { route: 'AAAA BBBB' }],
  ['names the route otherwise', { ...frozenShared('v1').about.request, route: 7 }],
])(
  'a request that %s by today’s contract is told as it was stored, and the brief opens',
  async (_name, request) => {
    const { all, id } = await withRequest(request);
    const told = await about(all, id);
    expect(told.request).toBeNull();
    expect(told.storedRequest).toEqual(request);
    expect(await (await all.ask(`/api/briefs/${id}`)).text()).toBe(frozenShared('v1').brief);
  },
);

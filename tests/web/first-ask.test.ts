/** The brief that is asked for before the page is worked out goes to whoever asks for the very same, and to nobody else. */
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import type { BriefRequest } from '../../worker/schema/request.ts';

const request: BriefRequest = {
  route: 'KBTV DCT KBGR',
  departure: { atUtc: '2026-01-14T11:30Z' },
  aircraft: 'generic-fluid-turboprop',
};
const ADDRESS = '?route=KBTV+DCT+KBGR&departure=2026-01-14T11%3A30Z&aircraft=generic-fluid-turboprop';

let calls: { readonly path: string; readonly init: RequestInit }[];

/** The module as a page opened at an address loads it. */
async function opened(search: string) {
  vi.resetModules();
  vi.stubGlobal('location', { search });
  const module = await import('../../web/src/first-ask.ts');
  module.startFirstAsk();
  return module;
}

beforeEach(() => {
  calls = [];
  vi.stubGlobal('fetch', (path: string, init: RequestInit) => {
    calls.push({ path, init });
    return Promise.resolve(new Response('{}'));
  });
});
afterEach(() => vi.unstubAllGlobals());

it('the same leg takes the answer that is under way, once', async () => {
  const { briefCall, takeFirstAnswer } = await opened(ADDRESS);
  const { body } = briefCall(request);
  expect(calls.map(({ path, init }) => [path, init.body])).toEqual([['/api/brief', body]]);
  expect(await takeFirstAnswer(body, new AbortController().signal)).toBeInstanceOf(Response);
  expect(takeFirstAnswer(body, new AbortController().signal)).toBeUndefined();
});

it('another leg does not: the first call is given up, and not offered again', async () => {
  const { briefCall, takeFirstAnswer } = await opened(ADDRESS);
  const other = briefCall({ ...request, departure: { atUtc: '2026-01-14T12:30Z' } }).body;
  expect(takeFirstAnswer(other, new AbortController().signal)).toBeUndefined();
  expect(calls[0]?.init.signal?.aborted).toBe(true);
  expect(takeFirstAnswer(briefCall(request).body, new AbortController().signal)).toBeUndefined();
});

it('who took it may still give it up', async () => {
  const { briefCall, takeFirstAnswer } = await opened(ADDRESS);
  const asking = new AbortController();
  await takeFirstAnswer(briefCall(request).body, asking.signal);
  expect(calls[0]?.init.signal?.aborted).toBe(false);
  asking.abort();
  expect(calls[0]?.init.signal?.aborted).toBe(true);
});

it.each(['', '?route=KBTV', `${ADDRESS}&fluid=lots`])(
  'nothing is asked for at the address "%s"',
  async (search) => {
    await opened(search);
    expect(calls).toEqual([]);
  },
);

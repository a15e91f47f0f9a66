/** A report is kept whatever becomes of its comparison with forecasts. */
import { afterEach, expect, it, vi } from 'vitest';
import { createApp } from '../../worker/app.ts';
import type { Settings } from '../../worker/env.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { FIELDS, NOON_MS } from '../support/winter-leg.ts';

afterEach(() => vi.restoreAllMocks());

const KEY = 'a-key-that-is-long-enough';

async function post(stores: MemoryStores) {
  const settings: Settings = {
    keyHashes: new Map([['local', await sha256Hex(KEY)]]),
    openOperators: [],
    operatingArea: undefined,
    supply: { models: [], operator: 'open', horizonMs: 0, baseUrl: undefined },
    terrain: undefined,
    reportsKeptMs: 0,
  };
  const response = await createApp(stores, settings).request('/api/reports', {
    method: 'POST',
    body: 'AAAA UA /OV AAAA/TM 1150/FL060/TP ZZZZ/IC LGT RIME=',
    headers: { authorization: `Bearer ${KEY}` },
  });
  return { status: response.status, answer: await response.json() };
}

it.each<[string, Partial<MemoryStores>]>([
  [
    'the scores',
    {
      scores: {
        ...createMemoryStores().scores,
        begin: () => Promise.reject(new Error('made to fail')),
      },
    },
  ],
  [
    'the clock',
    {
      nowMs: vi
        .fn<() => number>()
        .mockReturnValueOnce(NOON_MS)
        .mockImplementation(() => {
          throw new Error('made to fail');
        }),
    },
  ],
])('%s may fail: the report is stored, none is scored, and somebody is told', async (_, broken) => {
  const told = vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const stores = { ...createMemoryStores({ places: FIELDS, nowMs: NOON_MS }), ...broken };
  const { status, answer } = await post(stores);
  expect(status).toBe(201);
  expect(answer).toMatchObject({ stored: 1, scored: 0 });
  expect(told).toHaveBeenCalled();
  expect(await stores.reports.counts(['local'])).toHaveLength(1);
});

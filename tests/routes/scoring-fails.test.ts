/** A report is kept and answered for whatever becomes of its comparison with forecasts, which is asked for part by part. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { createApp } from '../../worker/app.ts';
import type { Settings } from '../../worker/env.ts';
import { skillAnswerSchema } from '../../worker/schema/skill.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { FIELDS, NOON_MS } from '../support/winter-leg.ts';

afterEach(() => vi.restoreAllMocks());

const KEY = 'a-key-that-is-long-enough';

async function appOver(stores: MemoryStores) {
  const settings: Settings = {
    keyHashes: new Map([['local', await sha256Hex(KEY)]]),
    openOperators: [],
    operatingArea: undefined,
    supply: { models: [], operator: 'open', horizonMs: 0, baseUrl: undefined, bulletinUrls: [] },
    terrain: undefined,
    reportsKeptMs: 0,
    signIn: undefined,
    push: undefined,
    alarmUrl: undefined,
  };
  return createApp(stores, settings);
}

const headers = { authorization: `Bearer ${KEY}` };
const UPLOAD = {
  method: 'POST',
  body: 'AAAA UA /OV AAAA/TM 1150/FL060/TP ZZZZ/SK OVC020-TOP130/IC LGT RIME=',
  headers,
};

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
        // The gate's look at it, then the upload's.
        .mockReturnValueOnce(NOON_MS)
        .mockReturnValueOnce(NOON_MS)
        .mockImplementation(() => {
          throw new Error('made to fail');
        }),
    },
  ],
])('%s may fail: the report is stored, none is scored, and somebody is told', async (_, broken) => {
  const told = vi.spyOn(console, 'error').mockImplementation(() => undefined);
  const stores = { ...createMemoryStores({ places: FIELDS, nowMs: NOON_MS }), ...broken };
  const response = await (await appOver(stores)).request('/api/reports', UPLOAD);
  expect(response.status).toBe(201);
  expect(await response.json()).toMatchObject({ stored: 1 });
  expect(told).toHaveBeenCalled();
  expect(await stores.reports.counts(['local'])).toHaveLength(1);
});

const winter = () => createMemoryStores({ places: FIELDS, nowMs: NOON_MS });
const EVERYTHING = { operators: ['local'], fromMs: 0, beforeMs: 1e15, box: undefined };

it('where the platform goes on after the answer, nobody waits for the scores', async () => {
  const stores = winter();
  const gate = Promise.withResolvers<void>();
  const begin: MemoryStores['scores']['begin'] = async (...report) => {
    await gate.promise;
    return stores.scores.begin(...report);
  };
  const after: Promise<unknown>[] = [];
  const platform = {
    waitUntil: (work: Promise<unknown>) => after.push(work),
    passThroughOnException: () => undefined,
    props: {},
  };
  const app = await appOver({ ...stores, scores: { ...stores.scores, begin } });
  const response = await app.request('/api/reports', UPLOAD, {}, platform);
  expect(response.status).toBe(201);
  expect(await stores.scores.waiting(EVERYTHING)).toBe(1);
  gate.resolve();
  await Promise.all(after);
  expect(after).toHaveLength(1);
  expect(await stores.scores.waiting(EVERYTHING)).toBe(0);
});

it('elsewhere the scores are there with the answer', async () => {
  const stores = winter();
  await (await appOver(stores)).request('/api/reports', UPLOAD);
  expect(await stores.scores.waiting(EVERYTHING)).toBe(0);
});

describe('GET /api/skill', () => {
  /** After an upload; with the questions that were put to the store. */
  async function asked(query: string) {
    const stores = winter();
    await (await appOver(stores)).request('/api/reports', UPLOAD);
    const questions: string[] = [];
    const scores = new Proxy(stores.scores, {
      get: (target, name, self) => {
        questions.push(String(name));
        return Reflect.get(target, name, self);
      },
    });
    const response = await (await appOver({ ...stores, scores })).request(`/api/skill${query}`, { headers });
    expect(response.status).toBe(200);
    return { questions: questions.sort(), answer: skillAnswerSchema.parse(await response.json()) };
  }

  it('has both parts where nothing else is asked for', async () => {
    const { answer } = await asked('');
    expect(answer).toMatchObject({ parts: ['tops', 'skill'], reports: { total: 1, ice: 1, waiting: 0 } });
    expect([answer.tops.length, answer.sources.length]).toEqual([1, 1]);
  });

  it('for the tops alone counts nothing', async () => {
    const { questions, answer } = await asked('?parts=tops');
    expect(questions).toEqual(['tops']);
    expect(answer).toMatchObject({
      parts: ['tops'],
      sources: [],
      cautions: [],
      tops: [{ reportedTopFt: 13_000 }],
    });
  });

  it('for the skill alone lists no tops', async () => {
    const { questions, answer } = await asked('?parts=skill');
    expect(questions).not.toContain('tops');
    expect(answer).toMatchObject({ parts: ['skill'], tops: [], reports: { total: 1 } });
    expect(answer.cautions.length).toBeGreaterThan(0);
  });
});

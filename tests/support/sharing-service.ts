/** The application over stores in memory, with what tests of shared briefs do again and again. */
import { createApp } from '../../worker/app.ts';
import type { Settings } from '../../worker/env.ts';
import { type CreatedBrief, createdBriefSchema } from '../../worker/schema/shared-brief.ts';
import { sha256Hex } from '../../worker/sources/sha256-hex.ts';
import { createMemoryStores, type MemoryStores } from './memory-stores.ts';
import { DRY_AIR, FIELDS, LEG, NOON_MS, over } from './winter-leg.ts';

/** Of the operators `other` and `third`. */
export const OPERATOR_KEYS = {
  other: 'an-operator-s-key-of-another',
  third: 'an-operator-s-key-of-a-third',
} as const;

export interface SharingService {
  readonly stores: MemoryStores;
  readonly ask: (path: string, init?: RequestInit) => Promise<Response>;
  /** Lets time pass. */
  readonly later: (ms: number) => void;
  /** Shares the winter leg. */
  readonly share: (key?: string) => Promise<CreatedBrief>;
  readonly remove: (id: string, key?: string) => Promise<Response>;
  /** The same leg briefed now, with its cells. */
  readonly brief: () => Promise<string>;
}

/** @param given  Default: an ascent of dry air an hour before noon. It is noon. */
export async function sharingService(given?: MemoryStores): Promise<SharingService> {
  let nowMs = NOON_MS;
  const stores: MemoryStores = {
    ...(given ?? createMemoryStores({ places: FIELDS })),
    nowMs: () => nowMs,
  };
  if (given === undefined)
    await stores.soundings.put('demo', [over(DRY_AIR, NOON_MS - 3_600_000)], NOON_MS - 60_000);
  const app = createApp(stores, await settings());
  const ask = async (path: string, init: RequestInit = {}) => app.request(`http://rimeway.test${path}`, init);
  const withKey = (key?: string) =>
    key === undefined ? {} : { headers: { authorization: `Bearer ${key}` } };
  return {
    stores,
    ask,
    later: (ms) => {
      nowMs += ms;
    },
    share: async (key) => {
      const response = await ask('/api/briefs', {
        method: 'POST',
        body: JSON.stringify(LEG),
        ...withKey(key),
      });
      if (response.status !== 201) throw new Error(`share: found ${response.status}, expected 201`);
      return createdBriefSchema.parse(await response.json());
    },
    remove: (id, key) => ask(`/api/briefs/${id}`, { method: 'DELETE', ...withKey(key) }),
    brief: async () => {
      const body = JSON.stringify({ ...LEG, options: { ...LEG.options, curtain: true } });
      return (await ask('/api/brief', { method: 'POST', body })).text();
    },
  };
}

async function settings(): Promise<Settings> {
  const hashes = Object.entries(OPERATOR_KEYS).map(
    async ([name, key]) => [name, await sha256Hex(key)] as const,
  );
  return {
    keyHashes: new Map(await Promise.all(hashes)),
    openOperators: ['demo'],
    operatingArea: undefined,
    supply: { models: [], operator: 'open', horizonMs: 0, baseUrl: undefined, bulletinUrls: [] },
    terrain: undefined,
    reportsKeptMs: 0,
    signIn: undefined,
    push: undefined,
    alarmUrl: undefined,
  };
}

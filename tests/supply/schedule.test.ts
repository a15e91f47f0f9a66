import { beforeEach, describe, expect, it } from 'vitest';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import type { GridHour } from '../../worker/sources/ports.ts';
import type { SupplyHour } from '../../worker/sources/supply.ts';
import { runSchedule, type ScheduleDeps } from '../../worker/supply/schedule.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';

const H = 3_600_000;
const NOW = Date.UTC(2026, 0, 15, 10);

let stores: MemoryStores;
let sent: SupplyHour[][];
beforeEach(() => {
  stores = createMemoryStores();
  sent = [];
});
const deps = (changes: Partial<ScheduleDeps> = {}): ScheduleDeps => ({
  ...stores,
  models: [OPEN_MODELS['gfs-0p25']],
  operator: 'open',
  horizonMs: 6 * H,
  reportsKeptMs: 24 * H,
  send: async (hours) => {
    sent.push([...hours]);
  },
  nowMs: () => NOW,
  ...changes,
});

describe('runSchedule', () => {
  it('asks once for what is wanted, and not again while it waits', async () => {
    const first = await runSchedule(deps());
    expect(first.asked.length).toBeGreaterThan(6);
    expect(sent.flat()).toEqual(first.asked);
    expect((await runSchedule(deps())).asked).toEqual([]);
    expect(sent).toHaveLength(1);
  });

  it('a queue that takes nothing leaves nothing waiting for ever', async () => {
    const broken = deps({ send: () => Promise.reject(new Error('queue is full')) });
    await expect(runSchedule(broken)).rejects.toThrow('queue is full');
    const rows = await stores.supply.since(0);
    expect(new Set(rows.map(({ state }) => state))).toEqual(new Set(['unsent']));
    expect(rows[0]?.detail).toBe('queue: queue is full');
    const later = await runSchedule(deps({ nowMs: () => NOW + 5 * 60_000 }));
    expect(later.asked.length).toBeGreaterThan(6);
  });

  it('a queue that takes nothing does not keep the store from being cleaned', async () => {
    await stores.grids.begin({ prefix: 'p', operator: 'open', nowMs: NOW - 3 * H });
    await stores.objects.put('p/one', new Uint8Array(1));
    const broken = deps({ send: () => Promise.reject(new Error('queue is full')) });
    await expect(runSchedule(broken)).rejects.toThrow('queue is full');
    expect([...stores.objectMap.keys()]).toEqual([]);
  });

  it('two rounds at once ask for every hour once', async () => {
    const rounds = await Promise.all([runSchedule(deps()), runSchedule(deps())]);
    const asked = rounds
      .flatMap((each) => each.asked)
      .map(({ runMs, forecastHour }) => `${runMs} ${forecastHour}`);
    expect(asked.length).toBeGreaterThan(6);
    expect(new Set(asked).size).toBe(asked.length);
    expect(sent.flat()).toHaveLength(asked.length);
  });

  it('hides outlived hours of the supply, and none where no model is set: nothing newer comes for those', async () => {
    const hour = (runMs: number): GridHour => ({
      operator: 'open',
      model: 'a',
      runMs,
      validMs: NOW,
      manifestKey: `grids/open/a/${runMs}/manifest.json`,
      ingestedMs: NOW,
      spacingM: 3000,
      hasCloudWater: true,
    });
    for (const back of [1, 2, 3, 4]) await stores.grids.publish(hour(NOW - back * H));
    await stores.grids.publish({ ...hour(NOW - 9 * H), validMs: NOW - 8 * H });
    expect((await runSchedule(deps({ models: [] }))).retiredHours).toBe(0);
    expect((await runSchedule(deps())).retiredHours).toBe(2);
    const kept = await stores.grids.list(['open'], 10);
    expect(kept.map(({ runMs }) => (NOW - runMs) / H).toSorted()).toEqual([1, 2, 3]);
  });

  it('sends no more messages in one call than a queue takes', async () => {
    await runSchedule(deps({ models: Object.values(OPEN_MODELS), horizonMs: 48 * H }));
    expect(sent.length).toBeGreaterThan(1);
    expect(Math.max(...sent.map((part) => part.length))).toBeLessThanOrEqual(100);
  });

  it('asks for nothing when no model is set, and still cleans up', async () => {
    await stores.grids.begin({ prefix: 'grids/open/a/0/6/x', operator: 'open', nowMs: NOW - 3 * H });
    await stores.objects.put('grids/open/a/0/6/x/c/0/0/0', new Uint8Array(1));
    await stores.objects.put('grids/open/a/0/6/xy', new Uint8Array(1));
    const result = await runSchedule(deps({ models: [] }));
    expect(result).toMatchObject({ asked: [], deletedPrefixes: 1 });
    // Of a name that only begins alike nothing is deleted.
    expect([...stores.objectMap.keys()]).toEqual(['grids/open/a/0/6/xy']);
  });

  it('deletes objects before their note, so that a crash between the two leaves nothing lost', async () => {
    await stores.grids.begin({ prefix: 'p', operator: 'open', nowMs: NOW - 3 * H });
    await stores.objects.put('p/one', new Uint8Array(1));
    const crashing = deps({
      models: [],
      grids: { ...stores.grids, forgetPrefix: () => Promise.reject(new Error('crash')) },
    });
    await expect(runSchedule(crashing)).rejects.toThrow('crash');
    expect([...stores.objectMap.keys()]).toEqual([]);
    expect((await runSchedule(deps({ models: [] }))).deletedPrefixes).toBe(1);
    expect((await runSchedule(deps({ models: [] }))).deletedPrefixes).toBe(0);
  });
});

/** What a round of scoring may cost, and what one bad read does to the reports after it. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { type Limits, scoreDue } from '../../worker/brief/score-reports.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import type { MemoryStores } from '../support/memory-stores.ts';
import { NOON_MS } from '../support/winter-leg.ts';
import { gridStores } from './hourly-grids.ts';

const H = 3_600_000;
const NOW_MS = NOON_MS + H;
const MANY: Limits = { reports: 100, reads: 1000, columns: 100_000 };

afterEach(() => {
  vi.restoreAllMocks();
});

/** Two hours of a run over everything, and these reports of some minutes after noon. */
async function world(...bodies: readonly string[]): Promise<MemoryStores> {
  const stores = {
    ...(await gridStores([0, 1].map((afterH) => ({ afterH, isMoist: true, runBeforeH: 2 })))),
  };
  const now = { ...stores, nowMs: () => NOW_MS };
  const text = bodies.map((body, at) => `AAAA UA ${body}/TM 12${10 + at}/FL060/TP ZZZZ/IC LGT RIME=`);
  const reading = { nearMs: NOW_MS, nowMs: NOW_MS, notAfterMs: NOW_MS };
  const { reports } = await keepReports(now, 'demo', text.join('\n'), reading);
  expect(reports).toHaveLength(bodies.length);
  return now;
}

describe('a round', () => {
  it('ends after the columns that it may diagnose: a leg of 64 NM costs more of them than a place', async () => {
    // Three curtains a report: by the model, of the brief, and of the brief with nothing as new, where nothing speaks.
    const counted = async (columns: number, ...bodies: readonly string[]) =>
      (await scoreDue(await world(...bodies), [], { ...MANY, columns })).scored;
    expect(await counted(3, '/OV AAAA', '/OV AAAA', '/OV AAAA')).toBe(1);
    expect(await counted(4, '/OV AAAA', '/OV AAAA', '/OV AAAA')).toBe(2);
    // 1.5 degrees of longitude at 44.5 N are 13 steps of at most 5 NM, 14 columns. The leg is the newest, and comes first.
    const LEG = '/OV 4430N07300W-4430N07130W';
    expect(await counted(3 * 14, '/OV AAAA', '/OV AAAA', LEG)).toBe(1);
    expect(await counted(3 * 14 + 1, '/OV AAAA', '/OV AAAA', LEG)).toBe(2);
  });

  it('reads again what could not be read: one bad read costs one report, and that only this round', async () => {
    const stores = await world('/OV AAAA', '/OV AAAA', '/OV AAAA');
    vi.spyOn(console, 'error').mockImplementation(() => undefined);
    let reads = 0;
    const get: MemoryStores['objects']['get'] = async (key) => {
      reads += 1;
      if (reads === 1) throw new Error('made to fail');
      return stores.objects.get(key);
    };
    const flaky = { ...stores, objects: { ...stores.objects, get } };
    expect(await scoreDue(flaky, [], MANY)).toEqual({ scored: 2, failed: 1 });
    const later = { ...flaky, nowMs: () => NOW_MS + H };
    expect(await scoreDue(later, [], MANY)).toEqual({ scored: 1, failed: 0 });
    const query = { operators: ['demo'], fromMs: 0, beforeMs: 1e15, box: undefined };
    expect(
      (await later.scores.tallies(query)).map(({ kind, outcome }) => `${kind} ${outcome}`).sort(),
    ).toEqual([
      ...Array.from({ length: 3 }, () => 'brief hit'),
      ...Array.from({ length: 3 }, () => 'model hit'),
    ]);
  });
});

/** A report that has grown old is no sign that what it told of has ended. */
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import { READING } from '../support/invented-reports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';

const HOUR_MS = 3_600_000;

/** Dry air all morning under these texts. */
async function briefOver(texts: readonly string[]): Promise<Brief['brief']> {
  const stores = createMemoryStores({ places: FIELDS });
  const air = [0, 2, 4].map((afterH) => over(DRY_AIR, NOON_MS + afterH * HOUR_MS));
  await stores.soundings.put('demo', air, 0);
  for (const text of texts) await keepReports(stores, 'demo', text, { ...READING, nowMs: NOON_MS });
  return (await makeBrief(stores, LEG, { operators: ['demo'] })).brief;
}

describe('freezing rain reported before noon', () => {
  const FREEZING = 'METAR BBBB 141150Z 02010KT 3000 -FZRA OVC010 M02/M03 Q1002=';

  it('puts the leg outside limits, and leaves later departures unknown, never better', async () => {
    const { verdict, departures, ways } = await briefOver([FREEZING]);
    expect(verdict.code).toBe('outside-limits');
    expect(departures).toHaveLength(3);
    for (const { verdict: later, recommendedAltitudeFt, byAltitude } of departures) {
      expect(['unknown', 'outside-limits']).toContain(later.code);
      expect(recommendedAltitudeFt).toBeNull();
      expect(byAltitude.some((each) => each.verdict === 'no-ice-found')).toBe(false);
    }
    expect(departures.at(-1)!.verdict.sentence).toMatch(/freezing rain at 11:50 UTC, and nothing newer says/);
    expect(ways.find(({ isBest }) => isBest)!.kind).toBe('cancel');
  });

  it('without it every departure is as the air is', async () => {
    const { departures } = await briefOver([]);
    expect(departures.map(({ verdict }) => verdict.code)).toEqual(Array(3).fill('no-ice-found'));
  });
});

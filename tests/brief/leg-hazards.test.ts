/** Reports and warnings from the text to the brief; the texts and places are invented. */
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { type Brief, type BriefFeature, briefSchema } from '../../worker/schema/brief.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import type { ReportRepository } from '../../worker/sources/reports.ts';
import { INVENTED_PLACES, READING } from '../support/invented-reports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

interface Leg {
  readonly route?: string | object;
  readonly atUtc?: string;
  readonly reports?: Partial<ReportRepository>;
  /** Texts of a second operator, whose name comes first. */
  readonly others?: readonly string[];
}

/** The leg from AAAA to BBBB at noon, 86 NM, over the reports of these texts and no other data. */
async function briefOver(texts: readonly string[], leg: Leg = {}): Promise<Brief> {
  const { route, atUtc, reports, others = [] } = leg;
  const stores = createMemoryStores({ places: INVENTED_PLACES });
  for (const text of texts) await keepReports(stores, 'open', text, READING);
  for (const text of others) await keepReports(stores, 'another', text, READING);
  const request = {
    route: (route ?? 'AAAA BBBB') as string,
    departure: { atUtc: atUtc ?? '2026-01-14T12:00:00Z' },
    aircraft: 'generic-fluid-turboprop',
  };
  const deps = { ...stores, reports: { ...stores.reports, ...reports } };
  return makeBrief(deps, request, { operators: ['another', 'open'] });
}

type HazardFeature = Extract<BriefFeature, { properties: { kind: 'report' | 'warning' } }>;
const hazardsOf = (brief: Brief) =>
  brief.features.filter(
    (feature): feature is HazardFeature =>
      feature.properties.kind === 'report' || feature.properties.kind === 'warning',
  );
const told = async (texts: readonly string[], leg?: Leg) =>
  hazardsOf(await briefOver(texts, leg)).map(
    ({ properties }) => `${properties.severity}: ${properties.sentence}`,
  );

const METAR = 'METAR BBBB 141150Z 09010KT 2000 FZRA OVC010 M02/M03 Q1010=';
const TAF = 'TAF BBBB 141100Z 1412/1512 09010KT 9999 BKN015 TEMPO 1412/1414 FZRA=';
const UA = 'BBBB UA /OV CCC/TM 1150/FL080/TP ZZZZ';
const sigmet = (area: string) =>
  `CZUL SIGMET 2 VALID 141100/141500 CWUL-\nCZUL MONTREAL FIR SEV ICE FCST ${area} FL080/140 STNR NC=`;
const AROUND = 'WI N44 W074 - N44 W070 - N46 W070 - N46 W074 - N44 W074';

describe('a brief', () => {
  it('tells of freezing rain at the destination, though no model and no ascent does', async () => {
    const [feature] = hazardsOf(await briefOver([METAR]));
    expect(feature).toMatchObject({
      geometry: { type: 'Point', coordinates: [-71, 44.5] },
      properties: {
        kind: 'report',
        reportKind: 'metar',
        severity: 'large-drops',
        sentence: 'BBBB reports freezing rain at 11:50 UTC',
        validFromUtc: '2026-01-14T11:50:00.000Z',
        validToUtc: '2026-01-14T13:50:00.000Z',
        issuedUtc: '2026-01-14T11:50:00.000Z',
        lowerFt: null,
        // Nothing is known of the air: it may go up to any height.
        upperFt: null,
      },
    });
    expect(feature!.properties.toNm).toBeCloseTo(85.8, 0);
    expect(feature!.properties.fromNm).toBeGreaterThan(55);
  });

  it('says nothing where nothing was reported', async () => {
    expect(await told([])).toEqual([]);
  });

  it.each<[string, string[], string[]]>([
    [
      'TEMPO freezing rain in a forecast',
      [TAF],
      ['large-drops: BBBB forecasts freezing rain 12:00 to 14:00 UTC'],
    ],
    [
      'a pilot who met severe ice',
      [`${UA}/IC SEV CLR=`],
      ['severe: Pilot report: severe clear ice 8,000 ft at 11:50 UTC'],
    ],
    ['a pilot who met none', [`${UA}/IC NEG=`], []],
    ['a warning', [sigmet(AROUND)], ['severe: SIGMET 2: severe icing FL080 to FL140 until 15:00 UTC']],
    [
      'a warning that was taken back',
      [
        sigmet(AROUND),
        'CZUL SIGMET 3 VALID 141230/141500 CWUL-\nCZUL MONTREAL FIR CNL SIGMET 2 141100/141500=',
      ],
      [],
    ],
    ['a warning far away', [sigmet('WI N34 W074 - N34 W070 - N36 W070 - N36 W074 - N34 W074')], []],
    [
      'a warning whose area cannot be read',
      [sigmet('WI N44 W0 - N4')],
      ['severe: SIGMET 2: severe icing FL080 to FL140 until 15:00 UTC'],
    ],
    ['the same of another continent', [sigmet('WI N44 W0 - N4').replaceAll('CZUL', 'EDGG')], []],
    ['a field far away', [METAR.replace('BBBB', 'KFAR')], []],
  ])('over %s', async (_, texts, expected) => {
    expect(await told(texts)).toEqual(expected);
  });

  it('that a pilot met none takes nothing away', async () => {
    const all = [METAR, TAF, sigmet(AROUND), `${UA}/IC SEV CLR=`];
    expect(await told([...all, `${UA.replace('1150', '1155')}/IC NEG=`])).toEqual(await told(all));
  });

  it('an expired forecast and an old observation do nothing', async () => {
    const dayAfter = { atUtc: '2026-01-15T16:00:00Z' };
    expect(await told([METAR, TAF, sigmet(AROUND)], dayAfter)).toEqual([]);
    expect(await told([METAR], { atUtc: '2026-01-14T14:30:00Z' })).toEqual([]);
  });

  it('a warning across the antimeridian is met on both sides of it', async () => {
    const area = 'WI N50 E178 - N50 W178 - N54 W178 - N54 E178 - N50 E178';
    const warning = sigmet(area).replaceAll('CZUL', 'PAZA');
    const route = {
      type: 'LineString',
      coordinates: [
        [176, 52],
        [-176, 52],
      ],
    };
    const [feature] = hazardsOf(await briefOver([warning], { route }));
    expect(feature!.geometry?.type).toBe('MultiPolygon');
    const { fromNm, toNm } = feature!.properties;
    // 2 degrees of longitude are 74 NM there; a corridor of 10 NM and half a step of 2.5 NM reach on.
    expect([fromNm, toNm].map((distance) => Math.round(distance / 10))).toEqual([6, 23]);
  });

  it('lists a warning without a place, with no geometry', async () => {
    const [feature] = hazardsOf(await briefOver([sigmet('WI N44 W0 - N4')]));
    expect(feature).toMatchObject({ geometry: null, properties: { kind: 'warning', fromNm: 0 } });
  });

  it('says that reports are left out where the store gave a part of them', async () => {
    const reports = { find: async () => ({ reports: [], isPartial: true }) };
    expect(await told([], { reports })).toEqual(['unstated: Some reports around the leg could not be read']);
  });

  it('tells the same of two operators once', async () => {
    const texts = [METAR, TAF, sigmet(AROUND)];
    expect(await told(texts, { others: texts })).toEqual(await told(texts));
  });

  it('keeps the copy of a forecast that another operator replaced for himself', async () => {
    const amended = 'TAF AMD BBBB 141130Z 1412/1512 09010KT 9999 BKN015=';
    expect(await told([TAF], { others: [TAF, amended] })).toEqual(await told([TAF]));
  });

  it('names each of two copies that hold for different times by itself', async () => {
    const amended = 'TAF AMD BBBB 141130Z 1413/1512 09010KT 9999 BKN015=';
    const copies = hazardsOf(await briefOver([TAF], { others: [TAF, amended] }));
    expect(copies).toHaveLength(2);
    expect(new Set(copies.map(({ id }) => id)).size).toBe(2);
  });

  it('is the same for the same reports in any order, or twice', async () => {
    const texts = [METAR, TAF, sigmet(AROUND), `${UA}/IC SEV CLR=`];
    const once = JSON.stringify(await briefOver(texts));
    expect(JSON.stringify(await briefOver([...texts].reverse()))).toBe(once);
    expect(JSON.stringify(await briefOver([...texts, ...texts]))).toBe(once);
  });

  it('fits the contract with every kind of feature', async () => {
    const brief = await briefOver([
      METAR,
      sigmet(AROUND),
      sigmet('WI N44 W0 - N4').replace('SIGMET 2', 'SIGMET 4'),
    ]);
    expect(hazardsOf(brief)).toHaveLength(3);
    expect(briefSchema.safeParse(JSON.parse(JSON.stringify(brief))).error).toBeUndefined();
  });

  it('never tells of less for a report more', async () => {
    const texts = [
      METAR,
      TAF,
      sigmet(AROUND),
      `${UA}/IC SEV CLR=`,
      `${UA}/IC NEG=`,
      METAR.replace('FZRA', 'BR').replace('1150', '1155'),
    ];
    for (let count = 0; count < texts.length; count += 1) {
      const fewer = await told(texts.slice(0, count));
      expect(await told(texts.slice(0, count + 1))).toEqual(expect.arrayContaining(fewer));
    }
  });
});

/** What pilots said beside ice, from the text to the brief: told with age and distance, and without any effect. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { type Brief, type BriefFeature, briefSchema } from '../../worker/schema/brief.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import { INVENTED_PLACES, READING } from '../support/invented-reports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, NOON_MS, NOTHING_PLANNED, over } from '../support/winter-leg.ts';

interface Given {
  readonly atUtc?: string;
  /** Texts of a second operator, whose name comes first. */
  readonly others?: readonly string[];
  readonly air?: typeof DECK_AIR;
}

/** From AAAA to BBBB at noon, 86 NM along one parallel; CCC lies on the way. */
async function briefOver(texts: readonly string[], given: Given = {}): Promise<Brief> {
  const { atUtc = '2026-01-14T12:00:00Z', others = [], air } = given;
  const stores = createMemoryStores({ places: INVENTED_PLACES });
  await keepReports(stores, 'open', texts.join('\n'), READING);
  await keepReports(stores, 'another', others.join('\n'), READING);
  if (air !== undefined) await stores.soundings.put('open', [over(air, NOON_MS)], 0);
  const request = {
    route: 'AAAA BBBB',
    departure: { atUtc },
    aircraft: 'generic-fluid-turboprop',
    options: {
      fluidOnBoardL: 60,
      minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 4000 }],
      planned: NOTHING_PLANNED,
      laterDepartures: 1,
    },
  };
  return makeBrief(stores, request, { operators: ['another', 'open'] });
}

type Note = Extract<BriefFeature, { properties: { kind: 'pilot-note' } }>;
const isNote = (feature: BriefFeature): feature is Note => feature.properties.kind === 'pilot-note';
const notesOf = ({ features }: Brief) => features.filter(isNote);
const toldBy = async (texts: readonly string[], given?: Given) =>
  notesOf(await briefOver(texts, given)).map(({ properties }) => properties.sentence);

const ua = (elements: string, place = 'CCC', clock = '1150') =>
  `BBBB UA /OV ${place}/TM ${clock}/FL080/TP ZZZZ${elements}=`;
const METAR = 'METAR BBBB 141150Z 09010KT 2000 FZRA OVC010 M02/M03 Q1010=';
const SIGMET =
  'CZUL SIGMET 2 VALID 141100/141500 CWUL-\nCZUL MONTREAL FIR SEV ICE FCST WI N44 W074 - N44 W070 - N46 W070 - N46 W074 - N44 W074 FL080/140 STNR NC=';

describe('a note in the brief', () => {
  it('tells what a pilot said, where and when', async () => {
    // CCC360012: 12 NM north of the beacon half way.
    const [note, ...others] = notesOf(await briefOver([ua('/TA M08/IC NEG 060-080', 'CCC360012')]));
    expect(others).toEqual([]);
    expect(note).toMatchObject({
      geometry: { type: 'Point', coordinates: [expect.closeTo(-72, 0), expect.closeTo(44.7, 1)] },
      properties: {
        kind: 'pilot-note',
        reportKind: 'pirep',
        noIce: true,
        clouds: [],
        temperatureC: -8,
        sentence: 'Pilot report at 11:50 UTC: no ice met 6,000-8,000 ft, -8 °C',
        issuedUtc: '2026-01-14T11:50:00.000Z',
        lowerFt: 6000,
        upperFt: 8000,
      },
    });
    const { fromRouteNm, fromNm, toNm } = note!.properties;
    expect(fromRouteNm).toBeCloseTo(12, 0);
    expect(fromNm).toBe(toNm);
    expect(Math.abs(fromNm - 43)).toBeLessThan(5);
  });

  it.each([
    ['AAAA', 0],
    ['BBBB', 85.8],
  ])('of %s stands at that end alone', async (place, atNm) => {
    const [note] = notesOf(await briefOver([ua('/IC NEG', place)]));
    const { fromNm, toNm, fromRouteNm } = note!.properties;
    expect([fromNm, fromRouteNm]).toEqual([toNm, 0]);
    expect(fromNm).toBeCloseTo(atNm, 0);
  });

  it('of a place that is known no better than its station has none, and no distance', async () => {
    const [note] = notesOf(await briefOver(['BBBB UA /OV ZZZ/TM 1150/FL080/TP ZZZZ/IC NEG=']));
    expect(note).toMatchObject({ geometry: null, properties: { fromRouteNm: null, fromNm: 0 } });
  });

  it('reaches as far and as long as ice that a pilot met', async () => {
    const near = ua('/IC NEG', 'CCC360025');
    const ice = ua('/IC SEV CLR', 'CCC360025');
    for (const [text, atUtc] of [
      [near, '2026-01-14T12:00:00Z'],
      [near.replace('025/', '080/'), '2026-01-14T12:00:00Z'],
      [near, '2026-01-14T14:15:00Z'],
      [near, '2026-01-14T15:00:00Z'],
    ] as const) {
      const iceText = text.replace('/IC NEG', '/IC SEV CLR');
      const features = (await briefOver([iceText], { atUtc })).features;
      const isIceTold = features.some(({ properties }) => properties.kind === 'report');
      expect((await toldBy([text], { atUtc })).length > 0).toBe(isIceTold);
    }
    expect(await toldBy([near])).toHaveLength(1);
    expect(await toldBy([near], { atUtc: '2026-01-14T15:00:00Z' })).toEqual([]);
    expect(await toldBy([ice])).toEqual([]);
  });

  it('tells cloud of a report of ice, whose temperature alone it leaves out', async () => {
    expect(await toldBy([ua('/SK OVC040-TOP095/IC LGT RIME')])).toEqual([
      'Pilot report at 11:50 UTC: tops 9,500 ft, bases 4,000 ft',
    ]);
    expect(await toldBy([ua('/TA M08/IC LGT RIME')])).toEqual([]);
  });

  it('is one for the same report twice, in two bulletins or of two operators', async () => {
    const text = ua('/IC NEG');
    expect(await toldBy([text, text, text.replace('ZZZZ', 'YYYY')], { others: [text] })).toHaveLength(1);
  });

  it('is the newest 40 of many, and says that there are more', async () => {
    const many = Array.from({ length: 45 }, (_, minute) =>
      ua(`/IC NEG/TA M${10 + minute}`, 'CCC', `11${10 + minute}`),
    );
    const notes = notesOf(await briefOver(many));
    expect(notes).toHaveLength(41);
    expect(notes[0]!.properties.issuedUtc).toBe('2026-01-14T11:54:00.000Z');
    expect(notes[39]!.properties.issuedUtc).toBe('2026-01-14T11:15:00.000Z');
    expect(notes[40]!.properties).toMatchObject({
      reportKind: null,
      noIce: false,
      sentence: 'There are more pilot reports than are listed',
    });
    expect(notesOf(await briefOver(many.slice(0, 40)))).toHaveLength(40);
  });

  it('fits the contract', async () => {
    const brief = await briefOver([ua('/SK OVC040-TOP095/TA M08/IC NEG'), ua('/IC SEV'), METAR]);
    expect(notesOf(brief)).toHaveLength(1);
    expect(briefSchema.safeParse(JSON.parse(JSON.stringify(brief))).error).toBeUndefined();
  });
});

describe('a report of ice in the brief', () => {
  const distances = async (texts: readonly string[]) =>
    (await briefOver(texts)).features.flatMap(({ properties }) =>
      properties.kind === 'report' ? [properties.fromRouteNm] : [],
    );

  it('says how far from the route its place is', async () => {
    expect(await distances([ua('/IC SEV CLR', 'CCC180020')])).toEqual([expect.closeTo(20, 0)]);
    expect(await distances([METAR])).toEqual([0]);
  });

  it('says no distance where its place is not known', async () => {
    expect(await distances([ua('/IC SEV CLR', 'ZZZ')])).toEqual([null]);
  });
});

/** Elements that tell of no ice: denied, silent, with cloud and temperature. */
const element = fc.tuple(
  fc.constantFrom('', '/SK OVC040-TOP095', '/SK BKN030-TOP060/OVC100', '/SK SKC', '/SK OVC'),
  fc.constantFrom('', '/TA M08', '/TA 02'),
  fc.constantFrom('', '/IC NEG', '/IC NEG 040-060', '/IC NEG BLO 060', '/IC NEG ABV 080'),
);
const nullReport = fc
  .tuple(
    element,
    fc.constantFrom('CCC', 'AAAA', 'AAAA-BBBB', 'CCC360012', 'CCC180028', 'ZZZ', 'KFAR'),
    fc.integer({ min: 1100, max: 1159 }),
  )
  .map(([elements, place, clock]) => ua(elements.join(''), place, String(clock)));

describe('any set of reports that tell of no ice', () => {
  /** Everything but the notes, as it is sent. */
  const bytes = (brief: Brief) =>
    JSON.stringify({ ...brief, features: brief.features.filter((feature) => !isNote(feature)) });

  it('changes no byte of the brief but the notes: neither verdict nor ranking, hazards, bands nor figures', async () => {
    let noted = 0;
    const verdicts = new Set<string>();
    const dangers = [[], [METAR], [SIGMET], [ua('/IC SEV CLR 060-080')], [ua('/IC LGT RIME', 'CCC180020')]];
    await fc.assert(
      fc.asyncProperty(
        fc.array(nullReport, { minLength: 1, maxLength: 8 }),
        fc.constantFrom(...dangers),
        fc.constantFrom(undefined, DECK_AIR, DRY_AIR),
        async (nulls, texts, air) => {
          const given = air === undefined ? {} : { air };
          const without = await briefOver(texts, given);
          const withNulls = await briefOver([...nulls, ...texts], given);
          noted += notesOf(withNulls).length;
          verdicts.add(without.brief.verdict.code);
          expect(bytes(withNulls)).toBe(bytes(without));
        },
      ),
      { numRuns: 30 },
    );
    expect(noted).toBeGreaterThan(20);
    expect(verdicts.size).toBeGreaterThan(1);
  });
});

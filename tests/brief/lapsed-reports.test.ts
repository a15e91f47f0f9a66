/** A report that has grown old is no sign that what it told of has ended. */
import { describe, expect, it } from 'vitest';
import { laterDepartures } from '../../worker/brief/later-departures.ts';
import { chooseLeg } from '../../worker/brief/leg-choice.ts';
import { aircraftOf, makeLegPlan } from '../../worker/brief/leg-plan.ts';
import { readLeg } from '../../worker/brief/leg-reads.ts';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import { resolveRoute } from '../../worker/brief/resolve-route.ts';
import { settled } from '../../worker/brief/settings.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import { READING } from '../support/invented-reports.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DRY_AIR, FIELDS, LEG, NOON_MS, over } from '../support/winter-leg.ts';

const HOUR_MS = 3_600_000;
const operators = ['demo'];

/** Dry air all morning under these texts. */
async function storesUnder(texts: readonly string[]) {
  const stores = createMemoryStores({ places: FIELDS });
  const air = [0, 2, 4].map((afterH) => over(DRY_AIR, NOON_MS + afterH * HOUR_MS));
  await stores.soundings.put('demo', air, 0);
  for (const text of texts) await keepReports(stores, 'demo', text, { ...READING, nowMs: NOON_MS });
  return stores;
}

async function briefOver(
  texts: readonly string[],
  { options, aircraft = LEG.aircraft }: Partial<Pick<BriefRequest, 'options' | 'aircraft'>> = {},
): Promise<Brief['brief']> {
  const request = { ...LEG, aircraft, options: { ...LEG.options, ...options } };
  return (await makeBrief(await storesUnder(texts), request, { operators })).brief;
}

const codesOf = ({ departures }: Brief['brief']) => departures.map(({ verdict }) => verdict.code);

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
    expect(departures.at(-1)!.verdict.sentence).toMatch(/freezing rain at 11:50 UTC, and what became of it/);
    expect(ways.find(({ isBest }) => isBest)!.kind).toBe('cancel');
  });

  it('at the alternate leaves the later departures unknown that come there after it has grown old', async () => {
    const atAlternate = FREEZING.replace('BBBB', 'CCCC');
    const answer = await briefOver([atAlternate], { options: { alternate: 'CCCC' } });
    expect(answer.verdict.code).toBe('outside-limits');
    expect(codesOf(answer)).toEqual(['outside-limits', 'unknown', 'unknown']);
    expect(answer.departures.at(-1)!.verdict.sentence).toMatch(/^Unknown: CCCC reports freezing rain/);
    expect(answer.ways.find(({ isBest }) => isBest)!.kind).toBe('cancel');
  });

  it('without it every departure is as the air is', async () => {
    expect(codesOf(await briefOver([]))).toEqual(Array(3).fill('no-ice-found'));
  });
});

describe('severe ice that a pilot met low over the destination', () => {
  it('leaves a departure unknown that nears the place in time and gets there after the report has grown old', async () => {
    const low = 'BBBB UA /OV BBBB/TM 1105/FL010/TP ZZZZ/IC SEV CLR=';
    const answer = await briefOver([low], { options: { altitudesFt: [9000] } });
    expect(answer.verdict.code).toBe('outside-limits');
    expect(codesOf(answer)).toEqual(['unknown', 'unknown', 'unknown']);
  });
});

describe('moderate ice that a pilot met before noon', () => {
  const MODERATE = 'BBBB UA /OV BBBB/TM 1150/FL080/TP ZZZZ/IC MOD RIME=';
  const at8000 = { altitudesFt: [8000] };

  it('keeps later departures within limits at best when its report has grown old, and they say so', async () => {
    const answer = await briefOver([MODERATE], { options: at8000 });
    expect(answer.verdict.code).toBe('within-limits');
    expect(codesOf(answer)).toEqual(['within-limits', 'within-limits', 'within-limits']);
    const last = answer.departures.at(-1)!;
    expect(last.verdict.sentence).toBe(
      'File 8,000 ft: no ice found on the whole path. Pilot report: moderate rime ice 8,000 ft at 11:50 UTC, and what became of it is not known',
    );
    expect(last.recommendedAltitudeFt).toBe(8000);
    expect(last.byAltitude).toMatchObject([{ verdict: 'within-limits', standing: 'recommended' }]);
    expect(answer.ways.find(({ isBest }) => isBest)!.id).toBe('filed');
  });

  it.each([
    ['moderate', 'MOD RIME'],
    ['light, whose severity counts as unstated', 'LGT RIME'],
  ])('%s: gives the reason report-grown-old', async (_what, ice) => {
    const stores = await storesUnder([MODERATE.replace('MOD RIME', ice)]);
    const resolved = await resolveRoute(LEG.route, {
      places: stores.places,
      operators,
      departureMs: NOON_MS,
    });
    const plan = makeLegPlan({
      options: settled({ ...LEG.options, ...at8000 }),
      aircraft: aircraftOf(LEG.aircraft),
      departureMs: NOON_MS,
      resolved,
    });
    const reads = await readLeg(stores, plan, { operators, laterByMs: 3 * HOUR_MS });
    const { choice } = laterDepartures(chooseLeg(plan, reads), {}).at(-1)!;
    expect(choice.verdict.code).toBe('within-limits');
    expect(choice.verdict.reasons[0]).toMatchObject({
      code: 'report-grown-old',
      numbers: { kind: 'pilot-report' },
    });
    expect(choice.recommended!.verdict).toBe('within-limits');
  });

  it('leaves them unknown for an aeroplane not certified for icing', async () => {
    const answer = await briefOver([MODERATE], {
      options: { ...at8000, fluidOnBoardL: undefined },
      aircraft: 'generic-unprotected-single',
    });
    expect(answer.verdict.code).toBe('outside-limits');
    expect(codesOf(answer)).toEqual(['outside-limits', 'unknown', 'unknown']);
    expect(answer.departures.at(-1)!.recommendedAltitudeFt).toBeNull();
  });
});

describe('a warning of severe icing', () => {
  it('holds no departure back that leaves after its end: it says itself when that is', async () => {
    const warning =
      'CZUL SIGMET 2 VALID 141100/141300 CWUL-\nCZUL MONTREAL FIR SEV ICE FCST WI N44 W074 - N44 W069 - N46 W069 - N46 W074 - N44 W074 FL060/140 STNR NC=';
    const answer = await briefOver([warning], { options: { altitudesFt: [8000] } });
    expect(answer.verdict.code).toBe('outside-limits');
    expect(codesOf(answer).slice(1)).toEqual(['no-ice-found', 'no-ice-found']);
  });
});

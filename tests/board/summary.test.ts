/** What a board keeps of a brief. */
import { beforeAll, describe, expect, it } from 'vitest';
import { arrivalMsOf, type EvaluationContext, evaluationOf, saidOf } from '../../worker/board/summary.ts';
import { makeSequence } from '../../worker/brief/make-sequence.ts';
import { evaluationSchema, type WeatherStanding } from '../../worker/schema/board.ts';
import type { Brief, Candidate } from '../../worker/schema/brief.ts';
import { type DemoBrief, demoBrief, demoBriefs, demoStores, winterBrief } from '../support/demo-briefs.ts';
import { DECK_AIR, DRY_AIR } from '../support/winter-leg.ts';

const DESTINATION: WeatherStanding = {
  ...{ aerodrome: 'KBGR', atUtc: '2026-01-14T12:36:00.000Z', standing: 'unknown', sentence: 'No forecast' },
  ...{ ceilingFt: null, visibilityM: null, issuedUtc: null },
};
const CONTEXT: EvaluationContext = {
  ...{ atMs: Date.UTC(2026, 0, 14, 10), methodVersion: 'test', plannedMinutes: null },
  ...{ destination: DESTINATION, alternate: null, fluidUnknownWhy: 'Nobody entered it' },
  inoperative: [],
};

let briefs: DemoBrief[];
beforeAll(async () => {
  briefs = await demoBriefs();
});

const of = ({ brief, request }: DemoBrief, context: Partial<EvaluationContext> = {}) =>
  evaluationOf(brief, request, { ...CONTEXT, ...context });

describe('evaluationOf', () => {
  it('answers to the contract for every leg of the demo, and says that its data are invented', () => {
    for (const each of briefs) {
      const evaluation = of(each);
      expect(evaluationSchema.parse(JSON.parse(JSON.stringify(evaluation)))).toEqual(evaluation);
      expect(evaluation.hasInventedData).toBe(true);
      expect(evaluation.verdict).toBe(each.brief.brief.verdict.code);
      expect(evaluation.sentence).toBe(each.brief.brief.verdict.sentence);
      expect(evaluation.request).toBe(each.request);
    }
    expect(briefs).toHaveLength(5);
  });

  it('speaks of the altitude to file, its exposure and the whole flight’s fluid', () => {
    const each = demoBrief(briefs, 'over-the-deck');
    const best = each.brief.brief.alternatives.find(({ altitudeFt }) => altitudeFt === 11_000)!.exposure!;
    const evaluation = of(each);
    expect(evaluation.altitudeFt).toBe(11_000);
    expect(evaluation.acceptFt).toEqual({ lowerFt: 11_000, upperFt: 20_000 });
    expect(evaluation.exposure).toMatchObject({
      altitudeFt: 11_000,
      timeMinutes: best.timeMinutes,
      icingMinutesHigh: best.icingMinutes.high,
      builtMmHigh: best.builtMm.high,
    });
    expect(evaluation.reasonCodes).toEqual(['icing', 'icing-where-planned', 'large-drops-not-excluded']);
    expect(evaluation.fluid).toEqual({
      onBoardL: 80,
      neededHighL: each.brief.brief.fluid!.neededL.high,
      coversHighEstimate: true,
    });
    expect(evaluation.arrivalUtc).toBe('2026-01-14T12:36:12.000Z');
    expect(evaluation.newestDataUtc).toBe('2026-01-14T12:00:00.000Z');
    expect(evaluation.oldestDataUtc).toBe('2026-01-14T06:00:00.000Z');
  });

  it('speaks of the least bad altitude where there is none to file', () => {
    const evaluation = of(demoBrief(briefs, 'freezing-rain'));
    expect(evaluation).toMatchObject({ verdict: 'outside-limits', altitudeFt: null, acceptFt: null });
    expect(evaluation.exposure).toMatchObject({ altitudeFt: 6000, worstLargeDrops: 'freezing-rain' });
  });

  it('speaks of the stepped profile where that is what is recommended', () => {
    const { brief, request } = demoBrief(briefs, 'over-the-deck');
    const member = brief.brief;
    const other = member.alternatives.find(({ altitudeFt }) => altitudeFt === 13_000)!;
    const profile = [
      { fromNm: 0, altitudeFt: 11_000 },
      { fromNm: 50, altitudeFt: 13_000 },
    ];
    const stepped: Brief = { ...brief, brief: { ...member, recommended: { ...other, profile } } };
    expect(evaluationOf(stepped, request, CONTEXT).exposure!.altitudeFt).toBe(13_000);
  });

  it('keeps unknown as it is: no data gives no times, no intensity and all of the way unknown', async () => {
    const evaluation = of(await winterBrief({ air: [] }));
    expect(evaluation).toMatchObject({ verdict: 'unknown', newestDataUtc: null, oldestDataUtc: null });
    expect(evaluation.exposure).toMatchObject({ worstIntensity: null });
    expect(evaluation.exposure!.unknownMinutes).toBe(evaluation.exposure!.timeMinutes);
    expect(evaluation.hasInventedData).toBe(false);
  });

  it('says why the fluid on board is not known, unless it was given', async () => {
    const known = await winterBrief({ air: DRY_AIR });
    expect(of(known)).toMatchObject({ verdict: 'no-ice-found', fluidUnknownWhy: '' });
    expect(of(withoutFluidFigure(known))).toMatchObject({
      fluid: null,
      fluidUnknownWhy: 'Nobody entered it',
    });
  });

  it('says nothing of fluid for an aeroplane without any', async () => {
    const { brief, request } = await winterBrief({ air: DECK_AIR });
    const alternatives = brief.brief.alternatives.map((each) => ({
      ...each,
      exposure: each.exposure && { ...each.exposure, fluidL: null, fluidTripL: null },
    }));
    const limits = { ...brief.brief.limits, fluidOnBoardL: null };
    const dry = { ...brief, brief: { ...brief.brief, fluid: null, limits, alternatives } };
    const evaluation = evaluationOf(dry, request, CONTEXT);
    expect(evaluation).toMatchObject({ fluidUnknownWhy: '', verdict: brief.brief.verdict.code });
    expect(evaluation.exposure!.fluidTripHighL).toBeNull();
  });

  it('has a line of at most sixty points with both ends and every fix, to a thousandth of a degree', () => {
    const each = demoBrief(briefs, 'out-of-data');
    const points = Array.from({ length: 400 }, (_, index) => ({
      ...each.brief.brief.leg.points[0]!,
      latDeg: 40 + index * 0.0101,
      lonDeg: -170 - index * 0.025_04,
      fix: index === 0 || index === 201 || index === 399 ? 'F' : null,
    }));
    const leg = { ...each.brief.brief.leg, points };
    const { line } = of({ ...each, brief: { ...each.brief, brief: { ...each.brief.brief, leg } } });
    expect(line.length).toBeLessThanOrEqual(60);
    expect(line.length).toBeGreaterThan(45);
    expect(line[0]).toEqual([-170, 40]);
    expect(line.at(-1)).toEqual([-179.991, 44.03]);
    expect(line).toContainEqual([-175.033, 42.03]);
    const crowded = points.map((point) => ({ ...point, fix: 'F' }));
    const full = { ...each.brief.brief, leg: { ...leg, points: crowded } };
    expect(of({ ...each, brief: { ...each.brief, brief: full } }).line.length).toBeLessThanOrEqual(60);
  });
});

/** As asked of an aeroplane with a fluid system that nobody entered the fluid of. */
function withoutFluidFigure(each: DemoBrief): DemoBrief {
  const limits = { ...each.brief.brief.limits, fluidOnBoardL: null };
  return { ...each, brief: { ...each.brief, brief: { ...each.brief.brief, fluid: null, limits } } };
}

describe('fluid on board that is not known', () => {
  it.each(['over-the-deck', 'quiet'])('makes %s unknown, with nothing to file', (id) => {
    const each = demoBrief(briefs, id);
    const { verdict } = each.brief.brief;
    expect(['within-limits', 'no-ice-found']).toContain(verdict.code);
    expect(of(withoutFluidFigure(each))).toMatchObject({
      verdict: 'unknown',
      sentence: `Unknown: nobody entered it. With the fluid known: ${verdict.sentence}`,
      radio: 'Unknown: fluid on board not known.',
      ...{ altitudeFt: null, acceptFt: null },
      exposure: { altitudeFt: expect.any(Number) },
    });
  });

  it.each(['freezing-rain', 'out-of-data'])('leaves %s as it is, which is no better', (id) => {
    const each = demoBrief(briefs, id);
    const { code, sentence } = each.brief.brief.verdict;
    expect(of(withoutFluidFigure(each))).toMatchObject({ verdict: code, sentence });
  });
});

describe('fluid that a flight takes off the tank', () => {
  it('is what several legs on one tank count of the same leg: trip, vectors and approach', async () => {
    const each = demoBrief(briefs, 'over-the-deck');
    const { route, departure, aircraft, options = {} } = each.request;
    const { fluidOnBoardL, laterDepartures: _, ...others } = options;
    const sequence = await makeSequence(
      await demoStores(),
      { legs: [{ route, departure, options: others }], aircraft, fluidOnBoardL: fluidOnBoardL! },
      { operators: ['demo'] },
    );
    const leg = sequence.legs[0]!;
    const evaluation = of(each);
    expect(leg.altitudeFt).toBe(evaluation.exposure!.altitudeFt);
    expect(Math.abs(evaluation.exposure!.fluidTripHighL! - leg.fluidUsedL!.high)).toBeLessThanOrEqual(0.1001);
  });

  it('has the priming in it where the arrival alone needs any, and is nothing where nothing does', () => {
    expect(of(demoBrief(briefs, 'quiet')).exposure!.fluidTripHighL).toBe(0);
    const dryTrip = withBest(demoBrief(briefs, 'over-the-deck'), (exposure) => ({
      ...exposure,
      fluidTripL: { low: 0, middle: 0, high: 0 },
      parts: exposure.parts.map((part) => ({
        ...part,
        fluidL: {
          low: 0,
          middle: 0,
          high: { taxi: 4, vectors: 9, approach: 4.5 }[part.part as 'taxi'] ?? 30,
        },
      })),
    }));
    expect(of(dryTrip).exposure!.fluidTripHighL).toBe(17.5);
  });
});

/** With other figures of every altitude that can be flown. */
function withBest(
  each: DemoBrief,
  figures: (exposure: NonNullable<Candidate['exposure']>) => NonNullable<Candidate['exposure']>,
): DemoBrief {
  const alternatives = each.brief.brief.alternatives.map((one) => ({
    ...one,
    exposure: one.exposure && figures(one.exposure),
  }));
  const member = { ...each.brief.brief, alternatives, recommended: null };
  return { ...each, brief: { ...each.brief, brief: member } };
}

describe('equipment that is inoperative', () => {
  it('puts a flight in cloud below freezing outside limits without pitot or stall warning heat', () => {
    const each = demoBrief(briefs, 'over-the-deck');
    const parts = ['climb', 'cruise', 'descent', 'vectors', 'approach'];
    const { exposure } = each.brief.brief.alternatives.find(({ altitudeFt }) => altitudeFt === 11_000)!;
    const most = exposure!.parts
      .filter(({ part }) => parts.includes(part))
      .reduce((sum, part) => sum + part.visibleMoistureBelowFreezingMinutes.high, 0);
    const said = of(each, { inoperative: ['pitot-heat'] });
    expect(said).toMatchObject({
      verdict: 'outside-limits',
      sentence: expect.stringMatching(
        /^Outside limits: pitot heat inoperative, up to \d+ min in cloud below freezing$/,
      ),
      radio: 'Outside limits. Pitot heat inoperative, cloud below freezing.',
      ...{ altitudeFt: null, acceptFt: null },
    });
    const minutes = Number(/up to (\d+) min/.exec(said.sentence)![1]);
    expect(minutes % 5).toBe(0);
    expect(minutes).toBeGreaterThan(exposure!.visibleMoistureBelowFreezingMinutes.high + 15);
    expect(minutes).toBeLessThan(most + 5);
    const both = of(each, { inoperative: ['stall-warning-heat', 'pitot-heat'] });
    expect(both.sentence).toContain('stall warning heat and pitot heat inoperative');
    expect(both.radio.split(' ').length).toBeLessThanOrEqual(10);
  });

  it('counts the cloud of the arrival alone too', () => {
    const arrival = withBest(demoBrief(briefs, 'quiet'), (exposure) => ({
      ...exposure,
      parts: exposure.parts.map((part) =>
        part.part === 'approach'
          ? { ...part, visibleMoistureBelowFreezingMinutes: { low: 0, middle: 0, high: 2.5 } }
          : part,
      ),
    }));
    expect(of(arrival, { inoperative: ['stall-warning-heat'] }).sentence).toBe(
      'Outside limits: stall warning heat inoperative, up to 5 min in cloud below freezing',
    );
  });

  it('is more than fluid that is not known, and than air that is not known', () => {
    const noFluid = withoutFluidFigure(demoBrief(briefs, 'over-the-deck'));
    expect(of(noFluid, { inoperative: ['pitot-heat'] }).verdict).toBe('outside-limits');
    expect(of(noFluid, { inoperative: ['ice-light'] }).verdict).toBe('unknown');
  });

  it('takes nothing from a flight without cloud below freezing', () => {
    const each = demoBrief(briefs, 'quiet');
    expect(of(each, { inoperative: ['pitot-heat', 'stall-warning-heat'] })).toEqual(of(each));
  });

  it('is named first where the brief is outside limits', () => {
    const each = demoBrief(briefs, 'freezing-rain');
    const { sentence } = each.brief.brief.verdict;
    expect(of(each, { inoperative: ['wing-fluid', 'ice-light'] }).sentence).toBe(
      `Inoperative: wing fluid, ice light. ${sentence}`,
    );
    const heat = of(each, { inoperative: ['wing-fluid', 'pitot-heat'] }).sentence;
    expect(heat).toMatch(/^Inoperative: wing fluid\. Outside limits: pitot heat inoperative, up to \d+ min/);
    expect(heat.endsWith(sentence)).toBe(true);
  });
});

describe('saidOf', () => {
  it('keeps of a brief what later ones are held against', () => {
    const each = demoBrief(briefs, 'over-the-deck');
    const { verdict, altitudeFt, acceptFt, exposure, reasonCodes } = of(each);
    expect(saidOf(each.brief, { destination: DESTINATION, alternate: null })).toEqual({
      ...{ verdict, altitudeFt, acceptFt, exposure, reasonCodes },
      ...{ destination: DESTINATION, alternate: null },
    });
  });
});

describe('arrivalMsOf', () => {
  it('takes the longer of the flight and the planned minutes from block to block', () => {
    const { brief } = demoBrief(briefs, 'over-the-deck');
    expect(arrivalMsOf(brief, 75)).toBe(Date.parse('2026-01-14T12:45:00Z'));
    expect(arrivalMsOf(brief, 40)).toBe(Date.parse('2026-01-14T12:36:12Z'));
  });

  it('takes the planned minutes where no altitude can be flown, and knows nothing without them', () => {
    const { brief } = demoBrief(briefs, 'quiet');
    const grounded = {
      ...brief,
      brief: {
        ...brief.brief,
        ...{ file: null, recommended: null },
        alternatives: brief.brief.alternatives.map((each) => ({ ...each, rank: null, exposure: null })),
      },
    };
    expect(arrivalMsOf(grounded, 70)).toBe(Date.parse('2026-01-14T14:10:00Z'));
    expect(arrivalMsOf(grounded, null)).toBeUndefined();
    expect(evaluationOf(grounded, { ...demoBrief(briefs, 'quiet').request }, CONTEXT)).toMatchObject({
      exposure: null,
      arrivalUtc: null,
    });
  });
});

/** What a board keeps of a brief. */
import { beforeAll, describe, expect, it } from 'vitest';
import { arrivalMsOf, type EvaluationContext, evaluationOf } from '../../worker/board/summary.ts';
import { evaluationSchema, type WeatherStanding } from '../../worker/schema/board.ts';
import type { Brief } from '../../worker/schema/brief.ts';
import { type DemoBrief, demoBrief, demoBriefs, winterBrief } from '../support/demo-briefs.ts';
import { DECK_AIR, DRY_AIR } from '../support/winter-leg.ts';

const DESTINATION: WeatherStanding = {
  ...{ aerodrome: 'KBGR', atUtc: '2026-01-14T12:36:00.000Z', standing: 'unknown', sentence: 'No forecast' },
  ...{ ceilingFt: null, visibilityM: null, issuedUtc: null },
};
const CONTEXT: EvaluationContext = {
  ...{ atMs: Date.UTC(2026, 0, 14, 10), methodVersion: 'test', plannedMinutes: null },
  ...{ destination: DESTINATION, alternate: null, fluidUnknownWhy: 'nobody entered it' },
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
      fluidTripHighL: best.fluidTripL!.high,
    });
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
    const { brief, request } = await winterBrief({ air: DRY_AIR });
    expect(evaluationOf(brief, request, CONTEXT).fluidUnknownWhy).toBe('');
    const member = { ...brief.brief, fluid: null, limits: { ...brief.brief.limits, fluidOnBoardL: null } };
    const evaluation = evaluationOf({ ...brief, brief: member }, request, CONTEXT);
    expect(evaluation.fluid).toBeNull();
    expect(evaluation.fluidUnknownWhy).toBe('nobody entered it');
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
    expect(evaluation.fluidUnknownWhy).toBe('');
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

describe('arrivalMsOf', () => {
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

/** The table of skill from tallies, and what is said beside it. Figures worked out by hand. */
import { describe, expect, it } from 'vitest';
import { cautionsOf, reportsAnswer, skillRows, topAnswer } from '../../worker/brief/skill-answer.ts';
import { skillAnswerSchema } from '../../worker/schema/skill.ts';
import type { Outcome, ScoreTally } from '../../worker/sources/scores.ts';

/** So many reports of one outcome, given a chance in percent, with a fifth of the air flagged. */
function tally(outcome: Outcome, count: number, change: Partial<ScoreTally> = {}): ScoreTally {
  return {
    ...{ kind: 'brief', name: 'brief', leadBucket: 0, outcome, count },
    ...{ probabilityPct: 50, flaggedSum: 0.2 * count, flaggedCount: count },
    ...change,
  };
}

const CHECK = [tally('hit', 80), tally('miss', 20), tally('correct-no', 60), tally('false', 40)];

describe('a row of skill', () => {
  it('of 80, 20, 60, 40 has 0.80, 0.60, 0.40, and an efficiency of 4 in 20 % of the volume', () => {
    const [row] = skillRows(CHECK);
    expect(row).toMatchObject({
      lead: '0-3 h',
      counts: { hits: 80, misses: 20, falseAlarmsOnNulls: 40, correctNulls: 60, unknown: 0, unscored: 0 },
      podYes: { value: 0.8, reports: 100 },
      podNo: { value: 0.6, reports: 100 },
      trueSkill: 0.4,
      volumePct: 20,
      volumeEfficiency: 4,
      caution: null,
    });
    expect(row!.podYes!.low).toBeLessThan(0.8);
    expect(row!.podYes!.high).toBeGreaterThan(0.8);
  });

  it('is no better and no worse for reports of unknown air, or that say nothing: they are counted apart', () => {
    const silent = { probabilityPct: undefined, flaggedSum: 0, flaggedCount: 0 };
    const [row] = skillRows([...CHECK, tally('unknown', 500, silent), tally('unscored', 70)]);
    const [before] = skillRows(CHECK);
    expect(row).toEqual({ ...before, counts: { ...before!.counts, unknown: 500, unscored: 70 } });
  });

  it('without a null has no share of nulls, no true skill and no curve: null, not 0 or 1', () => {
    const [row] = skillRows([tally('hit', 60)]);
    expect(row).toMatchObject({ podYes: { value: 1 }, podNo: null, trueSkill: null, rocArea: null });
  });

  it('of unknown air alone has nothing but its count', () => {
    const [row] = skillRows([
      tally('unknown', 3, { leadBucket: -1, probabilityPct: undefined, flaggedSum: 0, flaggedCount: 0 }),
    ]);
    expect(row).toMatchObject({
      ...{ lead: null, podYes: null, podNo: null, trueSkill: null, rocArea: null },
      ...{ volumePct: null, volumeEfficiency: null },
    });
    expect(row!.counts.unknown).toBe(3);
  });

  it('with nothing flagged has 0 % of the volume and no efficiency', () => {
    const [row] = skillRows([tally('miss', 60, { flaggedSum: 0 })]);
    expect([row!.volumePct, row!.volumeEfficiency]).toEqual([0, null]);
  });

  it.each([
    [50, 50, null],
    [49, 50, 'Too few to claim skill: 49 of ice and 50 of no ice, 50 of each are the least'],
    [50, 49, 'Too few to claim skill: 50 of ice and 49 of no ice, 50 of each are the least'],
  ])('of %d reports of ice and %d of none says: %s', (ice, none, caution) => {
    expect(skillRows([tally('hit', ice), tally('correct-no', none)])[0]!.caution).toBe(caution);
  });

  it('has the area under the curve of its thresholds', () => {
    const at = (outcome: Outcome, probabilityPct: number, count: number) =>
      tally(outcome, count, { probabilityPct });
    const [row] = skillRows([
      ...[at('hit', 90, 6), at('hit', 50, 2), at('miss', 10, 2)],
      ...[at('false', 90, 2), at('false', 50, 2), at('correct-no', 10, 6)],
    ]);
    expect(row!.rocArea).toBe(0.74);
  });

  it('stands alone for each source and lead', () => {
    const rows = skillRows([
      tally('hit', 1),
      tally('miss', 1, { leadBucket: 2 }),
      tally('hit', 1, { kind: 'model', name: 'm' }),
    ]);
    expect(rows.map(({ kind, lead, podYes }) => [kind, lead, podYes?.value])).toEqual([
      ['brief', '0-3 h', 1],
      ['brief', '6-12 h', 0],
      ['model', '0-3 h', 1],
    ]);
  });

  it('knows no ratio of false alarms and no critical success index, under any name', () => {
    const names = JSON.stringify(skillAnswerSchema.def.shape.sources.def.element.def.shape);
    expect(Object.keys(skillRows(CHECK)[0]!).sort()).toEqual(
      [
        ...['kind', 'name', 'lead', 'counts', 'podYes', 'podNo', 'trueSkill', 'rocArea'],
        ...['volumePct', 'volumeEfficiency', 'caution'],
      ].sort(),
    );
    expect(names).not.toMatch(/far|csi|threat/i);
    expect(cautionsOf(['1']).join(' ')).toContain(
      'No share of false alarms among all warnings can be computed',
    );
  });
});

it('reports that are not scored are told with the reason, none left out', () => {
  const answer = reportsAnswer(
    [
      { said: 'ice', why: undefined, count: 5 },
      { said: 'no-ice', why: undefined, count: 4 },
      { said: 'ice', why: 'above FL300', count: 2 },
      { said: 'no-ice', why: 'above FL300', count: 1 },
      { said: 'nothing', why: 'it says nothing of icing', count: 7 },
    ],
    6,
  );
  expect(answer).toEqual({
    ...{ total: 19, ice: 5, noIce: 4 },
    unscored: [
      { why: 'above FL300', count: 3 },
      { why: 'it says nothing of icing', count: 7 },
    ],
    waiting: 6,
  });
});

it('beside every table stands that longer leads of hourly models are not in it', () => {
  expect(cautionsOf(['1']).join(' ')).toMatch(
    /three runs of each valid time: of a model that runs every hour, leads/,
  );
});

it('scores of several versions of the method say so', () => {
  expect(cautionsOf(['0.6.0', '0.7.0']).at(-1)).toContain('several versions');
  expect(cautionsOf(['0.6.0']).at(-1)).not.toContain('several versions');
});

it.each([
  [{ kind: 'top', altitudeFt: 7600 } as const, 7600, -400],
  [{ kind: 'no-cloud' } as const, null, null],
  [{ kind: 'unknown' } as const, null, null],
])(
  'a reported top of 8,000 ft beside %j differs by its own measure or not at all',
  (forecast, ft, difference) => {
    const noonMs = Date.UTC(2026, 0, 14, 12);
    const row = {
      operator: 'demo',
      placeWords: 'X',
      latDeg: 44,
      lonDeg: -73,
      timeMs: noonMs,
      reportedFt: 8000,
    };
    expect(topAnswer({ ...row, forecast, madeMs: noonMs - 5_400_000 })).toMatchObject({
      ...{ forecast: forecast.kind, forecastTopFt: ft, differenceFt: difference, leadHours: 1.5 },
    });
  },
);

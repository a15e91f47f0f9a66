/** The scores themselves, on rows small enough to count by hand. */
import { describe, expect, it } from 'vitest';
import { bestConstant, logRms, rankCorrelation, shareWithinFactor } from '../support/amount-scores.ts';
import { assertClose } from '../support/assert-close.ts';
import { bootstrapInterval, groupsBy } from '../support/bootstrap.ts';
import { leaveOneOut } from '../support/leave-one-out.ts';
import {
  areaUnderPoints,
  areaUnderRoc,
  brierScore,
  climatologyBrierScore,
  ranks,
  reliabilityTable,
  type Scored,
  volumeEfficiency,
  warningScores,
} from '../support/skill-scores.ts';

const ROUNDING = { abs: 1e-12, why: 'rounding' } as const;

/** Rows of the same answer. */
const rows = (count: number, probability: number, observed: boolean | undefined): Scored[] =>
  Array.from({ length: count }, () => ({ probability, observed }));

/** 80 hits, 20 misses, 60 unflagged nulls, 40 false alarms. */
const contingency = [
  ...rows(80, 1, true),
  ...rows(20, 0, true),
  ...rows(60, 0, false),
  ...rows(40, 1, false),
];
const isFlagged = ({ probability }: Scored) => probability >= 0.5;

describe('a warning', () => {
  it('with 80 of 100 found and 60 of 100 nulls left alone has a true skill of 0.40', () => {
    const { detected, falseAlarmRate, trueSkill } = warningScores(contingency, isFlagged);
    assertClose(detected, 0.8, ROUNDING);
    assertClose(1 - falseAlarmRate, 0.6, ROUNDING);
    assertClose(trueSkill, 0.4, ROUNDING);
  });

  it.each([
    [0.1, 8],
    [0.05, 16],
  ])('that finds 80 %% in %d of the volume has an efficiency of %d', (volume, efficiency) => {
    assertClose(volumeEfficiency(0.8, volume), efficiency, ROUNDING);
  });

  it('has no detection of nulls, neither 0 nor 1, where no null was reported', () => {
    const { detected, falseAlarmRate, trueSkill } = warningScores(rows(3, 1, true), isFlagged);
    expect(detected).toBe(1);
    expect(falseAlarmRate).toBeNaN();
    expect(trueSkill).toBeNaN();
  });

  it('counts places of unclear measurement in the volume and nowhere else', () => {
    const unclear = [...contingency, ...rows(200, 1, undefined)];
    const scores = warningScores(unclear, isFlagged);
    assertClose(scores.trueSkill, 0.4, ROUNDING);
    assertClose(scores.volume, 320 / 400, ROUNDING);
    expect(areaUnderRoc(unclear)).toBe(areaUnderRoc(contingency));
    expect(brierScore(unclear)).toBe(brierScore(contingency));
  });
});

describe('the area under the curve', () => {
  it('through (0.2, 0.6) and (0.4, 0.8) is 0.74, from points and from places', () => {
    const points = [
      [0, 0],
      [0.2, 0.6],
      [0.4, 0.8],
      [1, 1],
    ] as const;
    assertClose(areaUnderPoints(points), 0.74, ROUNDING);
    const places = [
      ...rows(6, 0.9, true),
      ...rows(2, 0.5, true),
      ...rows(2, 0.1, true),
      ...rows(2, 0.9, false),
      ...rows(2, 0.5, false),
      ...rows(6, 0.1, false),
    ];
    assertClose(areaUnderRoc(places), 0.74, ROUNDING);
  });

  it('is 1 when every yes was given more than any no, 0 the other way round, a half for one answer to all', () => {
    expect(areaUnderRoc([...rows(3, 0.4, true), ...rows(5, 0.3, false)])).toBe(1);
    expect(areaUnderRoc([...rows(3, 0.3, true), ...rows(5, 0.4, false)])).toBe(0);
    expect(areaUnderRoc([...rows(3, 0.3, true), ...rows(5, 0.3, false)])).toBe(0.5);
  });

  it('has no value without a yes or without a no, and a lost probability is not ranked', () => {
    expect(areaUnderRoc(rows(3, 0.3, true))).toBeNaN();
    expect(areaUnderRoc(rows(3, 0.3, false))).toBeNaN();
    expect(() => areaUnderRoc(rows(1, Number.NaN, true))).toThrow(RangeError);
  });
});

describe('probabilities', () => {
  it('are counted in the bin of their lower edge, the last bin holding both of its edges', () => {
    const places = [
      ...rows(4, 0, false),
      ...rows(3, 0.5, true),
      ...rows(1, 0.5, false),
      ...rows(2, 1, true),
      ...rows(9, 0.5, undefined),
    ];
    const table = reliabilityTable(places, [0, 0.5, 1]);
    expect(table.map(({ count }) => count)).toEqual([4, 6]);
    assertClose(table[0]!.observedShare, 0, ROUNDING);
    assertClose(table[1]!.observedShare, 5 / 6, ROUNDING);
    assertClose(table[1]!.meanProbability, 4 / 6, ROUNDING);
    expect(reliabilityTable(places, [0.6, 0.9])[0]?.observedShare).toBeNaN();
  });

  it('of 0.8 that come true and of 0.3 that do not have a Brier score of 0.065, climatology 0.25', () => {
    const places = [...rows(1, 0.8, true), ...rows(1, 0.3, false)];
    assertClose(brierScore(places), (0.2 ** 2 + 0.3 ** 2) / 2, ROUNDING);
    assertClose(climatologyBrierScore(places), 0.25, ROUNDING);
  });
});

describe('amounts', () => {
  it('a thousand times too large in half of the cases are off by its logarithm over the root of two', () => {
    assertClose(logRms([1000, 2], [1, 2]), Math.log(1000) * Math.SQRT1_2, ROUNDING);
    assertClose(bestConstant([1, 100]), 10, { abs: 1e-12, why: 'rounding' });
    expect(shareWithinFactor([1, 2, 3.01, 0.33], [1, 1, 1, 1], 3)).toBe(0.5);
  });

  it('have a rank correlation of -29/165 on the textbook table of IQ and hours of television', () => {
    const iq = [106, 100, 86, 101, 99, 103, 97, 113, 112, 110];
    const hours = [7, 27, 2, 50, 28, 29, 20, 12, 6, 17];
    assertClose(rankCorrelation(iq, hours), -29 / 165, ROUNDING);
    expect(rankCorrelation(iq, iq.map(Math.exp))).toBeCloseTo(1, 12);
    expect(
      rankCorrelation(
        iq,
        iq.map(() => 1),
      ),
    ).toBeNaN();
  });

  it('that are equal share the mean of their ranks', () => {
    expect(ranks([3, 1, 3, 2])).toEqual([3.5, 1, 3.5, 2]);
  });
});

describe('the interval of a score', () => {
  const groups = [[1, 2], [3], [8, 9, 10]];
  const largest = (values: readonly number[]) => Math.max(...values);

  it('is the same for the same seed', () => {
    expect(bootstrapInterval(groups, largest, 7)).toEqual(bootstrapInterval(groups, largest, 7));
  });

  it('draws whole groups: the largest value is that of a group', () => {
    const seen = new Set<number>();
    bootstrapInterval(
      groups,
      (values) => {
        seen.add(largest(values));
        return 0;
      },
      7,
    );
    expect([...seen].sort((a, b) => a - b)).toEqual([2, 3, 10]);
  });

  it('of the mean of forty values has the width that theory gives', () => {
    const single = Array.from({ length: 40 }, (_, n) => [n % 2]);
    const average = (values: readonly number[]) => values.reduce((a, b) => a + b, 0) / values.length;
    const { low, high, draws } = bootstrapInterval(single, average, 7);
    const expected = 2 * 1.96 * Math.sqrt(0.25 / 40);
    expect(draws).toBe(1000);
    assertClose(high - low, expected, { abs: 0.03, why: 'the mean comes in steps of 1/40' });
  });

  it('leaves out draws without a score and says how many had one', () => {
    const { draws } = bootstrapInterval([[1], [2]], (values) => (values.includes(1) ? 1 : Number.NaN), 7);
    expect(draws).toBeGreaterThan(700);
    expect(draws).toBeLessThan(800);
  });

  it('groups rows by their key in order of appearance', () => {
    expect(groupsBy(['b1', 'a1', 'b2'], (row) => row[0]!)).toEqual([['b1', 'b2'], ['a1']]);
  });
});

describe('numbers chosen without the flight they are tried on', () => {
  /** Each setting's rows: flight a scores best under 1, b under 2, c under 3. */
  const candidates = [1, 2, 3].map((setting) => ({
    setting,
    rows: ['a', 'b', 'c'].map((flight, n) => ({ flight, score: n + 1 === setting ? 10 * (n + 1) : 0 })),
  }));
  const total = (some: readonly { score: number }[]) => some.reduce((sum, { score }) => sum + score, 0);
  const held = leaveOneOut(candidates, ({ flight }) => flight, total);

  it('are never those that only this flight speaks for', () => {
    expect(held.map(({ flight, chosen }) => [flight, chosen])).toEqual([
      ['a', 3],
      ['b', 3],
      ['c', 2],
    ]);
  });

  it('give back each flight once, under its own choice', () => {
    expect(held.flatMap(({ rows }) => rows)).toEqual([
      { flight: 'a', score: 0 },
      { flight: 'b', score: 0 },
      { flight: 'c', score: 0 },
    ]);
  });

  it('cannot be chosen where nothing scores', () => {
    const lone = [{ setting: 1, rows: [{ flight: 'a', score: 1 }] }];
    const none = (some: readonly unknown[]) => (some.length === 0 ? Number.NaN : 1);
    expect(() => leaveOneOut(lone, ({ flight }) => flight, none)).toThrow(RangeError);
  });
});

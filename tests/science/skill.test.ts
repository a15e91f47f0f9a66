/** Scores against pilots' reports, on numbers small enough to work out by hand. */
import { describe, expect, it } from 'vitest';
import { areaUnder, rocCurve, shareOf, skillOf, volumeEfficiency } from '../../worker/science/skill.ts';
import { assertClose } from '../support/assert-close.ts';

const ROUNDING = { abs: 1e-12, why: 'rounding' } as const;
const PRINTED = { abs: 5e-5, why: 'worked out by hand to four figures' } as const;

describe('skill', () => {
  it('of 80 of 100 found and 60 of 100 nulls left alone is 0.80, 0.60 and 0.40', () => {
    const skill = skillOf({ hits: 80, misses: 20, correctNulls: 60, falseAlarms: 40 });
    assertClose(skill.iceFound!.value, 0.8, ROUNDING);
    assertClose(skill.nullsFound!.value, 0.6, ROUNDING);
    assertClose(skill.trueSkill!, 0.4, ROUNDING);
    expect([skill.iceFound!.count, skill.nullsFound!.count]).toEqual([100, 100]);
  });

  it('on nulls is undefined where no null was reported, and the true skill with it', () => {
    const skill = skillOf({ hits: 3, misses: 1, correctNulls: 0, falseAlarms: 0 });
    expect(skill.iceFound?.value).toBe(0.75);
    expect(skill.nullsFound).toBeUndefined();
    expect(skill.trueSkill).toBeUndefined();
  });

  it('on ice is undefined where no ice was reported', () => {
    const skill = skillOf({ hits: 0, misses: 0, correctNulls: 1, falseAlarms: 0 });
    expect(skill.iceFound).toBeUndefined();
    expect(skill.nullsFound?.value).toBe(1);
    expect(skill.trueSkill).toBeUndefined();
  });

  it('does not change with what no report says: there is nowhere to put how much air was without ice', () => {
    expect(Object.keys(skillOf({ hits: 1, misses: 1, correctNulls: 1, falseAlarms: 1 })).sort()).toEqual([
      'iceFound',
      'nullsFound',
      'trueSkill',
    ]);
  });
});

describe('the interval of a share', () => {
  // z = 1.959964, z2 = 3.841459. 8 of 10: middle (0.8 + 0.192073) / 1.384146 = 0.716741,
  // half 1.959964 sqrt(0.016 + 0.00960365) / 1.384146 = 0.226577.
  it('of 8 in 10 is 0.4902 to 0.9433', () => {
    const share = shareOf(8, 10)!;
    assertClose(share.low, 0.4902, PRINTED);
    assertClose(share.high, 0.9433, PRINTED);
  });

  it('of none in 10 is 0 to z2/(10 + z2) = 0.2775, of all 0.7225 to 1', () => {
    const [none, all] = [shareOf(0, 10)!, shareOf(10, 10)!];
    assertClose(none.low, 0, ROUNDING);
    assertClose(none.high, 0.2775, PRINTED);
    assertClose(all.low, 0.7225, PRINTED);
    assertClose(all.high, 1, ROUNDING);
  });

  it('of nothing is undefined', () => {
    expect(shareOf(0, 0)).toBeUndefined();
  });
});

describe('the curve of a threshold', () => {
  it('through (0.2, 0.6) and (0.4, 0.8) has an area of 0.74', () => {
    const points = rocCurve([
      { probability: 0.1, met: 2, notMet: 6 },
      { probability: 0.9, met: 6, notMet: 2 },
      { probability: 0.5, met: 2, notMet: 2 },
    ])!;
    [
      [0, 0],
      [0.2, 0.6],
      [0.4, 0.8],
      [1, 1],
    ].forEach(([x, y], at) => {
      assertClose(points[at]![0], x!, ROUNDING);
      assertClose(points[at]![1], y!, ROUNDING);
    });
    assertClose(areaUnder(points), 0.74, ROUNDING);
  });

  it('has one point a probability: reports given the same one are no evidence of order', () => {
    const tied = rocCurve([
      { probability: 0.5, met: 1, notMet: 0 },
      { probability: 0.5, met: 0, notMet: 1 },
    ])!;
    expect(tied).toEqual([
      [0, 0],
      [1, 1],
    ]);
    expect(areaUnder(tied)).toBe(0.5);
  });

  it('is undefined without a report of ice, and without a null', () => {
    expect(rocCurve([{ probability: 0.5, met: 3, notMet: 0 }])).toBeUndefined();
    expect(rocCurve([{ probability: 0.5, met: 0, notMet: 3 }])).toBeUndefined();
    expect(rocCurve([])).toBeUndefined();
  });
});

describe('volume efficiency', () => {
  it('of 0.80 found in 10 and in 5 % of the volume is 8 and 16', () => {
    assertClose(volumeEfficiency(0.8, 0.1)!, 8, ROUNDING);
    assertClose(volumeEfficiency(0.8, 0.05)!, 16, ROUNDING);
  });

  it('is undefined where nothing was flagged and where no ice was reported', () => {
    expect(volumeEfficiency(0, 0)).toBeUndefined();
    expect(volumeEfficiency(undefined, 0.1)).toBeUndefined();
    expect(volumeEfficiency(0.8, undefined)).toBeUndefined();
  });
});

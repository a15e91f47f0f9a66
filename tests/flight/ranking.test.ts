/** The order of altitudes: differences that mean nothing are measured from the best, so that no rounding edge decides. */
import { describe, expect, test } from 'vitest';
import type { FlownCandidate } from '../../worker/flight/candidate.ts';
import { rankCandidates, whyLost } from '../../worker/flight/ranking.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import { exposure } from './fly-curtain.ts';
import { DRY } from './make-curtain.ts';

const CLEAN = exposure(DRY);

/** An altitude that meets so many minutes of ice in the middle and the high estimate, the rest alike. */
function candidate(altitudeFt: number, middleMin: number, highMin: number): FlownCandidate {
  const icingS = { low: 0, middle: middleMin * 60, high: highMin * 60 };
  return {
    kind: 'flown',
    indicatedAltitudeM: mFromFt(altitudeFt),
    pressureAltitudeM: mFromFt(altitudeFt),
    levels: [{ fromM: 0, altitudeM: mFromFt(altitudeFt) }],
    direction: 'right-way',
    verdict: 'within-limits',
    limitsBroken: 0,
    verdictReasons: [],
    exposure: { ...CLEAN, icingS },
  } as unknown as FlownCandidate;
}

const order = (candidates: readonly FlownCandidate[]) =>
  rankCandidates(candidates).map(({ indicatedAltitudeM }) => Math.round(ftFromM(indicatedAltitudeM)));

test('17.4 and 17.6 min are level although they round to 15 and 20, and the lower altitude wins', () => {
  expect(order([candidate(21_000, 10, 17.4), candidate(11_000, 10, 17.6)])).toEqual([11_000, 21_000]);
});

test('five minutes more in the middle estimate decide, whatever else is better', () => {
  expect(order([candidate(9000, 15.1, 20), candidate(13_000, 10, 30)])).toEqual([13_000, 9000]);
});

test('the order does not depend on the order given', () => {
  const all = [
    candidate(7000, 22, 40),
    candidate(9000, 12, 30),
    candidate(11_000, 9, 17),
    candidate(13_000, 8, 16),
    candidate(15_000, 3.5, 20),
  ];
  const expected = order(all);
  expect(order([...all].reverse())).toEqual(expected);
  expect(order([all[2]!, all[0]!, all[4]!, all[1]!, all[3]!])).toEqual(expected);
});

test('the reason names the key on which an altitude fell behind', () => {
  const ranked = rankCandidates([candidate(9000, 15.1, 20), candidate(13_000, 10, 30)]);
  expect(whyLost(ranked[1]!, ranked)).toMatchObject({ code: 'lost-on-icing-time' });
});

test('among altitudes outside limits the one that breaks fewer of them comes first, with more ice', () => {
  const outside = (altitudeFt: number, middleMin: number, limitsBroken: number) => ({
    ...candidate(altitudeFt, middleMin, middleMin),
    verdict: 'outside-limits' as const,
    limitsBroken,
  });
  expect(order([outside(9000, 10, 2), outside(13_000, 30, 1)])).toEqual([13_000, 9000]);
});

describe('severe icing, large drops and the cold in the order', () => {
  const outside = (altitudeFt: number, largeDropMin: number, limitsBroken: number): FlownCandidate => {
    const made = candidate(altitudeFt, 10, 10);
    const largeDropS = largeDropMin * 60;
    return { ...made, verdict: 'outside-limits', limitsBroken, exposure: { ...made.exposure, largeDropS } };
  };

  test('70 min of large drops never come first over an altitude that breaks more limits without any', () => {
    const both = [outside(9000, 70, 1), outside(13_000, 0, 4)];
    expect(order(both)).toEqual([13_000, 9000]);
    const ranked = rankCandidates(both);
    expect(whyLost(ranked[1]!, ranked)).toMatchObject({ code: 'lost-on-severe-or-large-drops' });
  });

  test('with less than five minutes between them the limits broken decide', () => {
    expect(order([outside(9000, 4.9, 1), outside(13_000, 0, 4)])).toEqual([9000, 13_000]);
  });

  test('the one that keeps the minimum in the cold comes first, whatever ice the other spares', () => {
    const under = (middleMin: number): FlownCandidate => ({
      ...candidate(9000, middleMin, 20),
      isUnderColdMinimum: true,
    });
    const kept: FlownCandidate = { ...candidate(11_000, 10, 20), isUnderColdMinimum: false };
    const ranked = rankCandidates([under(10), kept]);
    expect(order([under(10), kept])).toEqual([11_000, 9000]);
    expect(whyLost(ranked[1]!, ranked)).toMatchObject({ code: 'lost-on-cold-minimum' });
    expect(order([under(0), kept])).toEqual([11_000, 9000]);
  });
});

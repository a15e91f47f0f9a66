/** Small chances of ice over a whole leg are not the same as no ice found. */
import { describe, expect, it } from 'vitest';
import { makeBrief } from '../../worker/brief/make-brief.ts';
import type { BriefRequest } from '../../worker/schema/request.ts';
import { type AscentLevel, makeAscent } from '../support/make-ascent.ts';
import { createMemoryStores } from '../support/memory-stores.ts';

const REQUEST: BriefRequest = {
  route: {
    type: 'LineString',
    coordinates: [
      [-73, 44.5],
      [-71, 44.5],
    ],
  },
  departure: { atUtc: '2026-01-14T12:00:00Z' },
  aircraft: 'generic-fluid-turboprop',
  options: { fluidOnBoardL: 80, minimumAltitudes: [{ fromNm: 0, toNm: 500, altitudeFt: 4000 }] },
};

/** Colder than -10 C throughout; the top of the body lies near -50 C. */
const column = (depressionK: number): readonly AscentLevel[] => [
  [995, 100, -10, depressionK, 200, 5],
  [925, 660, -12, depressionK, 230, 10],
  [850, 1290, -16, depressionK, 250, 12],
  [775, 1980, -20, depressionK, 250, 14],
  [700, 2720, -25, depressionK, 260, 16],
  [600, 3830, -31, depressionK, 270, 20],
  [500, 5110, -38, depressionK, 270, 25],
  [400, 6620, -45, depressionK, 270, 30],
  [325, 7980, -52, depressionK, 270, 33],
  [260, 9420, -58, depressionK, 270, 35],
];

async function verdictOver(depressionK: number) {
  const stores = createMemoryStores();
  const ascent = makeAscent(column(depressionK), { timeMs: Date.parse(REQUEST.departure.atUtc) });
  await stores.soundings.put('demo', [ascent], 0);
  const { brief } = await makeBrief(stores, REQUEST, { operators: ['demo'] });
  const low = brief.alternatives.find((each) => each.altitudeFt === 4000);
  if (low === undefined) throw new Error('4,000 ft is among the candidates');
  return { verdict: low.verdict, codes: low.reasons.map((reason) => reason.code) };
}

describe('deep cloud with a very cold top', () => {
  it('saturated over water is never called no ice found, though no cell is more than a tenth probable', async () => {
    const { verdict, codes } = await verdictOver(0);
    expect(verdict).toBe('within-limits');
    expect(codes.some((code) => code === 'icing' || code === 'ice-not-excluded')).toBe(true);
  });

  it('in dry air of the same temperatures no ice is found', async () => {
    const { verdict, codes } = await verdictOver(15);
    expect(verdict).toBe('no-ice-found');
    expect(codes).not.toContain('ice-not-excluded');
  });
});

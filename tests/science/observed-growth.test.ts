/** From ice that was seen to the water it came of: the growth model turned round, and its limits said. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { leadingEdge, rod } from '../../worker/science/growth.ts';
import {
  type GrowthConditions,
  growthOfWaterMps,
  leastWaterKgPerM3,
  MOST_WATER_KG_PER_M3,
  waterOfGrowth,
} from '../../worker/science/observed-growth.ts';

const COLD: GrowthConditions = {
  pressurePa: 70_000,
  temperatureK: 263.15,
  trueAirspeedMps: 80,
  dropletNumberPerM3: 150e6,
  part: rod(0.006),
};
const conditions = fc.record({
  pressurePa: fc.double({ min: 45_000, max: 100_000, noNaN: true }),
  temperatureK: fc.double({ min: 245, max: 268, noNaN: true }),
  trueAirspeedMps: fc.double({ min: 45, max: 110, noNaN: true }),
  dropletNumberPerM3: fc.double({ min: 20e6, max: 400e6, noNaN: true }),
  part: fc
    .tuple(fc.constantFrom(rod, leadingEdge), fc.double({ min: 0.003, max: 0.05, noNaN: true }))
    .map(([make, radiusM]) => make(radiusM)),
});

it('there and back, water comes out as it went in, wherever more water makes more ice', () => {
  let compared = 0;
  fc.assert(
    fc.property(conditions, fc.double({ min: 0.05e-3, max: 1.5e-3, noNaN: true }), (at, water) => {
      const growthMps = growthOfWaterMps(water, at);
      const isRising = growthOfWaterMps(water * 1.02, at) > growthMps * 1.002;
      if (growthMps < 1e-8 || !isRising) return;
      compared += 1;
      const back = waterOfGrowth(growthMps, at);
      if (back.kind !== 'found') throw new Error('found nothing');
      expect(Math.abs(back.liquidWaterKgPerM3 / water - 1)).toBeLessThan(1e-3);
    }),
  );
  expect(compared).toBeGreaterThan(30);
});

describe('limits', () => {
  it('no ice is no water', () => {
    expect(waterOfGrowth(0, COLD)).toEqual({ kind: 'found', liquidWaterKgPerM3: 0 });
  });
  it('more than any winter cloud makes is beyond, and said to be', () => {
    const most = growthOfWaterMps(MOST_WATER_KG_PER_M3, COLD);
    expect(waterOfGrowth(most * 1.01, COLD)).toEqual({ kind: 'beyond' });
  });
  it('near 0 °C the air takes only so much heat: what grows faster is beyond, never a made-up figure', () => {
    const warm = { ...COLD, temperatureK: 271.65 };
    expect(waterOfGrowth(growthOfWaterMps(1e-3, COLD), warm)).toEqual({ kind: 'beyond' });
  });
});

it('the least water of a judgement is where it begins to hold, none where it never does', () => {
  expect(leastWaterKgPerM3((water) => water >= 0.7e-3)).toBeCloseTo(0.7e-3, 9);
  expect(leastWaterKgPerM3(() => true)).toBe(0);
  expect(leastWaterKgPerM3(() => false)).toBeUndefined();
});

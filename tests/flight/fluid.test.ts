/** Expected values are the arithmetic of invented quantities, worked out by hand. */
import { describe, expect, test } from 'vitest';
import { enduranceS, flowedM3, fluidNeed, neededM3, usedM3 } from '../../worker/flight/fluid.ts';
import type { Exposure, FluidProtection } from '../../worker/flight/types.ts';
import { assertClose } from '../support/assert-close.ts';
import { makeAircraft } from './make-curtain.ts';

const L = 0.001;
const PER_MIN = L / 60;
const EXACT = { abs: 1e-9, why: 'arithmetic' };

const PROTECTION: FluidProtection = {
  kind: 'fluid',
  usableM3: 60 * L,
  minimumDispatchM3: 25 * L,
  normalFlowM3PerS: 0.4 * PER_MIN,
  highFlowM3PerS: 0.8 * PER_MIN,
  primingM3: 4 * L,
  reserveS: 1800,
  maximumFlowM3PerS: 1.6 * PER_MIN,
  maximumBurstS: 120,
  windshieldM3: 0.5 * L,
  densityKgPerM3: 1100,
};

describe('enduranceS', () => {
  test('60 L last 150 min at 0.40 L/min and 75 min at 0.80', () => {
    assertClose(enduranceS({ usableM3: 60 * L, flowM3PerS: 0.4 * PER_MIN }) / 60, 150, EXACT);
    assertClose(enduranceS({ usableM3: 60 * L, flowM3PerS: 0.8 * PER_MIN }) / 60, 75, EXACT);
  });

  test('two bursts of 120 s at 1.6 L/min (6.4 L) leave 134.0 min at 0.40', () => {
    const burstsM3 = 2 * 120 * 1.6 * PER_MIN;
    assertClose(enduranceS({ usableM3: 60 * L, flowM3PerS: 0.4 * PER_MIN, burstsM3 }) / 60, 134, EXACT);
  });

  test('a reserve of 15 L leaves 56.25 min at 0.80', () => {
    const tank = { usableM3: 60 * L, flowM3PerS: 0.8 * PER_MIN, reserveM3: 15 * L };
    assertClose(enduranceS(tank) / 60, 56.25, EXACT);
  });

  test('is nothing when the reserve is all there is', () => {
    expect(enduranceS({ usableM3: 10 * L, flowM3PerS: PER_MIN, reserveM3: 15 * L })).toBe(0);
  });
});

describe('flowedM3', () => {
  test('30 min high use 24 L, and the rest of 60 L lasts 90 min normal, 120 in all', () => {
    const usedM3 = flowedM3(PROTECTION, { normalS: 0, highS: 1800 });
    assertClose(usedM3 / L, 24, EXACT);
    assertClose(enduranceS({ usableM3: 60 * L - usedM3, flowM3PerS: 0.4 * PER_MIN }) / 60, 90, EXACT);
  });
});

describe('neededM3', () => {
  test('is nothing when fluid never flows', () => {
    expect(neededM3(PROTECTION, { normalS: 0, highS: 0 })).toBe(0);
  });

  // 4 L priming, 20 min at 0.4 is 8 L, 10 min at 0.8 is 8 L, windshield 0.5 L, reserve 30 min at 0.4 is 12 L.
  test('is priming, flow at each setting, one clearing of the windshield and the reserve', () => {
    assertClose(neededM3(PROTECTION, { normalS: 1200, highS: 600 }) / L, 32.5, EXACT);
  });
});

describe('usedM3', () => {
  // 4 L priming, 20 min at 0.4 is 8 L, 10 min at 0.8 is 8 L; neither windshield nor reserve is used.
  test('is what leaves the tank: priming once and the flow', () => {
    assertClose(usedM3(PROTECTION, { normalS: 1200, highS: 600 }) / L, 20, EXACT);
    expect(usedM3(PROTECTION, { normalS: 0, highS: 0 })).toBe(0);
  });
});

describe('fluidNeed', () => {
  const exposure = (highL: number) => ({ fluidM3: { low: 0, middle: 0, high: highL * L } }) as Exposure;
  const aircraft = makeAircraft('generic-fluid-turboprop', { protection: PROTECTION });

  test.each([
    [40, 40, true],
    [40, 39.9, false],
    [10, 25, true],
    [10, 24.9, false],
    // Nothing is needed, and the dispatch minimum is not there.
    [0, 0, false],
  ])('needing up to %f L with %f L on board: covered %s', (highL, onBoardL, covers) => {
    expect(fluidNeed(aircraft, exposure(highL), onBoardL * L)?.coversHighEstimate).toBe(covers);
  });

  test('a quantity that is not given covers nothing that is needed', () => {
    expect(fluidNeed(aircraft, exposure(10), undefined)?.coversHighEstimate).toBe(false);
  });

  test('is undefined without a fluid system', () => {
    expect(fluidNeed(makeAircraft('generic-boots-twin'), exposure(10), 0.05)).toBeUndefined();
  });
});

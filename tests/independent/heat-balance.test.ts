/**
 * The closed form of the freezing fraction against the heat balance solved step by step, over random icing cloud, with the
 * same published property fits: this tries the algebra. Other fits try the physics: heat-balance-physics.test.ts.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { saturationVaporPressureWaterPa } from '../../worker/science/saturation.ts';
import { assertClose } from '../support/assert-close.ts';
import { goffGratchIcePa } from '../support/goff-gratch.ts';
import { type Exchange, publishedExchange } from '../support/icing-exchange.ts';
import { type Exposure, solveSurface, ZERO_CELSIUS_K } from '../support/numeric-heat-balance.ts';
import {
  type ClosedForm,
  closedForm,
  exposureOf,
  freezingK,
  icingCloud,
  REPORT_WATER,
} from '../support/random-icing.ts';

function sameFits(closed: ClosedForm): Exposure {
  const exchange = publishedExchange(closed.air, saturationVaporPressureWaterPa);
  return exposureOf(closed, exchange, {
    substance: REPORT_WATER,
    saturationPa: saturationVaporPressureWaterPa,
  });
}

const RUNS = { seed: 1953, numRuns: 5000 };

test('with the same fits the solved surface freezes the same part, to 0.002 K of convection', () => {
  const kinds = { dry: 0, partly: 0, wet: 0 };
  fc.assert(
    fc.property(icingCloud, (cloud) => {
      const closed = closedForm(cloud);
      const solved = solveSurface(sameFits(closed));
      kinds[closed.fraction === 1 ? 'dry' : closed.fraction === 0 ? 'wet' : 'partly'] += 1;
      const heat = REPORT_WATER.freezingHeat;
      assertClose(freezingK(closed, solved.frozenPart, heat), freezingK(closed, closed.fraction, heat), {
        abs: 0.002,
        why: 'heat of evaporation and gas constant typed with five figures',
      });
    }),
    RUNS,
  );
  // Every branch was visited.
  expect(Math.min(...Object.values(kinds)), JSON.stringify(kinds)).toBeGreaterThan(100);
});

test('the closed form clips to 1 exactly where the solved surface is below 0 degC, and to 0 where it is above', () => {
  fc.assert(
    fc.property(icingCloud, (cloud) => {
      const closed = closedForm(cloud);
      const aboveK = solveSurface(sameFits(closed)).temperatureK - ZERO_CELSIUS_K;
      // Between these limits the two may differ by their last figures.
      if (aboveK < -0.002) expect(closed.fraction).toBe(1);
      else if (aboveK > 0.002) expect(closed.fraction).toBe(0);
      else expect(Math.abs(aboveK) < 1e-9 || closed.fraction === 0 || closed.fraction === 1).toBe(true);
      if (closed.fraction === 1) expect(aboveK).toBeLessThan(0.002);
      if (closed.fraction === 0) expect(aboveK).toBeGreaterThan(-0.002);
    }),
    RUNS,
  );
});

/** Ice evaporates from the first frozen moment on, taking the heat of melting along. */
function iceEvaporates(closed: ClosedForm, exchange: Exchange): Exposure {
  return exposureOf(closed, exchange, {
    substance: { ...REPORT_WATER, evaporationHeat: () => 2.5009e6 + 3.3464e5 },
    saturationPa: (surfaceK) =>
      (611.2 * goffGratchIcePa(Math.min(surfaceK, ZERO_CELSIUS_K))) / goffGratchIcePa(ZERO_CELSIUS_K),
  });
}

test('where ice evaporates, the surface is below 0 degC once the fraction exceeds 1 less the evaporated share of the catch', () => {
  let compared = 0;
  let greatestShare = 0;
  fc.assert(
    fc.property(icingCloud, (cloud) => {
      const closed = closedForm(cloud);
      const exchange = publishedExchange(closed.air, saturationVaporPressureWaterPa);
      const share = exchange.vaporKgPerM2S(611.2) / closed.caughtKgPerM2S;
      // Where vapor settles the limit lies beyond 1, where the clipped fraction tells nothing; at the limit neither does.
      if (share <= 0 || Math.abs(freezingK(closed, closed.fraction - 1 + share, 3.3e5)) < 0.003) return;
      const { temperatureK } = solveSurface(iceEvaporates(closed, exchange));
      expect(temperatureK < ZERO_CELSIUS_K).toBe(closed.fraction > 1 - share);
      compared += 1;
      if (closed.fraction < 1 && cloud.logWaterGPerM3 > -1) greatestShare = Math.max(greatestShare, share);
    }),
    RUNS,
  );
  expect(compared).toBeGreaterThan(4000);
  // From 0.1 g/m3 up, a wet surface loses at most a fifth of its catch to the air; the growth does not take it off.
  expect(greatestShare).toBeGreaterThan(0.08);
  expect(greatestShare).toBeLessThan(0.2);
});

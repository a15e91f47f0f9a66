/**
 * The closed form of the freezing fraction against the heat balance written out with other property fits, another law of
 * evaporation and an integrated boundary layer, over random icing cloud.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { assertClose } from '../support/assert-close.ts';
import { recordDifferences } from '../support/difference-record.ts';
import { goffGratchWaterPa } from '../support/goff-gratch.ts';
import { separateExchange } from '../support/icing-exchange.ts';
import { heatFlows, type Substance, ZERO_CELSIUS_K } from '../support/numeric-heat-balance.ts';
import {
  type ClosedForm,
  closedForm,
  exposureOf,
  freezingK,
  icingCloud,
  REPORT_WATER,
} from '../support/random-icing.ts';

/** Of handbooks of physics (from memory): freezing heat 0.3 % smaller, evaporation heat by temperature. */
const HANDBOOK_WATER: Substance = {
  airHeatCapacity: 1005,
  waterHeatCapacity: 4218,
  iceHeatCapacity: 2090,
  freezingHeat: 3.3355e5,
  evaporationHeat: (surfaceK) => 2.5009e6 - 2370 * (surfaceK - ZERO_CELSIUS_K),
};

/**
 * The published form drives vapor by differences of density, not of mass fraction, and so counts the stagnation rise once
 * more in the vapor over the surface, K of convection.
 */
function densityFormExcessK(closed: ClosedForm): number {
  const { temperatureK, pressurePa, speedMps } = closed.air;
  const rise = speedMps ** 2 / (2 * 1005 * temperatureK);
  const edgePa = pressurePa * (1 + rise) ** 3.5;
  return ((1.11 * 2.5e6) / 1005) * ((0.622 * 611) / edgePa) * rise;
}

test('with other fits freezing is worth within 0.9 K of convection of the closed form (rms 0.25 K), every term named', () => {
  const differences = recordDifferences();
  fc.assert(
    fc.property(icingCloud, (cloud) => {
      const closed = closedForm(cloud);
      if (closed.fraction === 0 || closed.fraction === 1) return;
      const exposure = exposureOf(closed, separateExchange(closed.air), {
        substance: HANDBOOK_WATER,
        saturationPa: goffGratchWaterPa,
      });
      const flows = heatFlows(exposure, { temperatureK: ZERO_CELSIUS_K, frozenPart: 0 });
      const needed = -Object.values(flows).reduce((sum, flow) => sum + flow, 0) / closed.convectionWPerM2K;
      const excess = needed - freezingK(closed, closed.fraction, REPORT_WATER.freezingHeat);
      const lost = -(flows.convection + flows.evaporation + flows.waterWarming) / closed.convectionWPerM2K;
      const evaporated = Math.abs(flows.evaporation) / closed.convectionWPerM2K;
      assertClose(excess, -densityFormExcessK(closed), {
        abs: 0.03 * evaporated + 0.005 * lost,
        why: 'diffusivities 4 % apart to the power 2/3; heat transfer coefficients and latent heats 0.5 %',
      });
      differences.add(excess, JSON.stringify(cloud));
    }),
    { seed: 1954, numRuns: 6000 },
  );
  expect(differences.count).toBeGreaterThan(1000);
  expect(differences.lowest, differences.largestAt).toBeGreaterThan(-0.9);
  expect(differences.highest, differences.largestAt).toBeLessThan(0.6);
  expect(differences.rms).toBeLessThan(0.25);
});

test('convection by the integrated boundary layer is within 0.5 % of the coefficient of the closed form', () => {
  const differences = recordDifferences();
  fc.assert(
    fc.property(icingCloud, (cloud) => {
      const closed = closedForm(cloud);
      const ratio = separateExchange(closed.air).convectionWPerM2K / closed.convectionWPerM2K;
      differences.add(ratio - 1, JSON.stringify(cloud));
    }),
    { seed: 1911, numRuns: 200 },
  );
  expect(differences.count).toBe(200);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.005);
});

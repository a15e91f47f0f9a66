/**
 * The step-by-step heat balance on its own, before it judges the closed form: the shares of heat that the Aircraft Icing
 * Handbook, DOT/FAA/CT-88/8-1, prints for a 20 cm cylinder at sea level (tables 2-5 to 2-8).
 */
import { expect, test } from 'vitest';
import { HANDBOOK_ROWS, type HandbookRow } from '../published/handbook-heat-rows.ts';
import { recordDifferences } from '../support/difference-record.ts';
import { goffGratchWaterPa } from '../support/goff-gratch.ts';
import {
  type CloudAir,
  type Exchange,
  publishedExchange,
  separateExchange,
} from '../support/icing-exchange.ts';
import { type HeatFlows, heatFlows, solveSurface, ZERO_CELSIUS_K } from '../support/numeric-heat-balance.ts';

/** The row's balance, with its own ratio of warming to convection and so its own catch. */
function solveRow(row: HandbookRow, fits: string) {
  const air: CloudAir = {
    temperatureK: ZERO_CELSIUS_K + row.celsius,
    pressurePa: 101_325,
    speedMps: row.speedMps,
    diameterM: 0.2,
  };
  const exchange: Exchange =
    fits === 'published' ? publishedExchange(air, goffGratchWaterPa) : separateExchange(air);
  const exposure = {
    airTemperatureK: air.temperatureK,
    speedMps: air.speedMps,
    caughtKgPerM2S: ((row.warmingPct / row.convectionPct) * exchange.convectionWPerM2K) / 4220,
    convectionWPerM2K: exchange.convectionWPerM2K,
    evaporationKgPerM2S: (surfaceK: number) => exchange.vaporKgPerM2S(goffGratchWaterPa(surfaceK)),
    substance: {
      airHeatCapacity: 1004.7,
      waterHeatCapacity: 4220,
      iceHeatCapacity: 2100,
      freezingHeat: 3.3464e5,
      evaporationHeat: () => 2.5009e6,
    },
  };
  const surface = solveSurface(exposure);
  return { surface, flows: heatFlows(exposure, surface) };
}

const percent = (flow: number, flows: HeatFlows): number => {
  const all = Object.values(flows).reduce((sum, each) => sum + Math.abs(each), 0);
  return (200 * Math.abs(flow)) / all;
};

/** Half of 1 % by printing and 0.7 % by the ratio of two printed shares; the separate fits evaporate 2 % less at 130 m/s. */
const LIMITS = [
  { fits: 'published', largest: 1.2, rms: 0.4 },
  { fits: 'separate', largest: 2.2, rms: 0.5 },
];

for (const { fits, largest, rms } of LIMITS) {
  test(`with ${fits} property fits the six shares of heat of 42 printed rows are met within ${largest} % of all heat`, () => {
    const shares = recordDifferences();
    const fractions = recordDifferences();
    for (const row of HANDBOOK_ROWS) {
      const { surface, flows } = solveRow(row, fits);
      const pairs = [
        [flows.airFriction, row.viscousPct],
        [flows.freezing, row.freezingPct],
        [flows.dropSpeed, row.kineticPct],
        [flows.convection, row.convectionPct],
        [flows.evaporation, row.evaporationPct],
        [flows.waterWarming, row.warmingPct],
      ] as const;
      for (const [flow, printed] of pairs) shares.add(percent(flow, flows) - printed, JSON.stringify(row));
      fractions.add(surface.frozenPart - row.freezingFraction, JSON.stringify(row));
    }
    expect(shares.count).toBe(252);
    expect(shares.largest, shares.largestAt).toBeLessThan(largest);
    expect(shares.rms).toBeLessThan(rms);
    // 0.042 at -26 degC with either; the handbook does not print its properties of water.
    expect(fractions.largest, fractions.largestAt).toBeLessThan(0.043);
  });
}

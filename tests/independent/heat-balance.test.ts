/**
 * The closed form of the freezing fraction against the heat balance solved step by step, over random icing cloud: once with
 * the same published property fits, which tries the algebra, once with others, which tries the physics.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  airColdK,
  convectionWPerM2K,
  dropColdK,
  freezingFraction,
} from '../../worker/science/heat-balance.ts';
import { catchKgPerM2S, type Impact, localEfficiency } from '../../worker/science/impact.ts';
import { saturationVaporPressureWaterPa } from '../../worker/science/saturation.ts';
import { assertClose } from '../support/assert-close.ts';
import { recordDifferences } from '../support/difference-record.ts';
import { goffGratchIcePa, goffGratchWaterPa } from '../support/goff-gratch.ts';
import {
  type CloudAir,
  type Exchange,
  publishedExchange,
  separateExchange,
} from '../support/icing-exchange.ts';
import {
  type Exposure,
  heatFlows,
  type Substance,
  solveSurface,
  ZERO_CELSIUS_K,
} from '../support/numeric-heat-balance.ts';

/** Of the accretion report behind the closed form. */
const REPORT_WATER: Substance = {
  airHeatCapacity: 1004.7,
  waterHeatCapacity: 4220,
  iceHeatCapacity: 2100,
  freezingHeat: 3.3464e5,
  evaporationHeat: () => 2.5009e6,
};

/** Of handbooks of physics (from memory): freezing heat 0.3 % smaller, evaporation heat by temperature. */
const HANDBOOK_WATER: Substance = {
  airHeatCapacity: 1005,
  waterHeatCapacity: 4218,
  iceHeatCapacity: 2090,
  freezingHeat: 3.3355e5,
  evaporationHeat: (surfaceK) => 2.5009e6 - 2370 * (surfaceK - ZERO_CELSIUS_K),
};

/** Even over the range; the library's own fractional numbers crowd round zero. */
const even = (min: number, max: number) =>
  fc.integer({ min: 0, max: 100_000 }).map((count) => min + ((max - min) * count) / 100_000);

/** Cloud at -40 to 0 degC and 300 to 1013 hPa, 50 to 130 m/s, 10 to 50 um, a cylinder of 6 to 100 mm radius. */
const icingCloud = fc.record({
  celsius: even(-40, 0),
  speedMps: even(50, 130),
  /** 0.01 to 1 g/m3. */
  logWaterGPerM3: even(-2, 0),
  diameterUm: even(10, 50),
  logRadiusM: even(Math.log10(0.006), -1),
  pressureHPa: even(300, 1013),
});
type IcingCloud = typeof icingCloud extends fc.Arbitrary<infer T> ? T : never;

interface ClosedForm {
  readonly fraction: number;
  readonly caughtKgPerM2S: number;
  readonly convectionWPerM2K: number;
  readonly air: CloudAir;
}

/** What the code under test makes of it, put together as growth.ts does. */
function closedForm(cloud: IcingCloud): ClosedForm {
  const radiusM = 10 ** cloud.logRadiusM;
  const impact: Impact = {
    pressurePa: 100 * cloud.pressureHPa,
    temperatureK: ZERO_CELSIUS_K + cloud.celsius,
    trueAirspeedMps: cloud.speedMps,
    liquidWaterKgPerM3: 10 ** cloud.logWaterGPerM3 / 1000,
    diameterM: cloud.diameterUm * 1e-6,
    dropColdK: Number.NaN,
    airColdK: Number.NaN,
  };
  const { pressurePa, temperatureK, trueAirspeedMps: speedMps } = impact;
  const caughtKgPerM2S = catchKgPerM2S(impact, localEfficiency(impact, radiusM));
  const convection = convectionWPerM2K(impact, 2 * radiusM);
  const fraction = freezingFraction(
    dropColdK(temperatureK, speedMps),
    airColdK(temperatureK, pressurePa, speedMps),
    (caughtKgPerM2S * 4220) / convection,
  );
  const air = { temperatureK, pressurePa, speedMps, diameterM: 2 * radiusM };
  return { fraction, caughtKgPerM2S, convectionWPerM2K: convection, air };
}

/** Wet or frozen, the surface loses vapor as liquid water does. */
function exposureOf(
  closed: ClosedForm,
  exchange: Exchange,
  water: { readonly substance: Substance; readonly saturationPa: (temperatureK: number) => number },
): Exposure {
  return {
    airTemperatureK: closed.air.temperatureK,
    speedMps: closed.air.speedMps,
    caughtKgPerM2S: closed.caughtKgPerM2S,
    convectionWPerM2K: exchange.convectionWPerM2K,
    evaporationKgPerM2S: (surfaceK) => exchange.vaporKgPerM2S(water.saturationPa(surfaceK)),
    substance: water.substance,
  };
}

function sameFits(closed: ClosedForm): Exposure {
  const exchange = publishedExchange(closed.air, saturationVaporPressureWaterPa);
  return exposureOf(closed, exchange, {
    substance: REPORT_WATER,
    saturationPa: saturationVaporPressureWaterPa,
  });
}

/** How many kelvins of convection freezing that part of the catch is worth. */
const freezingK = (closed: ClosedForm, fraction: number, heat: number): number =>
  (closed.caughtKgPerM2S * fraction * heat) / closed.convectionWPerM2K;

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

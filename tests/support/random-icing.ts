/** Random icing cloud for property tests, what the code under test makes of it, and the numeric balance of the same. */
import fc from 'fast-check';
import {
  airColdK,
  convectionWPerM2K,
  dropColdK,
  freezingFraction,
} from '../../worker/science/heat-balance.ts';
import { catchKgPerM2S, type Impact, localEfficiency } from '../../worker/science/impact.ts';
import type { CloudAir, Exchange } from './icing-exchange.ts';
import { type Exposure, type Substance, ZERO_CELSIUS_K } from './numeric-heat-balance.ts';

/** Of the accretion report behind the closed form. */
export const REPORT_WATER: Substance = {
  airHeatCapacity: 1004.7,
  waterHeatCapacity: 4220,
  iceHeatCapacity: 2100,
  freezingHeat: 3.3464e5,
  evaporationHeat: () => 2.5009e6,
};

/** Even over the range; the library's own fractional numbers crowd round zero. */
const even = (min: number, max: number) =>
  fc.integer({ min: 0, max: 100_000 }).map((count) => min + ((max - min) * count) / 100_000);

/** Cloud at -40 to 0 degC and 300 to 1013 hPa, 50 to 130 m/s, 10 to 50 um, a cylinder of 6 to 100 mm radius. */
export const icingCloud = fc.record({
  celsius: even(-40, 0),
  speedMps: even(50, 130),
  /** 0.01 to 1 g/m3. */
  logWaterGPerM3: even(-2, 0),
  diameterUm: even(10, 50),
  logRadiusM: even(Math.log10(0.006), -1),
  pressureHPa: even(300, 1013),
});
/** One draw. */
export type IcingCloud = typeof icingCloud extends fc.Arbitrary<infer T> ? T : never;

/** Answers of the code under test. */
export interface ClosedForm {
  readonly fraction: number;
  readonly caughtKgPerM2S: number;
  readonly convectionWPerM2K: number;
  readonly air: CloudAir;
}

/** @returns what the code under test makes of it, put together as growth.ts does. */
export function closedForm(cloud: IcingCloud): ClosedForm {
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

/** @returns the same for the numeric balance; wet or frozen, the surface loses vapor as liquid water does. */
export function exposureOf(
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

/** @returns how many kelvins of convection freezing that part of the catch is worth. */
export const freezingK = (closed: ClosedForm, fraction: number, heat: number): number =>
  (closed.caughtKgPerM2S * fraction * heat) / closed.convectionWPerM2K;

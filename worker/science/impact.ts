/** Air, water and speed as they meet a part of the aeroplane: what catch and heat balance both start from. */
import {
  airViscosityPaS,
  dropReynolds,
  inertiaParameter,
  modifiedInertia,
  overallEfficiency,
  rangeRatio,
  stagnationEfficiency,
} from './collection.ts';
import { DRY_AIR_GAS_CONSTANT } from './constants.ts';

/** Filled anew for each cell: one object serves a whole diagnosis. */
export interface Impact {
  pressurePa: number;
  /** Static air temperature, K. */
  temperatureK: number;
  trueAirspeedMps: number;
  liquidWaterKgPerM3: number;
  /** Median volume diameter, m. */
  diameterM: number;
  /** What the drops and what the air can take up, K: see heat-balance.ts. */
  dropColdK: number;
  airColdK: number;
}

export function makeImpact(): Impact {
  return {
    pressurePa: 0,
    temperatureK: 0,
    trueAirspeedMps: 0,
    liquidWaterKgPerM3: 0,
    diameterM: 0,
    dropColdK: 0,
    airColdK: 0,
  };
}

/** Leading edges stand for cylinders of this many times their nose radius. */
export const NOSE_TO_CYLINDER = 2;

/** Modified inertia parameter of the median drop against a cylinder. */
function inertiaOf(impact: Impact, radiusM: number): number {
  const viscosity = airViscosityPaS(impact.temperatureK);
  const density = impact.pressurePa / (DRY_AIR_GAS_CONSTANT * impact.temperatureK);
  const inertia = inertiaParameter(impact.diameterM, impact.trueAirspeedMps, viscosity, radiusM);
  const reynolds = dropReynolds(impact.diameterM, impact.trueAirspeedMps, viscosity, density);
  return modifiedInertia(inertia, rangeRatio(reynolds));
}

/**
 * Local collection efficiency at the stagnation line of a cylinder, all drops of the median size.
 *
 * @param impact   Conditions.
 * @param radiusM  Radius of the cylinder, m; for a leading edge twice the nose radius.
 * @returns        0-1.
 * @throws         never.
 * @source         See collection.ts.
 * @checked        tests/published/collection.test.ts
 */
export function localEfficiency(impact: Impact, radiusM: number): number {
  return stagnationEfficiency(inertiaOf(impact, radiusM));
}

/**
 * Part of the water in the path of a whole cylinder that it catches, all drops of the median size.
 *
 * @param impact   Conditions.
 * @param radiusM  Radius of the cylinder, m.
 * @returns        0-1.
 * @throws         never.
 * @source         See collection.ts.
 * @checked        tests/published/collection.test.ts
 */
export function wholeEfficiency(impact: Impact, radiusM: number): number {
  return overallEfficiency(inertiaOf(impact, radiusM));
}

/**
 * Water caught on each area of the stagnation line.
 *
 * @param impact      Conditions.
 * @param efficiency  beta0, 0-1.
 * @returns           kg/m2/s.
 * @throws            never.
 * @source            LWC V beta0.
 */
export function catchKgPerM2S(impact: Impact, efficiency: number): number {
  return impact.liquidWaterKgPerM3 * impact.trueAirspeedMps * efficiency;
}

/** How fast ice thickens on a part of the aeroplane. */
import { WATER_HEAT_CAPACITY } from './constants.ts';
import { convectionWPerM2K, freezingFraction } from './heat-balance.ts';
import { catchKgPerM2S, type Impact, localEfficiency, NOSE_TO_CYLINDER } from './impact.ts';

/** Density of ice grown at flight speed, kg/m3: the low end of 880-917, so that thickness is not understated. */
export const ICE_DENSITY_KG_PER_M3 = 880;

/** What one part meets: filled anew for each cell. */
export interface Accretion {
  /** beta0, 0-1. */
  efficiency: number;
  /** kg/m2/s. */
  catchKgPerM2S: number;
  /** 0-1. */
  freezingFraction: number;
  /** m/s of thickness. */
  growthMps: number;
}

export function makeAccretion(): Accretion {
  return { efficiency: 0, catchKgPerM2S: 0, freezingFraction: 0, growthMps: 0 };
}

/** A part as a cylinder: the radius that catches, and the length that sheds heat. */
export interface Part {
  readonly catchRadiusM: number;
  readonly heatDiameterM: number;
}

/** @returns a leading edge: catches as a cylinder of twice its nose radius, sheds heat as one of the nose radius. */
export function leadingEdge(noseRadiusM: number): Part {
  return { catchRadiusM: NOSE_TO_CYLINDER * noseRadiusM, heatDiameterM: 2 * noseRadiusM };
}

/** @returns a round rod. */
export function rod(radiusM: number): Part {
  return { catchRadiusM: radiusM, heatDiameterM: 2 * radiusM };
}

/**
 * Thickness growth from water caught and the part of it that freezes.
 *
 * @param caught    kg/m2/s.
 * @param freezing  Freezing fraction, 0-1.
 * @returns         m/s.
 * @throws          never.
 * @source          LWC V beta n / rho_ice.
 * @checked         tests/published/growth.test.ts
 */
export function thicknessRateMps(caught: number, freezing: number): number {
  return (caught * freezing) / ICE_DENSITY_KG_PER_M3;
}

/**
 * Catch, freezing fraction and growth at the stagnation line of a part.
 *
 * @param impact  Conditions; all positive.
 * @param part    The part.
 * @param result  Filled.
 * @throws        never.
 * @source        See impact.ts, heat-balance.ts.
 * @checked       tests/published/growth.test.ts
 */
export function accrete(impact: Impact, part: Part, result: Accretion): void {
  const efficiency = localEfficiency(impact, part.catchRadiusM);
  const caught = catchKgPerM2S(impact, efficiency);
  const heatRatio = (caught * WATER_HEAT_CAPACITY) / convectionWPerM2K(impact, part.heatDiameterM);
  const fraction = caught > 0 ? freezingFraction(impact.dropColdK, impact.airColdK, heatRatio) : 0;
  result.efficiency = efficiency;
  result.catchKgPerM2S = caught;
  result.freezingFraction = fraction;
  result.growthMps = thicknessRateMps(caught, fraction);
}

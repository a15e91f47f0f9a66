/** Where the ground is in a profile. */
import type { Profile } from './columns.ts';
import { layerThicknessM } from './hydrostatics.ts';

/** A lowest level this near the ground's height stands on the ground, m. */
const AT_GROUND_M = 50;

/**
 * Pressure at the ground.
 *
 * @param profile  Levels, pressure strictly decreasing, and surfaceHeightM.
 * @param heightM  Geopotential height of every level, gaps filled.
 * @returns        Pa. The lowest level's when that stands on the ground; among the levels linear in ln p; below them by the
 *                 hypsometric equation. NaN when the ground's height, the levels' heights or their temperature are missing:
 *                 then no cell can be called below ground.
 * @throws         never.
 */
export function groundPressurePa(profile: Profile, heightM: Float64Array): number {
  const groundM = profile.surfaceHeightM;
  const lowest = heightM.findIndex((each) => Number.isFinite(each));
  if (!Number.isFinite(groundM) || lowest < 0) return Number.NaN;
  const aboveGroundM = heightM[lowest]! - groundM;
  const lowestPa = profile.pressurePa[lowest]!;
  if (Math.abs(aboveGroundM) <= AT_GROUND_M) return lowestPa;
  return aboveGroundM > 0
    ? pressureBelow(profile, lowestPa, aboveGroundM)
    : pressureAmong(profile, heightM, lowest);
}

function pressureBelow(profile: Profile, lowestPa: number, depthM: number): number {
  const temperatureK = profile.temperatureK.find((each) => Number.isFinite(each));
  if (temperatureK === undefined) return Number.NaN;
  const scaleM = layerThicknessM(Math.E, 1, temperatureK);
  return lowestPa * Math.exp(depthM / scaleM);
}

function pressureAmong(profile: Profile, heightM: Float64Array, lowest: number): number {
  for (let level = lowest; level + 1 < profile.levelCount; level += 1) {
    const belowM = heightM[level]!;
    const aboveM = heightM[level + 1]!;
    if (!(belowM <= profile.surfaceHeightM && aboveM >= profile.surfaceHeightM)) continue;
    const share = (profile.surfaceHeightM - belowM) / (aboveM - belowM);
    const ln = Math.log(profile.pressurePa[level + 1]! / profile.pressurePa[level]!);
    return profile.pressurePa[level]! * Math.exp(share * ln);
  }
  return Number.NaN;
}

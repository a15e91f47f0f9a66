/** Thickness of layers, heights a profile lacks, and true height under an altimeter. */
import type { Profile } from './columns.ts';
import { DRY_AIR_GAS_CONSTANT, GRAVITY_MPS2 } from './constants.ts';
import { mixingRatioKgPerKg, virtualTemperatureK } from './humidity.ts';
import { saturationVaporPressureWaterPa } from './saturation.ts';
import {
  pressurePaFromPressureAltitudeM,
  STANDARD_SETTING_PA,
  standardTemperatureK,
} from './standard-atmosphere.ts';

/**
 * Thickness of a layer of air.
 *
 * @param lowerPa              Pressure at its foot, Pa.
 * @param upperPa              Pressure at its top, Pa.
 * @param virtualTemperature   Mean virtual temperature, K.
 * @returns                    Geopotential m; NaN where an input is NaN.
 * @throws                     never.
 * @source                     Hypsometric equation.
 * @checked                    tests/published/standard-atmosphere.test.ts
 */
export function layerThicknessM(lowerPa: number, upperPa: number, virtualTemperature: number): number {
  return ((DRY_AIR_GAS_CONSTANT * virtualTemperature) / GRAVITY_MPS2) * Math.log(lowerPa / upperPa);
}

/**
 * Geopotential height at every level: as given where given, between given heights linear in ln p, beyond them by the
 * hypsometric equation from temperature and humidity.
 *
 * @param profile  Levels, pressure strictly decreasing.
 * @returns        Geopotential m, length levelCount; NaN where no height can be had: no level has one, or temperature is
 *                 missing on the way.
 * @throws         never.
 */
export function filledHeightsM(profile: Profile): Float64Array {
  const heightM = Float64Array.from(profile.geopotentialHeightM);
  let lowest = -1;
  let highest = -1;
  for (let level = 0; level < profile.levelCount; level += 1) {
    if (!Number.isFinite(heightM[level]!)) continue;
    if (lowest < 0) lowest = level;
    else fillBetween(heightM, profile.pressurePa, highest, level);
    highest = level;
  }
  if (lowest < 0) return heightM;
  for (let level = highest + 1; level < profile.levelCount; level += 1) {
    heightM[level] = heightM[level - 1]! + thicknessBetween(profile, level - 1, level);
  }
  for (let level = lowest - 1; level >= 0; level -= 1) {
    heightM[level] = heightM[level + 1]! - thicknessBetween(profile, level, level + 1);
  }
  return heightM;
}

function fillBetween(heightM: Float64Array, pressurePa: Float64Array, lower: number, upper: number): void {
  const span = Math.log(pressurePa[lower]! / pressurePa[upper]!);
  for (let level = lower + 1; level < upper; level += 1) {
    const share = Math.log(pressurePa[lower]! / pressurePa[level]!) / span;
    heightM[level] = heightM[lower]! + share * (heightM[upper]! - heightM[lower]!);
  }
}

function thicknessBetween(profile: Profile, lower: number, upper: number): number {
  const mean = (virtualAt(profile, lower) + virtualAt(profile, upper)) / 2;
  return layerThicknessM(profile.pressurePa[lower]!, profile.pressurePa[upper]!, mean);
}

/** Air of unknown humidity counts as dry: at most 0.4 % of thickness below 10 degC. */
function virtualAt(profile: Profile, level: number): number {
  const temperatureK = profile.temperatureK[level]!;
  const humidity = profile.relativeHumidityRatio[level]!;
  if (!Number.isFinite(humidity)) return temperatureK;
  const vaporPa = humidity * saturationVaporPressureWaterPa(temperatureK);
  return virtualTemperatureK(temperatureK, mixingRatioKgPerKg(vaporPa, profile.pressurePa[level]!));
}

/**
 * Difference of the air's temperature from the standard atmosphere's at the same pressure.
 *
 * @param temperatureK       K.
 * @param pressureAltitudeM  m.
 * @returns                  K, negative in cold air.
 * @throws                   never.
 */
export function isaDeviationK(temperatureK: number, pressureAltitudeM: number): number {
  return temperatureK - standardTemperatureK(pressureAltitudeM);
}

/**
 * True height at an indicated altitude when the whole column differs from standard by the same amount and the setting is
 * that of a station at sea level.
 *
 * @param indicatedM  Indicated altitude, m.
 * @param deviationK  Difference from the standard atmosphere, K.
 * @returns           Geopotential m above mean sea level.
 * @throws            never.
 * @source            Hypsometric equation over the standard atmosphere shifted by deviationK.
 * @checked           tests/published/standard-atmosphere.test.ts
 */
export function trueHeightMFromIndicatedM(indicatedM: number, deviationK: number): number {
  const pressurePa = pressurePaFromPressureAltitudeM(indicatedM);
  return indicatedM + layerThicknessM(STANDARD_SETTING_PA, pressurePa, deviationK);
}

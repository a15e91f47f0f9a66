/** Where flight levels lie on an axis of indicated altitude. */
import { indicatedAltitudeM } from '../../../worker/science/standard-atmosphere.ts';

const FT_IN_M = 0.3048;
const PA_PER_HPA = 100;

export function indicatedFtOfFlightLevel(flightLevel: number, altimeterSettingHPa: number): number {
  return indicatedAltitudeM(flightLevel * 100 * FT_IN_M, altimeterSettingHPa * PA_PER_HPA) / FT_IN_M;
}

/** Every so many levels, those that lie inside the range. */
export function flightLevelTicks(
  range: { readonly lowestFt: number; readonly highestFt: number },
  altimeterSettingHPa: number,
  everyFlightLevels: number,
): { readonly flightLevel: number; readonly indicatedFt: number }[] {
  const ticks = [];
  for (let flightLevel = everyFlightLevels; flightLevel <= 600; flightLevel += everyFlightLevels) {
    const indicatedFt = indicatedFtOfFlightLevel(flightLevel, altimeterSettingHPa);
    if (indicatedFt > range.highestFt) break;
    if (indicatedFt >= range.lowestFt) ticks.push({ flightLevel, indicatedFt });
  }
  return ticks;
}

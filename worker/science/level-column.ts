/** One profile diagnosed on its own levels: each level becomes a cell, nothing is interpolated. */
import { type AltitudeAxis, CELL_STATE, type Profile, type WeatherColumns } from './columns.ts';
import { AIRCRAFT_READING } from './humidity-basis.ts';
import { filledHeightsM } from './hydrostatics.ts';
import { emptyWeatherColumns } from './profile-columns.ts';
import { pressureAltitudeMFromPressurePa } from './standard-atmosphere.ts';

/** Half the depth of the only cell of a profile with one level, in ln p (about 10 hPa at 1000 hPa). */
const LONE_HALF_DEPTH = 0.01;

/**
 * Columns with one column whose cells are the profile's levels: cell n is level n.
 *
 * A level is known when it has temperature and humidity. The axis has edges midway between levels in ln p, the outermost
 * as far outside as inside; its cellDepthM is NaN because the cells differ.
 *
 * @param profile  Levels, pressure strictly decreasing, at least one.
 * @returns        One column of levelCount cells.
 * @throws         never.
 */
export function columnFromLevels(profile: Profile): WeatherColumns {
  const columns = emptyWeatherColumns(
    levelAxis(profile.pressurePa),
    [profile.condensateBasis],
    [profile.cloudSaturation ?? AIRCRAFT_READING],
  );
  columns.geopotentialHeightM.set(filledHeightsM(profile));
  columns.windEastMps.set(profile.windEastMps);
  columns.windNorthMps.set(profile.windNorthMps);
  columns.verticalVelocityPaPerS.set(profile.verticalVelocityPaPerS);
  columns.condensateKgPerKg.set(profile.condensateKgPerKg);
  if (profile.cloudFractionRatio !== undefined) columns.cloudFractionRatio.set(profile.cloudFractionRatio);
  if (profile.rainKgPerKg !== undefined) {
    columns.rainKgPerKg.set(profile.rainKgPerKg);
    columns.givesRain[0] = 1;
  }
  columns.freezingRainRatio[0] = profile.freezingRainRatio ?? Number.NaN;
  for (let level = 0; level < profile.levelCount; level += 1) {
    const temperatureK = profile.temperatureK[level]!;
    const humidity = profile.relativeHumidityRatio[level]!;
    const isKnown = Number.isFinite(temperatureK) && Number.isFinite(humidity);
    columns.state[level] = isKnown ? CELL_STATE.known : CELL_STATE.quantityMissing;
    if (!isKnown) continue;
    columns.temperatureK[level] = temperatureK;
    columns.relativeHumidityRatio[level] = humidity;
  }
  return columns;
}

function levelAxis(pressurePa: Float64Array): AltitudeAxis {
  const cellCount = pressurePa.length;
  const edgePressurePa = new Float64Array(cellCount + 1);
  for (let edge = 1; edge < cellCount; edge += 1) {
    edgePressurePa[edge] = Math.sqrt(pressurePa[edge - 1]! * pressurePa[edge]!);
  }
  const lone = Math.exp(LONE_HALF_DEPTH);
  const lowestPa = pressurePa[0]!;
  const highestPa = pressurePa[cellCount - 1]!;
  edgePressurePa[0] = cellCount > 1 ? lowestPa ** 2 / edgePressurePa[1]! : lowestPa * lone;
  edgePressurePa[cellCount] =
    cellCount > 1 ? highestPa ** 2 / edgePressurePa[cellCount - 1]! : highestPa / lone;
  return {
    cellCount,
    lowestM: pressureAltitudeMFromPressurePa(edgePressurePa[0]!),
    cellDepthM: Number.NaN,
    middlePressurePa: pressurePa,
    edgePressurePa,
  };
}

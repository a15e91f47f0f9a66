/** An ascent as the physics reads it: humidity over liquid water, wind as components. */
import type { Sounding } from '../formats/sounding.ts';
import type { Profile } from '../science/columns.ts';
import { relativeHumidityRatioFromDewPoint } from '../science/humidity.ts';
import { RADIOSONDE_READING } from '../science/humidity-basis.ts';
import { STANDARD_SURFACES_PA } from '../science/standard-surfaces.ts';

const RAD_PER_DEG = Math.PI / 180;

const STANDARD_PA: ReadonlySet<number> = new Set(STANDARD_SURFACES_PA);
/** Significant levels are looked for up to here: the tropopause above is told with the standard levels. */
const LOOKED_UP_TO_PA = 40_000;

/**
 * True when some level between the lowest one and 400 hPa is there for what the air does: part B of a TEMP, or the other
 * levels of an archive. Without any, a deck between two standard levels would be a straight line of dry air.
 */
function hasSignificantLevel(levels: Sounding['levels']): boolean {
  return levels.pressurePa.some(
    (pressurePa, level) =>
      level > 0 &&
      pressurePa > LOOKED_UP_TO_PA &&
      !STANDARD_PA.has(Math.round(pressurePa)) &&
      Number.isFinite(levels.temperatureK[level]! + levels.dewPointK[level]!),
  );
}

export function profileOfSounding(sounding: Sounding): Profile {
  const { levels } = sounding;
  const count = levels.levelCount;
  const humidity = new Float64Array(count);
  const windEastMps = new Float64Array(count);
  const windNorthMps = new Float64Array(count);
  for (let level = 0; level < count; level += 1) {
    humidity[level] = relativeHumidityRatioFromDewPoint(
      levels.temperatureK[level]!,
      levels.dewPointK[level]!,
    );
    const fromRad = levels.windDirectionDeg[level]! * RAD_PER_DEG;
    windEastMps[level] = -levels.windSpeedMps[level]! * Math.sin(fromRad);
    windNorthMps[level] = -levels.windSpeedMps[level]! * Math.cos(fromRad);
  }
  return {
    levelCount: count,
    pressurePa: levels.pressurePa,
    geopotentialHeightM: levels.geopotentialHeightM,
    temperatureK: levels.temperatureK,
    relativeHumidityRatio: humidity,
    windEastMps,
    windNorthMps,
    verticalVelocityPaPerS: new Float64Array(count).fill(Number.NaN),
    condensateKgPerKg: new Float64Array(count).fill(Number.NaN),
    condensateBasis: 'none',
    cloudSaturation: RADIOSONDE_READING,
    surfaceHeightM: sounding.elevationM,
    isStandardLevelsOnly: !hasSignificantLevel(levels),
    mayHaveWindLevels: true,
  };
}

/** An ascent as the physics reads it: humidity over liquid water, wind as components. */
import type { Sounding } from '../formats/sounding.ts';
import type { Profile } from '../science/columns.ts';
import { relativeHumidityRatioFromDewPoint } from '../science/humidity.ts';

const RAD_PER_DEG = Math.PI / 180;

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
    surfaceHeightM: sounding.elevationM,
  };
}

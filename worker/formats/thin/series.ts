/** What thinning watches: each quantity on the levels that have it, as whoever reads an ascent will interpolate it. */
import { relativeHumidityRatioFromDewPoint } from '../../science/humidity.ts';
import type { SoundingLevels } from '../sounding.ts';

/** One quantity on the levels that have it. */
export interface ThinSeries {
  /** Indexes of the levels that have it, upward. */
  readonly indexes: Int32Array;
  /** By index of the level. */
  readonly values: Float64Array;
  /** Greatest error allowed, in the quantity's unit. */
  readonly bound: number;
}

/**
 * Greatest errors of straight lines in ln p between the levels kept, up to ALOFT_PA. The temperature's is small because
 * the energy of a warm layer is: 0.1 K over 50 hPa at 850 hPa is 1.7 J/kg, and 2 J/kg melt snow.
 */
export const THIN_BOUNDS = {
  temperatureK: 0.1,
  dewPointK: 0.5,
  /** Of saturation over liquid water. */
  relativeHumidityRatio: 0.01,
  /** Of the eastward and of the northward wind. */
  windMps: 2,
  geopotentialHeightM: 10,
} as const;

/** Above this pressure altitude, 200 hPa, the bounds are wider: no water is liquid there. */
export const ALOFT_PA = 20_000;
export const ALOFT_FACTOR = 4;

const RAD_PER_DEG = Math.PI / 180;

/** Relative humidity over liquid water at each level, ratio; NaN where temperature or dew point is missing. */
export function humidityOfLevels({ levelCount, temperatureK, dewPointK }: SoundingLevels): Float64Array {
  return Float64Array.from({ length: levelCount }, (_, level) =>
    relativeHumidityRatioFromDewPoint(temperatureK[level]!, dewPointK[level]!),
  );
}

/** @param humidity  From humidityOfLevels. */
export function thinSeries(levels: SoundingLevels, humidity: Float64Array): ThinSeries[] {
  const { temperatureK, dewPointK, geopotentialHeightM } = levels;
  const airTemperatureK = temperatureK.map((value, level) =>
    Number.isNaN(humidity[level]!) ? Number.NaN : value,
  );
  const { eastMps, northMps } = windComponents(levels);
  return [
    seriesOf(humidity, THIN_BOUNDS.relativeHumidityRatio),
    seriesOf(airTemperatureK, THIN_BOUNDS.temperatureK),
    seriesOf(temperatureK, THIN_BOUNDS.temperatureK),
    seriesOf(dewPointK, THIN_BOUNDS.dewPointK),
    seriesOf(eastMps, THIN_BOUNDS.windMps),
    seriesOf(northMps, THIN_BOUNDS.windMps),
    seriesOf(geopotentialHeightM, THIN_BOUNDS.geopotentialHeightM),
  ];
}

function windComponents({ levelCount, windDirectionDeg, windSpeedMps }: SoundingLevels): {
  eastMps: Float64Array;
  northMps: Float64Array;
} {
  const eastMps = new Float64Array(levelCount);
  const northMps = new Float64Array(levelCount);
  for (let level = 0; level < levelCount; level += 1) {
    const fromRad = windDirectionDeg[level]! * RAD_PER_DEG;
    eastMps[level] = -windSpeedMps[level]! * Math.sin(fromRad);
    northMps[level] = -windSpeedMps[level]! * Math.cos(fromRad);
  }
  return { eastMps, northMps };
}

function seriesOf(values: Float64Array, bound: number): ThinSeries {
  const indexes: number[] = [];
  values.forEach((value, level) => {
    if (!Number.isNaN(value)) indexes.push(level);
  });
  return { indexes: Int32Array.from(indexes), values, bound };
}

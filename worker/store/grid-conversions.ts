/** Turns an hour's fields into what the physics reads: humidity over liquid water, wind to east and north. */
import { relativeHumidityRatioOverWater } from '../science/humidity-basis.ts';
import type { GridQuantity } from '../sources/ports.ts';
import type { HourInMemory } from './grid-writer.ts';

/**
 * In place. A level whose humidity cannot be turned, since it lacks temperature, loses its humidity: it is unknown
 * rather than a guess.
 */
export function humidityOverWater(hour: HourInMemory): void {
  if (hour.humidityBasis === 'water') return;
  for (const [key, { slice, values }] of [...hour.slices]) {
    const temperatureOf = TEMPERATURE_BESIDE[slice.quantity];
    if (temperatureOf === undefined) continue;
    const temperature = hour.slices.get(`${temperatureOf}@${slice.levelPa}`)?.values;
    if (temperature === undefined) {
      hour.slices.delete(key);
      continue;
    }
    for (let index = 0; index < values.length; index += 1) {
      values[index] = relativeHumidityRatioOverWater(values[index]!, temperature[index]!, hour.humidityBasis);
    }
  }
}

const TEMPERATURE_BESIDE: Partial<Record<GridQuantity, GridQuantity>> = {
  relativeHumidityRatio: 'temperatureK',
  screenRelativeHumidityRatio: 'screenTemperatureK',
};

/** In place. Wind along the grid's own axes becomes wind to east and north; a lone component is dropped. */
export function turnWinds(hour: HourInMemory): void {
  const { grid } = hour;
  if (!grid.windsAlongGrid) return;
  const angles = cellAngles(hour);
  for (const [key, { slice, values: along }] of [...hour.slices]) {
    const acrossQuantity = ACROSS_OF[slice.quantity];
    if (acrossQuantity === undefined) continue;
    const acrossKey = `${acrossQuantity}@${slice.levelPa}`;
    const across = hour.slices.get(acrossKey)?.values;
    if (across === undefined) hour.slices.delete(key);
    else turnBoth(along, across, angles);
  }
  for (const [key, { slice }] of [...hour.slices]) {
    const alongQuantity = ALONG_OF[slice.quantity];
    if (alongQuantity !== undefined && !hour.slices.has(`${alongQuantity}@${slice.levelPa}`)) {
      hour.slices.delete(key);
    }
  }
}

const ACROSS_OF: Partial<Record<GridQuantity, GridQuantity>> = {
  windEastMps: 'windNorthMps',
  screenWindEastMps: 'screenWindNorthMps',
};
const ALONG_OF: Partial<Record<GridQuantity, GridQuantity>> = {
  windNorthMps: 'windEastMps',
  screenWindNorthMps: 'screenWindEastMps',
};

function cellAngles(hour: HourInMemory): Float64Array {
  const { crop } = hour;
  const angles = new Float64Array(crop.nx * crop.ny);
  for (let index = 0; index < angles.length; index += 1) {
    const column = crop.i0 + (index % crop.nx);
    const row = crop.j0 + Math.floor(index / crop.nx);
    const { latDeg, lonDeg } = hour.grid.toLatLon(column, row);
    angles[index] = hour.grid.windAngleRad(latDeg, lonDeg);
  }
  return angles;
}

function turnBoth(along: Float32Array, across: Float32Array, angleRad: Float64Array): void {
  for (let index = 0; index < along.length; index += 1) {
    const u = along[index]!;
    const v = across[index]!;
    const cosine = Math.cos(angleRad[index]!);
    const sine = Math.sin(angleRad[index]!);
    along[index] = u * cosine + v * sine;
    across[index] = v * cosine - u * sine;
  }
}

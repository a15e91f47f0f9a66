/** Turns an hour's fields into what the physics reads: motion in Pa/s, one meaning of condensate, wind to east and north. */
import { GRAVITY_MPS2 } from '../science/constants.ts';
import { airDensityKgPerM3 } from '../science/humidity.ts';
import type { GridQuantity } from '../sources/ports.ts';
import { besides, type HourInMemory, pressureAt, putSlice, sliceKey } from './grid-hour.ts';

/** In place: omega from the speed of rising air, by the density of dry air (at most 2 % too great). */
export function pressureVelocity(hour: HourInMemory): void {
  for (const [key, slice] of [...hour.slices]) {
    if (slice.form !== 'geometric-velocity') continue;
    const temperatureK = besides(hour, 'temperatureK', slice);
    const pressurePa = pressureAt(hour, slice);
    if (temperatureK === undefined || pressurePa === undefined) {
      hour.slices.delete(key);
      continue;
    }
    const { values } = slice;
    for (let index = 0; index < values.length; index += 1) {
      const density = airDensityKgPerM3(pressurePa(index), temperatureK[index]!, 0);
      values[index] = -values[index]! * density * GRAVITY_MPS2;
    }
    putSlice(hour, { ...slice, form: 'as-named' });
  }
}

/**
 * In place: one meaning of condensate for the hour. Where some levels have cloud water alone, those that have only the total lose
 * it: they are unknown rather than taken for liquid.
 */
export function settleCondensate(hour: HourInMemory): void {
  const condensate = [...hour.slices.values()].filter(({ quantity }) => quantity === 'condensateKgPerKg');
  const hasLiquid = condensate.some(({ form }) => form === 'as-named');
  for (const slice of condensate) {
    if (!hasLiquid) putSlice(hour, { ...slice, form: 'as-named' });
    else if (slice.form === 'total-condensate') hour.slices.delete(sliceKey(slice.quantity, slice));
  }
  if (condensate.length > 0) hour.condensateBasis = hasLiquid ? 'liquid' : 'total';
}

/** In place: shares that packing made less than 0 or more than 1. */
export function clampShares(hour: HourInMemory): void {
  for (const { quantity, values } of hour.slices.values()) {
    if (quantity !== 'cloudFractionRatio') continue;
    for (let index = 0; index < values.length; index += 1) {
      values[index] = Math.min(1, Math.max(0, values[index]!));
    }
  }
}

/** In place. Wind along the grid's own axes becomes wind to east and north; a lone component is dropped. */
export function turnWinds(hour: HourInMemory): void {
  const { grid } = hour;
  if (!grid.windsAlongGrid) return;
  const angles = cellAngles(hour);
  for (const [key, slice] of [...hour.slices]) {
    const acrossQuantity = ACROSS_OF[slice.quantity];
    if (acrossQuantity === undefined) continue;
    const across = besides(hour, acrossQuantity, slice);
    if (across === undefined) hour.slices.delete(key);
    else turnBoth(slice.values, across, angles);
  }
  for (const [key, slice] of [...hour.slices]) {
    const alongQuantity = ALONG_OF[slice.quantity];
    if (alongQuantity !== undefined && besides(hour, alongQuantity, slice) === undefined) {
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

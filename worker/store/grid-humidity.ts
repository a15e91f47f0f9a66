/** Turns an hour's humidity, in whatever form it came, into relative humidity over liquid water. */
import { VAPOR_TO_AIR_RATIO } from '../science/constants.ts';
import { relativeHumidityRatioFromDewPoint } from '../science/humidity.ts';
import { type HumidityBasis, relativeHumidityRatioOverWater } from '../science/humidity-basis.ts';
import { saturationVaporPressureWaterPa } from '../science/saturation.ts';
import { plausibleRange } from '../sources/grid-plausible.ts';
import type { SliceForm } from '../sources/grid-quantities.ts';
import type { GridQuantity } from '../sources/ports.ts';
import { besides, type HourInMemory, pressureAt, putSlice } from './grid-hour.ts';

/**
 * In place: relative humidity over liquid water from whatever form the file has. A level that lacks what the form needs
 * (temperature, pressure) loses its humidity: it is unknown rather than a guess.
 */
export function humidityOverWater(hour: HourInMemory): void {
  for (const [key, slice] of [...hour.slices]) {
    const temperatureOf = TEMPERATURE_BESIDE[slice.quantity];
    if (temperatureOf === undefined) continue;
    if (slice.form === 'as-named' && hour.humidityBasis === 'water') continue;
    const temperatureK = besides(hour, temperatureOf, slice);
    const pressurePa = pressureAt(hour, slice);
    const isLacking = slice.form === 'specific-humidity' && pressurePa === undefined;
    if (temperatureK === undefined || isLacking) {
      hour.slices.delete(key);
      continue;
    }
    const { values } = slice;
    const [low, high] = plausibleRange(slice.quantity, 'as-named');
    const toRatio = ratioFrom(slice.form, hour.humidityBasis);
    for (let index = 0; index < values.length; index += 1) {
      const ratio = toRatio(values[index]!, temperatureK[index]!, pressurePa?.(index) ?? Number.NaN);
      values[index] = ratio >= low && ratio <= high ? ratio : Number.NaN;
    }
    putSlice(hour, { ...slice, form: 'as-named' });
  }
}

const TEMPERATURE_BESIDE: Partial<Record<GridQuantity, GridQuantity>> = {
  relativeHumidityRatio: 'temperatureK',
  screenRelativeHumidityRatio: 'screenTemperatureK',
};

type RatioOverWater = (value: number, temperatureK: number, pressurePa: number) => number;

function ratioFrom(form: SliceForm, basis: HumidityBasis): RatioOverWater {
  if (form === 'specific-humidity') {
    return (value, temperatureK, pressurePa) =>
      vaporPressurePa(Math.max(0, value), pressurePa) / saturationVaporPressureWaterPa(temperatureK);
  }
  if (form === 'dew-point') {
    return (value, temperatureK) => relativeHumidityRatioFromDewPoint(temperatureK, value);
  }
  if (form === 'dew-point-depression') {
    return (value, temperatureK) => relativeHumidityRatioFromDewPoint(temperatureK, temperatureK - value);
  }
  return (value, temperatureK) => relativeHumidityRatioOverWater(value, temperatureK, basis);
}

/** Pa, from the mass of vapor in a mass of moist air: the inverse of mixingRatioKgPerKg and specificHumidityKgPerKg. */
function vaporPressurePa(specificHumidity: number, pressurePa: number): number {
  return (specificHumidity * pressurePa) / (VAPOR_TO_AIR_RATIO + (1 - VAPOR_TO_AIR_RATIO) * specificHumidity);
}

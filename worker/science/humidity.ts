/** The forms humidity comes in, and the way from one to another. Vapor pressure is the common currency. */
import {
  DRY_AIR_GAS_CONSTANT,
  EVAPORATION_LATENT_HEAT,
  FREEZING_K,
  VAPOR_TO_AIR_RATIO,
} from './constants.ts';
import {
  dewPointBoltonK,
  saturationVaporPressureIcePa,
  saturationVaporPressureWaterPa,
} from './saturation.ts';

/**
 * Dew point (over liquid water, also below 0 degC).
 *
 * @param vaporPressurePa  Pa. Zero, negative or NaN gives NaN.
 * @returns                K, to 1e-6 K.
 * @throws                 never.
 * @source                 Inverse of Murphy and Koop 2005, eq. 10, by Newton's method.
 * @checked                tests/published/humidity.test.ts
 */
export function dewPointK(vaporPressurePa: number): number {
  return saturationTemperatureK(vaporPressurePa, saturationVaporPressureWaterPa);
}

/**
 * Frost point (over ice). Above 0 degC there is no ice and the result has no meaning.
 *
 * @param vaporPressurePa  Pa. Zero, negative or NaN gives NaN.
 * @returns                K, to 1e-6 K.
 * @throws                 never.
 * @source                 Inverse of Murphy and Koop 2005, eq. 7, by Newton's method.
 * @checked                tests/published/humidity.test.ts
 */
export function frostPointK(vaporPressurePa: number): number {
  return saturationTemperatureK(vaporPressurePa, saturationVaporPressureIcePa);
}

function saturationTemperatureK(
  vaporPressurePa: number,
  saturationPa: (temperatureK: number) => number,
): number {
  if (!(vaporPressurePa > 0)) return Number.NaN;
  const target = Math.log(vaporPressurePa);
  let temperatureK = dewPointBoltonK(Math.max(vaporPressurePa, LEAST_GUESS_PA));
  for (let step = 0; step < 40; step += 1) {
    const here = Math.log(saturationPa(temperatureK));
    const slope = (Math.log(saturationPa(temperatureK + 0.01)) - here) / 0.01;
    const change = (target - here) / slope;
    temperatureK += change;
    if (Math.abs(change) < 1e-7) break;
  }
  return temperatureK;
}

/** Below this the turned-round form is no longer near; the search starts from here instead, Pa (about -70 degC). */
const LEAST_GUESS_PA = 0.5;

/**
 * Relative humidity over liquid water from temperature and dew point.
 *
 * @param temperatureK  Air temperature, K.
 * @param dewPointTempK Dew point over liquid water, K.
 * @returns             ratio, 1 at saturation; NaN where either is NaN.
 * @throws              never.
 * @source              Definition, e / e_s with both over water.
 * @checked             tests/published/humidity.test.ts
 */
export function relativeHumidityRatioFromDewPoint(temperatureK: number, dewPointTempK: number): number {
  return saturationVaporPressureWaterPa(dewPointTempK) / saturationVaporPressureWaterPa(temperatureK);
}

/**
 * Relative humidity over ice from that over liquid water.
 *
 * @param relativeHumidityRatio  Over water, ratio.
 * @param temperatureK           Air temperature, K; meant for below 0 degC.
 * @returns                      ratio; NaN where either is NaN.
 * @throws                       never.
 * @source                       Definition; the vapor pressure is the same.
 * @checked                      tests/published/humidity.test.ts
 */
export function relativeHumidityIceRatio(relativeHumidityRatio: number, temperatureK: number): number {
  return (
    (relativeHumidityRatio * saturationVaporPressureWaterPa(temperatureK)) /
    saturationVaporPressureIcePa(temperatureK)
  );
}

/**
 * Mixing ratio of water vapor.
 *
 * @param vaporPressurePa  Pa.
 * @param pressurePa       Air pressure, Pa.
 * @returns                kg/kg; NaN where the vapor pressure is not below the air pressure.
 * @throws                 never.
 * @source                 Definition.
 * @checked                tests/published/humidity.test.ts
 */
export function mixingRatioKgPerKg(vaporPressurePa: number, pressurePa: number): number {
  if (!(vaporPressurePa < pressurePa)) return Number.NaN;
  return (VAPOR_TO_AIR_RATIO * vaporPressurePa) / (pressurePa - vaporPressurePa);
}

/**
 * Specific humidity, mass of vapor in a mass of moist air.
 *
 * @param mixingRatio  kg/kg.
 * @returns            kg/kg.
 * @throws             never.
 * @source             Definition.
 * @checked            tests/published/humidity.test.ts
 */
export function specificHumidityKgPerKg(mixingRatio: number): number {
  return mixingRatio / (1 + mixingRatio);
}

/**
 * Virtual temperature: dry air this warm would be as light as the moist air.
 *
 * @param temperatureK  K.
 * @param mixingRatio   kg/kg.
 * @returns             K.
 * @throws              never.
 * @source              Definition.
 * @checked             tests/published/humidity.test.ts
 */
export function virtualTemperatureK(temperatureK: number, mixingRatio: number): number {
  return (temperatureK * (1 + mixingRatio / VAPOR_TO_AIR_RATIO)) / (1 + mixingRatio);
}

/**
 * Density of moist air.
 *
 * @param pressurePa    Pa.
 * @param temperatureK  K.
 * @param mixingRatio   kg/kg; 0 for dry air.
 * @returns             kg/m3.
 * @throws              never.
 * @source              Ideal gas law with the virtual temperature.
 * @checked             tests/published/humidity.test.ts
 */
export function airDensityKgPerM3(pressurePa: number, temperatureK: number, mixingRatio: number): number {
  return pressurePa / (DRY_AIR_GAS_CONSTANT * virtualTemperatureK(temperatureK, mixingRatio));
}

/** What evaporates from a wet bulb: liquid water, or an ice coat below 0 degC. */
interface BulbCoat {
  readonly saturationPa: (temperatureK: number) => number;
  readonly latentHeatJPerKg: (temperatureK: number) => number;
}

const WATER_COAT: BulbCoat = {
  saturationPa: saturationVaporPressureWaterPa,
  latentHeatJPerKg: (temperatureK) => EVAPORATION_LATENT_HEAT - 2370 * (temperatureK - FREEZING_K),
};

const ICE_COAT: BulbCoat = {
  saturationPa: saturationVaporPressureIcePa,
  latentHeatJPerKg: (temperatureK) => 2.8345e6 - 290 * (temperatureK - FREEZING_K),
};

/** Specific heats of the wet bulb's balance, J/kg/K: dry air and vapor. */
const BULB_AIR_HEAT_CAPACITY = 1005.7;
const BULB_VAPOR_HEAT_CAPACITY = 1859;

/**
 * Isobaric wet-bulb temperature: what air cools to by evaporating water into it at constant pressure.
 *
 * @param temperatureK           K.
 * @param relativeHumidityRatio  Over water, ratio. Above 1 the wet bulb lies above the temperature (water condenses).
 * @param pressurePa             Pa.
 * @returns                      K, to 1e-4 K; NaN where any input is NaN.
 * @throws                       never.
 * @source                       Balance (cpd + w cpv)(T - Tw) = L(Tw)(ws(Tw) - w), found by bisection.
 * @checked                      tests/published/humidity.test.ts
 */
export function wetBulbK(temperatureK: number, relativeHumidityRatio: number, pressurePa: number): number {
  return bulbK({ temperatureK, relativeHumidityRatio, pressurePa }, WATER_COAT);
}

/** The same for a bulb coated with ice; only below 0 degC has it a meaning. */
export function iceBulbK(temperatureK: number, relativeHumidityRatio: number, pressurePa: number): number {
  return bulbK({ temperatureK, relativeHumidityRatio, pressurePa }, ICE_COAT);
}

function bulbK(
  air: { temperatureK: number; relativeHumidityRatio: number; pressurePa: number },
  coat: BulbCoat,
): number {
  const vaporPa = air.relativeHumidityRatio * saturationVaporPressureWaterPa(air.temperatureK);
  const mixingRatio = mixingRatioKgPerKg(vaporPa, air.pressurePa);
  const heatCapacity = BULB_AIR_HEAT_CAPACITY + mixingRatio * BULB_VAPOR_HEAT_CAPACITY;
  const excess = (bulb: number) =>
    heatCapacity * (air.temperatureK - bulb) -
    coat.latentHeatJPerKg(bulb) * (mixingRatioKgPerKg(coat.saturationPa(bulb), air.pressurePa) - mixingRatio);
  let lowK = air.temperatureK - 60;
  let highK = air.temperatureK + 10;
  if (!(excess(lowK) >= 0 && excess(highK) <= 0)) return Number.NaN;
  while (highK - lowK > 1e-5) {
    const middleK = (lowK + highK) / 2;
    if (excess(middleK) > 0) lowK = middleK;
    else highK = middleK;
  }
  return (lowK + highK) / 2;
}

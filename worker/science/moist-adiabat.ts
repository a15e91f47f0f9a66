/** A saturated parcel rising without mixing: its temperature, and the water it condenses. */
import {
  DRY_AIR_GAS_CONSTANT,
  DRY_AIR_HEAT_CAPACITY,
  EVAPORATION_LATENT_HEAT,
  GRAVITY_MPS2,
  VAPOR_TO_AIR_RATIO,
} from './constants.ts';
import { airDensityKgPerM3, mixingRatioKgPerKg } from './humidity.ts';
import { saturationVaporPressureWaterPa } from './saturation.ts';

/** dT / d ln p of a saturated parcel over water, K. */
function slopeK(temperatureK: number, pressurePa: number): number {
  const mixingRatio = saturationMixingRatio(temperatureK, pressurePa);
  const heat = DRY_AIR_GAS_CONSTANT * temperatureK + EVAPORATION_LATENT_HEAT * mixingRatio;
  const capacity =
    DRY_AIR_HEAT_CAPACITY +
    (EVAPORATION_LATENT_HEAT ** 2 * mixingRatio * VAPOR_TO_AIR_RATIO) /
      (DRY_AIR_GAS_CONSTANT * temperatureK * temperatureK);
  return heat / capacity;
}

/**
 * Mixing ratio of air saturated over liquid water.
 *
 * @param temperatureK  K.
 * @param pressurePa    Pa.
 * @returns             kg/kg.
 * @throws              never.
 * @checked             tests/published/humidity.test.ts
 */
export function saturationMixingRatio(temperatureK: number, pressurePa: number): number {
  return mixingRatioKgPerKg(saturationVaporPressureWaterPa(temperatureK), pressurePa);
}

/**
 * Temperature of a saturated parcel after one step along the pseudo-adiabat, by the midpoint rule: within 0.01 K for steps
 * up to 50 hPa.
 *
 * @param temperatureK  Where it starts, K.
 * @param fromPa        Pa.
 * @param toPa          Pa; either way.
 * @returns             K.
 * @throws              never.
 * @source              Pseudo-adiabatic equation over liquid water, condensate falling out.
 * @checked             tests/published/adiabatic-water.test.ts
 */
export function moistAdiabatStepK(temperatureK: number, fromPa: number, toPa: number): number {
  const lnStep = Math.log(toPa / fromPa);
  const middleK = temperatureK + slopeK(temperatureK, fromPa) * (lnStep / 2);
  return temperatureK + slopeK(middleK, Math.sqrt(fromPa * toPa)) * lnStep;
}

/** Depth of one step of the march below, m. */
const MARCH_STEP_M = 50;

/**
 * Liquid water of a parcel that rose from cloud base without mixing.
 *
 * @param base.pressurePa    Pressure at cloud base, Pa.
 * @param base.temperatureK  Temperature at cloud base, K.
 * @param heightM            Height above base, m, not negative.
 * @returns                  kg/m3.
 * @throws                   never.
 * @source                   rho (ws(base) - ws(here)) along the pseudo-adiabat.
 * @checked                  tests/published/adiabatic-water.test.ts
 */
export function adiabaticLiquidWaterKgPerM3(
  base: { readonly pressurePa: number; readonly temperatureK: number },
  heightM: number,
): number {
  let { pressurePa, temperatureK } = base;
  const steps = Math.max(1, Math.ceil(heightM / MARCH_STEP_M));
  for (let step = 0; step < steps; step += 1) {
    const scaleM = (DRY_AIR_GAS_CONSTANT * temperatureK) / GRAVITY_MPS2;
    const nextPa = pressurePa * Math.exp(-heightM / steps / scaleM);
    temperatureK = moistAdiabatStepK(temperatureK, pressurePa, nextPa);
    pressurePa = nextPa;
  }
  return condensedKgPerM3(
    saturationMixingRatio(base.temperatureK, base.pressurePa),
    temperatureK,
    pressurePa,
  );
}

/**
 * Liquid water of a saturated parcel that had a given mixing ratio at cloud base.
 *
 * @param baseMixingRatio  kg/kg.
 * @param temperatureK     Parcel's temperature now, K.
 * @param pressurePa       Pa.
 * @returns                kg/m3; 0 when nothing has condensed.
 * @throws                 never.
 */
export function condensedKgPerM3(baseMixingRatio: number, temperatureK: number, pressurePa: number): number {
  const mixingRatio = saturationMixingRatio(temperatureK, pressurePa);
  return (
    airDensityKgPerM3(pressurePa, temperatureK, mixingRatio) * Math.max(0, baseMixingRatio - mixingRatio)
  );
}

/**
 * Water condensed for each meter a saturated parcel rises.
 *
 * @param temperatureK  K.
 * @param pressurePa    Pa.
 * @returns             kg/m3 a meter.
 * @throws              never.
 * @source              Derivative of ws along the pseudo-adiabat.
 * @checked             tests/published/adiabatic-water.test.ts
 */
export function condensationKgPerM4(temperatureK: number, pressurePa: number): number {
  const vaporPa = saturationVaporPressureWaterPa(temperatureK);
  const mixingRatio = mixingRatioKgPerKg(vaporPa, pressurePa);
  const gasEnergy = DRY_AIR_GAS_CONSTANT * temperatureK;
  const latentRatio = (EVAPORATION_LATENT_HEAT * mixingRatio) / gasEnergy;
  const perKelvin = (EVAPORATION_LATENT_HEAT * VAPOR_TO_AIR_RATIO * mixingRatio) / (gasEnergy * temperatureK);
  const lapse =
    (GRAVITY_MPS2 * (1 + latentRatio)) / (DRY_AIR_HEAT_CAPACITY + EVAPORATION_LATENT_HEAT * perKelvin);
  const perMeter = perKelvin * lapse - (mixingRatio * GRAVITY_MPS2) / gasEnergy;
  return airDensityKgPerM3(pressurePa, temperatureK, mixingRatio) * perMeter;
}

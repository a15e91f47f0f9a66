/**
 * How much of the caught water freezes where it strikes: the balance of a surface at 0 degC.
 *
 * Heat comes from freezing, from the speed of drops and air; it goes by convection, evaporation and warming the water.
 */
import { airViscosityPaS } from './collection.ts';
import {
  DRY_AIR_GAS_CONSTANT,
  DRY_AIR_HEAT_CAPACITY,
  EVAPORATION_LATENT_HEAT,
  FREEZING_K,
  FREEZING_LATENT_HEAT,
  WATER_HEAT_CAPACITY,
} from './constants.ts';
import type { Impact } from './impact.ts';
import { saturationVaporPressureWaterPa } from './saturation.ts';

/** Vapor pressure over the wet surface, Pa. */
const SURFACE_VAPOR_PA = saturationVaporPressureWaterPa(FREEZING_K);

/**
 * Temperature rise of air brought to rest.
 *
 * @param trueAirspeedMps  m/s.
 * @param recovery         Part of it that a surface feels: 1 at the stagnation line, near 0.85 along a wing.
 * @returns                K.
 * @throws                 never.
 * @source                 r V^2 / (2 cp).
 * @checked                tests/published/stagnation-rise.test.ts
 */
export function stagnationRiseK(trueAirspeedMps: number, recovery = 1): number {
  return (recovery * trueAirspeedMps * trueAirspeedMps) / (2 * DRY_AIR_HEAT_CAPACITY);
}

/**
 * What the drops can take up: their deficit to 0 degC less the heat of their own speed.
 *
 * @param temperatureK     Static air temperature, K.
 * @param trueAirspeedMps  m/s.
 * @returns                K.
 * @throws                 never.
 * @source                 Messinger balance in the form of NASA/CR-2004-212875 (from memory).
 * @checked                tests/published/freezing-fraction.test.ts
 */
export function dropColdK(temperatureK: number, trueAirspeedMps: number): number {
  return FREEZING_K - temperatureK - (trueAirspeedMps * trueAirspeedMps) / (2 * WATER_HEAT_CAPACITY);
}

/** Thermal conductivity of the air film, W/m/K. */
function filmConductivity(filmK: number): number {
  return -0.0147486 + 0.00235815 * Math.sqrt(filmK);
}

function filmDensity(filmK: number, pressurePa: number): number {
  return pressurePa / (DRY_AIR_GAS_CONSTANT * filmK);
}

/**
 * What the air can take up: convection and evaporation of a wet surface at 0 degC.
 *
 * @param temperatureK     Static air temperature, K.
 * @param pressurePa       Static pressure, Pa.
 * @param trueAirspeedMps  m/s.
 * @returns                K, as an equivalent deficit for convection alone; negative when the air warms the surface.
 * @throws                 never.
 * @source                 Messinger balance; property fits of NASA/CR-2004-212875 eq. A.3, A.4, A.20, A.24.
 * @checked                tests/published/freezing-fraction.test.ts
 */
export function airColdK(temperatureK: number, pressurePa: number, trueAirspeedMps: number): number {
  const totalRatio = 1 + stagnationRiseK(trueAirspeedMps) / temperatureK;
  const totalPressurePa = pressurePa * totalRatio ** 3.5;
  const totalK = temperatureK * totalRatio;
  const airVaporPa = saturationVaporPressureWaterPa(temperatureK);
  const evaporation =
    (SURFACE_VAPOR_PA / temperatureK - (totalPressurePa / totalK) * (airVaporPa / pressurePa)) /
    (totalPressurePa / totalK / 0.622 - SURFACE_VAPOR_PA / temperatureK);
  return (
    FREEZING_K -
    temperatureK -
    stagnationRiseK(trueAirspeedMps) +
    massTransferRatio(temperatureK, pressurePa) * EVAPORATION_LATENT_HEAT * evaporation
  );
}

/** Mass transfer over heat transfer coefficient, kg K/J: (1/cp) (Pr/Sc)^(2/3) in the film. */
function massTransferRatio(temperatureK: number, pressurePa: number): number {
  const filmK = (temperatureK + FREEZING_K) / 2;
  const diffusivity = 0.211e-4 * (filmK / FREEZING_K) ** 1.94 * (101320 / pressurePa);
  const prandtlOverSchmidt =
    (DRY_AIR_HEAT_CAPACITY * filmDensity(filmK, pressurePa) * diffusivity) / filmConductivity(filmK);
  return prandtlOverSchmidt ** 0.667 / DRY_AIR_HEAT_CAPACITY;
}

/**
 * Heat transfer coefficient at the stagnation line of a cylinder.
 *
 * @param impact     Conditions; pressure, temperature and speed are used.
 * @param diameterM  Diameter of the cylinder, m; for a leading edge twice its nose radius.
 * @returns          W/m2/K.
 * @throws           never.
 * @source           Nu = 1.14 Pr^0.4 Re^0.5, NASA/CR-2004-212875; film at the mean of air and 0 degC.
 * @checked          tests/published/freezing-fraction.test.ts
 */
export function convectionWPerM2K(impact: Impact, diameterM: number): number {
  const filmK = (impact.temperatureK + FREEZING_K) / 2;
  const conductivity = filmConductivity(filmK);
  const viscosity = airViscosityPaS(filmK);
  const prandtl = (DRY_AIR_HEAT_CAPACITY * viscosity) / conductivity;
  const reynolds = (filmDensity(filmK, impact.pressurePa) * impact.trueAirspeedMps * diameterM) / viscosity;
  return (1.14 * prandtl ** 0.4 * Math.sqrt(reynolds) * conductivity) / diameterM;
}

/**
 * Part of the caught water that freezes at once.
 *
 * @param dropCold  dropColdK, K.
 * @param airCold   airColdK, K.
 * @param heatRatio Warming the caught water over convection, b = catch cw / hc, positive.
 * @returns         0-1.
 * @throws          never.
 * @source          n0 = (cw / Lf)(phi + theta / b), clipped.
 * @checked         tests/published/freezing-fraction.test.ts
 */
export function freezingFraction(dropCold: number, airCold: number, heatRatio: number): number {
  const fraction = (WATER_HEAT_CAPACITY / FREEZING_LATENT_HEAT) * (dropCold + airCold / heatRatio);
  return Math.min(1, Math.max(0, fraction));
}

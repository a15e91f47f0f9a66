/**
 * Physical constants of moist air, water and ice. Derived values are computed, never typed in.
 *
 * @source ICAO Doc 7488 (R, g0, standard atmosphere); latent and specific heats as in the sources of the files that use
 *         them. Where published values differ, the choice is said beside the value.
 */

/** 0 degC, K. */
export const FREEZING_K = 273.15;

/** Standard gravity, m/s2 (exact by definition). */
export const GRAVITY_MPS2 = 9.80665;

/** Gas constant of dry air, J/kg/K, as in the ICAO standard atmosphere. */
export const DRY_AIR_GAS_CONSTANT = 287.05287;

/** Gas constant of water vapor over that of dry air, the other way up: Rd/Rv, ratio. */
export const VAPOR_TO_AIR_RATIO = 0.62198;

/** Specific heat of dry air at constant pressure, J/kg/K (1003.5-1005.7 in use; the value of the accretion balance). */
export const DRY_AIR_HEAT_CAPACITY = 1004.7;

/** Specific heat of liquid water near 0 degC, J/kg/K. */
export const WATER_HEAT_CAPACITY = 4220;

/** Density of liquid water, kg/m3. */
export const WATER_DENSITY_KG_PER_M3 = 1000;

/** Latent heat of freezing at 0 degC, J/kg. */
export const FREEZING_LATENT_HEAT = 3.3464e5;

/** Latent heat of evaporation at 0 degC, J/kg. */
export const EVAPORATION_LATENT_HEAT = 2.50084e6;

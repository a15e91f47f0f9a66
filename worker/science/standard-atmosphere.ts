/**
 * The ICAO standard atmosphere up to 20 km: pressure altitude, and altitude on an altimeter setting.
 *
 * Altitudes here are geopotential meters of the standard atmosphere, as an altimeter counts them.
 */
import { DRY_AIR_GAS_CONSTANT, FREEZING_K, GRAVITY_MPS2 } from './constants.ts';

const SEA_LEVEL_PA = 101325;
const SEA_LEVEL_K = FREEZING_K + 15;
const LAPSE_K_PER_M = 0.0065;
const TROPOPAUSE_M = 11000;
const TROPOPAUSE_K = SEA_LEVEL_K - LAPSE_K_PER_M * TROPOPAUSE_M;
const EXPONENT = GRAVITY_MPS2 / (DRY_AIR_GAS_CONSTANT * LAPSE_K_PER_M);
const TROPOPAUSE_PA = SEA_LEVEL_PA * (TROPOPAUSE_K / SEA_LEVEL_K) ** EXPONENT;
const TROPOPAUSE_SCALE_M = (DRY_AIR_GAS_CONSTANT * TROPOPAUSE_K) / GRAVITY_MPS2;
const NOMINAL_EARTH_RADIUS_M = 6_356_766;

/** Setting of the altimeter for pressure altitude, Pa. */
export const STANDARD_SETTING_PA = SEA_LEVEL_PA;

/**
 * Pressure at a pressure altitude.
 *
 * @param pressureAltitudeM  Geopotential m, valid -5000 to 20000; beyond, extrapolates. NaN gives NaN.
 * @returns                  Pa.
 * @throws                   never.
 * @source                   ICAO Doc 7488; US Standard Atmosphere 1976 is the same below 32 km.
 * @checked                  tests/published/standard-atmosphere.test.ts
 */
export function pressurePaFromPressureAltitudeM(pressureAltitudeM: number): number {
  if (pressureAltitudeM > TROPOPAUSE_M) {
    return TROPOPAUSE_PA * Math.exp((TROPOPAUSE_M - pressureAltitudeM) / TROPOPAUSE_SCALE_M);
  }
  return SEA_LEVEL_PA * (1 - (LAPSE_K_PER_M * pressureAltitudeM) / SEA_LEVEL_K) ** EXPONENT;
}

/**
 * Pressure altitude of a pressure.
 *
 * @param pressurePa  Pa, above 5474 (20 km); below, extrapolates. Zero, negative or NaN gives NaN.
 * @returns           Geopotential m.
 * @throws            never.
 * @source            As pressurePaFromPressureAltitudeM.
 * @checked           tests/published/standard-atmosphere.test.ts
 */
export function pressureAltitudeMFromPressurePa(pressurePa: number): number {
  if (!(pressurePa > 0)) return Number.NaN;
  if (pressurePa < TROPOPAUSE_PA) {
    return TROPOPAUSE_M + TROPOPAUSE_SCALE_M * Math.log(TROPOPAUSE_PA / pressurePa);
  }
  return (SEA_LEVEL_K / LAPSE_K_PER_M) * (1 - (pressurePa / SEA_LEVEL_PA) ** (1 / EXPONENT));
}

/**
 * Temperature of the standard atmosphere.
 *
 * @param pressureAltitudeM  Geopotential m, to 20000. NaN gives NaN.
 * @returns                  K.
 * @throws                   never.
 * @source                   As pressurePaFromPressureAltitudeM.
 * @checked                  tests/published/standard-atmosphere.test.ts
 */
export function standardTemperatureK(pressureAltitudeM: number): number {
  return pressureAltitudeM > TROPOPAUSE_M ? TROPOPAUSE_K : SEA_LEVEL_K - LAPSE_K_PER_M * pressureAltitudeM;
}

/**
 * What an altimeter on a local setting shows where one on 1013.25 hPa shows a pressure altitude. The two scales are
 * shifted by the pressure altitude of the setting, the same at every height.
 *
 * @param pressureAltitudeM   Geopotential m.
 * @param altimeterSettingPa  Pa.
 * @returns                   Indicated altitude, m; NaN where an input is NaN.
 * @throws                    never.
 * @source                    ICAO Doc 7488, definition of the altimeter setting.
 * @checked                   tests/published/standard-atmosphere.test.ts
 */
export function indicatedAltitudeM(pressureAltitudeM: number, altimeterSettingPa: number): number {
  return pressureAltitudeM - pressureAltitudeMFromPressurePa(altimeterSettingPa);
}

/** Inverse of indicatedAltitudeM. */
export function pressureAltitudeMFromIndicatedM(indicatedM: number, altimeterSettingPa: number): number {
  return indicatedM + pressureAltitudeMFromPressurePa(altimeterSettingPa);
}

/**
 * Geopotential height of a geometric height above mean sea level.
 *
 * @param geometricM  m. NaN gives NaN.
 * @returns           Geopotential m.
 * @throws            never.
 * @source            US Standard Atmosphere 1976, eq. 18, nominal Earth radius 6356.766 km.
 * @checked           tests/published/standard-atmosphere.test.ts
 */
export function geopotentialMFromGeometricM(geometricM: number): number {
  return (NOMINAL_EARTH_RADIUS_M * geometricM) / (NOMINAL_EARTH_RADIUS_M + geometricM);
}

/** Inverse of geopotentialMFromGeometricM. */
export function geometricMFromGeopotentialM(geopotentialM: number): number {
  return (NOMINAL_EARTH_RADIUS_M * geopotentialM) / (NOMINAL_EARTH_RADIUS_M - geopotentialM);
}

/**
 * Indicated over true airspeed, without instrument and compressibility errors (under 1 % at 200 kt and 15,000 ft).
 *
 * @param pressureAltitudeM  Geopotential m.
 * @param temperatureK       Static.
 * @returns                  Ratio: the root of the air's density over that of the standard sea level.
 * @throws                   never.
 * @source                   Definition of equivalent airspeed; ICAO Doc 7488 for the density at sea level.
 * @checked                  tests/published/airspeed.test.ts
 */
export function airspeedRatio(pressureAltitudeM: number, temperatureK: number): number {
  const pressureRatio = pressurePaFromPressureAltitudeM(pressureAltitudeM) / SEA_LEVEL_PA;
  return Math.sqrt((pressureRatio * SEA_LEVEL_K) / temperatureK);
}

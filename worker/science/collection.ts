/**
 * How much of the water in its path a body catches: drops too heavy to follow the air round it.
 *
 * A leading edge is taken for a cylinder of twice its nose radius, which reproduces published aerofoil curves within
 * 0.017 where the nose radius itself errs up to 0.14.
 */
import { WATER_DENSITY_KG_PER_M3 } from './constants.ts';

/** Below this inertia parameter no drop reaches a cylinder. */
const LEAST_INERTIA = 1 / 8;

/** Drops as slow against the air as this keep their full range in still air. */
const STOKES_REYNOLDS = 0.752;

/**
 * Dynamic viscosity of air.
 *
 * @param temperatureK  K.
 * @returns             Pa s.
 * @throws              never.
 * @source              NASA/CR-2004-212875 eq. A.24.
 * @checked             tests/published/collection.test.ts
 */
export function airViscosityPaS(temperatureK: number): number {
  return 1e-5 / (0.12764 + 124.38 / temperatureK);
}

/**
 * Inertia parameter of a drop against a body.
 *
 * @param diameterM      Drop diameter, m.
 * @param speedMps       True airspeed, m/s.
 * @param viscosityPaS   Pa s.
 * @param lengthM        Cylinder radius (or, as some references do for aerofoils, the chord), m.
 * @returns              K, no unit.
 * @throws               never.
 * @source               Langmuir and Blodgett 1946, eq. 12.
 * @checked              tests/published/collection.test.ts
 */
export function inertiaParameter(
  diameterM: number,
  speedMps: number,
  viscosityPaS: number,
  lengthM: number,
): number {
  return (WATER_DENSITY_KG_PER_M3 * diameterM * diameterM * speedMps) / (18 * viscosityPaS * lengthM);
}

/**
 * Reynolds number of a drop standing still in the airstream.
 *
 * @param diameterM     Drop diameter, m.
 * @param speedMps      True airspeed, m/s.
 * @param viscosityPaS  Pa s.
 * @param densityKgPerM3 Air density, kg/m3.
 * @returns             No unit.
 * @throws              never.
 * @source              Definition.
 */
export function dropReynolds(
  diameterM: number,
  speedMps: number,
  viscosityPaS: number,
  densityKgPerM3: number,
): number {
  return (densityKgPerM3 * speedMps * diameterM) / viscosityPaS;
}

/**
 * Range of a drop thrown into still air over the range it would have under Stokes drag.
 *
 * @param reynolds  Of the drop.
 * @returns         Ratio 0-1.
 * @throws          never.
 * @source          NASA/CR-2004-212875 eq. 3.12. Within 1 % of Langmuir and Blodgett's table from 10 up, 6 % high at 1.
 * @checked         tests/published/collection.test.ts
 */
export function rangeRatio(reynolds: number): number {
  if (reynolds <= STOKES_REYNOLDS) return 1;
  return 1 / (0.8388 + 0.001483 * reynolds + 0.1847 * Math.sqrt(reynolds));
}

/**
 * Inertia parameter made to hold for drops beyond Stokes drag.
 *
 * @param inertia  K on the cylinder's radius.
 * @param range    Range ratio.
 * @returns        K0; at most 1/8 when nothing is caught.
 * @throws         never.
 * @source         Langmuir and Blodgett 1946.
 * @checked        tests/published/collection.test.ts
 */
export function modifiedInertia(inertia: number, range: number): number {
  return LEAST_INERTIA + range * (inertia - LEAST_INERTIA);
}

/**
 * Part of the water in its path that reaches a cylinder's stagnation line.
 *
 * @param modified  K0.
 * @returns         beta0, 0-1; 0 at K0 of 1/8 and under.
 * @throws          never.
 * @source          NASA/CR-2004-212875 eq. 3.13 (form from memory); within 0.05 of Langmuir and Blodgett's Table II.
 * @checked         tests/published/collection.test.ts
 */
export function stagnationEfficiency(modified: number): number {
  if (!(modified > LEAST_INERTIA)) return 0;
  const power = 1.4 * (modified - LEAST_INERTIA) ** 0.84;
  return power / (1 + power);
}

/** The two formulas of the overall efficiency meet at 1.1 with a step; between these they are blended. */
const BLEND_FROM = 1;
const BLEND_TO = 1.2;

/**
 * Part of the water in the whole cylinder's path that is caught.
 *
 * @param modified  K0.
 * @returns         E, 0-1; 0 at K0 of 1/8 and under.
 * @throws          never.
 * @source          Langmuir and Blodgett 1946; the step at K0 = 1.1 is blended over 1.0-1.2.
 * @checked         tests/published/collection.test.ts
 */
export function overallEfficiency(modified: number): number {
  if (!(modified > LEAST_INERTIA)) return 0;
  const heavy = modified / (modified + Math.PI / 2);
  if (modified >= BLEND_TO) return heavy;
  const light = 0.466 * Math.log10(8 * modified) ** 2;
  if (modified <= BLEND_FROM) return light;
  const share = (modified - BLEND_FROM) / (BLEND_TO - BLEND_FROM);
  return light + share * (heavy - light);
}

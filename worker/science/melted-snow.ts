/** What becomes of snow that falls through a layer above 0 degC and then one below, by the energies of the two layers. */
import { LARGE_DROPS } from './columns.ts';
import { DRY_AIR_GAS_CONSTANT, FREEZING_K } from './constants.ts';

/** A warm layer of less than this leaves snow as snow, J/kg. */
export const LEAST_WARM_J_PER_KG = 2;

/**
 * Energy between the temperature curve and 0 degC in a layer.
 *
 * @param temperatureK  Mean temperature in ln p, K.
 * @param lowerPa       Pressure at its foot, Pa.
 * @param upperPa       Pressure at its top, Pa.
 * @returns             J/kg, positive above 0 degC.
 * @throws              never.
 * @source              Rd integral (T - T0) d ln p.
 * @checked             tests/published/warm-layer.test.ts
 */
export function enclosedEnergyJPerKg(temperatureK: number, lowerPa: number, upperPa: number): number {
  return DRY_AIR_GAS_CONSTANT * (temperatureK - FREEZING_K) * Math.log(lowerPa / upperPa);
}

/**
 * What becomes of melted snow in a cold layer.
 *
 * @param warmJPerKg  Energy of the warm layer above.
 * @param coldJPerKg  Energy of the cold layer so far, as a positive number.
 * @returns           LARGE_DROPS code: none when nothing melted; ice pellets beyond 66 + 0.66 warm; else freezing rain, also
 *                    in the published band of "either".
 * @throws            never.
 * @source            Bourgouin 2000.
 * @checked           tests/published/warm-layer.test.ts
 */
export function fateOfMeltedSnow(warmJPerKg: number, coldJPerKg: number): number {
  if (!(warmJPerKg >= LEAST_WARM_J_PER_KG)) return LARGE_DROPS.none;
  return coldJPerKg > 66 + 0.66 * warmJPerKg ? LARGE_DROPS.icePellets : LARGE_DROPS.freezingRain;
}

/** Least warm energy at which all snow is melted, J/kg; from LEAST_WARM_J_PER_KG to here more and more of it. */
const ALL_MELTED_J_PER_KG = 13.2;

/** Part of the snow that is melted where a warm layer only just counts (judgement). */
const LEAST_MELTED = 0.5;

/** Width of the published band between freezing rain and ice pellets, J/kg of cold energy. */
const EITHER_J_PER_KG = 20;

/**
 * How much of what falls is liquid below a warm layer, by the energies: what melted in it, and what has not frozen since.
 *
 * @param warmJPerKg  Energy of the warm layer above.
 * @param coldJPerKg  Energy of the cold layer so far, as a positive number.
 * @returns           Melted part and liquid part of that, each 0-1; 0 and 0 when nothing melted.
 * @throws            never.
 * @source            Bourgouin 2000: 13.2 J/kg melts all, 5.6 and less little; refreezing between 46 and 66 J/kg, each
 *                    + 0.66 warm. The lower line from memory; straight between the limits by judgement.
 * @checked           tests/published/warm-layer.test.ts
 */
export function meltedAndLiquid(
  warmJPerKg: number,
  coldJPerKg: number,
): { readonly melted: number; readonly liquid: number } {
  if (!(warmJPerKg >= LEAST_WARM_J_PER_KG)) return NOTHING_MELTED;
  const melting = (warmJPerKg - LEAST_WARM_J_PER_KG) / (ALL_MELTED_J_PER_KG - LEAST_WARM_J_PER_KG);
  const freezing = (66 + 0.66 * warmJPerKg - coldJPerKg) / EITHER_J_PER_KG;
  return {
    melted: LEAST_MELTED + (1 - LEAST_MELTED) * Math.min(1, melting),
    liquid: Math.min(1, Math.max(0, freezing)),
  };
}

const NOTHING_MELTED = { melted: 0, liquid: 0 } as const;

/** The hypsometric thickness between two pressures of one ascent, from its own temperatures. */

import { DRY_AIR_GAS_CONSTANT, GRAVITY_MPS2 } from '../../science/constants.ts';

/** Thickness in one unit of ln p, m/K. */
const METERS_PER_KELVIN = DRY_AIR_GAS_CONSTANT / GRAVITY_MPS2;

/**
 * Thickness above the lowest temperature, linear in ln p between temperatures. Humidity is left out: it adds less than
 * half a percent in winter, far below the tolerance this serves.
 *
 * @param levels  pressure Pa and temperature K in any order; levels with NaN temperature are passed over.
 * @returns       geopotential meters above the level of highest pressure, for a pressure in Pa; undefined outside the
 *                pressures that have temperatures. Never throws.
 */
export function thicknessAbove(
  levels: readonly { readonly pressurePa: number; readonly temperatureK: number }[],
): (pressurePa: number) => number | undefined {
  const known = levels
    .filter(({ temperatureK }) => Number.isFinite(temperatureK))
    .toSorted((a, b) => b.pressurePa - a.pressurePa);
  const heightsM: number[] = [];
  known.forEach((level, index) => {
    const below = known[index - 1];
    heightsM.push(below === undefined ? 0 : heightsM[index - 1]! + layerM(below, level));
  });
  return (pressurePa) => {
    const above = known.findIndex((level) => level.pressurePa <= pressurePa);
    const upper = known[above];
    if (upper === undefined) return undefined;
    if (upper.pressurePa === pressurePa) return heightsM[above]!;
    const lower = known[above - 1];
    if (lower === undefined) return undefined;
    const share = Math.log(lower.pressurePa / pressurePa) / Math.log(lower.pressurePa / upper.pressurePa);
    const temperatureK = lower.temperatureK + share * (upper.temperatureK - lower.temperatureK);
    return heightsM[above - 1]! + layerM(lower, { pressurePa, temperatureK });
  };
}

function layerM(
  lower: { readonly pressurePa: number; readonly temperatureK: number },
  upper: { readonly pressurePa: number; readonly temperatureK: number },
): number {
  const meanK = (lower.temperatureK + upper.temperatureK) / 2;
  return METERS_PER_KELVIN * meanK * Math.log(lower.pressurePa / upper.pressurePa);
}

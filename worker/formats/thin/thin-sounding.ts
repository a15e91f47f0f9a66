/** An ascent as it is kept: no more levels than the store and a brief can bear, and a word on what was left out. */
import type { Rejection, Sounding } from '../sounding.ts';
import { ALOFT_FACTOR, ALOFT_PA, THIN_BOUNDS } from './series.ts';
import { MOST_KEPT_LEVELS, thinnedLevels } from './thin-levels.ts';

export type ThinnedSounding =
  | { readonly kind: 'kept'; readonly sounding: Sounding }
  | { readonly kind: 'refused'; readonly reason: string };

/** Thins by the rule of thinnedLevels; what it left out stands in `rejected`. Never throws. */
export function thinnedSounding(sounding: Sounding): ThinnedSounding {
  const { levelCount } = sounding.levels;
  const thinned = thinnedLevels(sounding.levels);
  if (thinned === undefined) {
    const reason = `levels: found ${levelCount} with more holes than ${MOST_KEPT_LEVELS} levels can tell`;
    return { kind: 'refused', reason };
  }
  const { levels, boundFactor } = thinned;
  if (levels.levelCount === levelCount) return { kind: 'kept', sounding };
  const note = noteOf(levelCount - levels.levelCount, levelCount, boundFactor);
  return { kind: 'kept', sounding: { ...sounding, levels, rejected: [...sounding.rejected, note] } };
}

function noteOf(leftOut: number, levelCount: number, factor: number): Rejection {
  const { temperatureK, dewPointK, relativeHumidityRatio, windMps, geopotentialHeightM } = THIN_BOUNDS;
  const bounds = [
    `${shown(temperatureK * factor)} K`,
    `${shown(dewPointK * factor)} K of dew point`,
    `${shown(relativeHumidityRatio * 100 * factor)} % of relative humidity`,
    `${shown(windMps * factor)} m/s of each wind component`,
    `${shown(geopotentialHeightM * factor)} m`,
  ];
  return {
    line: 1,
    reason: `levels: ${leftOut} of ${levelCount} left out; straight lines in ln p between the others give them within ${bounds.join(', ')} (${ALOFT_FACTOR} times that above ${ALOFT_PA / 100} hPa)`,
  };
}

/** Rounded up, so that what is said holds. */
const shown = (value: number): number => Math.ceil(value * 100 - 1e-6) / 100;

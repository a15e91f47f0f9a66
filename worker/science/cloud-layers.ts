/** Cloud by humidity: how probable, how high its top reaches, and how much of it is liquid because of that. */

import { type ColumnAir, isUnknownAir } from './column-air.ts';
import { CELL_STATE } from './columns.ts';
import { FREEZING_K } from './constants.ts';

/** Relative humidity over water at which cloud is as probable as not, and the width of the change, ratio. */
const CLOUD_HUMIDITY = 0.95;
const CLOUD_HUMIDITY_WIDTH = 0.03;

/** A moist body is air at least this moist over water, ratio; drier gaps up to this depth do not end it, m. */
const MOIST_HUMIDITY = 0.85;
const LARGEST_GAP_M = 200;

/**
 * Where a moist body runs into unknown air its top may lie there, and may be warmer than the highest air that is known, by
 * an inversion of at most this much, K. A warmer top means more liquid, so the warmest that is plausible is assumed.
 */
export const UNKNOWN_WARMING_K = 15;

/** Cloud this far above 0 degC is never supercooled; below the second, droplets freeze by themselves, K. */
const FREEZE_ALONE_FROM_K = FREEZING_K - 35;
const FREEZE_ALONE_TO_K = FREEZING_K - 40;

/**
 * Probability that air of a humidity holds cloud.
 *
 * @param humidityRatio  Relative humidity over water, ratio. Never falls as it rises.
 * @returns              0-1.
 * @throws               never.
 * @source               Logistic fitted to 955 layers of five research flights over the North Atlantic coast and the
 *                       Arctic, see tests/data/insitu.test.ts.
 */
export function cloudProbabilityOfHumidity(humidityRatio: number): number {
  return 1 / (1 + Math.exp((CLOUD_HUMIDITY - humidityRatio) / CLOUD_HUMIDITY_WIDTH));
}

/**
 * Probability that cloud is liquid, by the temperature of its top: a cold top seeds the cloud below with ice. It never
 * falls under a tenth, because deep frontal cloud with a cold top still ices.
 *
 * @param topK  Temperature of the cloud's top, K.
 * @returns     0.1-1; rises with topK.
 * @throws      never.
 * @source      As cloudProbabilityOfHumidity; the change lies near the -12 to -18 degC of the literature.
 */
export function liquidProbabilityOfTop(topK: number): number {
  return 0.1 + 0.9 / (1 + Math.exp((FREEZING_K - 15 - topK) / 4));
}

/**
 * Part of droplets that can stay liquid at a temperature: all down to -35 degC, none below -40 degC.
 *
 * @param temperatureK  K, of the cell itself.
 * @returns             0-1.
 * @throws              never.
 * @source              Homogeneous freezing near -38 degC; the ramp is judgement.
 */
export function unfrozenShare(temperatureK: number): number {
  const share = (temperatureK - FREEZE_ALONE_TO_K) / (FREEZE_ALONE_FROM_K - FREEZE_ALONE_TO_K);
  return Math.min(1, Math.max(0, share));
}

/**
 * Temperature at the top of the moist body each cell belongs to.
 *
 * A cell outside any body is its own top; one within the largest gap under a body counts with it. Above the axis the air is
 * colder, so a body that reaches the axis' end has its top there. Under unknown air see UNKNOWN_WARMING_K.
 *
 * @param air    The column.
 * @param topK   Filled: K for every known cell; NaN for the rest.
 * @throws       never.
 */
export function fillBodyTops(air: ColumnAir, topK: Float64Array): void {
  let bodyTopK = Number.NaN;
  let gapM = Number.POSITIVE_INFINITY;
  let wasUnknown = false;
  for (let cell = air.axis.cellCount - 1; cell >= 0; cell -= 1) {
    topK[cell] = Number.NaN;
    if (air.state[cell] !== CELL_STATE.known) {
      wasUnknown = isUnknownAir(air, cell);
      gapM = Number.POSITIVE_INFINITY;
      continue;
    }
    const temperatureK = air.temperatureK[cell]!;
    if (wasUnknown) {
      bodyTopK = temperatureK + UNKNOWN_WARMING_K;
      gapM = 0;
      wasUnknown = false;
    }
    const isMoist = air.humidityRatio[cell]! >= MOIST_HUMIDITY;
    if (isMoist && gapM > LARGEST_GAP_M) bodyTopK = temperatureK;
    gapM = isMoist ? 0 : gapM + air.depthM[cell]!;
    topK[cell] = gapM > LARGEST_GAP_M ? temperatureK : bodyTopK;
  }
}

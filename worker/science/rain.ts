/** What freezing rain brings, where a column shows that it falls: a column cannot tell how hard. */
import { LARGE_DROPS } from './columns.ts';

/** Assumed rate, mm/h: the upper limit of light rain. */
export const RAIN_RATE_MM_PER_H = 2.5;

/** Assumed median volume diameter of its drops, m. */
export const RAIN_DIAMETER_M = 1e-3;

/**
 * Probability of supercooled liquid where the column shows freezing rain, and where it shows ice pellets: judgement. The
 * first stays above every threshold in use, so that a wedge of freezing rain is never taken for ice-free air.
 */
const FREEZING_RAIN_PROBABILITY = 0.7;
const ICE_PELLETS_PROBABILITY = 0.3;

/**
 * Water content of rain.
 *
 * @param rateMmPerH  mm/h.
 * @returns           kg/m3.
 * @throws            never.
 * @source            Marshall and Palmer 1948, 0.072 R^0.88 g/m3 (from memory).
 */
export function rainWaterKgPerM3(rateMmPerH: number): number {
  return 0.072e-3 * rateMmPerH ** 0.88;
}

/**
 * Probability that a cell holds supercooled rain.
 *
 * @param largeDrops  LARGE_DROPS code.
 * @returns           0-1; 0 for codes that are no rain.
 * @throws            never.
 */
export function rainProbability(largeDrops: number): number {
  if (largeDrops === LARGE_DROPS.freezingRain) return FREEZING_RAIN_PROBABILITY;
  return largeDrops === LARGE_DROPS.icePellets ? ICE_PELLETS_PROBABILITY : 0;
}

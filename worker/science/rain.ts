/** What freezing rain brings, where a column shows that it falls: a column cannot tell how hard. */

/** Assumed rate, mm/h: the upper limit of light rain. */
export const RAIN_RATE_MM_PER_H = 2.5;

/** Assumed median volume diameter of its drops, m. */
export const RAIN_DIAMETER_M = 1e-3;

/**
 * Probability of supercooled drops under a source of precipitation where all snow has melted and stayed liquid, and where
 * all of it has frozen again: judgement. The first stays above every threshold in use, so that a wedge of freezing rain is
 * never taken for ice-free air.
 */
const FREEZING_RAIN_PROBABILITY = 0.7;
const ICE_PELLETS_PROBABILITY = 0.2;

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
 * Probability that a cell holds supercooled rain under a warm layer with a source of precipitation above it.
 *
 * @param melted  Part of the snow that melted, 0-1.
 * @param liquid  Part of that which is still liquid, 0-1; some pellets keep a wet shell or fall among drops.
 * @returns       0-0.7.
 * @throws        never.
 */
export function rainProbability(melted: number, liquid: number): number {
  return melted * (liquid * FREEZING_RAIN_PROBABILITY + (1 - liquid) * ICE_PELLETS_PROBABILITY);
}

/** What freezing rain and drizzle bring; where a column shows only that rain falls it cannot tell how hard. */

/** Assumed rate, mm/h: the upper limit of light rain. */
export const RAIN_RATE_MM_PER_H = 2.5;

/** Assumed median volume diameter of its drops, m. */
export const RAIN_DIAMETER_M = 1e-3;

/** The same of supercooled rain that never was snow: drizzle has drops of 0.05 to 0.5 mm (judgement within that), m. */
export const DRIZZLE_DIAMETER_M = 0.2e-3;

/**
 * Size of drops where cloud and drizzle are mixed: the mean by volume. It takes the catch for no less than that of the two
 * apart, since efficiency rises ever more slowly with size, and more of either never makes it less.
 *
 * @param cloudKgPerM3    Water of the cloud.
 * @param cloudDiameterM  Median volume diameter of its drops; any number where there is no cloud.
 * @param rainKgPerM3     Water of the rain, more than 0.
 * @returns               m.
 * @throws                never.
 * @checked               tests/science/model-rain.test.ts
 */
export function mixedDiameterM(cloudKgPerM3: number, cloudDiameterM: number, rainKgPerM3: number): number {
  const sum = cloudKgPerM3 * cloudDiameterM + rainKgPerM3 * DRIZZLE_DIAMETER_M;
  return sum / (cloudKgPerM3 + rainKgPerM3);
}

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

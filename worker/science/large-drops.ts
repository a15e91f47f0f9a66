/** Supercooled drops grown inside warm-topped cloud by meeting each other, and the order of the kinds by danger. */
import type { CloudLayers } from './cloud-layers.ts';
import { LARGE_DROPS } from './columns.ts';
import { FREEZING_K } from './constants.ts';

/** From this top up the mechanism is as probable as not, K, and the width of the change. */
const DRIZZLE_TOP_K = FREEZING_K - 13;
const DRIZZLE_TOP_WIDTH_K = 1.5;

/** The same for the depth of cloudy air at the droplet number below, m: fewer droplets collide in shallower cloud. */
const DRIZZLE_DEPTH_M = 700;
const DRIZZLE_DEPTH_WIDTH_M = 250;

/** Drops collide where there are fewer droplets than this, 1/m3; the number itself is known to a factor exp(0.9). */
const DRIZZLE_DROPLETS_PER_M3 = 100e6;
const LN_DROPLETS_ERROR = 0.9;

/**
 * Even where all signs agree drizzle is not always there (judgement: of flights in winter cloud one in ten or so meets large
 * drops, from memory; in the deep, warm-topped part of it more).
 */
const MOST_PROBABLE = 0.4;

/** Freezing rain at least this probable, or seen by sources with this part of the weight, is named in the cell (judgement). */
export const RAIN_NAMED_FROM = 0.25;

/**
 * The same for drizzle in one source's cell. Over land, with the droplet number assumed there, it is never reached; the
 * chance on the path stands in the reasons (judgement).
 */
export const DRIZZLE_NAMED_FROM = 0.15;

/** How much a code endangers, for choosing the worst: ice pellets are mostly frozen already. */
const HAZARD_RANK: ReadonlyMap<number, number> = new Map([
  [LARGE_DROPS.none, 0],
  [LARGE_DROPS.icePellets, 1],
  [LARGE_DROPS.freezingDrizzle, 2],
  [LARGE_DROPS.freezingRain, 3],
]);

/** @returns rank of a LARGE_DROPS code, 0 harmless to 3 freezing rain. */
export function largeDropHazard(code: number): number {
  return HAZARD_RANK.get(code) ?? 0;
}

/**
 * Probability that the number of droplets is small enough for drizzle.
 *
 * @param dropletNumberPerM3  Median of what is assumed, 1/m3.
 * @returns                   0-1, falls with the number.
 * @throws                    never.
 * @source                    Log-normal error of 0.9 (measured layers), by the logistic curve of slope 1.702.
 */
export function fewDropletsProbability(dropletNumberPerM3: number): number {
  const deviations = Math.log(DRIZZLE_DROPLETS_PER_M3 / dropletNumberPerM3) / LN_DROPLETS_ERROR;
  return logistic(1.702 * deviations);
}

/**
 * Probability of freezing drizzle in the sub-zero part of a layer: warm top, deep cloud, few droplets. A layer that touches
 * unknown air is as deep, and its top as warm, as is plausible there.
 *
 * @param layers              Of the column.
 * @param layer               Which.
 * @param dropletNumberPerM3  1/m3.
 * @returns                   0-0.4.
 * @throws                    never.
 * @source                    Signs of the collision-coalescence mechanism (from memory); the curves are judgement.
 * @checked                   tests/science/diagnose-columns.test.ts
 */
export function drizzleProbability(layers: CloudLayers, layer: number, dropletNumberPerM3: number): number {
  const warm = logistic((layers.topK[layer]! - DRIZZLE_TOP_K) / DRIZZLE_TOP_WIDTH_K);
  const depthM = DRIZZLE_DEPTH_M * Math.cbrt(dropletNumberPerM3 / DRIZZLE_DROPLETS_PER_M3);
  const deep = logistic((layers.cloudyM[layer]! - depthM) / DRIZZLE_DEPTH_WIDTH_M);
  return MOST_PROBABLE * warm * deep * fewDropletsProbability(dropletNumberPerM3);
}

function logistic(x: number): number {
  return 1 / (1 + Math.exp(-x));
}

/** Supercooled drops larger than cloud droplets: by a warm layer aloft, or grown inside warm-topped cloud. */

import { UNKNOWN_WARMING_K } from './cloud-layers.ts';
import { type ColumnAir, isUnknownAir } from './column-air.ts';
import { CELL_STATE, LARGE_DROPS } from './columns.ts';
import { FREEZING_K } from './constants.ts';

/** Drops grow by meeting each other in cloud with a top warmer than this, K, at least this deep, m. */
const DRIZZLE_TOP_K = FREEZING_K - 12;
const DRIZZLE_DEPTH_M = 1000;

/** And with at most this many droplets, 1/m3. */
const DRIZZLE_MOST_DROPLETS_PER_M3 = 100e6;

/** Depth counts air this moist over water, ratio; drizzle is looked for in all of the moist body round it. */
const CLOUDY_HUMIDITY = 0.95;
const MOIST_HUMIDITY = 0.85;
const LARGEST_GAP_M = 200;

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

/** A moist body while a column is read downward. */
interface Body {
  /** Highest cell; -1 when no body is open. */
  highest: number;
  lowestMoist: number;
  topK: number;
  cloudyM: number;
  gapM: number;
}

/**
 * Marks freezing drizzle in cells that have no worse code: warm-topped, deep, few droplets. A body that touches unknown air
 * counts as deep, and its top as the warmest that is plausible there.
 *
 * @param air                 The column.
 * @param dropletNumberPerM3  1/m3.
 * @param largeDrops          LARGE_DROPS code of every cell; sub-zero cells of such a body are set.
 * @throws                    never.
 * @source                    Signs of the collision-coalescence mechanism (from memory); thresholds at the cautious end.
 * @checked                   tests/science/diagnose-columns.test.ts
 */
export function markFreezingDrizzle(
  air: ColumnAir,
  dropletNumberPerM3: number,
  largeDrops: Uint8Array,
): void {
  if (dropletNumberPerM3 > DRIZZLE_MOST_DROPLETS_PER_M3) return;
  const body: Body = { highest: -1, lowestMoist: -1, topK: Number.NaN, cloudyM: 0, gapM: 0 };
  for (let cell = air.axis.cellCount - 1; cell >= 0; cell -= 1) {
    if (air.state[cell] === CELL_STATE.known) followBody(air, cell, { body, largeDrops });
    else breakBody(air, cell, { body, largeDrops });
  }
  closeBody(air, body, largeDrops);
}

function followBody(
  air: ColumnAir,
  cell: number,
  { body, largeDrops }: { body: Body; largeDrops: Uint8Array },
): void {
  const humidity = air.humidityRatio[cell]!;
  if (humidity < MOIST_HUMIDITY) {
    body.gapM += air.depthM[cell]!;
    if (body.highest >= 0 && body.gapM > LARGEST_GAP_M) closeBody(air, body, largeDrops);
    return;
  }
  if (body.highest < 0) openBody(body, cell, air.temperatureK[cell]!);
  body.gapM = 0;
  body.lowestMoist = cell;
  if (humidity >= CLOUDY_HUMIDITY) body.cloudyM += air.depthM[cell]!;
}

/** The ground ends a body. Unknown air may continue it, above and below: both parts then count as deep. */
function breakBody(
  air: ColumnAir,
  cell: number,
  { body, largeDrops }: { body: Body; largeDrops: Uint8Array },
): void {
  const isUnknown = isUnknownAir(air, cell);
  if (isUnknown && body.highest >= 0) {
    body.cloudyM = Number.POSITIVE_INFINITY;
    body.lowestMoist = cell + 1;
  }
  closeBody(air, body, largeDrops);
  const isAirBelow = cell > 0 && air.state[cell - 1] === CELL_STATE.known;
  if (!isUnknown || !isAirBelow) return;
  openBody(body, cell - 1, air.temperatureK[cell - 1]! + UNKNOWN_WARMING_K);
  body.cloudyM = Number.POSITIVE_INFINITY;
}

function openBody(body: Body, cell: number, topK: number): void {
  body.highest = cell;
  body.lowestMoist = cell + 1;
  body.topK = topK;
  body.cloudyM = 0;
  body.gapM = 0;
}

function closeBody(air: ColumnAir, body: Body, largeDrops: Uint8Array): void {
  const { highest } = body;
  body.highest = -1;
  if (highest < 0 || body.cloudyM < DRIZZLE_DEPTH_M || !(body.topK > DRIZZLE_TOP_K)) return;
  for (let cell = body.lowestMoist; cell <= highest; cell += 1) {
    const isWorse = largeDropHazard(largeDrops[cell]!) < largeDropHazard(LARGE_DROPS.freezingDrizzle);
    if (isWorse && air.temperatureK[cell]! < FREEZING_K) largeDrops[cell] = LARGE_DROPS.freezingDrizzle;
  }
}

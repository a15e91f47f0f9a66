/** From ice that somebody saw grow on a part of known size back to the water that it came of: the growth model, turned round. */
import { medianVolumeDiameterM } from './droplets.ts';
import { type Accretion, accrete, makeAccretion, type Part } from './growth.ts';
import { airColdK, dropColdK } from './heat-balance.ts';
import { makeImpact } from './impact.ts';

export interface GrowthConditions {
  readonly pressurePa: number;
  /** Static air temperature. */
  readonly temperatureK: number;
  readonly trueAirspeedMps: number;
  readonly dropletNumberPerM3: number;
  /** That was watched: see rod and leadingEdge in growth.ts. */
  readonly part: Part;
}

/** More water than winter cloud is known with, kg/m3: growth that needs more is not of this model. */
export const MOST_WATER_KG_PER_M3 = 3e-3;
const STEPS = 48;

/**
 * What cloud of so much water puts on the part.
 *
 * @param liquidWaterKgPerM3  0 or more.
 * @checked                   tests/science/observed-growth.test.ts
 */
export function accretionOfWater(liquidWaterKgPerM3: number, conditions: GrowthConditions): Accretion {
  const { pressurePa, temperatureK, trueAirspeedMps, dropletNumberPerM3, part } = conditions;
  const impact = makeImpact();
  impact.pressurePa = pressurePa;
  impact.temperatureK = temperatureK;
  impact.trueAirspeedMps = trueAirspeedMps;
  impact.liquidWaterKgPerM3 = liquidWaterKgPerM3;
  impact.diameterM = medianVolumeDiameterM(liquidWaterKgPerM3, dropletNumberPerM3);
  impact.dropColdK = dropColdK(temperatureK, trueAirspeedMps);
  impact.airColdK = airColdK(temperatureK, pressurePa, trueAirspeedMps);
  const result = makeAccretion();
  accrete(impact, part, result);
  return result;
}

/** The same, m/s of thickness at the stagnation line alone. */
export function growthOfWaterMps(liquidWaterKgPerM3: number, conditions: GrowthConditions): number {
  return accretionOfWater(liquidWaterKgPerM3, conditions).growthMps;
}

/**
 * The least water of which something holds that more water never undoes.
 *
 * @returns  kg/m3; undefined where it holds of no winter cloud.
 * @checked  tests/science/observed-growth.test.ts
 */
export function leastWaterKgPerM3(holds: (liquidWaterKgPerM3: number) => boolean): number | undefined {
  let [low, high] = [0, MOST_WATER_KG_PER_M3];
  if (holds(low)) return low;
  if (!holds(high)) return undefined;
  for (let step = 0; step < STEPS; step += 1) {
    const middle = (low + high) / 2;
    if (holds(middle)) high = middle;
    else low = middle;
  }
  return high;
}

/** beyond: no water of winter cloud makes so much, or near 0 °C more water makes no more ice. */
export type WaterOfGrowth =
  | { readonly kind: 'found'; readonly liquidWaterKgPerM3: number }
  | { readonly kind: 'beyond' };

/**
 * The least water that the growth may come of.
 *
 * @param growthMps  m/s, 0 or more.
 * @checked          tests/science/observed-growth.test.ts
 */
export function waterOfGrowth(growthMps: number, conditions: GrowthConditions): WaterOfGrowth {
  const found = leastWaterKgPerM3((water) => growthOfWaterMps(water, conditions) >= growthMps);
  return found === undefined ? { kind: 'beyond' } : { kind: 'found', liquidWaterKgPerM3: found };
}

export interface ObservedIce {
  readonly thicknessM: number;
  /** How far off the thickness may be. */
  readonly readingM: number;
  readonly durationS: number;
}

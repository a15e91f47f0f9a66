/** From ice that somebody saw grow on a part of known size back to the water that it came of: the growth model, turned round. */
import { DROPLET_NUMBER_FACTOR, medianVolumeDiameterM } from './droplets.ts';
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
  if (growthMps <= 0) return { kind: 'found', liquidWaterKgPerM3: 0 };
  let [low, high] = [0, MOST_WATER_KG_PER_M3];
  if (!(growthOfWaterMps(high, conditions) >= growthMps)) return { kind: 'beyond' };
  for (let step = 0; step < STEPS; step += 1) {
    const middle = (low + high) / 2;
    if (growthOfWaterMps(middle, conditions) >= growthMps) high = middle;
    else low = middle;
  }
  return { kind: 'found', liquidWaterKgPerM3: high };
}

export interface ObservedIce {
  readonly thicknessM: number;
  /** How far off the thickness may be. */
  readonly readingM: number;
  readonly durationS: number;
}

/** One reading of what was seen. */
export interface WaterEstimate {
  readonly growthMps: number;
  /** Droplets that it takes there to be. */
  readonly dropletNumberPerM3: number;
  /** undefined: beyond the model. */
  readonly liquidWaterKgPerM3: number | undefined;
}

export interface ObservedWater {
  readonly low: WaterEstimate;
  readonly middle: WaterEstimate;
  readonly high: WaterEstimate;
}

/** With the error of the reading, and with few large or many small drops; lowest and highest of all. */
export function observedWater(
  { thicknessM, readingM, durationS }: ObservedIce,
  conditions: GrowthConditions,
): ObservedWater {
  const estimate = (seenM: number, numberFactor: number): WaterEstimate => {
    const growthMps = Math.max(0, seenM) / durationS;
    const dropletNumberPerM3 = conditions.dropletNumberPerM3 * numberFactor;
    const found = waterOfGrowth(growthMps, { ...conditions, dropletNumberPerM3 });
    const liquidWaterKgPerM3 = found.kind === 'found' ? found.liquidWaterKgPerM3 : undefined;
    return { growthMps, dropletNumberPerM3, liquidWaterKgPerM3 };
  };
  return {
    // Few large drops are caught better: less water makes the same ice.
    low: estimate(thicknessM - readingM, 1 / DROPLET_NUMBER_FACTOR),
    middle: estimate(thicknessM, 1),
    high: estimate(thicknessM + readingM, DROPLET_NUMBER_FACTOR),
  };
}

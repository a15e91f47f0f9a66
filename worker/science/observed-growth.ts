/** From ice that somebody saw grow on a part of known size back to the water that it came of: the growth model, turned round. */
import { DROPLET_NUMBER_FACTOR, medianVolumeDiameterM } from './droplets.ts';
import { accrete, makeAccretion, rod } from './growth.ts';
import { airColdK, dropColdK } from './heat-balance.ts';
import { makeImpact } from './impact.ts';

export interface GrowthConditions {
  readonly pressurePa: number;
  /** Static air temperature. */
  readonly temperatureK: number;
  readonly trueAirspeedMps: number;
  readonly dropletNumberPerM3: number;
  /** Of the round part that was watched. */
  readonly radiusM: number;
}

/** More water than winter cloud is known with, kg/m3: growth that needs more is not of this model. */
export const MOST_WATER_KG_PER_M3 = 3e-3;
const STEPS = 48;

/**
 * @param liquidWaterKgPerM3  0 or more.
 * @returns                   m/s of thickness at the stagnation line.
 * @checked                   tests/science/observed-growth.test.ts
 */
export function growthOfWaterMps(liquidWaterKgPerM3: number, conditions: GrowthConditions): number {
  const { pressurePa, temperatureK, trueAirspeedMps, dropletNumberPerM3, radiusM } = conditions;
  const impact = makeImpact();
  impact.pressurePa = pressurePa;
  impact.temperatureK = temperatureK;
  impact.trueAirspeedMps = trueAirspeedMps;
  impact.liquidWaterKgPerM3 = liquidWaterKgPerM3;
  impact.diameterM = medianVolumeDiameterM(liquidWaterKgPerM3, dropletNumberPerM3);
  impact.dropColdK = dropColdK(temperatureK, trueAirspeedMps);
  impact.airColdK = airColdK(temperatureK, pressurePa, trueAirspeedMps);
  const result = makeAccretion();
  accrete(impact, rod(radiusM), result);
  return result.growthMps;
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

export interface ObservedWater {
  readonly growthMps: { readonly low: number; readonly middle: number; readonly high: number };
  /** undefined ends are beyond the model. */
  readonly liquidWaterKgPerM3: {
    readonly low: number | undefined;
    readonly middle: number | undefined;
    readonly high: number | undefined;
  };
}

/** With the error of the reading, and with few large or many small drops; lowest and highest of all. */
export function observedWater(
  { thicknessM, readingM, durationS }: ObservedIce,
  conditions: GrowthConditions,
): ObservedWater {
  const growth = (thickness: number) => Math.max(0, thickness) / durationS;
  const [low, middle, high] = [
    growth(thicknessM - readingM),
    growth(thicknessM),
    growth(thicknessM + readingM),
  ];
  const waterAt = (growthMps: number, numberFactor: number) => {
    const dropletNumberPerM3 = conditions.dropletNumberPerM3 * numberFactor;
    const found = waterOfGrowth(growthMps, { ...conditions, dropletNumberPerM3 });
    return found.kind === 'found' ? found.liquidWaterKgPerM3 : undefined;
  };
  return {
    growthMps: { low, middle, high },
    liquidWaterKgPerM3: {
      // Few large drops are caught better: less water makes the same ice.
      low: waterAt(low, 1 / DROPLET_NUMBER_FACTOR),
      middle: waterAt(middle, 1),
      high: waterAt(high, DROPLET_NUMBER_FACTOR),
    },
  };
}

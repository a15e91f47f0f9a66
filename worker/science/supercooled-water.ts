/** Whether a cell holds supercooled water, and how much if it does: all lines of evidence together. */
import { cloudProbabilityOfHumidity, liquidProbabilityOfTop, unfrozenShare } from './cloud-layers.ts';
import type { ColumnAir } from './column-air.ts';
import { FREEZING_K } from './constants.ts';
import { medianVolumeDiameterM } from './droplets.ts';
import {
  cloudProbabilityOfCondensate,
  entrainedKgPerM3,
  inCloudWaterKgPerM3,
  liquidShareOfCondensate,
  waterContentKgPerM3,
} from './liquid-water.ts';
import { RAIN_DIAMETER_M, RAIN_RATE_MM_PER_H, rainProbability, rainWaterKgPerM3 } from './rain.ts';

/** Below this probability there is no water to give amounts of. */
export const NEGLIGIBLE_PROBABILITY = 0.005;

/** One cell's water; filled anew for each cell. */
export interface CellWater {
  cloudProbability: number;
  /** That the cell holds supercooled liquid, 0-1. */
  icingProbability: number;
  /** Given liquid; 0 when the probability is negligible. */
  liquidWaterKgPerM3: number;
  diameterM: number;
}

/** What the stages before found, one entry a cell. */
export interface ColumnFindings {
  readonly topK: Float64Array;
  readonly adiabatic: Float64Array;
  /** LARGE_DROPS code of what falls from a warm layer, whatever else there is. */
  readonly rain: Uint8Array;
}

const RAIN_WATER_KG_PER_M3 = rainWaterKgPerM3(RAIN_RATE_MM_PER_H);

/**
 * Assesses one known cell.
 *
 * Humidity and a model's condensate are two witnesses of the same cloud: the more certain one gives the probability and the
 * amount. Where humidity is the more certain, the greater amount of the two counts, since models hold too little water.
 * Rain falling from a warm layer is a witness of its own. At and above 0 degC nothing is supercooled.
 *
 * @param column  Air, what earlier stages found, and the number of droplets, 1/m3.
 * @param cell    A known cell; where the source gives condensate it has some value there.
 * @param result  Filled.
 * @throws        never.
 */
export function assessWater(
  column: { readonly air: ColumnAir; readonly findings: ColumnFindings; readonly dropletNumberPerM3: number },
  cell: number,
  result: CellWater,
): void {
  const { air, findings } = column;
  const temperatureK = air.temperatureK[cell]!;
  const cloudOfHumidity = cloudProbabilityOfHumidity(air.humidityRatio[cell]!);
  const condensate = air.condensateBasis === 'none' ? 0 : air.condensateKgPerKg[cell]!;
  const cloudOfCondensate = condensate > 0 ? cloudProbabilityOfCondensate(condensate) : 0;
  result.cloudProbability = Math.max(cloudOfHumidity, cloudOfCondensate);
  result.icingProbability = 0;
  result.liquidWaterKgPerM3 = 0;
  result.diameterM = 0;
  if (temperatureK >= FREEZING_K) return;

  const unfrozen = unfrozenShare(temperatureK);
  const liquidProbability = liquidProbabilityOfTop(findings.topK[cell]!);
  const byHumidity = cloudOfHumidity * liquidProbability * unfrozen;
  const liquidShare = air.condensateBasis === 'total' ? liquidShareOfCondensate(temperatureK) : 1;
  const byCondensate = cloudOfCondensate * liquidShare * unfrozen;
  const byRain = rainProbability(findings.rain[cell]!);

  let water = 0;
  if (byCondensate >= NEGLIGIBLE_PROBABILITY) {
    water = waterContentKgPerM3(condensate * liquidShare, temperatureK, air.axis.middlePressurePa[cell]!);
  }
  if (byHumidity > byCondensate && byHumidity >= NEGLIGIBLE_PROBABILITY) {
    const ofHumidity = inCloudWaterKgPerM3(entrainedKgPerM3(findings.adiabatic[cell]!), liquidProbability);
    water = Math.max(water, ofHumidity);
  }
  result.icingProbability = Math.max(byHumidity, byCondensate, byRain);
  result.liquidWaterKgPerM3 = byRain > 0 ? Math.max(water, RAIN_WATER_KG_PER_M3) : water;
  if (byRain > 0) result.diameterM = RAIN_DIAMETER_M;
  else if (water > 0) result.diameterM = medianVolumeDiameterM(water, column.dropletNumberPerM3);
}

/** The chance of cloud and of supercooled water that one source gives a cell, its own errors counted. */
import { cloudProbability } from './cloud-probability.ts';
import type { WeatherColumns } from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { coldProbability } from './glaciation.ts';
import type { WaterEvidence } from './water-evidence.ts';

/** Filled anew for each cell. */
export interface SourceChance {
  /** That the cell is in cloud of either phase. */
  cloud: number;
  /** By the more certain of two witnesses: that the cell is in cloud which may be liquid, and that such cloud is liquid. */
  liquidCloud: number;
  liquid: number;
  /** That the cell is below 0 degC. */
  cold: number;
  /** That it holds supercooled water: cloud or rain. */
  ice: number;
  /** Liquid water of the cloud given liquid, kg/m3. */
  waterKgPerM3: number;
  /** Temperature given that the cell is below 0 degC, K. */
  coldK: number;
}

export function makeSourceChance(): SourceChance {
  return { cloud: 0, liquidCloud: 0, liquid: 0, cold: 0, ice: 0, waterKgPerM3: 0, coldK: 0 };
}

/** Given below 0 degC, air of uncertain temperature is on average at least this part of its error below it. */
const COLD_GIVEN_ERROR = 0.5;

/**
 * Fills the chance of one known cell.
 *
 * Humidity and a model's condensate are two witnesses: the more certain one gives the probability. The water is their mean by
 * certainty, where humidity counts the greater of the two, since models hold too little water.
 *
 * @param sources  Air and evidence of all sources.
 * @param index    [source][cell], a known cell.
 * @param errors   One standard deviation of temperature, K, and humidity, ratio.
 * @param chance   Filled.
 * @throws         never.
 */
export function fillSourceChance(
  { weather, evidence }: { readonly weather: WeatherColumns; readonly evidence: WaterEvidence },
  index: number,
  errors: { readonly temperatureK: number; readonly humidityRatio: number },
  chance: SourceChance,
): void {
  const width = evidence.humidityWidthRatio;
  const byHumidity = cloudProbability(evidence.liquidMargin[index]!, errors.humidityRatio, width);
  const anyByHumidity = cloudProbability(evidence.cloudMargin[index]!, errors.humidityRatio, width);
  const byCondensate = evidence.condensateCloud[index]!;
  const iceByHumidity = byHumidity * evidence.humidityLiquid[index]!;
  const iceByCondensate = byCondensate * evidence.condensateLiquid[index]!;
  const isHumidity = iceByHumidity >= iceByCondensate;
  chance.cloud = Math.max(anyByHumidity, byCondensate);
  chance.liquidCloud = isHumidity ? byHumidity : byCondensate;
  chance.liquid = isHumidity ? evidence.humidityLiquid[index]! : evidence.condensateLiquid[index]!;
  const temperatureK = weather.temperatureK[index]!;
  chance.cold = coldProbability(temperatureK, errors.temperatureK);
  chance.coldK = Math.min(temperatureK, FREEZING_K - COLD_GIVEN_ERROR * errors.temperatureK);
  const ofCloud = chance.cold * Math.max(iceByHumidity, iceByCondensate);
  chance.ice = Math.max(ofCloud, evidence.rainProbability[index]!);
  const ofHumidityKgPerM3 = evidence.humidityWaterKgPerM3[index]!;
  const ofCondensateKgPerM3 = evidence.condensateWaterKgPerM3[index]!;
  const certainty = iceByHumidity + iceByCondensate;
  chance.waterKgPerM3 =
    certainty > 0
      ? (iceByHumidity * Math.max(ofHumidityKgPerM3, ofCondensateKgPerM3) +
          iceByCondensate * ofCondensateKgPerM3) /
        certainty
      : 0;
}

/** The chance of cloud and of supercooled water that one source gives a cell, its own errors counted. */
import { cloudProbability } from './cloud-probability.ts';
import type { WeatherColumns } from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { coldProbability } from './glaciation.ts';
import { RAIN_SHIFTS_K } from './rain-shifts.ts';
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
  /** That it holds supercooled rain from a warm layer. */
  rain: number;
  /** That it holds supercooled water: cloud or rain. */
  ice: number;
  /** Liquid water of the cloud given liquid, kg/m3. */
  waterKgPerM3: number;
  /** Temperature given that the cell is below 0 degC, K. */
  coldK: number;
}

export function makeSourceChance(): SourceChance {
  return { cloud: 0, liquidCloud: 0, liquid: 0, cold: 0, rain: 0, ice: 0, waterKgPerM3: 0, coldK: 0 };
}

/** One standard deviation of temperature, K, and humidity, ratio; and the weights of the rain shifts by the former. */
export interface SourceExactness {
  temperatureK: number;
  humidityRatio: number;
  /** [entry][shift], see rain-shifts.ts, and the entry's first. */
  readonly rainWeights: Float64Array;
  firstRainWeight: number;
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
 * @param errors   Of the source at the place.
 * @param chance   Filled.
 * @throws         never.
 */
export function fillSourceChance(
  { weather, evidence }: { readonly weather: WeatherColumns; readonly evidence: WaterEvidence },
  index: number,
  errors: Readonly<SourceExactness>,
  chance: SourceChance,
): void {
  const width = evidence.humidityWidthRatio;
  const byHumidity = cloudProbability(evidence.liquidMargin[index]!, errors.humidityRatio, width);
  const anyByHumidity = cloudProbability(evidence.cloudMargin[index]!, errors.humidityRatio, width);
  const byCondensate = forecastCloud(evidence.condensateCloud[index]!, errors.humidityRatio);
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
  chance.rain = rainOf(evidence, index, errors);
  chance.ice = eitherOf(ofCloud, chance.rain, chance.cold);
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

/** Cloud or rain, which do not depend on each other in air below 0 degC; each is part of that air. */
function eitherOf(cloud: number, rain: number, cold: number): number {
  return cold > 0 ? cloud + rain - (cloud * rain) / cold : rain;
}

/** Error of humidity, ratio, at which a forecast's own cloud is as uncertain as the width of a logit (judgement). */
const CONDENSATE_ERROR = 0.04;

/** A forecast's condensate is no more certain than this (judgement; in Guan et al. 2001 clouds were found where forecast half the time). */
const MOST_BY_CONDENSATE = 0.8;

/** Probability of cloud by condensate, flatter the less exact its source is. An exact source keeps its own. */
function forecastCloud(probability: number, humidityErrorRatio: number): number {
  if (humidityErrorRatio === 0 || !(probability > 0)) return probability;
  const error = humidityErrorRatio / CONDENSATE_ERROR;
  const flatter = 1 / Math.sqrt(1 + (Math.PI / 8) * error * error);
  return MOST_BY_CONDENSATE / (1 + (1 / probability - 1) ** flatter);
}

function rainOf(evidence: WaterEvidence, index: number, errors: Readonly<SourceExactness>): number {
  const { cellCount } = evidence.axis;
  if (evidence.hasRain[Math.floor(index / cellCount)] === 0) return 0;
  const count = evidence.columnCount * cellCount;
  let sum = 0;
  for (let shift = 0; shift < RAIN_SHIFTS_K.length; shift += 1) {
    sum +=
      errors.rainWeights[errors.firstRainWeight + shift]! * evidence.rainProbability[shift * count + index]!;
  }
  return sum;
}

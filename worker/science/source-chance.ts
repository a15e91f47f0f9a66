/** The chance of cloud and of supercooled water that one source gives a cell, its own errors counted. */
import { cloudProbability } from './cloud-probability.ts';
import { LARGE_DROPS, type WeatherColumns } from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { coldProbability } from './glaciation.ts';
import { modelRainProbability } from './model-rain.ts';
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
  /** That it holds freezing rain: by a warm layer, or by a model's own rain under one or at the ground. */
  rain: number;
  /** That it holds falling drops, freezing rain or a model's rain without a warm layer above. */
  falling: number;
  /** That it holds a model's rain. */
  modelRain: number;
  /** That it holds supercooled water: cloud or falling drops. */
  ice: number;
  /** Liquid water of the cloud given liquid, kg/m3. */
  waterKgPerM3: number;
  /** Temperature given that the cell is below 0 degC, K. */
  coldK: number;
}

export function makeSourceChance(): SourceChance {
  return {
    cloud: 0,
    liquidCloud: 0,
    liquid: 0,
    cold: 0,
    rain: 0,
    falling: 0,
    modelRain: 0,
    ice: 0,
    waterKgPerM3: 0,
    coldK: 0,
  };
}

/** One standard deviation of some of SourceErrors; and the weights of the rain shifts by that of temperature. */
export interface SourceExactness {
  temperatureK: number;
  humidityRatio: number;
  lnWater: number;
  placeM: number;
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
 * certainty, where humidity counts the greater of the two, since models hold too little water. Of falling drops too the more
 * certain witness counts.
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
  fillRainChance(evidence, index, errors, chance);
  chance.ice = eitherOf(ofCloud, chance.falling, chance.cold);
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

/** Of each kind of rain, as much as the most certain witness says; never more than that the cell is cold. */
function fillRainChance(
  evidence: WaterEvidence,
  index: number,
  errors: Readonly<SourceExactness>,
  chance: SourceChance,
): void {
  const byOthers = Math.max(
    rainOf(evidence, index, errors),
    Math.min(chance.cold, evidence.groundRain[index]!),
  );
  const waterKgPerM3 = evidence.rainWaterKgPerM3[index]!;
  chance.modelRain = waterKgPerM3 > 0 ? chance.cold * modelRainProbability(waterKgPerM3, errors) : 0;
  chance.falling = Math.max(byOthers, chance.modelRain);
  chance.rain = evidence.rainDrops[index] === LARGE_DROPS.freezingRain ? chance.falling : byOthers;
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

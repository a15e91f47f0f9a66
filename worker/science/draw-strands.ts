/**
 * What draws choose from: over each route point the sources with weight, and in each cell of each the thresholds that a
 * normal number must stay under for cloud, liquid and large drops to be there. Made once, used by every draw.
 */
import { LOGISTIC_VARIANCE } from './cloud-probability.ts';
import { CELL_STATE, type WeatherColumns } from './columns.ts';
import { normalQuantile } from './normal-quantile.ts';
import type { PointSources } from './point-sources.ts';
import { RAIN_SHIFTS_K, rainShiftWeights } from './rain-shifts.ts';
import { fillSourceChance, makeSourceChance, type SourceExactness } from './source-chance.ts';
import type { WaterEvidence } from './water-evidence.ts';

/** A probability smaller than this is none, one nearer to 1 is certain. */
const LEAST_PROBABILITY = 1e-4;
export const NEVER = -9;
const ALWAYS = 9;

/** Flat arrays, [strand] or [strand][cell]. A strand is one source over one route point: an entry of PointSources. */
export interface Strands {
  readonly cellCount: number;
  /** Sum of weights of the point's strands up to and with this one, over their sum. */
  readonly cumulativeShare: Float64Array;
  /** Part of the deviation in cloud that comes from the error of humidity, which is smooth; the rest is patchy. */
  readonly smoothPart: Float64Array;
  readonly isKnown: Uint8Array;
  /** Normal numbers under these: in cloud of either phase, in cloud that may be liquid, that it is liquid, ... */
  readonly cloudBelow: Float32Array;
  readonly liquidCloudBelow: Float32Array;
  readonly liquidBelow: Float32Array;
  /** Freezing rain; any falling drops, this included. */
  readonly rainBelow: Float32Array;
  readonly fallingBelow: Float32Array;
  readonly drizzleBelow: Float32Array;
  readonly temperatureK: Float32Array;
  readonly waterKgPerM3: Float32Array;
  /** Of a model's rain. */
  readonly rainWaterKgPerM3: Float32Array;
  /** Water cannot be more, kg/m3. */
  readonly mostWaterKgPerM3: Float32Array;
}

/**
 * Makes the strands.
 *
 * @param columns  Air and evidence, one column a source.
 * @param sources  Who speaks at each point.
 * @returns        New arrays.
 * @throws         never.
 */
export function makeStrands(
  columns: { readonly weather: WeatherColumns; readonly evidence: WaterEvidence },
  sources: PointSources,
): Strands {
  const { weather, evidence } = columns;
  const strands = emptyStrands(sources, evidence);
  const chance = makeSourceChance();
  const errors: SourceExactness = {
    temperatureK: 0,
    humidityRatio: 0,
    lnWater: 0,
    placeM: 0,
    rainWeights: rainShiftWeights(sources.errors.temperatureK),
    firstRainWeight: 0,
  };
  sources.source.forEach((source, strand) => {
    errors.temperatureK = sources.errors.temperatureK[strand]!;
    errors.humidityRatio = sources.errors.humidityRatio[strand]!;
    errors.lnWater = sources.errors.lnWater[strand]!;
    errors.placeM = sources.errors.placeM[strand]!;
    errors.firstRainWeight = strand * RAIN_SHIFTS_K.length;
    for (let cell = 0; cell < strands.cellCount; cell += 1) {
      const from = source * strands.cellCount + cell;
      const index = strand * strands.cellCount + cell;
      if (!(sources.humidity[strand]! > 0) || evidence.state[from] !== CELL_STATE.known) continue;
      fillSourceChance(columns, from, errors, chance);
      strands.isKnown[index] = 1;
      strands.cloudBelow[index] = thresholdOf(chance.cloud);
      strands.liquidCloudBelow[index] = thresholdOf(chance.liquidCloud);
      strands.liquidBelow[index] = thresholdOf(chance.liquid);
      // Rain is there in cold draws alone, so its chance is that given cold.
      strands.rainBelow[index] = thresholdOf(givenCold(chance.rain, chance.cold));
      strands.fallingBelow[index] = thresholdOf(givenCold(chance.falling, chance.cold));
      strands.drizzleBelow[index] = thresholdOf(evidence.drizzleProbability[from]!);
      strands.temperatureK[index] = weather.temperatureK[from]!;
      strands.waterKgPerM3[index] = chance.waterKgPerM3;
      strands.rainWaterKgPerM3[index] = evidence.rainWaterKgPerM3[from]!;
      strands.mostWaterKgPerM3[index] = Math.max(chance.waterKgPerM3, evidence.mostWaterKgPerM3[from]!);
    }
  });
  return strands;
}

function emptyStrands(sources: PointSources, evidence: WaterEvidence): Strands {
  const count = sources.source.length;
  const { cellCount } = evidence.axis;
  const perCell = () => new Float32Array(count * cellCount);
  return {
    cellCount,
    cumulativeShare: cumulativeShares(sources),
    smoothPart: Float64Array.from(sources.errors.humidityRatio, (error) =>
      smoothPartOf(error / evidence.humidityWidthRatio),
    ),
    isKnown: new Uint8Array(count * cellCount),
    cloudBelow: perCell(),
    liquidCloudBelow: perCell(),
    liquidBelow: perCell(),
    rainBelow: perCell(),
    fallingBelow: perCell(),
    drizzleBelow: perCell(),
    temperatureK: perCell(),
    waterKgPerM3: perCell(),
    rainWaterKgPerM3: perCell(),
    mostWaterKgPerM3: perCell(),
  };
}

function cumulativeShares({ firstEntry, humidity, pointCount }: PointSources): Float64Array {
  const shares = new Float64Array(humidity.length);
  for (let point = 0; point < pointCount; point += 1) {
    let sum = 0;
    for (let entry = firstEntry[point]!; entry < firstEntry[point + 1]!; entry += 1) {
      sum += humidity[entry]!;
      shares[entry] = sum;
    }
    for (let entry = firstEntry[point]!; entry < firstEntry[point + 1]!; entry += 1) shares[entry]! /= sum;
  }
  return shares;
}

/** Of the deviation that decides on cloud, the part that is the error of humidity, in widths. */
function smoothPartOf(errorWidths: number): number {
  const variance = errorWidths * errorWidths;
  return Math.sqrt(variance / (variance + LOGISTIC_VARIANCE));
}

const givenCold = (rain: number, cold: number) => (rain > 0 ? Math.min(1, rain / cold) : 0);

function thresholdOf(probability: number): number {
  if (probability < LEAST_PROBABILITY) return NEVER;
  return probability > 1 - LEAST_PROBABILITY ? ALWAYS : normalQuantile(probability);
}

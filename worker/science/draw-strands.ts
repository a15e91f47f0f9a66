/**
 * What draws choose from: over each route point the sources with weight, and in each cell of each the thresholds that a
 * normal number must stay under for cloud, liquid and large drops to be there. Made once, used by every draw.
 */
import { CALIBRATION } from './calibration.ts';
import { LOGISTIC_VARIANCE } from './cloud-probability.ts';
import { CELL_STATE, type WeatherColumns } from './columns.ts';
import { normalQuantile } from './normal-quantile.ts';
import type { PoolWeights } from './pool-columns.ts';
import { fillSourceChance, makeSourceChance } from './source-chance.ts';
import type { WaterEvidence } from './water-evidence.ts';

/** A probability smaller than this is none, one nearer to 1 is certain. */
const LEAST_PROBABILITY = 1e-4;
const NEVER = -9;
const ALWAYS = 9;

/** Flat arrays, [strand] or [strand][cell]. A strand is one source over one route point. */
export interface Strands {
  readonly cellCount: number;
  /** First strand of each point; one entry more than points. */
  readonly firstOfPoint: Int32Array;
  /** Sum of weights of the point's strands up to and with this one, over their sum. */
  readonly cumulativeShare: Float64Array;
  readonly temperatureErrorK: Float64Array;
  readonly lnWaterError: Float64Array;
  readonly lnDiameterError: Float64Array;
  readonly heightErrorM: Float64Array;
  /** 0 for a source whose place is certain. */
  readonly placeErrorM: Float64Array;
  /** Part of the deviation in cloud that comes from the error of humidity, which is smooth; the rest is patchy. */
  readonly smoothPart: Float64Array;
  readonly isKnown: Uint8Array;
  /** Normal numbers under these: in cloud of either phase, in cloud that may be liquid, that it is liquid, ... */
  readonly cloudBelow: Float32Array;
  readonly liquidCloudBelow: Float32Array;
  readonly liquidBelow: Float32Array;
  readonly rainBelow: Float32Array;
  readonly drizzleBelow: Float32Array;
  readonly temperatureK: Float32Array;
  readonly waterKgPerM3: Float32Array;
  /** Water cannot be more, kg/m3. */
  readonly mostWaterKgPerM3: Float32Array;
}

/**
 * Makes the strands.
 *
 * @param sources  Air and evidence, one column a source.
 * @param weights  How much each counts at each point, and its errors.
 * @returns        New arrays.
 * @throws         never.
 */
export function makeStrands(
  sources: { readonly weather: WeatherColumns; readonly evidence: WaterEvidence },
  weights: PoolWeights,
): Strands {
  const listed = listStrands(weights);
  const strands = emptyStrands(listed.source.length, sources.evidence.axis.cellCount, listed);
  const chance = makeSourceChance();
  listed.source.forEach((source, strand) => {
    const place = listed.place[strand]!;
    setErrors(strands, strand, { weights, place });
    const errors = {
      temperatureK: strands.temperatureErrorK[strand]!,
      humidityRatio: weights.errors.humidityRatio[place]!,
    };
    for (let cell = 0; cell < strands.cellCount; cell += 1) {
      const from = source * strands.cellCount + cell;
      const index = strand * strands.cellCount + cell;
      if (sources.evidence.state[from] !== CELL_STATE.known) continue;
      fillSourceChance(sources, from, errors, chance);
      strands.isKnown[index] = 1;
      strands.cloudBelow[index] = thresholdOf(chance.cloud);
      strands.liquidCloudBelow[index] = thresholdOf(chance.liquidCloud);
      strands.liquidBelow[index] = thresholdOf(chance.liquid);
      strands.rainBelow[index] = thresholdOf(sources.evidence.rainProbability[from]!);
      strands.drizzleBelow[index] = thresholdOf(sources.evidence.drizzleProbability[from]!);
      strands.temperatureK[index] = sources.weather.temperatureK[from]!;
      strands.waterKgPerM3[index] = chance.waterKgPerM3;
      strands.mostWaterKgPerM3[index] = Math.max(
        chance.waterKgPerM3,
        sources.evidence.adiabaticKgPerM3[from]!,
      );
    }
  });
  return strands;
}

interface Listed {
  readonly firstOfPoint: Int32Array;
  readonly source: readonly number[];
  /** [point][source] of each strand. */
  readonly place: readonly number[];
  readonly cumulativeShare: readonly number[];
}

function listStrands({ pointCount, sourceCount, humidity }: PoolWeights): Listed {
  const firstOfPoint = new Int32Array(pointCount + 1);
  const source: number[] = [];
  const place: number[] = [];
  const cumulativeShare: number[] = [];
  for (let point = 0; point < pointCount; point += 1) {
    let sum = 0;
    for (let each = 0; each < sourceCount; each += 1) {
      const weight = humidity[point * sourceCount + each]!;
      if (!(weight > 0)) continue;
      sum += weight;
      source.push(each);
      place.push(point * sourceCount + each);
      cumulativeShare.push(sum);
    }
    for (let strand = firstOfPoint[point]!; strand < source.length; strand += 1)
      cumulativeShare[strand]! /= sum;
    firstOfPoint[point + 1] = source.length;
  }
  return { firstOfPoint, source, place, cumulativeShare };
}

function emptyStrands(count: number, cellCount: number, listed: Listed): Strands {
  const perStrand = () => new Float64Array(count);
  const perCell = () => new Float32Array(count * cellCount);
  return {
    cellCount,
    firstOfPoint: listed.firstOfPoint,
    cumulativeShare: Float64Array.from(listed.cumulativeShare),
    temperatureErrorK: perStrand(),
    lnWaterError: perStrand(),
    lnDiameterError: perStrand(),
    heightErrorM: perStrand(),
    placeErrorM: perStrand(),
    smoothPart: perStrand(),
    isKnown: new Uint8Array(count * cellCount),
    cloudBelow: perCell(),
    liquidCloudBelow: perCell(),
    liquidBelow: perCell(),
    rainBelow: perCell(),
    drizzleBelow: perCell(),
    temperatureK: perCell(),
    waterKgPerM3: perCell(),
    mostWaterKgPerM3: perCell(),
  };
}

function setErrors(
  strands: Strands,
  strand: number,
  { weights: { errors }, place }: { weights: PoolWeights; place: number },
): void {
  strands.temperatureErrorK[strand] = errors.temperatureK[place]!;
  strands.lnWaterError[strand] = errors.lnWater[place]!;
  strands.lnDiameterError[strand] = errors.lnDiameter[place]!;
  strands.heightErrorM[strand] = errors.heightM[place]!;
  strands.placeErrorM[strand] = errors.placeM[place]!;
  const ofHumidity = (errors.humidityRatio[place]! / CALIBRATION.cloudHumidityWidthRatio) ** 2;
  strands.smoothPart[strand] = Math.sqrt(ofHumidity / (ofHumidity + LOGISTIC_VARIANCE));
}

function thresholdOf(probability: number): number {
  if (probability < LEAST_PROBABILITY) return NEVER;
  return probability > 1 - LEAST_PROBABILITY ? ALWAYS : normalQuantile(probability);
}

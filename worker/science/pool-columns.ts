/**
 * Several sources' columns pooled into one a route point: probabilities are averaged, never profiles of humidity.
 *
 * Averaging two humidity profiles would halve a peak and double a deck; each source is diagnosed by itself first.
 */
import {
  CELL_STATE,
  type CondensateBasis,
  LARGE_DROPS,
  type LargeDrops,
  UNKNOWN_CODE,
  type WeatherColumns,
} from './columns.ts';
import type { SourceErrors } from './error-spreads.ts';
import { DRIZZLE_NAMED_FROM, largeDropHazard, RAIN_NAMED_FROM } from './large-drops.ts';
import type { PointSources } from './point-sources.ts';
import { type Ballot, type CellStates, takeVote, type Vote } from './pool-votes.ts';
import { emptyWeatherColumns } from './profile-columns.ts';
import { RAIN_SHIFTS_K, rainShiftWeights } from './rain-shifts.ts';
import {
  fillSourceChance,
  makeSourceChance,
  type SourceChance,
  type SourceExactness,
} from './source-chance.ts';
import type { WaterEvidence } from './water-evidence.ts';

/** Water at the route points, flat [point][cell]; NaN and UNKNOWN_CODE where the state is not known. */
export interface PooledWater {
  readonly state: Uint8Array;
  readonly cloudProbability: Float32Array;
  readonly icingProbability: Float32Array;
  /** Given supercooled cloud, kg/m3; 0 where it has no probability. */
  readonly cloudWaterKgPerM3: Float32Array;
  /** Temperature given that the cell is below 0 degC, K. */
  readonly coldK: Float32Array;
  readonly largeDropProbability: Float32Array;
  /** LARGE_DROPS code. */
  readonly largeDrops: Uint8Array;
  /** 1 where freezing rain is probable enough to be named, or a fair share of the sources sees it; else 0. */
  readonly isRain: Uint8Array;
  /** A model's rain given that it is there, kg/m3; 0 where it is not probable enough to be named. */
  readonly rainWaterKgPerM3: Float32Array;
}

function emptyPooledWater(count: number): PooledWater {
  const amounts = () => new Float32Array(count).fill(Number.NaN);
  return {
    state: new Uint8Array(count).fill(CELL_STATE.noData),
    cloudProbability: amounts(),
    icingProbability: amounts(),
    cloudWaterKgPerM3: amounts(),
    coldK: amounts(),
    largeDropProbability: amounts(),
    largeDrops: new Uint8Array(count).fill(UNKNOWN_CODE),
    isRain: new Uint8Array(count),
    rainWaterKgPerM3: amounts(),
  };
}

/** Quantities of the air weighed like temperature. */
const TEMPERATURE_LIKE = [
  'temperatureK',
  'geopotentialHeightM',
  'windEastMps',
  'windNorthMps',
  'verticalVelocityPaPerS',
] as const satisfies readonly (keyof WeatherColumns)[];

/**
 * Pools the columns of sources into columns of route points.
 *
 * A cell is known when sources with at least half of the weight that counts there know it; else it has the state of the
 * heaviest source that does not. A source for which the cell is below ground does not count; when that is every source with
 * weight, the cell is belowGround. Without any weight it is noData. Probability may stay above 0 where the pooled
 * temperature is above 0 degC: some source holds it for colder.
 *
 * @param weather   One column a source.
 * @param evidence  Of the same columns.
 * @param sources   Who speaks at each point.
 * @returns         One column a route point.
 * @throws         RangeError when there is not one column of each a source.
 * @checked        tests/science/pool-columns.test.ts
 */
export function poolColumns(
  weather: WeatherColumns,
  evidence: WaterEvidence,
  sources: PointSources,
): { weather: WeatherColumns; water: PooledWater } {
  assertMatching(weather, evidence, sources);
  const { axis } = weather;
  const pooledWeather = emptyWeatherColumns(axis, pooledBasis(weather, sources));
  const pool: Pool = {
    weather,
    evidence,
    errors: sources.errors,
    pooledWeather,
    temperatureLike: TEMPERATURE_LIKE.map((name) => ({ from: weather[name], to: pooledWeather[name] })),
    askedBasis: undefined,
    airStates: { state: weather.state, cellCount: axis.cellCount, cell: 0 },
    evidenceStates: { state: evidence.state, cellCount: axis.cellCount, cell: 0 },
    water: emptyPooledWater(sources.pointCount * axis.cellCount),
    chance: makeSourceChance(),
    exactness: {
      temperatureK: 0,
      humidityRatio: 0,
      lnWater: 0,
      placeM: 0,
      rainWeights: rainShiftWeights(sources.errors.temperatureK),
      firstRainWeight: 0,
    },
    ballot: {
      first: 0,
      last: 0,
      source: sources.source,
      humidity: sources.humidity,
      temperature: sources.temperature,
    },
    humidityVote: { knownWeight: 0, state: CELL_STATE.noData },
    temperatureVote: { knownWeight: 0, state: CELL_STATE.noData },
    icingVote: { knownWeight: 0, state: CELL_STATE.noData },
  };
  for (let point = 0; point < sources.pointCount; point += 1) {
    pool.ballot.first = sources.firstEntry[point]!;
    pool.ballot.last = sources.firstEntry[point + 1]!;
    for (let cell = 0; cell < axis.cellCount; cell += 1) poolCell(pool, point, cell);
  }
  return { weather: pool.pooledWeather, water: pool.water };
}

interface Pool {
  readonly weather: WeatherColumns;
  readonly evidence: WaterEvidence;
  readonly errors: SourceErrors;
  readonly pooledWeather: WeatherColumns;
  /** Quantities of the air weighed like temperature. */
  readonly temperatureLike: readonly { readonly from: Float32Array; readonly to: Float32Array }[];
  /** Only sources whose condensate means this count in a mean; undefined for all. */
  askedBasis: CondensateBasis | undefined;
  readonly airStates: CellStates;
  readonly evidenceStates: CellStates;
  readonly water: PooledWater;
  readonly chance: SourceChance;
  /** Errors of the source at hand. */
  readonly exactness: SourceExactness;
  readonly ballot: Ballot;
  readonly humidityVote: Vote;
  readonly temperatureVote: Vote;
  readonly icingVote: Vote;
}

function assertMatching(
  weather: WeatherColumns,
  evidence: WaterEvidence,
  { sourceCount }: PointSources,
): void {
  if (weather.columnCount === sourceCount && evidence.columnCount === sourceCount) return;
  throw new RangeError(
    `pooling: found ${weather.columnCount} columns of air and ${evidence.columnCount} of evidence, expected ${sourceCount} of each`,
  );
}

/** A point's condensate means what that of its heaviest source with any means. */
function pooledBasis(weather: WeatherColumns, sources: PointSources): CondensateBasis[] {
  return Array.from({ length: sources.pointCount }, (_, point) => {
    let heaviest = 0;
    let basis: CondensateBasis = 'none';
    for (let entry = sources.firstEntry[point]!; entry < sources.firstEntry[point + 1]!; entry += 1) {
      const ofSource = weather.condensateBasis[sources.source[entry]!]!;
      const weight = sources.humidity[entry]!;
      if (ofSource === 'none' || weight <= heaviest) continue;
      heaviest = weight;
      basis = ofSource;
    }
    return basis;
  });
}

function poolCell(pool: Pool, point: number, cell: number): void {
  const { ballot, pooledWeather, water } = pool;
  const { cellCount } = pooledWeather.axis;
  const index = point * cellCount + cell;
  pool.airStates.cell = cell;
  pool.evidenceStates.cell = cell;
  takeVote(ballot, ballot.humidity, pool.airStates, pool.humidityVote);
  takeVote(ballot, ballot.temperature, pool.airStates, pool.temperatureVote);
  takeVote(ballot, ballot.humidity, pool.evidenceStates, pool.icingVote);
  const isMoistureKnown = pool.humidityVote.state === CELL_STATE.known;
  const airState = isMoistureKnown ? pool.temperatureVote.state : pool.humidityVote.state;
  pooledWeather.state[index] = airState;
  water.state[index] = airState === CELL_STATE.known ? pool.icingVote.state : airState;
  if (airState !== CELL_STATE.known) return;
  poolAir(pool, point, cell);
  if (water.state[index] === CELL_STATE.known) poolWater(pool, index, cell);
}

function poolAir(pool: Pool, point: number, cell: number): void {
  const { weather, pooledWeather, ballot } = pool;
  const index = point * weather.axis.cellCount + cell;
  pool.askedBasis = undefined;
  for (const { from, to } of pool.temperatureLike) to[index] = meanAir(pool, from, ballot.temperature, cell);
  const { relativeHumidityRatio, condensateKgPerKg } = weather;
  pooledWeather.relativeHumidityRatio[index] = meanAir(pool, relativeHumidityRatio, ballot.humidity, cell);
  pool.askedBasis = pooledWeather.condensateBasis[point]!;
  if (pool.askedBasis === 'none') return;
  pooledWeather.condensateKgPerKg[index] = meanAir(pool, condensateKgPerKg, ballot.humidity, cell);
}

/** Weighted mean over the sources that know the cell and have the value (on the asked basis); NaN when none has. */
function meanAir(
  { weather, ballot, askedBasis }: Pool,
  values: Float32Array,
  weights: Float64Array,
  cell: number,
): number {
  let sum = 0;
  let total = 0;
  for (let entry = ballot.first; entry < ballot.last; entry += 1) {
    const source = ballot.source[entry]!;
    const index = source * weather.axis.cellCount + cell;
    if (weather.state[index] !== CELL_STATE.known) continue;
    if (askedBasis !== undefined && weather.condensateBasis[source] !== askedBasis) continue;
    const value = values[index]!;
    const weight = weights[entry]!;
    if (!Number.isFinite(value) || !(weight > 0)) continue;
    sum += weight * value;
    total += weight;
  }
  return sum / total;
}

/** Probabilities by weight; water and temperature given ice by weight times probability. */
function poolWater(pool: Pool, index: number, cell: number): void {
  const { evidence, ballot, chance, water, errors } = pool;
  const { cellCount } = evidence.axis;
  const known = pool.icingVote.knownWeight;
  let cloud = 0;
  let ice = 0;
  let cloudIce = 0;
  let waterSum = 0;
  let coldSum = 0;
  let largeDrops = 0;
  let rain = 0;
  let modelRain = 0;
  let rainWaterSum = 0;
  let rainShare = 0;
  for (let entry = ballot.first; entry < ballot.last; entry += 1) {
    const weight = ballot.humidity[entry]!;
    const source = ballot.source[entry]!;
    const at = source * cellCount + cell;
    if (!(weight > 0) || evidence.state[at] !== CELL_STATE.known) continue;
    pool.exactness.temperatureK = errors.temperatureK[entry]!;
    pool.exactness.humidityRatio = errors.humidityRatio[entry]!;
    pool.exactness.lnWater = errors.lnWater[entry]!;
    pool.exactness.placeM = errors.placeM[entry]!;
    pool.exactness.firstRainWeight = entry * RAIN_SHIFTS_K.length;
    fillSourceChance(pool, at, pool.exactness, chance);
    const ofCloud = weight * chance.cold * chance.liquidCloud * chance.liquid;
    cloud += weight * chance.cloud;
    ice += weight * chance.ice;
    cloudIce += ofCloud;
    waterSum += ofCloud * chance.waterKgPerM3;
    coldSum += weight * chance.ice * chance.coldK;
    if (evidence.isFreezingRain[at] === 1) rainShare += weight;
    rain += weight * chance.rain;
    modelRain += weight * chance.modelRain;
    rainWaterSum += weight * chance.modelRain * evidence.rainWaterKgPerM3[at]!;
    largeDrops += Math.max(weight * chance.falling, ofCloud * evidence.drizzleProbability[at]!);
  }
  water.cloudProbability[index] = cloud / known;
  water.icingProbability[index] = ice / known;
  water.cloudWaterKgPerM3[index] = cloudIce > 0 ? waterSum / cloudIce : 0;
  water.coldK[index] = ice > 0 ? coldSum / ice : Number.NaN;
  water.largeDropProbability[index] = largeDrops / known;
  const isRain = Math.max(rain, rainShare) >= RAIN_NAMED_FROM * known;
  const isFalling = isRain || modelRain >= DRIZZLE_NAMED_FROM * known;
  const fallingDrops = isRain ? LARGE_DROPS.freezingRain : LARGE_DROPS.freezingDrizzle;
  water.largeDrops[index] = isFalling ? fallingDrops : worstLargeDrops(pool, cell);
  water.isRain[index] = isRain ? 1 : 0;
  water.rainWaterKgPerM3[index] = isFalling && modelRain > 0 ? rainWaterSum / modelRain : 0;
}

/** The worst code for which sources that see it, or worse, hold a fair share of the known weight. */
function worstLargeDrops({ evidence, ballot, icingVote }: Pool, cell: number): LargeDrops {
  let worst: LargeDrops = LARGE_DROPS.none;
  for (let entry = ballot.first; entry < ballot.last; entry += 1) {
    const index = ballot.source[entry]! * evidence.axis.cellCount + cell;
    if (evidence.state[index] !== CELL_STATE.known) continue;
    const code = evidence.largeDrops[index]! as LargeDrops;
    if (largeDropHazard(code) <= largeDropHazard(worst)) continue;
    const weight = weightAtLeast(evidence, ballot, cell, largeDropHazard(code));
    if (weight >= RAIN_NAMED_FROM * icingVote.knownWeight) worst = code;
  }
  return worst;
}

function weightAtLeast(evidence: WaterEvidence, ballot: Ballot, cell: number, hazard: number): number {
  let weight = 0;
  for (let entry = ballot.first; entry < ballot.last; entry += 1) {
    const index = ballot.source[entry]! * evidence.axis.cellCount + cell;
    if (evidence.state[index] !== CELL_STATE.known) continue;
    if (largeDropHazard(evidence.largeDrops[index]!) >= hazard) weight += ballot.humidity[entry]!;
  }
  return weight;
}

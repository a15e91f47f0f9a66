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
import { makeSourceErrors, type SourceErrors } from './error-spreads.ts';
import { largeDropHazard, NAMED_PROBABILITY } from './large-drops.ts';
import { type Ballot, loadBallot, makeBallot, takeVote, type Vote } from './pool-votes.ts';
import { emptyWeatherColumns } from './profile-columns.ts';
import { fillSourceChance, makeSourceChance, type SourceChance } from './source-chance.ts';
import type { WaterEvidence } from './water-evidence.ts';

/** How much each source counts at each route point, and how wrong it may be there. */
export interface PoolWeights {
  readonly pointCount: number;
  readonly sourceCount: number;
  /** [point][source], at least 0; 0 is not used. Weighs humidity, cloud and icing. */
  readonly humidity: Float64Array;
  /** [point][source], at least 0. Weighs temperature, height and wind. */
  readonly temperature: Float64Array;
  readonly errors: SourceErrors;
}

/** Each source is a point of its own, and exact: for the diagnosis of columns by themselves. */
export function ownWeights(count: number): PoolWeights {
  const weight = new Float64Array(count * count);
  for (let source = 0; source < count; source += 1) weight[source * count + source] = 1;
  return {
    pointCount: count,
    sourceCount: count,
    humidity: weight,
    temperature: weight,
    errors: makeSourceErrors(count * count),
  };
}

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
  /** 1 where a fair share of the sources sees rain from a warm layer, liquid or frozen again; else 0. */
  readonly isRain: Uint8Array;
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
 * @param weights   See PoolWeights.
 * @returns         One column a route point.
 * @throws         RangeError when columns, sources and weights do not match in number.
 * @checked        tests/science/pool-columns.test.ts
 */
export function poolColumns(
  weather: WeatherColumns,
  evidence: WaterEvidence,
  weights: PoolWeights,
): { weather: WeatherColumns; water: PooledWater } {
  assertMatching(weather, evidence, weights);
  const { axis } = weather;
  const pool: Pool = {
    weather,
    evidence,
    errors: weights.errors,
    pooledWeather: emptyWeatherColumns(axis, pooledBasis(weather, weights)),
    water: emptyPooledWater(weights.pointCount * axis.cellCount),
    chance: makeSourceChance(),
    exactness: { temperatureK: 0, humidityRatio: 0 },
    ballot: makeBallot(weights.sourceCount),
    humidityVote: { knownWeight: 0, state: CELL_STATE.noData },
    temperatureVote: { knownWeight: 0, state: CELL_STATE.noData },
    icingVote: { knownWeight: 0, state: CELL_STATE.noData },
  };
  for (let point = 0; point < weights.pointCount; point += 1) {
    loadBallot(pool.ballot, weights, point);
    for (let cell = 0; cell < axis.cellCount; cell += 1) poolCell(pool, point, cell);
  }
  return { weather: pool.pooledWeather, water: pool.water };
}

interface Pool {
  readonly weather: WeatherColumns;
  readonly evidence: WaterEvidence;
  readonly errors: SourceErrors;
  readonly pooledWeather: WeatherColumns;
  readonly water: PooledWater;
  readonly chance: SourceChance;
  /** Errors of the source at hand. */
  readonly exactness: { temperatureK: number; humidityRatio: number };
  readonly ballot: Ballot;
  readonly humidityVote: Vote;
  readonly temperatureVote: Vote;
  readonly icingVote: Vote;
}

function assertMatching(weather: WeatherColumns, evidence: WaterEvidence, weights: PoolWeights): void {
  const { pointCount, sourceCount, humidity, temperature } = weights;
  const isMatching =
    weather.columnCount === sourceCount &&
    evidence.columnCount === sourceCount &&
    humidity.length === pointCount * sourceCount &&
    temperature.length === pointCount * sourceCount &&
    weights.errors.temperatureK.length === pointCount * sourceCount;
  if (!isMatching) {
    throw new RangeError(
      `pooling: found ${weather.columnCount} columns of air, ${evidence.columnCount} of evidence, ${humidity.length} and ${temperature.length} weights, expected ${sourceCount} columns and ${pointCount} x ${sourceCount} weights`,
    );
  }
}

/** A point's condensate means what that of its heaviest source with any means. */
function pooledBasis(weather: WeatherColumns, weights: PoolWeights): CondensateBasis[] {
  return Array.from({ length: weights.pointCount }, (_, point) => {
    let heaviest = 0;
    let basis: CondensateBasis = 'none';
    for (let source = 0; source < weights.sourceCount; source += 1) {
      const weight = weights.humidity[point * weights.sourceCount + source]!;
      if (weather.condensateBasis[source] === 'none' || weight <= heaviest) continue;
      heaviest = weight;
      basis = weather.condensateBasis[source]!;
    }
    return basis;
  });
}

function poolCell(pool: Pool, point: number, cell: number): void {
  const { ballot, pooledWeather, water } = pool;
  const { cellCount } = pooledWeather.axis;
  const index = point * cellCount + cell;
  const ofAir = { state: pool.weather.state, cellCount, cell };
  takeVote(ballot, ballot.humidity, ofAir, pool.humidityVote);
  takeVote(ballot, ballot.temperature, ofAir, pool.temperatureVote);
  takeVote(ballot, ballot.humidity, { state: pool.evidence.state, cellCount, cell }, pool.icingVote);
  const isMoistureKnown = pool.humidityVote.state === CELL_STATE.known;
  const airState = isMoistureKnown ? pool.temperatureVote.state : pool.humidityVote.state;
  pooledWeather.state[index] = airState;
  water.state[index] = airState === CELL_STATE.known ? pool.icingVote.state : airState;
  if (airState !== CELL_STATE.known) return;
  poolAir(pool, point, cell);
  if (water.state[index] === CELL_STATE.known) poolWater(pool, { index, point, cell });
}

function poolAir(pool: Pool, point: number, cell: number): void {
  const { weather, pooledWeather, ballot } = pool;
  const index = point * weather.axis.cellCount + cell;
  for (const quantity of TEMPERATURE_LIKE) {
    pooledWeather[quantity][index] = meanAir(pool, {
      values: weather[quantity],
      weight: ballot.temperature,
      cell,
    });
  }
  const humidity = { values: weather.relativeHumidityRatio, weight: ballot.humidity, cell };
  pooledWeather.relativeHumidityRatio[index] = meanAir(pool, humidity);
  const basis = pooledWeather.condensateBasis[point]!;
  if (basis === 'none') return;
  const condensate = { values: weather.condensateKgPerKg, weight: ballot.humidity, cell, basis };
  pooledWeather.condensateKgPerKg[index] = meanAir(pool, condensate);
}

/** Weighted mean over the sources that know the cell and have the value (on the basis asked for); NaN when none has. */
function meanAir(
  { weather, ballot }: Pool,
  asked: {
    readonly values: Float32Array;
    readonly weight: Float64Array;
    readonly cell: number;
    readonly basis?: CondensateBasis;
  },
): number {
  let sum = 0;
  let total = 0;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const source = ballot.source[entry]!;
    const index = source * weather.axis.cellCount + asked.cell;
    if (weather.state[index] !== CELL_STATE.known) continue;
    if (asked.basis !== undefined && weather.condensateBasis[source] !== asked.basis) continue;
    const value = asked.values[index]!;
    const weight = asked.weight[entry]!;
    if (!Number.isFinite(value) || !(weight > 0)) continue;
    sum += weight * value;
    total += weight;
  }
  return sum / total;
}

/** Probabilities by weight; water and temperature given ice by weight times probability. */
function poolWater(
  pool: Pool,
  { index, point, cell }: { readonly index: number; readonly point: number; readonly cell: number },
): void {
  const { evidence, ballot, chance, water, errors } = pool;
  const { cellCount } = evidence.axis;
  const sourceCount = evidence.columnCount;
  const known = pool.icingVote.knownWeight;
  let cloud = 0;
  let ice = 0;
  let cloudIce = 0;
  let waterSum = 0;
  let coldSum = 0;
  let largeDrops = 0;
  let rain = 0;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const weight = ballot.humidity[entry]!;
    const source = ballot.source[entry]!;
    const at = source * cellCount + cell;
    if (!(weight > 0) || evidence.state[at] !== CELL_STATE.known) continue;
    const place = point * sourceCount + source;
    pool.exactness.temperatureK = errors.temperatureK[place]!;
    pool.exactness.humidityRatio = errors.humidityRatio[place]!;
    fillSourceChance(pool, at, pool.exactness, chance);
    const ofCloud = weight * chance.cold * chance.liquidCloud * chance.liquid;
    cloud += weight * chance.cloud;
    ice += weight * chance.ice;
    cloudIce += ofCloud;
    waterSum += ofCloud * chance.waterKgPerM3;
    coldSum += weight * chance.ice * chance.coldK;
    if (evidence.rainProbability[at]! > 0) rain += weight;
    largeDrops += Math.max(
      weight * evidence.rainProbability[at]!,
      ofCloud * evidence.drizzleProbability[at]!,
    );
  }
  water.cloudProbability[index] = cloud / known;
  water.icingProbability[index] = ice / known;
  water.cloudWaterKgPerM3[index] = cloudIce > 0 ? waterSum / cloudIce : 0;
  water.coldK[index] = ice > 0 ? coldSum / ice : Number.NaN;
  water.largeDropProbability[index] = largeDrops / known;
  water.largeDrops[index] = worstLargeDrops(pool, cell);
  water.isRain[index] = rain >= NAMED_PROBABILITY * known ? 1 : 0;
}

/** The worst code for which sources that see it, or worse, hold a fair share of the known weight. */
function worstLargeDrops({ evidence, ballot, icingVote }: Pool, cell: number): LargeDrops {
  let worst: LargeDrops = LARGE_DROPS.none;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const index = ballot.source[entry]! * evidence.axis.cellCount + cell;
    if (evidence.state[index] !== CELL_STATE.known) continue;
    const code = evidence.largeDrops[index]! as LargeDrops;
    if (largeDropHazard(code) <= largeDropHazard(worst)) continue;
    const weight = weightAtLeast({ evidence, ballot }, cell, largeDropHazard(code));
    if (weight >= NAMED_PROBABILITY * icingVote.knownWeight) worst = code;
  }
  return worst;
}

function weightAtLeast(
  { evidence, ballot }: { readonly evidence: WaterEvidence; readonly ballot: Ballot },
  cell: number,
  hazard: number,
): number {
  let weight = 0;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const index = ballot.source[entry]! * evidence.axis.cellCount + cell;
    if (evidence.state[index] !== CELL_STATE.known) continue;
    if (largeDropHazard(evidence.largeDrops[index]!) >= hazard) weight += ballot.humidity[entry]!;
  }
  return weight;
}

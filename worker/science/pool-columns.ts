/**
 * Several sources' columns pooled into one a route point: probabilities are averaged, never profiles of humidity.
 *
 * Averaging two humidity profiles would halve a peak and double a deck; each source is diagnosed by itself first.
 */
import {
  CELL_STATE,
  type CondensateBasis,
  ICE_KIND,
  type IcingColumns,
  LARGE_DROPS,
  type WeatherColumns,
} from './columns.ts';
import { iceKindOf } from './ice-kind.ts';
import { emptyIcingColumns } from './icing-columns.ts';
import { intensityOfGrowth, screenedGrowthMps, withRain } from './intensity.ts';
import { largeDropHazard } from './large-drops.ts';
import { type Ballot, loadBallot, makeBallot, takeVote, type Vote } from './pool-votes.ts';
import { emptyWeatherColumns } from './profile-columns.ts';

/** How much each source counts at each route point. */
export interface PoolWeights {
  readonly pointCount: number;
  readonly sourceCount: number;
  /** [point][source], at least 0; 0 is not used. Weighs humidity, cloud and icing. */
  readonly humidity: Float64Array;
  /** [point][source], at least 0. Weighs temperature, height and wind. */
  readonly temperature: Float64Array;
}

/** Large drops that sources with at least this part of the known weight see are carried on. */
const LARGE_DROP_SHARE = 0.25;

/** Amounts given liquid: averaged with weight times probability. */
const CONDITIONAL_AMOUNTS = [
  'liquidWaterKgPerM3',
  'medianVolumeDiameterM',
  'collectionEfficiency',
  'freezingFraction',
  'wingGrowthMps',
  'rodGrowthMps',
  'wingCatchKgPerM2S',
  'envelopeRatio',
] as const satisfies readonly (keyof IcingColumns)[];

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
 * @param weather  One column a source.
 * @param icing    The same columns diagnosed.
 * @param weights  See PoolWeights.
 * @returns        One column a route point.
 * @throws         RangeError when columns, sources and weights do not match in number.
 * @checked        tests/science/pool-columns.test.ts
 */
export function poolColumns(
  weather: WeatherColumns,
  icing: IcingColumns,
  weights: PoolWeights,
): { weather: WeatherColumns; icing: IcingColumns } {
  assertMatching(weather, icing, weights);
  const { axis } = weather;
  const pool: Pool = {
    weather,
    icing,
    pooledWeather: emptyWeatherColumns(axis, pooledBasis(weather, weights)),
    pooledIcing: emptyIcingColumns(axis, weights.pointCount),
    ballot: makeBallot(weights.sourceCount),
    humidityVote: { knownWeight: 0, state: CELL_STATE.noData },
    temperatureVote: { knownWeight: 0, state: CELL_STATE.noData },
    icingVote: { knownWeight: 0, state: CELL_STATE.noData },
  };
  for (let point = 0; point < weights.pointCount; point += 1) {
    loadBallot(pool.ballot, weights, point);
    for (let cell = 0; cell < axis.cellCount; cell += 1) poolCell(pool, point, cell);
  }
  return { weather: pool.pooledWeather, icing: pool.pooledIcing };
}

interface Pool {
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly pooledWeather: WeatherColumns;
  readonly pooledIcing: IcingColumns;
  readonly ballot: Ballot;
  readonly humidityVote: Vote;
  readonly temperatureVote: Vote;
  readonly icingVote: Vote;
}

function assertMatching(weather: WeatherColumns, icing: IcingColumns, weights: PoolWeights): void {
  const { pointCount, sourceCount, humidity, temperature } = weights;
  const isMatching =
    weather.columnCount === sourceCount &&
    icing.columnCount === sourceCount &&
    humidity.length === pointCount * sourceCount &&
    temperature.length === pointCount * sourceCount;
  if (!isMatching) {
    throw new RangeError(
      `pooling: found ${weather.columnCount} columns of air, ${icing.columnCount} of icing, ${humidity.length} and ${temperature.length} weights, expected ${sourceCount} columns and ${pointCount} x ${sourceCount} weights`,
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
  const { ballot, pooledWeather, pooledIcing } = pool;
  const { cellCount } = pooledWeather.axis;
  const index = point * cellCount + cell;
  const ofAir = { state: pool.weather.state, cellCount, cell };
  takeVote(ballot, ballot.humidity, ofAir, pool.humidityVote);
  takeVote(ballot, ballot.temperature, ofAir, pool.temperatureVote);
  takeVote(ballot, ballot.humidity, { state: pool.icing.state, cellCount, cell }, pool.icingVote);
  const isMoistureKnown = pool.humidityVote.state === CELL_STATE.known;
  const airState = isMoistureKnown ? pool.temperatureVote.state : pool.humidityVote.state;
  pooledWeather.state[index] = airState;
  pooledIcing.state[index] = airState === CELL_STATE.known ? pool.icingVote.state : airState;
  if (airState !== CELL_STATE.known) return;
  poolAir(pool, point, cell);
  if (pooledIcing.state[index] === CELL_STATE.known) poolIcing(pool, index, cell);
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

function poolIcing(pool: Pool, index: number, cell: number): void {
  const { icing, pooledIcing, icingVote } = pool;
  pooledIcing.cloudProbability[index] = sumIcing(pool, icing.cloudProbability, cell) / icingVote.knownWeight;
  pooledIcing.icingProbability[index] = sumIcing(pool, icing.icingProbability, cell) / icingVote.knownWeight;
  const largeDrops = worstLargeDrops(pool, cell);
  poolAmounts(pool, index, { cell, ofRain: largeDrops === LARGE_DROPS.freezingRain });
  const caught = pooledIcing.wingCatchKgPerM2S[index]!;
  const freezing = pooledIcing.freezingFraction[index]!;
  const intensity = intensityOfGrowth(screenedGrowthMps(caught, freezing));
  pooledIcing.largeDrops[index] = largeDrops;
  pooledIcing.intensity[index] = withRain(intensity, largeDrops);
  pooledIcing.iceKind[index] = caught > 0 ? iceKindOf(freezing) : ICE_KIND.none;
}

/**
 * Amounts given liquid, of rain alone where the cell counts as freezing rain, else of cloud alone: a mean of raindrops and
 * cloud drops is neither, and the mark for water outside the design envelope is no ratio to be averaged. Where the class has
 * no probability at all, every source counts.
 */
function poolAmounts(pool: Pool, index: number, { cell, ofRain }: { cell: number; ofRain: boolean }): void {
  const { icing, pooledIcing } = pool;
  const probability = icing.icingProbability;
  const inClass = sumIcing(pool, probability, cell, { ofRain });
  const only = inClass > 0 ? { ofRain } : {};
  const wet = inClass > 0 ? inClass : sumIcing(pool, probability, cell);
  for (const amount of CONDITIONAL_AMOUNTS) {
    const sum = wet > 0 ? sumIcing(pool, icing[amount], cell, { ...only, factor: probability }) : 0;
    pooledIcing[amount][index] = wet > 0 ? sum / wet : 0;
  }
}

/**
 * Sum over the sources that know the cell, weighted like humidity, by a second quantity when given, and of sources whose
 * drops here are rain (or are not) when asked.
 */
function sumIcing(
  pool: Pool,
  values: Float32Array,
  cell: number,
  { factor, ofRain }: { readonly factor?: Float32Array; readonly ofRain?: boolean } = {},
): number {
  const { icing, ballot } = pool;
  let sum = 0;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const weight = ballot.humidity[entry]!;
    const index = ballot.source[entry]! * icing.axis.cellCount + cell;
    if (!(weight > 0) || icing.state[index] !== CELL_STATE.known) continue;
    if (ofRain !== undefined && (icing.largeDrops[index] === LARGE_DROPS.freezingRain) !== ofRain) continue;
    sum += weight * (factor === undefined ? 1 : factor[index]!) * values[index]!;
  }
  return sum;
}

/** The worst code for which sources that see it, or worse, hold a fair share of the known weight. */
function worstLargeDrops({ icing, ballot, icingVote }: Pool, cell: number): number {
  let worst: number = LARGE_DROPS.none;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const index = ballot.source[entry]! * icing.axis.cellCount + cell;
    if (icing.state[index] !== CELL_STATE.known) continue;
    const code = icing.largeDrops[index]!;
    if (largeDropHazard(code) <= largeDropHazard(worst)) continue;
    const weight = weightAtLeast({ icing, ballot }, cell, largeDropHazard(code));
    if (weight >= LARGE_DROP_SHARE * icingVote.knownWeight) worst = code;
  }
  return worst;
}

function weightAtLeast(
  { icing, ballot }: { readonly icing: IcingColumns; readonly ballot: Ballot },
  cell: number,
  hazard: number,
): number {
  let weight = 0;
  for (let entry = 0; entry < ballot.count; entry += 1) {
    const index = ballot.source[entry]! * icing.axis.cellCount + cell;
    if (icing.state[index] !== CELL_STATE.known) continue;
    if (largeDropHazard(icing.largeDrops[index]!) >= hazard) weight += ballot.humidity[entry]!;
  }
  return weight;
}

/**
 * Freezing rain and ice pellets the classical way: snow melts in a layer above 0 degC and cools again in one below.
 *
 * The layers are measured by the energy they enclose (melted-snow.ts). Precipitation needs a source above; unknown air counts as one.
 */

import { UNKNOWN_WARMING_K } from './cloud-layers.ts';
import { type ColumnAir, isUnknownAir } from './column-air.ts';
import { CELL_STATE, LARGE_DROPS } from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { relativeHumidityIceRatio } from './humidity.ts';
import {
  enclosedEnergyJPerKg,
  fateOfMeltedSnow,
  LEAST_WARM_J_PER_KG,
  meltedAndLiquid,
} from './melted-snow.ts';
import { rainProbability } from './rain.ts';

/**
 * Precipitation comes from moist air at least this deep, m, this moist over ice (over water above 0 degC), ratio (judgement;
 * the humidity is that of layers in Wang and Rossow 1995).
 */
const SOURCE_DEPTH_M = 500;
const SOURCE_HUMIDITY = 0.87;

/** Under this much dry air in one stretch nothing of it is left, m (judgement). */
const DRIES_OUT_M = 1500;

/** Warm layers over cold air are not looked for in unknown air above this pressure, Pa (600 hPa, about 4.2 km). */
const HIGHEST_HIDDEN_PA = 60_000;

/** Air does not cool faster with height than this, K/m; and slack for measured profiles that seem to, K. */
const STEEPEST_LAPSE_K_PER_M = 0.0098;
const LAPSE_SLACK_K = 1;

/** What a column's warm layers make of each cell. */
export interface FallingRain {
  /** LARGE_DROPS code of what falls from a warm layer: freezing rain, ice pellets or none. */
  readonly largeDrops: Uint8Array;
  /** Probability that supercooled rain is met, 0-1, temperature taken for exact. */
  readonly probability: Float64Array;
  /** State of the unknown air because of which a sub-zero cell may lie in freezing rain, else CELL_STATE.known. */
  readonly hiddenBy: Uint8Array;
}

export function makeFallingRain(cellCount: number): FallingRain {
  return {
    largeDrops: new Uint8Array(cellCount),
    probability: new Float64Array(cellCount),
    hiddenBy: new Uint8Array(cellCount),
  };
}

/** What is falling, while a column is read downward. */
interface Falling {
  moistM: number;
  dryM: number;
  warmJPerKg: number;
  coldJPerKg: number;
  /** State of the unknown air that may hide a warm layer; CELL_STATE.known when none does. */
  hiddenBy: number;
}

/**
 * Marks freezing rain and ice pellets with their probability, and the cells where unknown air above keeps freezing rain
 * from being excluded.
 *
 * @param air   The column.
 * @param rain  Filled.
 * @throws      never.
 * @checked     tests/science/diagnose-columns.test.ts, tests/data/large-drops.test.ts
 */
export function fillFallingRain(air: ColumnAir, rain: FallingRain): void {
  rain.largeDrops.fill(LARGE_DROPS.none);
  rain.hiddenBy.fill(CELL_STATE.known);
  fall(air, { rain, probability: rain.probability, warmerK: 0 });
}

/**
 * The probability of supercooled rain alone, of the same column warmer all the way up: whether a layer is just above or
 * just below 0 degC decides, and no temperature is that exact.
 *
 * @param air          The column.
 * @param warmerK      K, colder when negative.
 * @param probability  Filled, 0-1 a cell.
 * @throws             never.
 */
export function fillRainProbability(air: ColumnAir, warmerK: number, probability: Float64Array): void {
  fall(air, { rain: undefined, probability, warmerK });
}

/**
 * Whether any column up to this much warmer or colder has a warm layer over a cold one: without an inversion none has.
 *
 * @param air    The column; unknown air may hold anything.
 * @param mostK  K.
 * @throws       never.
 */
export function mayMeltAndFreeze(air: ColumnAir, mostK: number): boolean {
  let coldestBelowK = Number.POSITIVE_INFINITY;
  for (let cell = 0; cell < air.axis.cellCount; cell += 1) {
    if (isUnknownAir(air, cell)) return true;
    if (air.state[cell] !== CELL_STATE.known) continue;
    const temperatureK = air.temperatureK[cell]!;
    const isWarmer = temperatureK > coldestBelowK && temperatureK > FREEZING_K - mostK;
    if (isWarmer && coldestBelowK < FREEZING_K + mostK) return true;
    coldestBelowK = Math.min(coldestBelowK, temperatureK);
  }
  return false;
}

/** Where the findings go: codes and hidden warmth only for the column as it is. */
interface Fall {
  readonly rain: FallingRain | undefined;
  readonly probability: Float64Array;
  readonly warmerK: number;
}

function fall(air: ColumnAir, into: Fall): void {
  const falling: Falling = {
    moistM: 0,
    dryM: 0,
    warmJPerKg: 0,
    coldJPerKg: 0,
    hiddenBy: CELL_STATE.known,
  };
  into.probability.fill(0);
  for (let cell = air.axis.cellCount - 1; cell >= 0; cell -= 1) {
    if (isUnknownAir(air, cell)) fallThroughUnknown(air, cell, falling);
    if (air.state[cell] !== CELL_STATE.known) continue;
    followSource(air, cell, falling);
    const energyJPerKg = energyOf(air, cell, into.warmerK);
    if (energyJPerKg >= 0) melt(falling, energyJPerKg);
    else freeze(cell, { falling, into, coldJPerKg: -energyJPerKg });
  }
}

function followSource(air: ColumnAir, cell: number, falling: Falling): void {
  const depthM = air.depthM[cell]!;
  if (isMoist(air.humidityRatio[cell]!, air.temperatureK[cell]!)) {
    falling.moistM += depthM;
    falling.dryM = 0;
    return;
  }
  falling.dryM += depthM;
  if (falling.dryM <= DRIES_OUT_M) return;
  falling.moistM = 0;
  falling.warmJPerKg = 0;
  falling.coldJPerKg = 0;
  falling.hiddenBy = CELL_STATE.known;
}

function isMoist(humidityRatio: number, temperatureK: number): boolean {
  if (humidityRatio >= SOURCE_HUMIDITY) return true;
  if (temperatureK >= FREEZING_K || humidityRatio < SOURCE_HUMIDITY / 2) return false;
  return relativeHumidityIceRatio(humidityRatio, temperatureK) >= SOURCE_HUMIDITY;
}

function energyOf(air: ColumnAir, cell: number, warmerK: number): number {
  const { edgePressurePa } = air.axis;
  return enclosedEnergyJPerKg(
    air.temperatureK[cell]! + warmerK,
    edgePressurePa[cell]!,
    edgePressurePa[cell + 1]!,
  );
}

/** Rain that falls into a second warm layer stays rain; pellets start to melt anew. */
function melt(falling: Falling, warmJPerKg: number): void {
  const arriving = fateOfMeltedSnow(falling.warmJPerKg, falling.coldJPerKg);
  if (falling.coldJPerKg > 0 && arriving !== LARGE_DROPS.freezingRain) falling.warmJPerKg = 0;
  falling.coldJPerKg = 0;
  if (falling.moistM >= SOURCE_DEPTH_M) falling.warmJPerKg += warmJPerKg;
}

/**
 * Judged at the cell's middle: half of its own cold counts. Under a layer that may hide more warmth than is known, all snow
 * is taken for melted and none for frozen again.
 */
function freeze(
  cell: number,
  { falling, into, coldJPerKg }: { falling: Falling; into: Fall; coldJPerKg: number },
): void {
  const { rain, probability } = into;
  if (falling.warmJPerKg < LEAST_WARM_J_PER_KG) {
    falling.warmJPerKg = 0;
    if (rain !== undefined) rain.hiddenBy[cell] = falling.hiddenBy;
    return;
  }
  const middleJPerKg = falling.coldJPerKg + coldJPerKg / 2;
  falling.coldJPerKg += coldJPerKg;
  const isHidden = falling.hiddenBy !== CELL_STATE.known;
  const fate = isHidden ? LARGE_DROPS.freezingRain : fateOfMeltedSnow(falling.warmJPerKg, middleJPerKg);
  if (rain !== undefined) rain.largeDrops[cell] = fate;
  const { melted, liquid } = isHidden ? ALL_LIQUID : meltedAndLiquid(falling.warmJPerKg, middleJPerKg);
  probability[cell] = rainProbability(melted, liquid);
}

const ALL_LIQUID = { melted: 1, liquid: 1 } as const;

/** Called for every unknown cell; the block's extent is looked at once, from its highest cell. */
function fallThroughUnknown(air: ColumnAir, cell: number, falling: Falling): void {
  falling.moistM = Number.POSITIVE_INFINITY;
  falling.dryM = 0;
  falling.coldJPerKg = 0;
  if (isTopOfBlock(air, cell) && mayHideWarmth(air, cell)) falling.hiddenBy = air.state[cell]!;
}

/** @returns whether unknown air begins here, read downward, that may hold air above 0 degC. */
export function isTopOfHiddenWarmth(air: ColumnAir, cell: number): boolean {
  return isUnknownAir(air, cell) && isTopOfBlock(air, cell) && mayHideWarmth(air, cell);
}

function isTopOfBlock(air: ColumnAir, cell: number): boolean {
  return cell === air.axis.cellCount - 1 || !isUnknownAir(air, cell + 1);
}

/**
 * Whether the unknown block with this highest cell may hold air above 0 degC. It is no warmer than the known air above it
 * brought down dry-adiabatically, and no warmer than an inversion over the known air below it.
 */
function mayHideWarmth(air: ColumnAir, top: number): boolean {
  let foot = top;
  let depthM = air.depthM[top]! + (air.depthM[top + 1] ?? 0) / 2;
  while (foot > 0 && isUnknownAir(air, foot - 1)) {
    foot -= 1;
    depthM += air.depthM[foot]!;
  }
  if (air.axis.edgePressurePa[foot]! < HIGHEST_HIDDEN_PA) return false;
  const isAboveKnown = top + 1 < air.axis.cellCount && air.state[top + 1] === CELL_STATE.known;
  const isBelowKnown = foot > 0 && air.state[foot - 1] === CELL_STATE.known;
  const fromAboveK = isAboveKnown
    ? air.temperatureK[top + 1]! + LAPSE_SLACK_K + STEEPEST_LAPSE_K_PER_M * depthM
    : Number.POSITIVE_INFINITY;
  const fromBelowK = isBelowKnown
    ? air.temperatureK[foot - 1]! + UNKNOWN_WARMING_K
    : Number.POSITIVE_INFINITY;
  return Math.min(fromAboveK, fromBelowK) > FREEZING_K;
}

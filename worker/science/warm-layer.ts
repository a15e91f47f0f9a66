/**
 * Freezing rain and ice pellets the classical way: snow melts in a layer above 0 degC and cools again in one below.
 *
 * The layers are measured by the energy they enclose. Precipitation needs a source above; unknown air counts as one.
 */

import { UNKNOWN_WARMING_K } from './cloud-layers.ts';
import { type ColumnAir, isUnknownAir } from './column-air.ts';
import { CELL_STATE, LARGE_DROPS } from './columns.ts';
import { DRY_AIR_GAS_CONSTANT, FREEZING_K } from './constants.ts';
import { relativeHumidityIceRatio } from './humidity.ts';

/** A warm layer of less than this leaves snow as snow, J/kg. */
const LEAST_WARM_J_PER_KG = 2;

/** Precipitation comes from moist air at least this deep, m, this moist over ice (over water above 0 degC), ratio. */
const SOURCE_DEPTH_M = 500;
const SOURCE_HUMIDITY = 0.87;

/** Under this much dry air in one stretch nothing of it is left, m. */
const DRIES_OUT_M = 1500;

/** Warm layers over cold air are not looked for in unknown air above this pressure, Pa (600 hPa, about 4.2 km). */
const HIGHEST_HIDDEN_PA = 60_000;

/** Air does not cool faster with height than this, K/m; and slack for measured profiles that seem to, K. */
const STEEPEST_LAPSE_K_PER_M = 0.0098;
const LAPSE_SLACK_K = 1;

/**
 * Energy between the temperature curve and 0 degC in a layer.
 *
 * @param temperatureK  Mean temperature in ln p, K.
 * @param lowerPa       Pressure at its foot, Pa.
 * @param upperPa       Pressure at its top, Pa.
 * @returns             J/kg, positive above 0 degC.
 * @throws              never.
 * @source              Rd integral (T - T0) d ln p.
 * @checked             tests/published/warm-layer.test.ts
 */
export function enclosedEnergyJPerKg(temperatureK: number, lowerPa: number, upperPa: number): number {
  return DRY_AIR_GAS_CONSTANT * (temperatureK - FREEZING_K) * Math.log(lowerPa / upperPa);
}

/**
 * What becomes of melted snow in a cold layer.
 *
 * @param warmJPerKg  Energy of the warm layer above.
 * @param coldJPerKg  Energy of the cold layer so far, as a positive number.
 * @returns           LARGE_DROPS code: none when nothing melted; ice pellets beyond 66 + 0.66 warm; else freezing rain, also
 *                    in the published band of "either".
 * @throws            never.
 * @source            Bourgouin 2000.
 * @checked           tests/published/warm-layer.test.ts
 */
export function fateOfMeltedSnow(warmJPerKg: number, coldJPerKg: number): number {
  if (!(warmJPerKg >= LEAST_WARM_J_PER_KG)) return LARGE_DROPS.none;
  return coldJPerKg > 66 + 0.66 * warmJPerKg ? LARGE_DROPS.icePellets : LARGE_DROPS.freezingRain;
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
 * Marks freezing rain and ice pellets, and the cells where unknown air above keeps freezing rain from being excluded.
 *
 * @param air         The column.
 * @param largeDrops  LARGE_DROPS code of every cell, set here.
 * @param hiddenBy    Set to the state of the unknown air where a sub-zero cell may lie in freezing rain because of it, else to
 *                    CELL_STATE.known.
 * @throws            never.
 */
export function fillFreezingRain(air: ColumnAir, largeDrops: Uint8Array, hiddenBy: Uint8Array): void {
  const falling: Falling = {
    moistM: 0,
    dryM: 0,
    warmJPerKg: 0,
    coldJPerKg: 0,
    hiddenBy: CELL_STATE.known,
  };
  largeDrops.fill(LARGE_DROPS.none);
  hiddenBy.fill(CELL_STATE.known);
  for (let cell = air.axis.cellCount - 1; cell >= 0; cell -= 1) {
    if (isUnknownAir(air, cell)) fallThroughUnknown(air, cell, falling);
    if (air.state[cell] !== CELL_STATE.known) continue;
    followSource(air, cell, falling);
    if (air.temperatureK[cell]! >= FREEZING_K) melt(air, cell, falling);
    else {
      largeDrops[cell] = freeze(air, cell, falling);
      if (largeDrops[cell] === LARGE_DROPS.none) hiddenBy[cell] = falling.hiddenBy;
    }
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

function energyOf(air: ColumnAir, cell: number): number {
  const { edgePressurePa } = air.axis;
  return enclosedEnergyJPerKg(air.temperatureK[cell]!, edgePressurePa[cell]!, edgePressurePa[cell + 1]!);
}

/** Rain that falls into a second warm layer stays rain; pellets start to melt anew. */
function melt(air: ColumnAir, cell: number, falling: Falling): void {
  const arriving = fateOfMeltedSnow(falling.warmJPerKg, falling.coldJPerKg);
  if (falling.coldJPerKg > 0 && arriving !== LARGE_DROPS.freezingRain) falling.warmJPerKg = 0;
  falling.coldJPerKg = 0;
  if (falling.moistM >= SOURCE_DEPTH_M) falling.warmJPerKg += energyOf(air, cell);
}

/**
 * Judged at the cell's middle: half of its own cold counts. Under a layer that may hide more warmth than is known, melted
 * snow is not taken for frozen again.
 */
function freeze(air: ColumnAir, cell: number, falling: Falling): number {
  if (falling.warmJPerKg < LEAST_WARM_J_PER_KG) {
    falling.warmJPerKg = 0;
    return LARGE_DROPS.none;
  }
  const coldJPerKg = -energyOf(air, cell);
  const fate = fateOfMeltedSnow(falling.warmJPerKg, falling.coldJPerKg + coldJPerKg / 2);
  falling.coldJPerKg += coldJPerKg;
  return falling.hiddenBy === CELL_STATE.known ? fate : LARGE_DROPS.freezingRain;
}

/** Called for every unknown cell; the block's extent is looked at once, from its highest cell. */
function fallThroughUnknown(air: ColumnAir, cell: number, falling: Falling): void {
  falling.moistM = Number.POSITIVE_INFINITY;
  falling.dryM = 0;
  falling.coldJPerKg = 0;
  const isTopOfBlock = cell === air.axis.cellCount - 1 || !isUnknownAir(air, cell + 1);
  if (isTopOfBlock && mayHideWarmth(air, cell)) falling.hiddenBy = air.state[cell]!;
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

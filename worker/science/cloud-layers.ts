/** Layers of moist air in a column: where each begins and ends, how cold its top is, and what lies between two of them. */
import { type ColumnAir, isUnknownAir } from './column-air.ts';
import { CELL_STATE } from './columns.ts';
import { FREEZING_K } from './constants.ts';
import { relativeHumidityIceRatio } from './humidity.ts';

/** Air at least this moist over water belongs to a layer, ratio; drier gaps up to this depth do not end it, m. */
const MOIST_HUMIDITY = 0.85;
const LARGEST_GAP_M = 200;

/**
 * Under -20 degC cloud is of ice, and ice saturation is what its extent follows (judgement: 1.05, so that air merely at ice
 * saturation, which is common and clear, does not raise a top).
 */
const ICE_CLOUD_BELOW_K = FREEZING_K - 20;
const ICE_MOIST_HUMIDITY = 1.05;

/** Air this moist over water is counted as cloudy in the depth of a layer, ratio. */
export const CLOUDY_HUMIDITY = 0.95;

/**
 * Ice that falls from a layer still seeds one below through dry air this deep, m; with growing depth less of it. About 1 km
 * is said to shield the lower cloud (from memory); on the research flights no reach beyond 400 m helped any.
 */
const SEEDING_REACH_M = 400;

/**
 * Where a layer runs into unknown air its top may lie there, and may be warmer than the highest air that is known, by an
 * inversion of at most this much, K. A warmer top means more liquid, so the warmest that is plausible is assumed.
 */
export const UNKNOWN_WARMING_K = 15;

/** The layers of one column, highest first. Filled anew for each column; arrays have one entry a cell at most. */
export interface CloudLayers {
  count: number;
  /** Highest and lowest moist cell. */
  readonly topCell: Int16Array;
  readonly baseCell: Int16Array;
  /** Temperature at the top, K; the warmest that is plausible where the top lies in unknown air. */
  readonly topK: Float64Array;
  /**
   * Depth of air between this layer's top and the layer above, m; Infinity under none, and under unknown air, which may be
   * dry: nothing known seeds the layer.
   */
  readonly gapAboveM: Float64Array;
  /** Depth of cloudy air, m; Infinity where unknown air may continue the layer above or below. */
  readonly cloudyM: Float64Array;
  /** Layer of each cell, -1 for none; dry air within the largest gap under a layer counts with it. */
  readonly layerOf: Int16Array;
}

export function makeCloudLayers(cellCount: number): CloudLayers {
  return {
    count: 0,
    topCell: new Int16Array(cellCount),
    baseCell: new Int16Array(cellCount),
    topK: new Float64Array(cellCount),
    gapAboveM: new Float64Array(cellCount),
    cloudyM: new Float64Array(cellCount),
    layerOf: new Int16Array(cellCount),
  };
}

/** Reading downward: dry air since the last moist cell, and whether a layer is open. */
interface Reading {
  gapM: number;
  isOpen: boolean;
  wasUnknown: boolean;
}

/**
 * Finds the layers of a column.
 *
 * Above the axis the air is colder, so a layer that reaches the axis' end has its top there. Under unknown air see
 * UNKNOWN_WARMING_K: such a layer begins at the highest known cell, however dry that is.
 *
 * @param air     The column.
 * @param layers  Filled.
 * @throws        never.
 * @source        Layers by relative humidity after Wang and Rossow 1995, with limits of our own (see above).
 * @checked       tests/science/cloud-layers.test.ts
 */
export function findCloudLayers(air: ColumnAir, layers: CloudLayers): void {
  const reading: Reading = { gapM: Number.POSITIVE_INFINITY, isOpen: false, wasUnknown: false };
  layers.count = 0;
  for (let cell = air.axis.cellCount - 1; cell >= 0; cell -= 1) {
    layers.layerOf[cell] = -1;
    if (air.state[cell] === CELL_STATE.known) readKnown(air, cell, { layers, reading });
    else readUnknown(air, cell, { layers, reading });
  }
}

type Found = { readonly layers: CloudLayers; readonly reading: Reading };

function readKnown(air: ColumnAir, cell: number, { layers, reading }: Found): void {
  if (reading.wasUnknown) {
    openLayer(layers, cell, {
      topK: air.temperatureK[cell]! + UNKNOWN_WARMING_K,
      gapM: Number.POSITIVE_INFINITY,
    });
    layers.cloudyM[layers.count - 1] = Number.POSITIVE_INFINITY;
    reading.isOpen = true;
    reading.wasUnknown = false;
    reading.gapM = 0;
  }
  if (isMoist(air, cell)) {
    if (!reading.isOpen) {
      openLayer(layers, cell, { topK: air.temperatureK[cell]!, gapM: reading.gapM });
      reading.isOpen = true;
    }
    const layer = layers.count - 1;
    reading.gapM = 0;
    layers.baseCell[layer] = cell;
    if (air.humidityRatio[cell]! >= CLOUDY_HUMIDITY) layers.cloudyM[layer]! += air.depthM[cell]!;
  } else {
    reading.gapM += air.depthM[cell]!;
    if (reading.gapM > LARGEST_GAP_M) reading.isOpen = false;
  }
  if (reading.isOpen) layers.layerOf[cell] = layers.count - 1;
}

/** The ground ends a layer; unknown air may continue it. */
function readUnknown(air: ColumnAir, cell: number, { layers, reading }: Found): void {
  const isUnknown = isUnknownAir(air, cell);
  if (isUnknown && reading.isOpen) {
    layers.cloudyM[layers.count - 1] = Number.POSITIVE_INFINITY;
    layers.baseCell[layers.count - 1] = cell + 1;
  }
  reading.wasUnknown = isUnknown;
  reading.isOpen = false;
  reading.gapM = Number.POSITIVE_INFINITY;
}

function openLayer(layers: CloudLayers, cell: number, at: { topK: number; gapM: number }): void {
  const layer = layers.count;
  layers.count += 1;
  layers.topCell[layer] = cell;
  layers.baseCell[layer] = cell;
  layers.topK[layer] = at.topK;
  layers.gapAboveM[layer] = at.gapM;
  layers.cloudyM[layer] = 0;
}

function isMoist(air: ColumnAir, cell: number): boolean {
  const humidity = air.humidityRatio[cell]!;
  const temperatureK = air.temperatureK[cell]!;
  if (humidity >= MOIST_HUMIDITY) return true;
  return (
    temperatureK < ICE_CLOUD_BELOW_K && relativeHumidityIceRatio(humidity, temperatureK) >= ICE_MOIST_HUMIDITY
  );
}

/**
 * Temperature of the top that decides how much of each cell's cloud is frozen: that of its layer, colder where a layer
 * above seeds it through a gap that is not deep. A cell in no layer is its own top.
 *
 * @param air     The column.
 * @param layers  Of the column.
 * @param topK    Filled: K for every known cell, NaN for the rest.
 * @throws        never.
 */
export function fillSeedingTops(air: ColumnAir, layers: CloudLayers, topK: Float64Array): void {
  for (let cell = 0; cell < air.axis.cellCount; cell += 1) {
    if (air.state[cell] !== CELL_STATE.known) {
      topK[cell] = Number.NaN;
      continue;
    }
    const layer = layers.layerOf[cell]!;
    topK[cell] = layer < 0 ? air.temperatureK[cell]! : seedingTopK(layers, layer);
  }
}

/** A layer's own top, or that of the layer above brought down by the part of its ice that crosses the gap. */
function seedingTopK(layers: CloudLayers, layer: number): number {
  const ownK = layers.topK[layer]!;
  const gapM = layers.gapAboveM[layer]!;
  if (layer === 0 || !(gapM < SEEDING_REACH_M)) return ownK;
  const above = layer - 1;
  const reaching = (SEEDING_REACH_M - gapM) / (SEEDING_REACH_M - LARGEST_GAP_M);
  return ownK + Math.min(1, reaching) * Math.min(0, seedingTopK(layers, above) - ownK);
}

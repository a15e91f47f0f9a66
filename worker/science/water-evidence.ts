/**
 * What one source's column says of water in each cell: the stage before errors of humidity and the other sources are
 * counted. All that needs the whole column is done here, once a column.
 */
import { CALIBRATION, type IcingCalibration } from './calibration.ts';
import { type CloudLayers, fillSeedingTops, findCloudLayers, makeCloudLayers } from './cloud-layers.ts';
import {
  CRYSTALS_FROM_K,
  cloudMargin,
  cloudProbabilityOfCondensate,
  iceCloudMargin,
} from './cloud-probability.ts';
import { type ColumnAir, loadColumnAir, makeColumnAir } from './column-air.ts';
import { type AltitudeAxis, CELL_STATE, LARGE_DROPS, UNKNOWN_CODE, type WeatherColumns } from './columns.ts';
import { DRY_AIR_GAS_CONSTANT, FREEZING_K } from './constants.ts';
import { liftShare, liquidProbability, unfrozenShare } from './glaciation.ts';
import { relativeHumidityIceRatio } from './humidity.ts';
import { AIRCRAFT_READING } from './humidity-basis.ts';
import { DRIZZLE_NAMED_FROM, drizzleProbability } from './large-drops.ts';
import {
  entrainedKgPerM3,
  fillRisingWater,
  inCloudOfBoxKgPerM3,
  inCloudWaterKgPerM3,
  liquidShareOfCondensate,
  makeRisingWater,
  type RisingWater,
  waterContentKgPerM3,
} from './liquid-water.ts';
import { fillGroundRain, fillRainDrops } from './model-rain.ts';
import { EXACT_RAIN_SHIFT, MOST_RAIN_SHIFT_K, RAIN_SHIFTS_K } from './rain-shifts.ts';
import {
  type FallingRain,
  fillFallingRain,
  fillRainProbability,
  makeFallingRain,
  mayMeltAndFreeze,
} from './warm-layer.ts';

/** Warmer air than this is taken to hold no supercooled water: an error of 2 K, of a forecast of two days, is cut at 1.5 of it. */
export const WARMEST_K = FREEZING_K + 3;

/** Flat arrays [source][cell]. Humidity and a model's condensate are two witnesses of the same cloud. */
export interface WaterEvidence {
  readonly columnCount: number;
  readonly axis: AltitudeAxis;
  /** CELL_STATE; every number below is NaN and the code UNKNOWN_CODE where it is not known. */
  readonly state: Uint8Array;
  /** Margins by humidity, in widths: over liquid cloud, and over cloud of either phase. See cloud-probability.ts. */
  readonly liquidMargin: Float32Array;
  readonly cloudMargin: Float32Array;
  /** Probability of cloud by condensate, 0-1; 0 for a source without. */
  readonly condensateCloud: Float32Array;
  /** Probability that the cloud is liquid, given cloud below 0 degC, by either witness. */
  readonly humidityLiquid: Float32Array;
  readonly condensateLiquid: Float32Array;
  /** Liquid water given liquid, by either witness, kg/m3. */
  readonly humidityWaterKgPerM3: Float32Array;
  readonly condensateWaterKgPerM3: Float32Array;
  /** The most water that is not excluded here, kg/m3; Infinity over a base of unknown depth. */
  readonly mostWaterKgPerM3: Float32Array;
  /** Probability of supercooled rain from a warm layer, 0-1: [shift][source][cell], the shifts of rain-shifts.ts. */
  readonly rainProbability: Float32Array;
  /** One entry a column: 1 where some cell has some rain at some shift. */
  readonly hasRain: Uint8Array;
  /** Rain of a model, grid-box mean, kg/m3; 0 for a source without, in air too warm for it to be supercooled, and where not known. */
  readonly rainWaterKgPerM3: Float32Array;
  /** LARGE_DROPS code of that rain where it is supercooled; none elsewhere. */
  readonly rainDrops: Uint8Array;
  /** Probability of freezing rain by what a model has at the ground, 0-1; 0 where it says nothing. */
  readonly groundRain: Float32Array;
  /** Probability of drizzle given supercooled cloud, 0-1. */
  readonly drizzleProbability: Float32Array;
  /** LARGE_DROPS code. */
  readonly largeDrops: Uint8Array;
  /** 1 where what falls from a warm layer is liquid. */
  readonly isFreezingRain: Uint8Array;
  /** Width that the margins are counted in, ratio of humidity. */
  readonly humidityWidthRatio: number;
}

type AmountName = {
  [Name in keyof WaterEvidence]: WaterEvidence[Name] extends Float32Array ? Name : never;
}[keyof WaterEvidence];

/** Everything that is made once for a call and used again for each column. */
interface Workbench {
  readonly air: ColumnAir;
  readonly layers: CloudLayers;
  readonly topK: Float64Array;
  readonly rising: RisingWater;
  readonly rain: FallingRain;
  /** Probability of rain at one shift. */
  readonly shifted: Float64Array;
  readonly rainDrops: Uint8Array;
  readonly groundRain: Float64Array;
  readonly dropletNumberPerM3: number;
  readonly calibration: IcingCalibration;
}

/**
 * Gathers the evidence of every column.
 *
 * A known cell may become unknown here: where the source gives condensate or rain but not in this cell, and where unknown air above
 * keeps freezing rain from being excluded.
 *
 * @param weather   Columns of air, one a source.
 * @param settings  Droplet number, 1/m3, and calibration.
 * @returns         Evidence on the same axis.
 * @throws          never.
 * @checked         tests/science/diagnose-columns.test.ts, tests/science/poison.test.ts
 */
export function gatherWaterEvidence(
  weather: WeatherColumns,
  settings: { readonly dropletNumberPerM3: number; readonly calibration?: Partial<IcingCalibration> },
): WaterEvidence {
  const { axis, columnCount } = weather;
  const calibration = { ...CALIBRATION, ...settings.calibration };
  const evidence = emptyEvidence(axis, columnCount, calibration);
  const bench: Workbench = {
    air: makeColumnAir(axis),
    layers: makeCloudLayers(axis.cellCount),
    topK: new Float64Array(axis.cellCount),
    rising: makeRisingWater(axis.cellCount),
    rain: makeFallingRain(axis.cellCount),
    shifted: new Float64Array(axis.cellCount),
    rainDrops: new Uint8Array(axis.cellCount),
    groundRain: new Float64Array(axis.cellCount),
    dropletNumberPerM3: settings.dropletNumberPerM3,
    calibration,
  };
  const place: Place = { evidence, index: 0 };
  for (let column = 0; column < columnCount; column += 1) {
    loadColumnAir(bench.air, weather, column);
    findCloudLayers(bench.air, bench.layers);
    fillSeedingTops(bench.air, bench.layers, bench.topK);
    fillRisingWater(bench.air, bench.rising);
    fillFallingRain(bench.air, bench.rain);
    fillRain(bench, evidence, column);
    fillModelRain(bench);
    for (let cell = 0; cell < axis.cellCount; cell += 1) {
      place.index = column * axis.cellCount + cell;
      evidence.state[place.index] = stateOf(bench, cell);
      if (evidence.state[place.index] === CELL_STATE.known) assessCell(bench, cell, place);
    }
  }
  return evidence;
}

function emptyEvidence(
  axis: AltitudeAxis,
  columnCount: number,
  { cloudHumidityWidthRatio }: IcingCalibration,
): WaterEvidence {
  const count = columnCount * axis.cellCount;
  const amounts = () => new Float32Array(count).fill(Number.NaN);
  return {
    columnCount,
    axis,
    state: new Uint8Array(count).fill(CELL_STATE.noData),
    liquidMargin: amounts(),
    cloudMargin: amounts(),
    condensateCloud: amounts(),
    humidityLiquid: amounts(),
    condensateLiquid: amounts(),
    humidityWaterKgPerM3: amounts(),
    condensateWaterKgPerM3: amounts(),
    mostWaterKgPerM3: amounts(),
    rainProbability: new Float32Array(count * RAIN_SHIFTS_K.length),
    hasRain: new Uint8Array(columnCount),
    rainWaterKgPerM3: new Float32Array(count),
    rainDrops: new Uint8Array(count),
    groundRain: new Float32Array(count),
    drizzleProbability: amounts(),
    largeDrops: new Uint8Array(count).fill(UNKNOWN_CODE),
    isFreezingRain: new Uint8Array(count),
    humidityWidthRatio: cloudHumidityWidthRatio,
  } satisfies WaterEvidence & Record<AmountName, Float32Array>;
}

/** The column's rain at every shift of temperature; nothing where no shift can make any. */
function fillRain(bench: Workbench, evidence: WaterEvidence, column: number): void {
  const { air, rain, shifted } = bench;
  const { cellCount } = evidence.axis;
  if (!mayMeltAndFreeze(air, MOST_RAIN_SHIFT_K)) return;
  RAIN_SHIFTS_K.forEach((warmerK, shift) => {
    const isExact = shift === EXACT_RAIN_SHIFT;
    if (!isExact) fillRainProbability(air, warmerK, shifted);
    const probability = isExact ? rain.probability : shifted;
    const first = (shift * evidence.columnCount + column) * cellCount;
    for (let cell = 0; cell < cellCount; cell += 1) {
      evidence.rainProbability[first + cell] = probability[cell]!;
      if (probability[cell]! > 0) evidence.hasRain[column] = 1;
    }
  });
}

/** What a model says of rain itself; nothing for a source that says nothing. */
function fillModelRain({ air, rainDrops, groundRain }: Workbench): void {
  if (air.givesRain) fillRainDrops(air, rainDrops);
  else rainDrops.fill(LARGE_DROPS.none);
  if (air.freezingRainRatio > 0) fillGroundRain(air, groundRain);
  else groundRain.fill(0);
}

/** Why a cell is unknown to the diagnosis, or known. */
function stateOf({ air, rain }: Workbench, cell: number): number {
  const state = air.state[cell]!;
  if (state !== CELL_STATE.known) return state;
  if (rain.hiddenBy[cell] !== CELL_STATE.known) return rain.hiddenBy[cell]!;
  const lacksCondensate = air.condensateBasis !== 'none' && !Number.isFinite(air.condensateKgPerKg[cell]!);
  const lacksRain = air.givesRain && !Number.isFinite(air.rainKgPerKg[cell]!);
  return (lacksCondensate || lacksRain) && air.temperatureK[cell]! < WARMEST_K
    ? CELL_STATE.quantityMissing
    : state;
}

/** Where results go: one object, moved from cell to cell. */
interface Place {
  readonly evidence: WaterEvidence;
  index: number;
}

function assessCell(bench: Workbench, cell: number, place: Place): void {
  const { evidence, index } = place;
  const temperatureK = bench.air.temperatureK[cell]!;
  evidence.mostWaterKgPerM3[index] = bench.rising.most[cell]!;
  assessCloud(bench, cell, place);
  if (temperatureK >= WARMEST_K) {
    setNoSupercooledWater(place);
    return;
  }
  assessByHumidity(bench, cell, place);
  assessByCondensate(bench, cell, place);
  if (bench.air.givesRain || bench.air.freezingRainRatio > 0) assessModelRain(bench, cell, place);
  assessLargeDrops(bench, cell, place);
}

function assessCloud({ air, calibration }: Workbench, cell: number, { evidence, index }: Place): void {
  const humidity = air.humidityRatio[cell]!;
  const temperatureK = air.temperatureK[cell]!;
  const margin = cloudMargin(
    (humidity * AIRCRAFT_READING.readingRatio) / air.cloudReadingRatio[cell]!,
    calibration,
  );
  const iceMargin =
    temperatureK < CRYSTALS_FROM_K
      ? iceCloudMargin(relativeHumidityIceRatio(humidity, temperatureK), temperatureK, calibration)
      : Number.NEGATIVE_INFINITY;
  evidence.liquidMargin[index] = margin;
  evidence.cloudMargin[index] = Math.max(margin, iceMargin);
  const fraction = air.cloudFractionRatio[cell]!;
  evidence.condensateCloud[index] =
    air.condensateBasis === 'none' ? 0 : cloudProbabilityOfCondensate(air.condensateKgPerKg[cell]!, fraction);
}

function setNoSupercooledWater({ evidence, index }: Place): void {
  evidence.humidityLiquid[index] = 0;
  evidence.condensateLiquid[index] = 0;
  evidence.humidityWaterKgPerM3[index] = 0;
  evidence.condensateWaterKgPerM3[index] = 0;
  evidence.drizzleProbability[index] = 0;
  evidence.largeDrops[index] = LARGE_DROPS.none;
}

function assessByHumidity(bench: Workbench, cell: number, { evidence, index }: Place): void {
  const { air, calibration } = bench;
  const temperatureK = air.temperatureK[cell]!;
  const densityKgPerM3 = air.axis.middlePressurePa[cell]! / (DRY_AIR_GAS_CONSTANT * temperatureK);
  const lift = liftShare(air.verticalVelocityPaPerS[cell]!, densityKgPerM3, air.hasVerticalVelocity);
  const isConvective = bench.rising.isConvective[cell] === 1;
  const ofTop = liquidProbability(bench.topK[cell]!, { lift, isConvective }, calibration);
  const entrained = entrainedKgPerM3(bench.rising.adiabatic[cell]!, isConvective);
  evidence.humidityLiquid[index] = ofTop * unfrozenShare(temperatureK);
  evidence.humidityWaterKgPerM3[index] = inCloudWaterKgPerM3(entrained, ofTop);
}

function assessByCondensate(bench: Workbench, cell: number, { evidence, index }: Place): void {
  const { air } = bench;
  const condensate = air.condensateBasis === 'none' ? 0 : Math.max(0, air.condensateKgPerKg[cell]!);
  const temperatureK = air.temperatureK[cell]!;
  const liquidShare = air.condensateBasis === 'total' ? liquidShareOfCondensate(temperatureK) : 1;
  /** Given liquid, all of it: the share is the chance that it is, and does not count twice. */
  const box = waterContentKgPerM3(condensate, temperatureK, air.axis.middlePressurePa[cell]!);
  const given = air.cloudFractionRatio[cell]!;
  const fraction = Number.isNaN(given) && air.hasCloudFraction ? 0 : given;
  evidence.condensateLiquid[index] = liquidShare * unfrozenShare(temperatureK);
  evidence.condensateWaterKgPerM3[index] = inCloudOfBoxKgPerM3(box, fraction, bench.rising.adiabatic[cell]!);
}

/** A cloud fraction says nothing of rain: the box's mean serves. All condensate may hold rain too, which then counts twice. */
function assessModelRain(bench: Workbench, cell: number, { evidence, index }: Place): void {
  const { air } = bench;
  const temperatureK = air.temperatureK[cell]!;
  const given = air.givesRain ? Math.max(0, air.rainKgPerKg[cell]!) : 0;
  const waterKgPerM3 = waterContentKgPerM3(given, temperatureK, air.axis.middlePressurePa[cell]!);
  evidence.rainWaterKgPerM3[index] = waterKgPerM3 * unfrozenShare(temperatureK);
  evidence.rainDrops[index] = bench.rainDrops[cell]!;
  evidence.groundRain[index] = bench.groundRain[cell]!;
}

function assessLargeDrops(bench: Workbench, cell: number, place: Place): void {
  const { evidence, index } = place;
  const { layers, rain } = bench;
  const isCold = bench.air.temperatureK[cell]! < FREEZING_K;
  const layer = layers.layerOf[cell]!;
  const isInLayer = isCold && layer >= 0 && cell >= layers.baseCell[layer]!;
  const drizzle = isInLayer ? drizzleProbability(layers, layer, bench.dropletNumberPerM3) : 0;
  evidence.drizzleProbability[index] = drizzle;
  const ofRain = rain.largeDrops[cell]!;
  evidence.isFreezingRain[index] = ofRain === LARGE_DROPS.freezingRain ? 1 : 0;
  const isDrizzle =
    drizzle * liquidCloudOf(place) >= DRIZZLE_NAMED_FROM && ofRain !== LARGE_DROPS.freezingRain;
  evidence.largeDrops[index] = isDrizzle ? LARGE_DROPS.freezingDrizzle : ofRain;
}

/** Probability of liquid cloud by the more certain witness, humidity taken for exact. */
function liquidCloudOf({ evidence, index }: Place): number {
  const byHumidity = evidence.humidityLiquid[index]! / (1 + Math.exp(-evidence.liquidMargin[index]!));
  return Math.max(byHumidity, evidence.condensateCloud[index]! * evidence.condensateLiquid[index]!);
}

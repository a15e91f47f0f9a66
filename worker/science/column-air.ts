/** One column as the physics reads it: working arrays, made once and loaded for column after column. */
import { type AltitudeAxis, CELL_STATE, type CondensateBasis, type WeatherColumns } from './columns.ts';
import { AIRCRAFT_READING, cloudReadingRatio } from './humidity-basis.ts';
import { layerThicknessM } from './hydrostatics.ts';

/** Every array has one entry a cell, cell 0 lowest. Values of cells that are not known are NaN and never compared. */
export interface ColumnAir {
  readonly axis: AltitudeAxis;
  /** CELL_STATE; a cell called known without temperature or humidity has become quantityMissing. */
  readonly state: Uint8Array;
  readonly temperatureK: Float64Array;
  readonly humidityRatio: Float64Array;
  /** Relative humidity over water that the source shows in saturated cloud, ratio. */
  readonly cloudReadingRatio: Float64Array;
  readonly condensateKgPerKg: Float64Array;
  readonly cloudFractionRatio: Float64Array;
  /** As it stands in the column, known or not. */
  readonly rainKgPerKg: Float64Array;
  readonly verticalVelocityPaPerS: Float64Array;
  /** True depth, m; of a cell of unknown temperature that of cool air. */
  readonly depthM: Float64Array;
  condensateBasis: CondensateBasis;
  /** Some known cell has a cloud fraction, some has vertical motion: then a cell without has lost it. */
  hasCloudFraction: boolean;
  hasVerticalVelocity: boolean;
  /** The source gives rain: a known cell without has lost it. */
  givesRain: boolean;
  /** Share with freezing rain at the ground, 0-1; NaN where the source does not say. */
  freezingRainRatio: number;
}

/** Temperature that stands in for an unknown one in the depth of a cell alone, K. */
const STAND_IN_K = 260;

/** @returns working arrays for columns on this axis. */
export function makeColumnAir(axis: AltitudeAxis): ColumnAir {
  const cells = () => new Float64Array(axis.cellCount);
  return {
    axis,
    state: new Uint8Array(axis.cellCount),
    temperatureK: cells(),
    humidityRatio: cells(),
    cloudReadingRatio: cells(),
    condensateKgPerKg: cells(),
    cloudFractionRatio: cells(),
    rainKgPerKg: cells(),
    verticalVelocityPaPerS: cells(),
    depthM: cells(),
    condensateBasis: 'none',
    hasCloudFraction: false,
    hasVerticalVelocity: false,
    givesRain: false,
    freezingRainRatio: Number.NaN,
  };
}

/** Fills the working arrays with one column. */
export function loadColumnAir(air: ColumnAir, weather: WeatherColumns, column: number): void {
  const { cellCount, edgePressurePa } = air.axis;
  air.condensateBasis = weather.condensateBasis[column] ?? 'none';
  const saturation = weather.cloudSaturation[column] ?? AIRCRAFT_READING;
  air.hasCloudFraction = false;
  air.hasVerticalVelocity = false;
  air.givesRain = weather.givesRain[column] === 1;
  air.freezingRainRatio = weather.freezingRainRatio[column]!;
  for (let cell = 0; cell < cellCount; cell += 1) {
    const index = column * cellCount + cell;
    const temperatureK = weather.temperatureK[index]!;
    const humidityRatio = weather.relativeHumidityRatio[index]!;
    let state = weather.state[index]!;
    const isComplete = Number.isFinite(temperatureK) && Number.isFinite(humidityRatio);
    if (state === CELL_STATE.known && !isComplete) state = CELL_STATE.quantityMissing;
    const isKnown = state === CELL_STATE.known;
    air.state[cell] = state;
    air.temperatureK[cell] = isKnown ? temperatureK : Number.NaN;
    air.humidityRatio[cell] = isKnown ? humidityRatio : Number.NaN;
    air.cloudReadingRatio[cell] = isKnown ? cloudReadingRatio(saturation, temperatureK) : Number.NaN;
    air.condensateKgPerKg[cell] = isKnown ? weather.condensateKgPerKg[index]! : Number.NaN;
    air.rainKgPerKg[cell] = weather.rainKgPerKg[index]!;
    const fraction = isKnown ? weather.cloudFractionRatio[index]! : Number.NaN;
    const velocity = isKnown ? weather.verticalVelocityPaPerS[index]! : Number.NaN;
    air.cloudFractionRatio[cell] = fraction;
    air.verticalVelocityPaPerS[cell] = velocity;
    air.hasCloudFraction ||= !Number.isNaN(fraction);
    air.hasVerticalVelocity ||= !Number.isNaN(velocity);
    const depthK = isKnown ? temperatureK : STAND_IN_K;
    air.depthM[cell] = layerThicknessM(edgePressurePa[cell]!, edgePressurePa[cell + 1]!, depthK);
  }
}

/** A cell whose air is not known though it is air: what may lie in it has to be reckoned with. */
export function isUnknownAir(air: ColumnAir, cell: number): boolean {
  const state = air.state[cell]!;
  return state !== CELL_STATE.known && state !== CELL_STATE.belowGround;
}

/** The cells themselves, as whole numbers with their scale, so that the page needs no second call. */
import type { RoutePoints } from '../flight/types.ts';
import type { CurtainAnswer } from '../schema/brief.ts';
import { CELL_STATE, CELL_STATE_WORDS, type IcingColumns, type WeatherColumns } from '../science/columns.ts';
import { FT_IN_M, NM_IN_M } from './edge-units.ts';

const KELVIN_AT_0_C = 273.15;
const KT_IN_MPS = 1852 / 3600;
const DEG_PER_RAD = 180 / Math.PI;

/** One quantity: how a cell's value at the edge is found, and how finely it is written. */
interface Quantity {
  readonly unit: string;
  readonly scale: number;
  readonly at: (index: number) => number;
}

export interface CurtainParts {
  readonly route: RoutePoints;
  readonly etaMs: Float64Array;
  readonly weather: WeatherColumns;
  readonly icing: IcingColumns;
  readonly indicatedMinusPressureM: number;
}

export function curtainAnswer(parts: CurtainParts): CurtainAnswer {
  const { route, icing } = parts;
  const { axis } = icing;
  return {
    pointCount: route.pointCount,
    cellCount: axis.cellCount,
    distanceNm: Array.from(route.distanceM, (distanceM) => roundTo(distanceM / NM_IN_M, 0.01)),
    etaUtc: Array.from(parts.etaMs, (ms) => new Date(ms).toISOString()),
    latDeg: Array.from(route.latDeg, (deg) => roundTo(deg, 1e-5)),
    lonDeg: Array.from(route.lonDeg, (deg) => roundTo(deg, 1e-5)),
    lowestFt: Math.round((axis.lowestM + parts.indicatedMinusPressureM) / FT_IN_M),
    cellDepthFt: Math.round(axis.cellDepthM / FT_IN_M),
    quantities: Object.fromEntries(
      Object.entries(quantitiesOf(parts)).map(([name, quantity]) => [
        name,
        { unit: quantity.unit, scale: quantity.scale, values: scaledValues(quantity, icing.state) },
      ]),
    ),
    state: Array.from(icing.state),
    stateWords: [...CELL_STATE_WORDS],
  };
}

function scaledValues(quantity: Quantity, state: Uint8Array): (number | null)[] {
  return Array.from(state, (code, index) => {
    if (code !== CELL_STATE.known) return null;
    const value = Math.round(quantity.at(index) / quantity.scale);
    return Number.isFinite(value) ? value + 0 : null;
  });
}

function quantitiesOf({ weather, icing }: CurtainParts): Record<string, Quantity> {
  const cell = (unit: string, scale: number, at: (index: number) => number): Quantity => ({ unit, scale, at });
  return {
    temperature: cell('degC', 0.1, (i) => weather.temperatureK[i]! - KELVIN_AT_0_C),
    relativeHumidityWater: cell('%', 1, (i) => weather.relativeHumidityRatio[i]! * 100),
    height: cell('ft true', 10, (i) => weather.geopotentialHeightM[i]! / FT_IN_M),
    windFrom: cell('deg true', 1, (i) => windFromDeg(weather.windEastMps[i]!, weather.windNorthMps[i]!)),
    windSpeed: cell('kt', 1, (i) => Math.hypot(weather.windEastMps[i]!, weather.windNorthMps[i]!) / KT_IN_MPS),
    cloudProbability: cell('ratio', 0.01, (i) => icing.cloudProbability[i]!),
    icingProbability: cell('ratio', 0.01, (i) => icing.icingProbability[i]!),
    liquidWater: cell('g/m3', 0.01, (i) => icing.liquidWaterKgPerM3[i]! * 1000),
    medianVolumeDiameter: cell('um', 1, (i) => icing.medianVolumeDiameterM[i]! * 1e6),
    wingGrowth: cell('mm/min', 0.01, (i) => icing.wingGrowthMps[i]! * 60_000),
    rodGrowth: cell('mm/min', 0.01, (i) => icing.rodGrowthMps[i]! * 60_000),
    freezingFraction: cell('ratio', 0.01, (i) => icing.freezingFraction[i]!),
    intensity: cell('code none trace light moderate severe', 1, (i) => icing.intensity[i]!),
    iceKind: cell('code none rime mixed clear', 1, (i) => icing.iceKind[i]!),
    largeDrops: cell('code none freezing-drizzle freezing-rain ice-pellets', 1, (i) => icing.largeDrops[i]!),
    envelopeRatio: cell('ratio', 0.01, (i) => icing.envelopeRatio[i]!),
  };
}

function windFromDeg(eastMps: number, northMps: number): number {
  return (Math.atan2(-eastMps, -northMps) * DEG_PER_RAD + 360) % 360;
}

function roundTo(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(6));
}

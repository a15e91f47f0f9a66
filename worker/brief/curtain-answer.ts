/** The cells themselves, as whole numbers with their scale, so that the page needs no second call. */

import type { RoutePoints } from '../flight/types.ts';
import type { CurtainAnswer } from '../schema/brief.ts';
import { CELL_STATE, CELL_STATE_WORDS, type IcingColumns, type WeatherColumns } from '../science/columns.ts';
import type { DrawnIcing } from '../science/drawn-icing.ts';
import {
  cFromK,
  ftFromM,
  gPerM3FromKgPerM3,
  ktFromMps,
  mmPerMinFromMps,
  nmFromM,
  umFromM,
} from '../science/units.ts';
import { roundTo } from './round-to.ts';

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
  readonly drawn: DrawnIcing;
  readonly indicatedMinusPressureM: number;
}

export function curtainAnswer(parts: CurtainParts): CurtainAnswer {
  const { route, icing } = parts;
  const { axis } = icing;
  return {
    pointCount: route.pointCount,
    cellCount: axis.cellCount,
    distanceNm: Array.from(route.distanceM, (distanceM) => roundTo(nmFromM(distanceM), 0.01)),
    etaUtc: Array.from(parts.etaMs, (ms) => new Date(ms).toISOString()),
    latDeg: Array.from(route.latDeg, (deg) => roundTo(deg, 1e-5)),
    lonDeg: Array.from(route.lonDeg, (deg) => roundTo(deg, 1e-5)),
    lowestFt: Math.round(ftFromM(axis.lowestM + parts.indicatedMinusPressureM)),
    cellDepthFt: Math.round(ftFromM(axis.cellDepthM)),
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

function quantitiesOf({ weather, icing, drawn }: CurtainParts): Record<string, Quantity> {
  const atLeast = drawn.probabilityAtLeast;
  const cell = (unit: string, scale: number, at: (index: number) => number): Quantity => ({
    unit,
    scale,
    at,
  });
  return {
    temperature: cell('degC', 0.1, (i) => cFromK(weather.temperatureK[i]!)),
    relativeHumidityWater: cell('%', 1, (i) => weather.relativeHumidityRatio[i]! * 100),
    height: cell('ft true', 10, (i) => ftFromM(weather.geopotentialHeightM[i]!)),
    windFrom: cell('deg true', 1, (i) => windFromDeg(weather.windEastMps[i]!, weather.windNorthMps[i]!)),
    windSpeed: cell('kt', 1, (i) => ktFromMps(Math.hypot(weather.windEastMps[i]!, weather.windNorthMps[i]!))),
    cloudProbability: cell('ratio', 0.01, (i) => icing.cloudProbability[i]!),
    icingProbability: cell('ratio', 0.01, (i) => icing.icingProbability[i]!),
    liquidWater: cell('g/m3', 0.01, (i) => gPerM3FromKgPerM3(icing.liquidWaterKgPerM3[i]!)),
    medianVolumeDiameter: cell('um', 1, (i) => umFromM(icing.medianVolumeDiameterM[i]!)),
    wingGrowth: cell('mm/min', 0.01, (i) => mmPerMinFromMps(icing.wingGrowthMps[i]!)),
    rodGrowth: cell('mm/min', 0.01, (i) => mmPerMinFromMps(icing.rodGrowthMps[i]!)),
    freezingFraction: cell('ratio', 0.01, (i) => icing.freezingFraction[i]!),
    intensity: cell('code none trace light moderate severe', 1, (i) => icing.intensity[i]!),
    iceKind: cell('code none rime mixed clear', 1, (i) => icing.iceKind[i]!),
    largeDrops: cell('code none freezing-drizzle freezing-rain ice-pellets', 1, (i) => icing.largeDrops[i]!),
    envelopeRatio: cell('ratio', 0.01, (i) => icing.envelopeRatio[i]!),
    largeDropProbability: cell('ratio', 0.01, (i) => icing.largeDropProbability[i]!),
    lightOrWorseProbability: cell('ratio', 0.01, (i) => atLeast.light[i]!),
    moderateOrWorseProbability: cell('ratio', 0.01, (i) => atLeast.moderate[i]!),
    severeProbability: cell('ratio', 0.01, (i) => atLeast.severe[i]!),
  };
}

function windFromDeg(eastMps: number, northMps: number): number {
  return (Math.atan2(-eastMps, -northMps) * DEG_PER_RAD + 360) % 360;
}

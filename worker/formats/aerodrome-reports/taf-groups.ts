/** Groups that forecasts alone have: wind shear, icing, turbulence, lowest altimeter setting, extremes of temperature. */
import { hPaFromInHg, wholeDegrees } from './temperature-pressure-groups.ts';

/** WShhh/dddffKT: wind at the top of a layer of shear near the ground, not of thunderstorms. */
export interface WindShear {
  readonly heightAglFt: number;
  readonly directionDeg: number;
  readonly speedKt: number;
}

/** 6IchihihitL. */
export interface IcingLayer {
  readonly intensity: 'none-or-trace' | 'light' | 'moderate' | 'severe';
  readonly where: 'anywhere' | 'in-cloud' | 'in-precipitation';
  readonly baseAglFt: number;
  /** Null: up to the top of the cloud. */
  readonly thicknessFt: number | null;
}

/** 5BhBhBhBtL. */
export interface TurbulenceLayer {
  /** Code table 0300 (extreme is X). */
  readonly code: string;
  readonly baseAglFt: number;
  readonly thicknessFt: number | null;
}

const WIND_SHEAR = /^WS(\d{3})\/(\d{3})(\d{2,3})KT$/;
const LAYER = /^([56])(\d|X)(\d{3})(\d)$/;
const LOWEST_ALTIMETER = /^QNH(\d{4})INS$/;
const EXTREME = /^T([XN])(M?\d{2})\/(\d{2})?(\d{2})Z?$/;

export function readWindShear(group: string): WindShear | undefined {
  const match = WIND_SHEAR.exec(group);
  if (match === null || Number(match[2]) > 360) return undefined;
  return { heightAglFt: Number(match[1]) * 100, directionDeg: Number(match[2]), speedKt: Number(match[3]) };
}

/** Code table 1733: three steps of three figures, each for anywhere, in cloud and in precipitation (M). */
export function readIcingLayer(group: string): IcingLayer | undefined {
  const match = LAYER.exec(group);
  if (match === null || match[1] !== '6' || match[2] === 'X') return undefined;
  const code = Number(match[2]);
  const step = Math.ceil(code / 3);
  return {
    intensity: (['none-or-trace', 'light', 'moderate', 'severe'] as const)[step]!,
    where: code === 0 ? 'anywhere' : (['anywhere', 'in-cloud', 'in-precipitation'] as const)[(code - 1) % 3]!,
    ...layerOf(match),
  };
}

export function readTurbulenceLayer(group: string): TurbulenceLayer | undefined {
  const match = LAYER.exec(group);
  if (match === null || match[1] !== '5') return undefined;
  return { code: match[2]!, ...layerOf(match) };
}

/** Base in hundreds of feet; thickness in thousands (code table 4013: 0 is up to the top of the cloud, M). */
function layerOf(match: RegExpExecArray): {
  readonly baseAglFt: number;
  readonly thicknessFt: number | null;
} {
  const thousands = Number(match[4]);
  return { baseAglFt: Number(match[3]) * 100, thicknessFt: thousands === 0 ? null : thousands * 1000 };
}

export function readLowestAltimeterHPa(group: string): number | undefined {
  const match = LOWEST_ALTIMETER.exec(group);
  return match === null ? undefined : hPaFromInHg(Number(match[1]) / 100);
}

/** TXTFTF/YFYFGFGFZ and TN: `day` undefined in the form before 2008, which gives the hour alone. */
export interface ExtremeGroup {
  readonly kind: 'maximum' | 'minimum';
  readonly temperatureC: number;
  readonly day: string | undefined;
  readonly hour: string;
}

export function readExtreme(group: string): ExtremeGroup | undefined {
  const match = EXTREME.exec(group);
  if (match === null) return undefined;
  const [, which, temperature, day, hour] = match;
  return {
    kind: which === 'X' ? 'maximum' : 'minimum',
    temperatureC: wholeDegrees(temperature!)!,
    day,
    hour: hour!,
  };
}

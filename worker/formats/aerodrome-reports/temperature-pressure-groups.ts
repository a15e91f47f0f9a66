/** Groups T'T'/T'dT'd (15.11), QPHPHPHPH (15.12) and its inches of mercury, W TsTs/SS' and W TsTs/HHsHsHs (15.13.4). */
import { hPaFromPa, paFromInHg } from '../../science/units.ts';

/** Whole degrees Celsius; null where slashes, M or nothing stand. M00 is -0: between -0.5 and 0. */
export interface TemperaturePair {
  readonly temperatureC: number | null;
  readonly dewPointC: number | null;
}

const TEMPERATURES = /^(M?\d{2}|\/{2}|MM|XX)\/(M?\d{2}|\/{2,3}|MM|XX)?$/;
/** Of a real air temperature, with room for the poles and for deserts. */
const COLDEST_C = -90;
const WARMEST_C = 65;

/** @returns  undefined when the group is no pair of temperatures, or not of air. */
export function readTemperatures(group: string): TemperaturePair | undefined {
  const match = TEMPERATURES.exec(group);
  if (match === null) return undefined;
  const temperatureC = wholeDegrees(match[1]!);
  const dewPointC = wholeDegrees(match[2] ?? '//');
  const all = [temperatureC, dewPointC].filter((each) => each !== null);
  if (all.some((each) => each < COLDEST_C || each > WARMEST_C)) return undefined;
  return { temperatureC, dewPointC };
}

/** True below 0 degC, M00 included. */
export function isBelowZero(temperatureC: number): boolean {
  return temperatureC < 0 || Object.is(temperatureC, -0);
}

/** M05 to -5, M00 to -0; null for anything but two figures. */
export function wholeDegrees(text: string): number | null {
  const match = /^(M?)(\d{2})$/.exec(text);
  if (match === null) return null;
  return match[1] === 'M' ? -Number(match[2]) : Number(match[2]);
}

/** QNH in the unit of its group; null when not observed. */
export interface Altimeter {
  readonly unit: 'hPa' | 'inHg';
  readonly value: number | null;
}

const ALTIMETER = /^([QA])(\d{4}|\/{4})$/;
/** Of any air at sea level. */
const LEAST_HPA = 850;
const MOST_HPA = 1100;

/** @returns  undefined when the group is no altimeter setting, or one that no air has. */
export function readAltimeter(group: string): Altimeter | undefined {
  const match = ALTIMETER.exec(group);
  if (match === null) return undefined;
  const unit = match[1] === 'Q' ? 'hPa' : 'inHg';
  if (match[2]!.startsWith('/')) return { unit, value: null };
  const value = unit === 'hPa' ? Number(match[2]) : Number(match[2]) / 100;
  const settingHPa = unit === 'hPa' ? value : hPaFromInHg(value);
  return settingHPa >= LEAST_HPA && settingHPa <= MOST_HPA ? { unit, value } : undefined;
}

export function hPaFromInHg(inHg: number): number {
  return hPaFromPa(paFromInHg(inHg));
}

export interface SeaSurface {
  readonly temperatureC: number | null;
  /** Code table 3700; null when not given. */
  readonly stateCode: number | null;
  readonly significantWaveHeightM: number | null;
}

const SEA = /^W(M?\d{2}|\/{2})\/(?:S(\d|\/)|H(\d{1,3}|\/{1,3}))$/;

export function readSeaSurface(group: string): SeaSurface | undefined {
  const match = SEA.exec(group);
  if (match === null) return undefined;
  const [, temperature, state, height] = match;
  const figure = (text: string | undefined) =>
    text === undefined || text.startsWith('/') ? null : Number(text);
  const waveHeightDm = figure(height);
  return {
    temperatureC: wholeDegrees(temperature!),
    stateCode: figure(state),
    significantWaveHeightM: waveHeightDm === null ? null : waveHeightDm / 10,
  };
}

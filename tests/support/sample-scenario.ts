/** The demo folder as tests look at it: its ascents read, and air in the units people read. */
import { readdirSync, readFileSync } from 'node:fs';
import { readSoundings } from '../../worker/formats/detect-sounding.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { findStation } from '../../worker/formats/stations.ts';

const FOLDER = new URL('../../sample-soundings/', import.meta.url);

/** Noon of the scenario, epoch ms. */
export const NOON_MS = Date.UTC(2026, 0, 14, 12);

/** Every file but the README. */
export const dataFiles = readdirSync(FOLDER).filter((name) => name !== 'README.md');

export function readSample(name: string): string {
  return readFileSync(new URL(name, FOLDER), 'utf8');
}

export const filesRead = dataFiles
  .filter((name) => name.endsWith('.txt') && !/^(?:metar|taf|pilot-reports)-/.test(name))
  .map((name) => readSoundings(readSample(name), { nearMs: NOON_MS, stations: findStation }));

export const ascents: readonly Sounding[] = filesRead.flatMap((file) => file.soundings);

/** The five-figure number, whatever the format calls the station. */
export function numberOf({ stationId }: Sounding): string {
  return stationId.slice(-5);
}

/** The one ascent of a station and an hour; throws when there is none or more than one. */
export function ascentOf(number: string, hour: number): Sounding {
  const found = ascents.filter(
    (each) => numberOf(each) === number && new Date(each.timeMs).getUTCHours() === hour,
  );
  if (found.length !== 1)
    throw new Error(`${number} at ${hour} UTC: found ${found.length} ascents, expected 1`);
  return found[0]!;
}

export interface Air {
  readonly pressureHPa: number;
  /** gpm; NaN where the file gives none. */
  readonly heightM: number;
  readonly celsius: number;
  readonly dewPointC: number;
}

export function airOf({ levels }: Sounding): Air[] {
  return Array.from(levels.pressurePa, (pressurePa, index) => ({
    pressureHPa: pressurePa / 100,
    heightM: levels.geopotentialHeightM[index]!,
    celsius: levels.temperatureK[index]! - 273.15,
    dewPointC: levels.dewPointK[index]! - 273.15,
  }));
}

/** Magnus forms of WMO-No. 8 (from memory), hPa: another source than the project's own saturation pressure. */
const overWaterHPa = (celsius: number) => 6.112 * Math.exp((17.62 * celsius) / (243.12 + celsius));
const overIceHPa = (celsius: number) => 6.112 * Math.exp((22.46 * celsius) / (272.62 + celsius));

/** Relative humidity over liquid water, %. */
export const overWaterPct = (air: Air) => (100 * overWaterHPa(air.dewPointC)) / overWaterHPa(air.celsius);
/** The same over ice, %. */
export const overIcePct = (air: Air) => (100 * overWaterHPa(air.dewPointC)) / overIceHPa(air.celsius);

/** Depth between two levels by the hypsometric equation, m. */
export function thicknessM(lower: Air, upper: Air): number {
  return ((287.05 * (virtualK(lower) + virtualK(upper))) / 2 / 9.80665) * lnRatio(lower, upper);
}

/** Depth from the first to the last of some levels, m. */
export function depthM(air: readonly Air[]): number {
  return air.slice(1).reduce((sum, upper, index) => sum + thicknessM(air[index]!, upper), 0);
}

/** Energy that the air takes from ice falling through these levels, Rd times the integral of (T - T0) d ln p, J/kg. */
export function meltingEnergyJPerKg(air: readonly Air[]): number {
  return air
    .slice(1)
    .reduce(
      (sum, upper, index) =>
        sum + ((287.05 * (air[index]!.celsius + upper.celsius)) / 2) * lnRatio(air[index]!, upper),
      0,
    );
}

function lnRatio(lower: Air, upper: Air): number {
  return Math.log(lower.pressureHPa / upper.pressureHPa);
}

function virtualK({ celsius, dewPointC, pressureHPa }: Air): number {
  return (celsius + 273.15) / (1 - (overWaterHPa(dewPointC) / pressureHPa) * (1 - 0.622));
}

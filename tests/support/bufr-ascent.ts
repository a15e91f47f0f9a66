/** Ascents written as BUFR messages of sequence 3 09 052 (or 3 09 007), field by field, for tests. */
import { type Bits, bufrMessage, missing } from './bufr-builder.ts';

/** A level in the units of everyday; what is left out is missing. */
export interface WrittenLevel {
  readonly seconds?: number | undefined;
  /** 0 08 042: the sum of its flags, as a number. */
  readonly flags?: number | undefined;
  readonly hPa?: number | undefined;
  readonly heightM?: number | undefined;
  readonly temperatureC?: number | undefined;
  readonly dewPointC?: number | undefined;
  readonly windDeg?: number | undefined;
  readonly windMps?: number | undefined;
}

export interface WrittenAscent {
  readonly block?: number | undefined;
  readonly station?: number | undefined;
  /** 0 01 011, at most nine characters. */
  readonly callSign?: string;
  readonly latDeg?: number | undefined;
  readonly lonDeg?: number | undefined;
  readonly groundM?: number | undefined;
  /** Year, month, day, hour, minute, second of the launch. */
  readonly launch?: readonly (number | undefined)[];
  readonly levels: readonly WrittenLevel[];
}

/** Flags of 0 08 042 by their number, for `flags`. */
export const flag = (...numbers: number[]): number => numbers.reduce((sum, n) => sum + 2 ** (18 - n), 0);

/** Surface, standard level, significant in wind. */
export const SURFACE = flag(1);
export const STANDARD = flag(2);
export const WIND = flag(7);

function coded(value: number | undefined, width: number, scale = 0, reference = 0): Bits {
  if (value === undefined) return missing(width);
  return [Math.round(value * 10 ** scale) - reference, width];
}

const kelvin = (celsius: number | undefined): Bits =>
  coded(celsius === undefined ? undefined : celsius + 273.15, 16, 2);

/** The data of one subset of 3 09 052. */
export function ascentData(ascent: WrittenAscent): Bits[] {
  const launch = ascent.launch ?? [2024, 2, 25, 23, 5, 30];
  const timeWidths = [12, 4, 6, 5, 6, 6];
  return [
    coded('block' in ascent ? ascent.block : 72, 7),
    coded('station' in ascent ? ascent.station : 659, 10),
    ascent.callSign === undefined ? '\u00ff'.repeat(9) : ascent.callSign.padEnd(9),
    ...[8, 4, 7, 4].map(missing), // sonde, correction, tracking, equipment
    [18, 5], // the time that follows is the launch's
    ...timeWidths.map((width, n) => coded(launch[n], width)),
    coded('latDeg' in ascent ? ascent.latDeg : 45.45, 25, 5, -9_000_000),
    coded('lonDeg' in ascent ? ascent.lonDeg : -98.4, 26, 5, -18_000_000),
    coded('groundM' in ascent ? ascent.groundM : 397, 17, 1, -4000),
    ...[17, 17, 4].map(missing), // barometer, height of release, its quality
    ...[6, 4, 11, 6, 6, 6, 6].map(missing), // cloud
    missing(15), // sea temperature
    [ascent.levels.length, 16],
    ...ascent.levels.flatMap(levelData),
    [0, 8], // no shear
  ];
}

function levelData(level: WrittenLevel): Bits[] {
  return [
    coded(level.seconds, 15, 0, -8192),
    coded(level.flags ?? 0, 18),
    coded(level.hPa === undefined ? undefined : level.hPa * 100, 14, -1),
    coded(level.heightM, 17, 0, -1000),
    missing(25),
    missing(26), // displacement
    kelvin(level.temperatureC),
    kelvin(level.dewPointC),
    coded(level.windDeg, 9),
    coded(level.windMps, 12, 1),
  ];
}

/** One message of one ascent, edition 4. */
export function writeBufrAscent(ascent: WrittenAscent): Uint8Array {
  return bufrMessage({ descriptors: ['3 09 052'], data: ascentData(ascent) });
}

/** Bytes and texts one after the other. */
export function joined(...parts: readonly (Uint8Array | string)[]): Uint8Array {
  return Uint8Array.from(
    parts.flatMap((part) =>
      typeof part === 'string' ? Array.from(part, (c) => c.charCodeAt(0)) : [...part],
    ),
  );
}

/** An invented ascent from rows a person can read. */
import type { Sounding } from '../../worker/formats/sounding.ts';

/** hPa, gpm, degrees C, dew-point depression in K, wind from in degrees, m/s. */
export type AscentLevel = readonly [
  pressureHPa: number,
  heightM: number,
  temperatureC: number,
  depressionK: number,
  windFromDeg: number,
  windMps: number,
];

/** At 44.5 N 73 W, 100 m, unless said otherwise. */
export function makeAscent(
  rows: readonly AscentLevel[],
  given: Partial<Sounding> & { timeMs: number },
): Sounding {
  const column = (at: (row: AscentLevel) => number) => Float64Array.from(rows, at);
  return {
    format: 'igra-v2',
    stationId: 'ZZM00000999',
    latDeg: 44.5,
    lonDeg: -73,
    elevationM: 100,
    releaseMs: Number.NaN,
    reports: [],
    rejected: [],
    levels: {
      levelCount: rows.length,
      pressurePa: column(([pressureHPa]) => pressureHPa * 100),
      geopotentialHeightM: column(([, heightM]) => heightM),
      temperatureK: column(([, , temperatureC]) => temperatureC + 273.15),
      dewPointK: column(([, , temperatureC, depressionK]) => temperatureC - depressionK + 273.15),
      windDirectionDeg: column((row) => row[4]),
      windSpeedMps: column((row) => row[5]),
    },
    ...given,
  };
}

/** Plain levels as an IGRA version 2 record, column by column from the format's description. */
import type { PlainLevel, PlainSounding } from './sounding-plain.ts';

const KNOTS_PER_MPS = 3600 / 1852;
const STANDARD_HPA = new Set([1000, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100, 70, 50, 30, 20, 10]);

/**
 * One header line and one line a level, ending in a newline. Coding steps: pressure 1 Pa, height 1 gpm, temperature
 * and dew point depression 0.1 K, direction 1 deg, speed 0.1 m/s. Relative humidity is written as missing.
 */
export function writeIgra(sounding: PlainSounding): string {
  const lines = sounding.levels.map((level, index) =>
    levelLine(level, index === 0 && sounding.startsAloft !== true),
  );
  return `${[headerLine(sounding), ...lines].join('\n')}\n`;
}

function headerLine(sounding: PlainSounding): string {
  if (sounding.stationId.length !== 11)
    throw new Error(`IGRA identifier ${sounding.stationId}: 11 characters needed`);
  const time = new Date(sounding.timeUtc);
  const fields = [
    `#${sounding.stationId}`,
    String(time.getUTCFullYear()).padStart(4, '0'),
    twoFigures(time.getUTCMonth() + 1),
    twoFigures(time.getUTCDate()),
    twoFigures(time.getUTCHours()),
    '9999',
    column(sounding.levels.length, 4),
    'composed'.padEnd(8),
    'composed'.padEnd(8),
    column(Math.round(sounding.latDeg * 1e4), 7),
    column(Math.round(sounding.lonDeg * 1e4), 8),
  ];
  return fields.join(' ');
}

function levelLine(level: PlainLevel, isSurface: boolean): string {
  const depressionC =
    level.dewPointC === undefined ? undefined : requiredTemperatureC(level) - level.dewPointC;
  const kind = STANDARD_HPA.has(level.pressureHPa) ? '1' : '2';
  return [
    `${kind}${isSurface ? '1' : '0'}`,
    ' -9999 ',
    column(Math.round(level.pressureHPa * 100), 6),
    ' ',
    scaled(level.heightM, 1),
    ' ',
    scaled(level.temperatureC, 10),
    ' ',
    '-9999',
    ' ',
    scaled(depressionC, 10),
    ' ',
    scaled(level.windDirectionDeg, 1),
    ' ',
    scaled(level.windSpeedKt === undefined ? undefined : level.windSpeedKt / KNOTS_PER_MPS, 10),
  ].join('');
}

function requiredTemperatureC(level: PlainLevel): number {
  if (level.temperatureC === undefined) {
    throw new Error(`level ${level.pressureHPa} hPa: a dew point needs a temperature`);
  }
  return level.temperatureC;
}

function scaled(value: number | undefined, factor: number): string {
  return value === undefined ? '-9999' : column(Math.round(value * factor), 5);
}

function column(value: number, width: number): string {
  const text = String(value === 0 ? 0 : value).padStart(width);
  if (text.length !== width) throw new Error(`${value} does not fit ${width} columns`);
  return text;
}

function twoFigures(value: number): string {
  return String(value).padStart(2, '0');
}

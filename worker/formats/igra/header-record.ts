/**
 * The header record of IGRA version 2.
 *
 * @source  NOAA NCEI, igra2-data-format.txt (column numbers, missing values).
 */
import { releaseNearMs } from '../nearest-time.ts';
import { type Columns, field, integer, notBlank, quoted, type Refused, refused } from './columns.ts';

const HEADER = {
  stationId: [2, 12],
  year: [14, 17],
  month: [19, 20],
  day: [22, 23],
  hour: [25, 26],
  release: [28, 31],
  levelCount: [33, 36],
  lat: [56, 62],
  lon: [64, 71],
} as const satisfies Record<string, Columns>;
const HEADER_BLANKS = [13, 18, 21, 24, 27, 32, 37, 63] as const;
const HEADER_LENGTH = 71;

const NO_HOUR = 99;

export interface IgraHeader {
  readonly line: number;
  readonly stationId: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  /** Nominal time, epoch ms UTC; NaN when the hour is coded 99. */
  readonly timeMs: number;
  /** Time of release, epoch ms UTC; NaN when not given, in part not given (hh99) or far from the nominal time. */
  readonly releaseMs: number;
  /** Data records that follow, as announced. */
  readonly levelCount: number;
}

export type HeaderResult = { readonly kind: 'header'; readonly header: IgraHeader } | Refused;

/**
 * A header record. Refused when it is cut short, a column is not what it must be, the date does not exist or the
 * position is missing (-99.9999, -999.9999) or off the globe. Never throws.
 */
export function readIgraHeader(text: string, line: number): HeaderResult {
  if (text.length < HEADER_LENGTH) {
    return refused(`header: found ${text.length} columns, expected ${HEADER_LENGTH}`);
  }
  const blank = notBlank(text, HEADER_BLANKS);
  if (blank !== undefined) return refused(`header ${blank}`);
  const stationId = field(text, HEADER.stationId);
  if (!/^\S{11}$/.test(stationId))
    return refused(`station: found ${quoted(stationId)}, expected 11 characters`);

  const fault = (['year', 'month', 'day', 'hour', 'levelCount', 'lat', 'lon'] as const)
    .filter((name) => integer(text, HEADER[name]) === undefined)
    .map((name) => `${name}: found ${quoted(field(text, HEADER[name]))}, expected a whole number`)[0];
  if (fault !== undefined) return refused(fault);
  const levelCount = integer(text, HEADER.levelCount)!;
  if (levelCount < 0) return refused(`levelCount: found ${levelCount}, expected 0 or more`);

  const timeMs = headerTimeMs(text);
  if (timeMs === undefined) {
    return refused(
      `date: found ${quoted(text.slice(13, 26))}, expected an existing day and hour 00-23 or 99`,
    );
  }
  const latDeg = integer(text, HEADER.lat)! / 1e4;
  const lonDeg = integer(text, HEADER.lon)! / 1e4;
  if (Math.abs(latDeg) > 90 || Math.abs(lonDeg) > 180) {
    return refused(`position: found ${latDeg}, ${lonDeg}, expected latitude and longitude in degrees`);
  }
  const place = { latDeg, lonDeg: lonDeg === 180 ? -180 : lonDeg };
  const releaseMs = nearestReleaseMs(field(text, HEADER.release), timeMs);
  return { kind: 'header', header: { line, stationId, ...place, timeMs, releaseMs, levelCount } };
}

/** Epoch ms, NaN for hour 99, undefined for a date that does not exist. */
function headerTimeMs(text: string): number | undefined {
  const year = integer(text, HEADER.year)!;
  const month = integer(text, HEADER.month)!;
  const day = integer(text, HEADER.day)!;
  const hour = integer(text, HEADER.hour)!;
  const dayMs = Date.UTC(year, month - 1, day);
  const date = new Date(dayMs);
  const exists =
    date.getUTCFullYear() === year && date.getUTCMonth() === month - 1 && date.getUTCDate() === day;
  if (!exists) return undefined;
  if (hour === NO_HOUR) return Number.NaN;
  return hour >= 0 && hour <= 23 ? dayMs + hour * 3_600_000 : undefined;
}

/** RELTIME hhmm on the day that brings it nearest to the nominal time; 9999 and hh99 say less than a minute. */
function nearestReleaseMs(hhmm: string, timeMs: number): number {
  const figures = /^([01]\d|2[0-3])([0-5]\d)$/.exec(hhmm);
  if (figures === null) return Number.NaN;
  return releaseNearMs(60 * Number(figures[1]) + Number(figures[2]), timeMs);
}

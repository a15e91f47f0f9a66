/**
 * Instants of section 1 and section 4.
 *
 * @source  WMO-No. 306, Volume I.2, sections 1 and 4, code tables 1.2 and 4.4.
 */
import { UnsupportedError } from '../../errors.ts';
import type { ByteReader } from '../byte-reader.ts';

const SECOND_MS = 1000;
const MINUTE_MS = 60 * SECOND_MS;
const HOUR_MS = 60 * MINUTE_MS;

/** Units of code table 4.4 that have a fixed length. */
const UNIT_MS: ReadonlyMap<number, number> = new Map([
  [0, MINUTE_MS],
  [1, HOUR_MS],
  [2, 24 * HOUR_MS],
  [10, 3 * HOUR_MS],
  [11, 6 * HOUR_MS],
  [12, 12 * HOUR_MS],
  [13, SECOND_MS],
]);

/** Years and forecasts outside these are faults, not weather; both ends fit every clock and calendar in use. */
const EARLIEST_YEAR = 1850;
const LATEST_YEAR = 2200;
const LONGEST_FORECAST_MS = 400 * 24 * HOUR_MS;

/** Code table 1.2: the reference time is the time the forecast is for, or is not UTC. */
const VERIFYING_TIME = 2;
const LOCAL_TIME = 4;

/** @returns epoch ms, UTC. */
export function readReferenceTimeMs(section1: ByteReader): number {
  const significance = section1.uint8(12);
  if (significance === VERIFYING_TIME || significance === LOCAL_TIME) {
    throw new UnsupportedError({
      feature: 'significance of reference time',
      table: 'code table 1.2',
      value: String(significance),
    });
  }
  return readInstantMs(section1, 13);
}

/**
 * Year (2 octets), month, day, hour, minute, second.
 *
 * @returns epoch ms, UTC.
 * @throws FormatError when there is no such instant.
 */
export function readInstantMs(section: ByteReader, octet: number): number {
  const year = section.uint16(octet);
  const [month = 0, day = 0, hour = 0, minute = 0, second = 0] = section.from(octet + 2);
  const timeMs = Date.UTC(year, month - 1, day, hour, minute, second);
  const date = new Date(timeMs);
  const isReal = date.getUTCFullYear() === year && date.getUTCMonth() === month - 1;
  const isInUse = year >= EARLIEST_YEAR && year <= LATEST_YEAR;
  if (isReal && isInUse && date.getUTCDate() === day && hour < 24 && minute < 60 && second < 60)
    return timeMs;
  throw section.error(octet, {
    what: 'instant',
    found: `year ${year} month ${month} day ${day} ${hour}:${minute}:${second}`,
    expected: `a date and time of the calendar, ${EARLIEST_YEAR} to ${LATEST_YEAR}`,
  });
}

/** @returns ms of a duration in section 4: a unit of code table 4.4, then a signed count of so many octets. */
export function readForecastMs(section4: ByteReader, octet: number, countOctets: number): number {
  const unit = section4.uint8(octet);
  const count = section4.signed(octet + 1, countOctets);
  const unitMs = UNIT_MS.get(unit);
  if (unitMs !== undefined) {
    const forecastMs = count * unitMs;
    if (forecastMs >= -LONGEST_FORECAST_MS && forecastMs <= LONGEST_FORECAST_MS) return forecastMs;
    throw section4.error(octet + 1, {
      what: 'forecast time',
      found: `${count} units of code ${unit}`,
      expected: 'at most 400 days either side of the reference time',
    });
  }
  throw new UnsupportedError({
    feature: 'unit of time range',
    table: 'code table 4.4',
    value: String(unit),
  });
}

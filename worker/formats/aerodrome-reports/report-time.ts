/** Instants from the two or three pairs of figures that the codes give. */
import { nearestTimeMs } from '../nearest-time.ts';

const MS_PER_HOUR = 3_600_000;
const MS_PER_MINUTE = 60_000;
const MS_PER_DAY = 24 * MS_PER_HOUR;

/** Day of the month, hour and minute as coded; hour 24 is the end of the day. */
export interface Clock {
  readonly day: number;
  readonly hour: number;
  readonly minute: number;
}

/**
 * @param figures  ddhhmm or ddhh.
 * @returns        undefined for a day that no month has, an hour past 24 or a minute past 59.
 */
export function readClock(figures: string): Clock | undefined {
  const [day, hour, minute] = [0, 2, 4].map((at) => Number(figures.slice(at, at + 2)));
  const clock = { day: day!, hour: hour!, minute: minute! };
  const isDay = clock.day >= 1 && clock.day <= 31;
  return isDay && isHour(clock.hour, clock.minute) ? clock : undefined;
}

/** The instant with this day of the month and time that lies nearest to another; NaN when that is NaN. */
export function instantNear({ day, hour, minute }: Clock, nearMs: number): number {
  return nearestTimeMs(day, 0, nearMs - hour * MS_PER_HOUR) + hour * MS_PER_HOUR + minute * MS_PER_MINUTE;
}

/**
 * @param figures  hhmm or hh.
 * @returns        the instant with this time of day that lies nearest to another; undefined for no time of day.
 */
export function timeOfDayNear(figures: string, nearMs: number): number | undefined {
  const hour = Number(figures.slice(0, 2));
  const minute = Number(figures.slice(2));
  if (!isHour(hour, minute)) return undefined;
  const offsetMs = hour * MS_PER_HOUR + minute * MS_PER_MINUTE;
  return offsetMs + Math.round((nearMs - offsetMs) / MS_PER_DAY) * MS_PER_DAY;
}

/** The first instant with this time of day at or after another; undefined for no time of day. */
export function timeOfDayFrom(figures: string, earliestMs: number): number | undefined {
  const near = timeOfDayNear(figures, earliestMs);
  if (near === undefined) return undefined;
  return near >= earliestMs ? near : near + MS_PER_DAY;
}

/**
 * @param figures  hhmm, or mm of the hour that ends with the report.
 * @returns        the last such instant not after another; undefined for no time.
 */
export function lastTimeUntil(figures: string, latestMs: number): number | undefined {
  if (figures.length === 4) {
    const near = timeOfDayNear(figures, latestMs);
    return near !== undefined && near > latestMs ? near - MS_PER_DAY : near;
  }
  const minute = Number(figures);
  if (!isHour(0, minute)) return undefined;
  const offsetMs = minute * MS_PER_MINUTE;
  return offsetMs + Math.floor((latestMs - offsetMs) / MS_PER_HOUR) * MS_PER_HOUR;
}

function isHour(hour: number, minute: number): boolean {
  return hour < 24 ? minute <= 59 : hour === 24 && minute === 0;
}

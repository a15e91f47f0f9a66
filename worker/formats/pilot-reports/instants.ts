/** Instants from the few figures that reports give: an hour and minute, or a day of the month with them. */
import { nearestTimeMs } from '../nearest-time.ts';
import type { BulletinHeading } from './bulletin.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_DAY = 86_400_000;
/** A report this much later than its bulletin is still of the same day: clocks differ. Later ones are a day older. */
const AHEAD_MS = 30 * MS_PER_MINUTE;

/**
 * The last instant with this time of day that is not more than 30 minutes after another.
 *
 * @returns  epoch ms UTC; undefined for an hour beyond 23 or a minute beyond 59.
 * @source   Rule of the project's references: later than 30 minutes ahead belongs to the previous day.
 * @checked  tests/formats/pilot-reports/instants.test.ts
 */
export function timeOfDayMs(hour: number, minute: number, referenceMs: number): number | undefined {
  if (hour > 23 || minute > 59 || !Number.isFinite(referenceMs)) return undefined;
  const latestMs = referenceMs + AHEAD_MS;
  const midnightMs = Math.floor(latestMs / MS_PER_DAY) * MS_PER_DAY;
  const sameDayMs = midnightMs + (hour * 60 + minute) * MS_PER_MINUTE;
  return sameDayMs > latestMs ? sameDayMs - MS_PER_DAY : sameDayMs;
}

/** The instant with this day of the month and time that lies nearest to another; undefined when no month has it. */
export function dayTimeMs(
  figures: { readonly day: number; readonly hour: number; readonly minute: number },
  nearMs: number,
): number | undefined {
  const { day, hour, minute } = figures;
  if (day < 1 || day > 31 || hour > 23 || minute > 59) return undefined;
  const hourMs = nearestTimeMs(day, hour, nearMs);
  return Number.isFinite(hourMs) ? hourMs + minute * MS_PER_MINUTE : undefined;
}

/** When a bulletin was made: its heading's day and time nearest to the reference, or the reference itself. */
export function bulletinTimeMs(heading: BulletinHeading | undefined, referenceMs: number): number {
  return (heading === undefined ? undefined : dayTimeMs(heading, referenceMs)) ?? referenceMs;
}

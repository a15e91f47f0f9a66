/**
 * Wall time of an IANA zone as an instant. A time that a clock change leaves out takes place as much later as the clock was moved; a
 * time that comes twice is the first of the two. The same rules as RFC 5545 section 3.3.5 and fold 0 of PEP 495.
 */
import { tzOffset } from '@date-fns/tz';
import { InvalidRequestError } from '../errors.ts';

const MS_PER_MIN = 60_000;
export const MS_PER_DAY = 86_400_000;
/** More than any zone is away from UTC, so that an instant is on the known side of a wall time. */
const SURELY_MS = 15 * 3_600_000;

/** A day of the calendar: 00:00 UTC of the same date, epoch ms. */
export type DateMs = number;

/** A day in a zone, with its offsets looked up once: formatting times is slow. */
export interface ZoneDay {
  readonly zone: string;
  readonly dateMs: DateMs;
  readonly beforeMs: number;
  readonly afterMs: number;
}

export function zoneDay(zone: string, dateMs: DateMs): ZoneDay {
  return {
    zone,
    dateMs,
    beforeMs: offsetMs(zone, dateMs - SURELY_MS),
    afterMs: offsetMs(zone, dateMs + MS_PER_DAY + SURELY_MS),
  };
}

/** The instant of a time of a day, epoch ms; at most one change of the clock within the day and 15 h around it. */
export function instantMs({ zone, dateMs, beforeMs, afterMs }: ZoneDay, minutes: number): number {
  const wallMs = dateMs + minutes * MS_PER_MIN;
  const early = wallMs - beforeMs;
  if (beforeMs === afterMs || offsetMs(zone, early) === beforeMs) return early;
  const late = wallMs - afterMs;
  return offsetMs(zone, late) === afterMs ? late : early;
}

/** False for a day that a zone left out of its calendar whole, as islands do that move across the date line. */
export function isInCalendar(day: ZoneDay): boolean {
  return instantMs(day, 0) < instantMs(zoneDay(day.zone, day.dateMs + MS_PER_DAY), 0);
}

/** How far wall time is ahead of UTC at an instant. */
function offsetMs(zone: string, atMs: number): number {
  const minutes = tzOffset(zone, new Date(atMs));
  if (Number.isFinite(minutes)) return minutes * MS_PER_MIN;
  throw new InvalidRequestError({
    field: 'timeZone',
    found: JSON.stringify(zone.slice(0, 60)),
    expected: 'an IANA time zone such as America/New_York',
  });
}

/** The flights that a schedule of legs calls for. */
import { type StoredLeg, WEEKDAYS } from '../schema/board.ts';
import type { WantedFlight } from '../sources/boards.ts';
import { type DateMs, instantMs, isInCalendar, MS_PER_DAY, type ZoneDay, zoneDay } from './wall-time.ts';

export interface FlightWindow {
  /** Of legs without a zone of their own. */
  readonly timeZone: string;
  /** Departures within these instants, both included, epoch ms. */
  readonly fromMs: number;
  readonly toMs: number;
}

/**
 * Exactly one flight for every local day of a leg's weekdays and dates, however the clock changes; none on a day that the zone has left
 * out of its calendar. By departure, then id.
 */
export function flightsOfLegs(legs: readonly StoredLeg[], window: FlightWindow): WantedFlight[] {
  const days = makeCalendar(window);
  const flights = legs.flatMap(({ id, leg }) =>
    days.of(leg.timeZone ?? window.timeZone).flatMap((day): WantedFlight[] => {
      if (!isScheduled(leg, day.dateMs)) return [];
      const departureMs = instantMs(day, minutesOfClock(leg.departureLocal));
      if (departureMs < window.fromMs || departureMs > window.toMs) return [];
      return [{ id: `${id}.${dateText(day.dateMs)}`, legId: id, leg, departureMs }];
    }),
  );
  return flights.sort((a, b) => a.departureMs - b.departureMs || (a.id < b.id ? -1 : 1));
}

/** The days of each zone that may hold a departure within the window, looked up once a zone. */
function makeCalendar({ fromMs, toMs }: FlightWindow) {
  const known = new Map<string, readonly ZoneDay[]>();
  return {
    of(zone: string): readonly ZoneDay[] {
      const days = known.get(zone) ?? daysAround(zone, fromMs, toMs);
      known.set(zone, days);
      return days;
    },
  };
}

/** A day more on either side: local days begin up to 14 h before, and 12 h after, those of UTC. */
function daysAround(zone: string, fromMs: number, toMs: number): ZoneDay[] {
  const days: ZoneDay[] = [];
  const last = startOfDateMs(toMs) + MS_PER_DAY;
  for (let dateMs = startOfDateMs(fromMs) - MS_PER_DAY; dateMs <= last; dateMs += MS_PER_DAY) {
    const day = zoneDay(zone, dateMs);
    if (isInCalendar(day)) days.push(day);
  }
  return days;
}

function isScheduled({ weekdays, fromDate, untilDate }: StoredLeg['leg'], dateMs: DateMs): boolean {
  const date = dateText(dateMs);
  return (
    weekdays.includes(weekdayOf(dateMs)) &&
    (fromDate === null || fromDate <= date) &&
    (untilDate === null || date <= untilDate)
  );
}

/** 1 January 1970 was a Thursday. */
function weekdayOf(dateMs: DateMs): (typeof WEEKDAYS)[number] {
  const days = Math.floor(dateMs / MS_PER_DAY) + WEEKDAYS.indexOf('thu');
  return WEEKDAYS[((days % 7) + 7) % 7]!;
}

const startOfDateMs = (atMs: number): DateMs => Math.floor(atMs / MS_PER_DAY) * MS_PER_DAY;

/** "2026-01-14". */
const dateText = (dateMs: DateMs): string => new Date(dateMs).toISOString().slice(0, 10);

/** "05:40" as minutes of the day. */
function minutesOfClock(clock: string): number {
  return Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3, 5));
}

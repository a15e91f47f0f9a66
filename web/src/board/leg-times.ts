/** Times of legs in words: UTC and the board's own zone, and how long there is until then. */
import { durationWords } from '../../../worker/flight/words.ts';
import type { BoardFlight } from '../../../worker/schema/board.ts';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;

/** "05:40". */
export function utcClock(utc: string | number): string {
  return new Date(utc).toISOString().slice(11, 16);
}

const formats = new Map<string, Intl.DateTimeFormat>();

/** "00:40 EST" of the zone that the board is read in. */
export function zoneClock(utc: string | number, timeZone: string): string {
  let format = formats.get(timeZone);
  if (format === undefined) {
    format = new Intl.DateTimeFormat('en-US', {
      timeZone,
      hour: '2-digit',
      minute: '2-digit',
      hourCycle: 'h23',
      timeZoneName: 'short',
    });
    formats.set(timeZone, format);
  }
  return format.format(new Date(utc));
}

/** "15 Jan" where it is not the day of now; '' where it is. */
export function otherDay(utc: string | number, nowMs: number): string {
  const date = new Date(utc);
  if (Math.floor(date.getTime() / DAY_MS) === Math.floor(nowMs / DAY_MS)) return '';
  return date.toLocaleDateString('en-GB', { timeZone: 'UTC', day: 'numeric', month: 'short' });
}

/** What there is to say of the departure by now: "in 1 h 5 min", "12 min late", "departed 05:43". */
export function departsWords(flight: BoardFlight, nowMs: number): string {
  const { cancelled, arrived, departed, departureUtc } = flight;
  if (cancelled) return 'cancelled';
  if (arrived !== null) return `arrived ${utcClock(arrived.atUtc)}`;
  if (departed !== null) return `departed ${utcClock(departed.atUtc)}`;
  const leftMs = Date.parse(departureUtc) - nowMs;
  if (Math.abs(leftMs) < MINUTE_MS / 2) return 'now';
  return leftMs > 0 ? `in ${durationWords(leftMs)}` : `${durationWords(leftMs)} late`;
}

/** How long it is overdue, ms; undefined while it is not. */
export function overdueMs(flight: BoardFlight, nowMs: number): number | undefined {
  if (flight.overdueAtUtc === null || flight.arrived !== null || flight.cancelled) return undefined;
  const overMs = nowMs - Date.parse(flight.overdueAtUtc);
  return overMs >= 0 ? overMs : undefined;
}

/** Nothing is awaited of it any more. */
export function isDone(flight: BoardFlight): boolean {
  return flight.arrived !== null || flight.cancelled;
}

/** "20 min ago", "just now". */
export function agoWords(utc: string | number, nowMs: number): string {
  const ageMs = nowMs - new Date(utc).getTime();
  return ageMs < MINUTE_MS ? 'just now' : `${durationWords(ageMs)} ago`;
}

/** The instant nearest to another at which the UTC clock shows that time, "05:40" or "0540"; undefined for what is no time. */
export function instantNear(clock: string, nearMs: number): number | undefined {
  const found = /^([01]\d|2[0-3]):?([0-5]\d)$/.exec(clock.trim());
  if (found === null) return undefined;
  const midnightMs = Math.floor(nearMs / DAY_MS) * DAY_MS;
  const ofDayMs = midnightMs + (Number(found[1]) * 60 + Number(found[2])) * MINUTE_MS;
  const days = Math.round((nearMs - ofDayMs) / DAY_MS);
  return ofDayMs + days * DAY_MS;
}

/** As marks are sent: to the minute. */
export function minuteUtc(instantMs: number): string {
  return `${new Date(instantMs).toISOString().slice(0, 16)}:00Z`;
}

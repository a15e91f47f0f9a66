/** From when to when a warning holds, from groups of day and time. */
import { dayTimeMs } from '../pilot-reports/instants.ts';

const MS_PER_DAY = 86_400_000;

export interface Validity {
  readonly validFromMs: number | undefined;
  readonly validToMs: number | undefined;
}

/** `221215`: day, hour, minute; the month is the nearest to an instant. Undefined for other groups. */
export function dayGroupMs(group: string, nearMs: number): number | undefined {
  const match = /^(\d\d)(\d\d)(\d\d)$/.exec(group);
  if (match === null) return undefined;
  return dayTimeMs({ day: Number(match[1]), hour: Number(match[2]), minute: Number(match[3]) }, nearMs);
}

/**
 * The period of two groups. Its end must be after its start and within a day of it, as with every kind of warning: an
 * end that is not has a wrong figure and is undefined.
 */
export function periodOf(from: string, to: string, nearMs: number): Validity {
  const validFromMs = dayGroupMs(from, nearMs);
  const endMs = dayGroupMs(to, validFromMs ?? nearMs);
  const isInOrder = validFromMs === undefined || (endMs !== undefined && isWithinDay(validFromMs, endMs));
  return { validFromMs, validToMs: isInOrder ? endMs : undefined };
}

/** The first instant after another with this hour and minute (`1755`); undefined for other groups. */
export function nextTimeMs(group: string, afterMs: number): number | undefined {
  const [hour, minute] = [Number(group.slice(0, 2)), Number(group.slice(2))];
  if (!/^\d{4}$/.test(group) || hour > 23 || minute > 59) return undefined;
  const sameDayMs = Math.floor(afterMs / MS_PER_DAY) * MS_PER_DAY + (hour * 60 + minute) * 60_000;
  return sameDayMs > afterMs ? sameDayMs : sameDayMs + MS_PER_DAY;
}

/** The instant with this hour and minute that lies nearest to another; undefined for other groups. */
export function nearestTimeOfDayMs(group: string, nearMs: number): number | undefined {
  return nextTimeMs(group, nearMs - MS_PER_DAY / 2);
}

export function isWithinDay(fromMs: number, toMs: number): boolean {
  return toMs > fromMs && toMs - fromMs <= MS_PER_DAY;
}

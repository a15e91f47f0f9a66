/** Periods of a forecast: ddhh/ddhh, FMddhhmm, and the figures before November 2008 (ddhhhh, hhhh, FMhhmm). */
import { type Clock, instantNear, readClock, timeOfDayFrom } from './report-time.ts';
import type { ExtremeGroup } from './taf-groups.ts';

/** Epoch ms; the end is after the begin. */
export interface Period {
  readonly fromMs: number;
  readonly untilMs: number;
}

const MS_PER_HOUR = 3_600_000;
const MS_PER_DAY = 24 * MS_PER_HOUR;
/** Regulation 51.1.4 allows 30 hours; more than two days is a fault of the line. */
const LONGEST_MS = 48 * MS_PER_HOUR;

const PERIOD = /^(\d{4})\/(\d{4})$/;
const OLDER_VALIDITY = /^(\d{2})(\d{2})(\d{2})$/;

/**
 * @param nearMs  when it was issued.
 * @returns       undefined when the group is no period.
 */
export function readValidity(group: string, nearMs: number): Period | undefined {
  const match = PERIOD.exec(group);
  if (match !== null) return periodOf(readClock(match[1]!), readClock(match[2]!), nearMs);
  const older = OLDER_VALIDITY.exec(group);
  if (older === null) return undefined;
  const from = readClock(`${older[1]}${older[2]}`);
  if (from === undefined) return undefined;
  const fromMs = instantNear(from, nearMs);
  return untilHour(fromMs, older[3]!);
}

/** The period after BECMG, TEMPO or PROB. */
export function readChangePeriod(group: string, validity: Period): Period | undefined {
  const match = PERIOD.exec(group);
  if (match !== null) return periodOf(readClock(match[1]!), readClock(match[2]!), validity.fromMs);
  if (!/^\d{4}$/.test(group)) return undefined;
  const fromMs = timeOfDayFrom(group.slice(0, 2), validity.fromMs);
  return fromMs === undefined ? undefined : untilHour(fromMs, group.slice(2));
}

/** The begin of an FM group. */
export function readFrom(figures: string, validity: Period): number | undefined {
  if (figures.length === 4) return timeOfDayFrom(figures, validity.fromMs);
  const clock = readClock(figures);
  return clock === undefined ? undefined : instantNear(clock, validity.fromMs);
}

/** When a forecast maximum or minimum is expected. */
export function readExtremeTime({ day, hour }: ExtremeGroup, validFromMs: number): number | undefined {
  if (day === undefined) return timeOfDayFrom(hour, validFromMs);
  const clock = readClock(`${day}${hour}`);
  return clock === undefined ? undefined : instantNear(clock, validFromMs);
}

function periodOf(from: Clock | undefined, until: Clock | undefined, nearMs: number): Period | undefined {
  if (from === undefined || until === undefined) return undefined;
  const fromMs = instantNear(from, nearMs);
  const untilMs = instantNear(until, fromMs);
  return untilMs > fromMs && untilMs - fromMs <= LONGEST_MS ? { fromMs, untilMs } : undefined;
}

/** Until the next time that the clock shows this hour: a full day when it shows it at the begin. */
function untilHour(fromMs: number, hour: string): Period | undefined {
  const next = timeOfDayFrom(hour, fromMs);
  if (next === undefined) return undefined;
  return { fromMs, untilMs: next > fromMs ? next : next + MS_PER_DAY };
}

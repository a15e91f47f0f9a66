/** Periods of a forecast: ddhh/ddhh, FMddhhmm, and the figures before November 2008 (ddhhhh, hhhh, FMhhmm). */
import { type Clock, instantNear, readClock, timeOfDayFrom } from './report-time.ts';
import type { ExtremeGroup } from './taf-groups.ts';

/** Epoch ms; the end is after the begin. */
export interface Period {
  readonly fromMs: number;
  readonly untilMs: number;
}

/** Of a whole forecast. */
export interface Validity extends Period {
  /** ddhh/ddhh, so that changes name their day as well; else the figures before November 2008. */
  readonly isWithDays: boolean;
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
export function readValidity(group: string, nearMs: number): Validity | undefined {
  const match = PERIOD.exec(group);
  if (match !== null) {
    const period = periodOf(readClock(match[1]!), readClock(match[2]!), nearMs);
    return period && { ...period, isWithDays: true };
  }
  const older = OLDER_VALIDITY.exec(group);
  if (older === null) return undefined;
  const from = readClock(`${older[1]}${older[2]}`);
  if (from === undefined) return undefined;
  const period = untilHour(instantNear(from, nearMs), older[3]!);
  return period && { ...period, isWithDays: false };
}

/** The period after BECMG, TEMPO or PROB. Beside ddhh/ddhh four figures are two hours only if they can be no day and hour. */
export function readChangePeriod(group: string, validity: Validity): Period | undefined {
  const match = PERIOD.exec(group);
  if (match !== null) return periodOf(readClock(match[1]!), readClock(match[2]!), validity.fromMs);
  if (!/^\d{4}$/.test(group) || (validity.isWithDays && atDayInside(group, validity) !== undefined))
    return undefined;
  const fromMs = timeOfDayFrom(group.slice(0, 2), validity.fromMs);
  return fromMs === undefined ? undefined : untilHour(fromMs, group.slice(2));
}

/**
 * The begin of an FM group, which lies inside the validity. Beside ddhh/ddhh four figures are hour and minute only if
 * they cannot be day and hour as well.
 */
export function readFrom(figures: string, validity: Validity): number | 'ambiguous' | undefined {
  const atDay = atDayInside(figures, validity);
  if (figures.length !== 4) return atDay;
  if (validity.isWithDays && atDay !== undefined) return 'ambiguous';
  return inside(timeOfDayFrom(figures, validity.fromMs), validity);
}

/** The instant of ddhh or ddhhmm; undefined outside the validity, and for no time. */
function atDayInside(figures: string, validity: Period): number | undefined {
  const clock = readClock(figures);
  return clock === undefined ? undefined : inside(instantNear(clock, validity.fromMs), validity);
}

function inside(timeMs: number | undefined, { fromMs, untilMs }: Period): number | undefined {
  return timeMs !== undefined && timeMs >= fromMs && timeMs <= untilMs ? timeMs : undefined;
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

/** The verdict that a flight's line carries: that of its last evaluation, or unknown where that does not hold any more. */
import type { Evaluation } from '../schema/board.ts';
import { OVERDUE_AFTER_MS } from '../schema/board-order.ts';
import type { VerdictCode } from '../schema/choice-words.ts';
import type { AgeRule, StoredFlight } from '../sources/boards.ts';
import { dayClockWords } from './clock-words.ts';

/** An evaluation that was not made again although it was due so many times over is not to be relied on. */
const TIMES_DUE = 3;
/** Newer data come in over a while. */
const STALE_AFTER_MS = 3_600_000;

export interface StandingParts {
  readonly evaluation: Evaluation | undefined;
  readonly failure: StoredFlight['failure'];
  /** The board's clock. */
  readonly nowMs: number;
  readonly departureMs: number;
  readonly departed: StoredFlight['departed'];
  /** When something of its aeroplane was entered last, by the service's clock. */
  readonly tailEnteredMs: number | undefined;
  /** Its evaluation stays what it was. */
  readonly hasArrived: boolean;
  /** Empty on a board that stands at an instant: it knows no age. */
  readonly ages: readonly AgeRule[];
}

export interface CarriedVerdict {
  readonly verdict: VerdictCode;
  readonly why: string;
}

export function carriedVerdict(parts: StandingParts): CarriedVerdict {
  const { evaluation, failure } = parts;
  if (evaluation === undefined) {
    return unknown(failure === undefined ? 'Not worked out yet' : failureWords(failure));
  }
  // Of the same moment the failure counts.
  if (failure !== undefined && !(failure.atMs < Date.parse(evaluation.atUtc))) {
    return unknown(failureWords(failure));
  }
  if (!parts.hasArrived) {
    const why =
      enteredWhy(evaluation, parts) ??
      pastWhy(parts) ??
      agedWhy(evaluation, parts) ??
      staleWhy(evaluation, parts);
    if (why !== undefined) return unknown(why);
  }
  return { verdict: evaluation.verdict, why: evaluation.sentence };
}

/**
 * Until when the verdict of the evaluation holds by time alone, epoch ms, by the board's clock; undefined where no time ends it.
 * What a failure or an entry ends besides is told at once.
 */
export function holdsUntilMs(parts: StandingParts): number | undefined {
  const { evaluation, hasArrived, departed, departureMs, ages } = parts;
  if (evaluation === undefined || hasArrived) return undefined;
  const atMs = Date.parse(evaluation.atUtc);
  const ends = ages.map(({ withinMs, mostMs }) => {
    // The rule of the farthest departures holds for all beyond.
    const fromMs = withinMs === ages.at(-1)!.withinMs ? Number.NEGATIVE_INFINITY : departureMs - withinMs - 1;
    return Math.max(atMs + TIMES_DUE * mostMs, fromMs);
  });
  if (evaluation.staleAtUtc !== null) ends.push(Date.parse(evaluation.staleAtUtc) + STALE_AFTER_MS);
  if (departed === undefined) ends.push(departureMs + OVERDUE_AFTER_MS);
  if (ends.length === 0) return undefined;
  const end = Math.min(...ends);
  return Number.isNaN(end) ? Number.NEGATIVE_INFINITY : end;
}

const unknown = (why: string): CarriedVerdict => ({ verdict: 'unknown', why });

const failureWords = ({ sentence, atMs }: NonNullable<StoredFlight['failure']>) =>
  `Could not be worked out at ${dayClockWords(atMs)}: ${sentence}`;

/** What was entered since may change everything. */
function enteredWhy({ atUtc }: Evaluation, { tailEnteredMs }: StandingParts): string | undefined {
  if (tailEnteredMs === undefined || tailEnteredMs <= Date.parse(atUtc)) return undefined;
  return `Being worked out again for what was entered of the aeroplane at ${dayClockWords(tailEnteredMs)}`;
}

/** The air of the planned time is not that of a flight that leaves later. */
function pastWhy({ departed, departureMs, nowMs }: StandingParts): string | undefined {
  if (departed !== undefined || nowMs <= departureMs + OVERDUE_AFTER_MS) return undefined;
  return `Its planned departure at ${dayClockWords(departureMs)} is past, and nobody marked it as departed`;
}

/** Comparisons are put so that an instant that does not read counts as too old. */
function agedWhy({ atUtc }: Evaluation, { ages, nowMs, departureMs }: StandingParts): string | undefined {
  const rule = ages.find(({ withinMs }) => departureMs - nowMs <= withinMs) ?? ages.at(-1);
  if (rule === undefined || nowMs - Date.parse(atUtc) <= TIMES_DUE * rule.mostMs) return undefined;
  return `Worked out at ${dayClockWords(Date.parse(atUtc))}, which is too long ago to hold`;
}

function staleWhy({ staleAtUtc }: Evaluation, { nowMs }: StandingParts): string | undefined {
  if (staleAtUtc === null || nowMs <= Date.parse(staleAtUtc) + STALE_AFTER_MS) return undefined;
  return `Its data were due to be replaced at ${dayClockWords(Date.parse(staleAtUtc))}, and nothing newer came`;
}

/** The verdict that a flight's line carries: that of its last evaluation, or unknown where that does not hold any more. */
import type { Evaluation } from '../schema/board.ts';
import type { VerdictCode } from '../schema/choice-words.ts';
import type { AgeRule, StoredFlight } from '../sources/boards.ts';

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
    const why = agedWhy(evaluation, parts) ?? staleWhy(evaluation, parts);
    if (why !== undefined) return unknown(why);
  }
  return { verdict: evaluation.verdict, why: evaluation.sentence };
}

const unknown = (why: string): CarriedVerdict => ({ verdict: 'unknown', why });

const failureWords = ({ sentence, atMs }: NonNullable<StoredFlight['failure']>) =>
  `Could not be worked out at ${clockWords(atMs)}: ${sentence}`;

/** Comparisons are put so that an instant that does not read counts as too old. */
function agedWhy({ atUtc }: Evaluation, { ages, nowMs, departureMs }: StandingParts): string | undefined {
  const rule = ages.find(({ withinMs }) => departureMs - nowMs <= withinMs) ?? ages.at(-1);
  if (rule === undefined || nowMs - Date.parse(atUtc) <= TIMES_DUE * rule.mostMs) return undefined;
  return `Worked out at ${clockWords(Date.parse(atUtc))}, which is too long ago to hold`;
}

function staleWhy({ staleAtUtc }: Evaluation, { nowMs }: StandingParts): string | undefined {
  if (staleAtUtc === null || nowMs <= Date.parse(staleAtUtc) + STALE_AFTER_MS) return undefined;
  return `Its data were due to be replaced at ${clockWords(Date.parse(staleAtUtc))}, and nothing newer came`;
}

/** "14 Jan 11:30 UTC". */
function clockWords(atMs: number): string {
  if (!Number.isFinite(atMs)) return 'an unknown time';
  const [, day, month, , clock] = new Date(atMs).toUTCString().split(' ');
  return `${Number(day)} ${month} ${clock!.slice(0, 5)} UTC`;
}

/** A verdict that nobody vouches for any more is unknown: its data are past their time, or the service was not heard for an hour. */
import { durationWords } from '../../../worker/flight/words.ts';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { VERDICT_WORDS } from '../words.ts';
import { heldEvaluation } from './held-evaluation.ts';
import { utcClock } from './leg-times.ts';

/** For so long a verdict holds without news, after its data are past their time as after the service was heard last. */
export const HOLDS_MS = 3_600_000;

export interface Standing {
  /** Of the service. */
  readonly nowMs: number;
  /** Since the service was heard; 0 while it is, undefined where nobody knows. */
  readonly silentMs: number | undefined;
}

/** The flight as it is to be shown. It may become unknown here, and never anything else. */
export function agedFlight(flight: BoardFlight, standing: Standing): BoardFlight {
  if (flight.arrived !== null || flight.cancelled) return flight;
  // One that the service itself holds to no more says why. Of one that was worked out to be unknown the figures go by age like others.
  if (flight.verdict === 'unknown' && heldEvaluation(flight) === undefined) return flight;
  const why = agedWhy(flight, standing);
  if (why === undefined) return flight;
  return {
    ...flight,
    verdict: 'unknown',
    why: `${why}; it was ${VERDICT_WORDS[flight.verdict].toLowerCase()}`,
  };
}

/** Why its verdict is not to be held to; undefined while it is. */
function agedWhy(
  { evaluation, holdsUntilUtc }: BoardFlight,
  { nowMs, silentMs }: Standing,
): string | undefined {
  if (evaluation === null) return 'Not worked out';
  if (silentMs === undefined) return 'Nobody knows how old this is';
  if (silentMs > HOLDS_MS) return `The service was not heard for ${durationWords(silentMs)}`;
  if (holdsUntilUtc !== null && nowMs > Date.parse(holdsUntilUtc)) {
    return `Worked out for ${utcClock(holdsUntilUtc)} UTC at the latest, and not again`;
  }
  const { staleAtUtc } = evaluation;
  if (staleAtUtc === null || nowMs <= Date.parse(staleAtUtc) + HOLDS_MS) return undefined;
  return `Newer data were due at ${utcClock(staleAtUtc)} UTC and nothing came of them`;
}

/** In which order flights stand on a board, and which of them call for somebody: the same for page, exports and messages. */
import type { BoardFlight } from './board.ts';
import type { VerdictCode } from './choice-words.ts';

/** Gravest first: known to be beyond limits, then unknown, which is never better than what is known to be within them. */
export const VERDICTS_GRAVEST_FIRST: readonly VerdictCode[] = [
  'outside-limits',
  'unknown',
  'within-limits',
  'no-ice-found',
];

/** 0 for the best, more for what is graver. */
export function verdictGravity(verdict: VerdictCode): number {
  return VERDICTS_GRAVEST_FIRST.length - 1 - VERDICTS_GRAVEST_FIRST.indexOf(verdict);
}

/** The gravest of some; undefined of none. */
export function worstVerdict(verdicts: Iterable<VerdictCode>): VerdictCode | undefined {
  const found = new Set(verdicts);
  return VERDICTS_GRAVEST_FIRST.find((each) => found.has(each));
}

/** Common practice of flight following: somebody asks half an hour after a departure or an arrival did not come. */
export const OVERDUE_AFTER_MS = 30 * 60_000;
const MS_PER_MIN = 60_000;

export interface FollowedFlight {
  /** As planned, epoch ms. */
  readonly departureMs: number;
  /** undefined while nobody marked it. */
  readonly departedMs: number | undefined;
  /** Arrived or cancelled: nobody waits for it. */
  readonly isDone: boolean;
  /** Of the altitude that is spoken of; undefined where none can be flown. */
  readonly timeMinutes: number | undefined;
}

/**
 * From when on a flight is overdue with the marks that it has, epoch ms; null once nobody waits for it. It is waited for as long as
 * the longer of its evaluation and its planned minutes says, which count from block to block. One that departed and that
 * nobody has a duration of is so half an hour later: when to expect it is not known.
 */
export function overdueAtMs(flight: FollowedFlight, plannedMinutes: number | null): number | null {
  if (flight.isDone) return null;
  if (flight.departedMs === undefined) return flight.departureMs + OVERDUE_AFTER_MS;
  const minutes = Math.max(flight.timeMinutes ?? 0, plannedMinutes ?? 0);
  return flight.departedMs + minutes * MS_PER_MIN + OVERDUE_AFTER_MS;
}

export function isOverdue({ overdueAtUtc }: Pick<BoardFlight, 'overdueAtUtc'>, nowMs: number): boolean {
  return overdueAtUtc !== null && Date.parse(overdueAtUtc) <= nowMs;
}

/** Nobody waits for it any more. */
export function isDone({ arrived, cancelled }: Pick<BoardFlight, 'arrived' | 'cancelled'>): boolean {
  return arrived !== null || cancelled;
}

/**
 * Something of it is another that nobody has acknowledged. A first result is only where it is not one to fly with, and what somebody
 * marked on this board never.
 */
export function isUnread({
  change,
  acknowledged,
  verdict,
}: Pick<BoardFlight, 'change' | 'acknowledged' | 'verdict'>): boolean {
  if (change === null || change.kind === 'mark') return false;
  if (change.kind === 'first' && (verdict === 'within-limits' || verdict === 'no-ice-found')) return false;
  return acknowledged === null || acknowledged.seq < change.seq;
}

type Key = (flight: BoardFlight, nowMs: number) => number;

/** Within so long somebody can still act, and must. */
const SOON_MS = 6 * 3_600_000;
/** Who leaves so soon is the next to be called. */
const NEXT_MS = 2 * 3_600_000;

/** It departed, and nobody marked an arrival. */
function isAirborne(flight: BoardFlight): boolean {
  return flight.departed !== null && !isDone(flight);
}

/** Something of it is not to fly with, or not known to be. */
function callsForSomebody({ verdict, evaluation }: BoardFlight): boolean {
  return (
    verdict === 'outside-limits' ||
    verdict === 'unknown' ||
    evaluation?.destination.standing === 'below' ||
    evaluation?.fluid?.coversHighEstimate === false
  );
}

/** Who is in the air and does not come is waited for before who may only not be marked. */
function overduePlace(flight: BoardFlight, nowMs: number): number {
  if (!isOverdue(flight, nowMs)) return 2;
  return isAirborne(flight) ? 0 : 1;
}

function callPlace(flight: BoardFlight, nowMs: number): number {
  if (!callsForSomebody(flight)) return 2;
  return isAirborne(flight) || Date.parse(flight.departureUtc) - nowMs <= SOON_MS ? 0 : 1;
}

/** Nothing known of the weather is unknown too. */
const STANDINGS_GRAVEST_FIRST = ['below', 'unknown', 'above'] as const;

/** The lower comes first. */
const KEYS: readonly Key[] = [
  (flight) => Number(isDone(flight)),
  overduePlace,
  callPlace,
  ({ verdict }) => VERDICTS_GRAVEST_FIRST.indexOf(verdict),
  (flight, nowMs) => Number(!isAirborne(flight) && Date.parse(flight.departureUtc) - nowMs > NEXT_MS),
  ({ evaluation }) => STANDINGS_GRAVEST_FIRST.indexOf(evaluation?.destination.standing ?? 'unknown'),
  ({ evaluation }) => Number(evaluation?.alternate?.standing !== 'below'),
  ({ evaluation }) => Number(evaluation?.fluid?.coversHighEstimate !== false),
  ({ departureUtc }) => Date.parse(departureUtc),
];

/**
 * Orders flights by how much they call for somebody. Overdue first, those in the air before those not marked as departed. Then what is
 * outside limits, unknown, below the minima of its destination or short of fluid, if it is in the air or departs within six hours;
 * then the same of later departures; then all others. Inside each by verdict, those within two hours or in the air first, by the destination (below, unknown, above), an alternate
 * below, fluid that does not cover the high estimate, and the sooner departure. Arrived and cancelled last. Never 0 for two flights.
 */
export function worstFirst(a: BoardFlight, b: BoardFlight, nowMs: number): number {
  for (const key of KEYS) {
    const difference = key(a, nowMs) - key(b, nowMs);
    if (difference !== 0) return difference;
  }
  if (a.id === b.id) return 0;
  return a.id < b.id ? -1 : 1;
}

/** What this device has not looked at: the numbers of the changes that were, one list a board. */
import * as z from 'zod/mini';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { isDone } from '../../../worker/schema/board-order.ts';
import { storedText, storeText } from '../device-value.ts';

const seenSchema = z.object({
  /** Everything up to this was looked at. */
  base: z.number(),
  /** By flight, the change that was looked at last. */
  flights: z.record(z.string(), z.number()),
  /** By flight whose verdict had gone when it was looked at: of when the evaluation was that it went from. */
  gone: z._default(z.record(z.string(), z.string()), {}),
});
export type Seen = z.infer<typeof seenSchema>;

export const NOTHING_SEEN: Seen = { base: 0, flights: {}, gone: {} };

const KEY = 'rimeway-board-seen';
const storedSchema = z.record(z.string(), seenSchema);

/** A flight that is new is news where it is bad; who marked a departure is none. */
export function isUnread(flight: BoardFlight, seen: Seen): boolean {
  const { change } = flight;
  if (change === null || change.kind === 'mark') return false;
  if (change.kind === 'first' && !isBad(flight)) return false;
  return change.seq > Math.max(seen.base, seen.flights[flight.id] ?? 0);
}

/** Of the unread ones those to be told first, and those whose verdict went by failure or age: no change of the board tells of these. */
export function wentBad(flight: BoardFlight, seen: Seen): boolean {
  const { change, id } = flight;
  if (isUnread(flight, seen) && (change?.kind === 'worse' || change?.kind === 'first')) return true;
  const goneFrom = goneFromUtc(flight);
  return goneFrom !== undefined && seen.gone[id] !== goneFrom;
}

/** Of when the evaluation is whose verdict is not the one to be shown any more; undefined while it is. */
function goneFromUtc(flight: BoardFlight): string | undefined {
  const { evaluation, verdict } = flight;
  if (evaluation === null || isDone(flight) || verdict === evaluation.verdict) return undefined;
  return evaluation.atUtc;
}

const isBad = ({ verdict }: BoardFlight) => verdict === 'outside-limits' || verdict === 'unknown';

/** @param flight  As it is shown. */
export function withLooked(seen: Seen, flight: BoardFlight): Seen {
  const { id, change } = flight;
  const goneFrom = goneFromUtc(flight);
  const gone =
    goneFrom === undefined || seen.gone[id] === goneFrom ? seen.gone : { ...seen.gone, [id]: goneFrom };
  const isNew = change !== null && change.seq > Math.max(seen.base, seen.flights[id] ?? 0);
  if (!isNew && gone === seen.gone) return seen;
  return { ...seen, gone, flights: isNew ? { ...seen.flights, [id]: change.seq } : seen.flights };
}

/** Whatever the board has had so far. @param flights  As they are shown. */
export function allLooked(boardSeq: number, flights: readonly BoardFlight[]): Seen {
  const gone = flights.flatMap((flight) => {
    const goneFrom = goneFromUtc(flight);
    return goneFrom === undefined ? [] : [[flight.id, goneFrom] as const];
  });
  return { base: boardSeq, flights: {}, gone: Object.fromEntries(gone) };
}

/** Without what holds again: should its verdict go once more, that is news once more. @param flights  As they are shown. */
export function withoutHeld(seen: Seen, flights: ReadonlyMap<string, BoardFlight>): Seen {
  const entries = Object.entries(seen.gone);
  const still = entries.filter(([id, utc]) => {
    const flight = flights.get(id);
    return flight !== undefined && goneFromUtc(flight) === utc;
  });
  return still.length === entries.length ? seen : { ...seen, gone: Object.fromEntries(still) };
}

/** undefined on a device that never looked at this board. */
export function storedSeen(boardId: string): Seen | undefined {
  return all()[boardId];
}

/** Flights that are gone are forgotten. */
export function storeSeen(boardId: string, seen: Seen, flightIds: ReadonlySet<string>): void {
  const flights = Object.fromEntries(
    Object.entries(seen.flights).filter(([id, seq]) => flightIds.has(id) && seq > seen.base),
  );
  storeText(KEY, JSON.stringify({ ...all(), [boardId]: { ...seen, flights } }));
}

function all(): Record<string, Seen> {
  try {
    return storedSchema.safeParse(JSON.parse(storedText(KEY) ?? '{}')).data ?? {};
  } catch {
    return {};
  }
}

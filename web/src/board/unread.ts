/** What this device has not looked at: the numbers of the changes that were, one list a board. */
import * as z from 'zod/mini';
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { storedText, storeText } from '../device-value.ts';

const seenSchema = z.object({
  /** Everything up to this was looked at. */
  base: z.number(),
  /** By flight, the change that was looked at last. */
  flights: z.record(z.string(), z.number()),
});
export type Seen = z.infer<typeof seenSchema>;

const KEY = 'rimeway-board-seen';
const storedSchema = z.record(z.string(), seenSchema);

/** A flight that is new is news where it is bad; who marked a departure is none. */
export function isUnread(flight: BoardFlight, seen: Seen): boolean {
  const { change } = flight;
  if (change === null || change.kind === 'mark') return false;
  if (change.kind === 'first' && !isBad(flight)) return false;
  return change.seq > Math.max(seen.base, seen.flights[flight.id] ?? 0);
}

/** Of the unread ones those to be told first. */
export function wentBad(flight: BoardFlight, seen: Seen): boolean {
  return isUnread(flight, seen) && (flight.change?.kind === 'worse' || flight.change?.kind === 'first');
}

const isBad = ({ verdict }: BoardFlight) => verdict === 'outside-limits' || verdict === 'unknown';

export function withLooked(seen: Seen, { id, change }: BoardFlight): Seen {
  if (change === null || change.seq <= Math.max(seen.base, seen.flights[id] ?? 0)) return seen;
  return { ...seen, flights: { ...seen.flights, [id]: change.seq } };
}

/** Whatever the board has had so far. */
export function allLooked(boardSeq: number): Seen {
  return { base: boardSeq, flights: {} };
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
  storeText(KEY, JSON.stringify({ ...all(), [boardId]: { base: seen.base, flights } }));
}

function all(): Record<string, Seen> {
  try {
    return storedSchema.safeParse(JSON.parse(storedText(KEY) ?? '{}')).data ?? {};
  } catch {
    return {};
  }
}

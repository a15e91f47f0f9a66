/** The flights of a board as lines between two stations: several on one pair are one line, drawn as the gravest of them. */
import type { BoardFlight } from '../../../../worker/schema/board.ts';
import { isDone, verdictGravity } from '../../../../worker/schema/board-order.ts';
import type { VerdictCode } from '../../contract.ts';

export type LonLat = readonly [number, number];

/** One line of the plan. */
export interface PairLine {
  /** "KBGR KBTV": the two identifiers in the order of the alphabet. */
  readonly key: string;
  readonly from: string;
  readonly to: string;
  /** The gravest of its flights, also of those that have no route of their own yet. */
  readonly verdict: VerdictCode;
  /** Gravest first, then by departure. */
  readonly flights: readonly BoardFlight[];
  /** Of the first of its flights that has one, from `from` to `to`. */
  readonly line: readonly LonLat[];
  /** All of them fly from `from` to `to`. */
  readonly isOneWay: boolean;
}

export interface NetworkLines {
  /** Gravest first. */
  readonly pairs: readonly PairLine[];
  /** Without a route worked out on their pair: nothing can be drawn of them. */
  readonly undrawn: readonly BoardFlight[];
  /** Arrived or cancelled: not ahead of anybody. */
  readonly past: number;
}

/** Gravest first, then by departure. */
function byGravity(a: BoardFlight, b: BoardFlight): number {
  return verdictGravity(b.verdict) - verdictGravity(a.verdict) || (a.departureUtc < b.departureUtc ? -1 : 1);
}

export function networkLines(flights: readonly BoardFlight[]): NetworkLines {
  const ahead = flights.filter((flight) => !isDone(flight));
  const groups = new Map<string, BoardFlight[]>();
  for (const flight of ahead) {
    const key = pairKey(flight);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [flight]);
    else group.push(flight);
  }
  const pairs: PairLine[] = [];
  const undrawn: BoardFlight[] = [];
  for (const [key, group] of groups) {
    const pair = pairOf(key, group);
    if (pair === undefined) undrawn.push(...group);
    else pairs.push(pair);
  }
  pairs.sort((a, b) => verdictGravity(b.verdict) - verdictGravity(a.verdict));
  return { pairs, undrawn: undrawn.sort(byGravity), past: flights.length - ahead.length };
}

function pairKey({ from, to }: BoardFlight): string {
  return from < to ? `${from} ${to}` : `${to} ${from}`;
}

function pairOf(key: string, group: readonly BoardFlight[]): PairLine | undefined {
  const flights = [...group].sort(byGravity);
  const drawn = flights.find(({ evaluation }) => (evaluation?.line.length ?? 0) >= 2);
  const first = flights[0];
  if (drawn?.evaluation == null || first === undefined) return undefined;
  return {
    key,
    from: drawn.from,
    to: drawn.to,
    verdict: first.verdict,
    flights,
    line: drawn.evaluation.line,
    isOneWay: flights.every(({ from }) => from === drawn.from),
  };
}

/** Which flight a touch of a line chooses: the gravest, and with every further touch the next one of it. */
export function flightToSelect({ flights }: PairLine, selectedId: string | undefined): string {
  const at = flights.findIndex(({ id }) => id === selectedId);
  return (flights[(at + 1) % flights.length] ?? flights[0]!).id;
}

/**
 * What the page holds of a board, and how news is taken in: the same delta twice, or two in the wrong order, come to the same. A row
 * that is older than the one at hand never takes its place.
 */
import type {
  BoardAccess,
  BoardAnswer,
  BoardDelta,
  BoardFlight,
  BoardHead,
  TailState,
} from '../../../worker/schema/board.ts';

interface HeldFlight {
  readonly flight: BoardFlight;
  /** When the service gave it: the verdict of the same row may have gone by age alone. */
  readonly asOfMs: number;
}

export interface BoardState {
  readonly board: BoardHead;
  readonly access: BoardAccess;
  /** Of the newest answer. */
  readonly asOfMs: number;
  /** Everything up to this was taken in. */
  readonly seq: number;
  readonly flights: ReadonlyMap<string, HeldFlight>;
  /** Flights that are no more, with the number up to which that is known. */
  readonly gone: ReadonlyMap<string, number>;
  readonly tails: ReadonlyMap<string, TailState>;
  readonly waiting: number;
  readonly cautions: readonly string[];
}

/** @param before  What was at hand: of it stays what is newer than the answer. */
export function stateFromAnswer(answer: BoardAnswer, before?: BoardState): BoardState {
  const asOfMs = Date.parse(answer.asOfUtc);
  const flights = new Map<string, HeldFlight>();
  for (const flight of answer.flights) flights.set(flight.id, { flight, asOfMs });
  const gone = new Map<string, number>();
  for (const [id, seq] of before?.gone ?? [])
    if (seq > answer.seq) {
      gone.set(id, seq);
      flights.delete(id);
    }
  for (const [id, held] of before?.flights ?? []) if (held.flight.seq > answer.seq) flights.set(id, held);
  return {
    board: answer.board,
    access: answer.access,
    asOfMs,
    seq: answer.seq,
    flights,
    gone,
    tails: new Map(answer.tails.map((tail) => [tail.tail, tail])),
    waiting: answer.waiting,
    cautions: answer.cautions,
  };
}

/** A delta that begins after what is at hand is taken in, but leaves the number: what lies between is still to be asked for. */
export function withDelta(state: BoardState, delta: BoardDelta): BoardState {
  if (delta.isTooOld) return state;
  const asOfMs = Date.parse(delta.asOfUtc);
  const flights = new Map(state.flights);
  const gone = new Map(state.gone);
  for (const id of delta.removed) {
    const held = flights.get(id);
    if (held !== undefined && held.flight.seq > delta.seq) continue;
    flights.delete(id);
    gone.set(id, Math.max(delta.seq, gone.get(id) ?? 0));
  }
  for (const flight of delta.flights) {
    if (flight.seq <= (gone.get(flight.id) ?? 0)) continue;
    if (isNewer(flight, asOfMs, flights.get(flight.id))) flights.set(flight.id, { flight, asOfMs });
  }
  const isNewest = asOfMs >= state.asOfMs;
  return {
    ...state,
    flights,
    gone,
    tails: withTails(state.tails, delta.tails),
    asOfMs: isNewest ? asOfMs : state.asOfMs,
    waiting: isNewest ? delta.waiting : state.waiting,
    seq: delta.sinceSeq <= state.seq ? Math.max(state.seq, delta.seq) : state.seq,
  };
}

/** One row that a call of our own answered. */
export function withFlight(state: BoardState, flight: BoardFlight): BoardState {
  if (!isNewer(flight, state.asOfMs, state.flights.get(flight.id))) return state;
  return { ...state, flights: new Map(state.flights).set(flight.id, { flight, asOfMs: state.asOfMs }) };
}

function isNewer(flight: BoardFlight, asOfMs: number, held: HeldFlight | undefined): boolean {
  if (held === undefined) return true;
  if (flight.seq !== held.flight.seq) return flight.seq > held.flight.seq;
  return asOfMs >= held.asOfMs;
}

function withTails(
  tails: ReadonlyMap<string, TailState>,
  news: readonly TailState[],
): ReadonlyMap<string, TailState> {
  if (news.length === 0) return tails;
  const result = new Map(tails);
  for (const tail of news) {
    const held = result.get(tail.tail);
    if (held === undefined || Date.parse(tail.enteredUtc) >= Date.parse(held.enteredUtc))
      result.set(tail.tail, tail);
  }
  return result;
}

/** The board as an answer again, for what keeps it and for the parts that take one. */
export function answerFromState(
  state: BoardState,
  flights: readonly BoardFlight[],
  nowMs: number,
): BoardAnswer {
  return {
    board: state.board,
    access: state.access,
    asOfUtc: new Date(nowMs).toISOString(),
    seq: state.seq,
    flights: [...flights],
    tails: [...state.tails.values()],
    waiting: state.waiting,
    cautions: [...state.cautions],
  };
}

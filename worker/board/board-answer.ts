/** A board as it is answered: each flight with the verdict that it carries now. */
import { CAUTIONS } from '../brief/method.ts';
import type {
  BoardAccess,
  BoardAnswer,
  BoardDelta,
  BoardFlight,
  BoardHead,
  TailState,
} from '../schema/board.ts';
import { overdueAtMs } from '../schema/board-order.ts';
import {
  type Board,
  type BoardRepository,
  boardNowMs,
  type StoredFlight,
  type StoredTail,
} from '../sources/boards.ts';
import { sinceShared } from './changes.ts';
import { endsOfRoute } from './flight-request.ts';
import { carriedVerdict, holdsUntilMs, type StandingParts } from './standing.ts';
import { AGES, SHOWN } from './watch.ts';

/** Of one delta; who missed more asks for the whole board. */
const MOST_CHANGED = 500;

const TAKEN_AS_CLEAN = 'Every departure is taken as clean: ice left from the leg before is not carried over.';

const utc = (instantMs: number) => new Date(instantMs).toISOString();

export function headOf({ id, name, timeZone, standsMs }: Board): BoardHead {
  return { id, name, timeZone, standsAtUtc: standsMs === undefined ? null : utc(standsMs) };
}

export interface AnswerTime {
  /** The service's clock. */
  readonly nowMs: number;
  /** Departures to be shown; by default those of the schedule's window. */
  readonly fromMs?: number;
  readonly toMs?: number;
}

export async function boardAnswer(
  boards: BoardRepository,
  board: Board,
  access: BoardAccess,
  time: AnswerTime,
): Promise<BoardAnswer> {
  const nowMs = boardNowMs(board, time.nowMs);
  const fromMs = time.fromMs ?? nowMs - SHOWN.backMs;
  const [flights, tails, waiting] = await Promise.all([
    boards.flights(board.id, fromMs, time.toMs ?? nowMs + SHOWN.aheadMs),
    boards.tails(board.id),
    boards.waiting(board.id, fromMs),
  ]);
  const toFlight = flightAnswers(board, tails, nowMs);
  return {
    board: headOf(board),
    access,
    asOfUtc: utc(nowMs),
    seq: board.seq,
    flights: flights.map(toFlight),
    tails: tails.map(tailAnswer),
    waiting,
    cautions: [...CAUTIONS, TAKEN_AS_CLEAN],
  };
}

/** What is another since a number. */
export async function boardDelta(
  boards: BoardRepository,
  board: Board,
  sinceSeq: number,
  time: AnswerTime,
): Promise<BoardDelta> {
  const nowMs = boardNowMs(board, time.nowMs);
  const [changed, tails, waiting] = await Promise.all([
    boards.changedSince(board.id, sinceSeq, MOST_CHANGED + 1),
    boards.tails(board.id),
    boards.waiting(board.id, nowMs - SHOWN.backMs),
  ]);
  // A number from before a restore was never given here.
  const isTooOld = changed.flights.length > MOST_CHANGED || sinceSeq > board.seq;
  return {
    sinceSeq,
    seq: board.seq,
    asOfUtc: utc(nowMs),
    ...rowsOf(isTooOld ? { ...changed, flights: [] } : changed, flightAnswers(board, tails, nowMs)),
    waiting,
    isTooOld,
  };
}

/** What changed, as viewers are told it. */
export function rowsOf(
  { flights, tails }: { readonly flights: readonly StoredFlight[]; readonly tails: readonly StoredTail[] },
  toFlight: (stored: StoredFlight) => BoardFlight,
): Pick<BoardDelta, 'flights' | 'removed' | 'tails'> {
  return {
    flights: flights.filter(({ isRemoved }) => !isRemoved).map(toFlight),
    removed: flights.filter(({ isRemoved }) => isRemoved).map(({ id }) => id),
    tails: tails.map(tailAnswer),
  };
}

/** @param nowMs  The board's clock. */
export function flightAnswers(
  { standsMs }: Pick<Board, 'standsMs'>,
  tails: readonly StoredTail[],
  nowMs: number,
): (flight: StoredFlight) => BoardFlight {
  const byTail = new Map(tails.map((tail) => [tail.tail, tail]));
  // A board that stands knows no age.
  const ages = standsMs === undefined ? AGES : [];
  return (flight) => {
    const tail = flight.leg.tail === null ? undefined : byTail.get(flight.leg.tail);
    const entered = { tailEnteredMs: tail?.enteredMs };
    return flightAnswer(flight, [...(tail?.inoperative ?? [])], { nowMs, ages, ...entered });
  };
}

function flightAnswer(
  flight: StoredFlight,
  inoperative: BoardFlight['inoperative'],
  time: Pick<StandingParts, 'nowMs' | 'ages' | 'tailEnteredMs'>,
): BoardFlight {
  const { leg, departureMs, shared, evaluation } = flight;
  const hasArrived = flight.arrived !== undefined;
  const parts = { ...flight, ...time, hasArrived };
  const { verdict, why } = carriedVerdict(parts);
  const holdsMs = why === evaluation?.sentence ? holdsUntilMs(parts) : undefined;
  const marks = { departed: markOf(flight.departed), arrived: markOf(flight.arrived) };
  const departureUtc = utc(departureMs);
  const overdueMs = overdueAtMs(
    {
      departureMs,
      departedMs: flight.departed?.atMs,
      isDone: hasArrived || flight.cancelled !== undefined,
      timeMinutes: evaluation?.exposure?.timeMinutes,
    },
    leg.plannedMinutes,
  );
  const { acknowledged, failure } = flight;
  return {
    ...{ id: flight.id, legId: flight.legId, seq: flight.seq, label: leg.label, tail: leg.tail },
    ...endsOfRoute(leg.route),
    ...{ routeText: leg.route, departureUtc, verdict, why },
    holdsUntilUtc: holdsMs === undefined ? null : utc(holdsMs),
    evaluation: evaluation ?? null,
    failure: failure === undefined ? null : { atUtc: utc(failure.atMs), sentence: failure.sentence },
    inoperative,
    change: flight.change ?? null,
    acknowledged:
      acknowledged === undefined
        ? null
        : { seq: acknowledged.seq, by: acknowledged.by, atUtc: utc(acknowledged.atMs) },
    shared:
      shared === undefined
        ? null
        : { id: shared.id, atUtc: utc(shared.atMs), since: sinceShared(shared, evaluation ?? null, verdict) },
    ...marks,
    overdueAtUtc: overdueMs === null ? null : utc(overdueMs),
    cancelled: flight.cancelled !== undefined,
  };
}

const markOf = (mark: StoredFlight['departed']) =>
  mark === undefined ? null : { atUtc: utc(mark.atMs), by: mark.by };

export function tailAnswer(stored: StoredTail): TailState {
  const { enteredMs, fluidEnteredMs, fluidOnBoardL, ...tail } = stored;
  return {
    ...tail,
    inoperative: [...tail.inoperative],
    fluidOnBoardL: fluidOnBoardL ?? null,
    fluidEnteredUtc: fluidEnteredMs === undefined ? null : utc(fluidEnteredMs),
    enteredUtc: utc(enteredMs),
  };
}

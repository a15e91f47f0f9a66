/** Rows of boards and what they stand for. What does not read back never looks better than it is. */
import { type Change, ICE_EQUIPMENT, type ScheduleLeg, WEEKDAYS } from '../schema/board.ts';
import type { Board, StoredFlight, StoredTail } from '../sources/boards.ts';
import {
  readAcknowledged,
  readChange,
  readEvaluation,
  readFailure,
  readInoperative,
  readLeg,
  readMark,
  readShared,
} from './board-json.ts';

export interface BoardRow {
  id: string;
  operator: string;
  name: string;
  time_zone: string;
  stands_ms: number | null;
  created_ms: number;
  seq: number;
  published_seq: number;
}

/** Of a flight's row, what a StoredFlight is made of. */
export interface FlightRow {
  board_id: string;
  flight_id: string;
  leg_id: string;
  leg: string;
  tail: string | null;
  departure_ms: number;
  seq: number;
  is_removed: number;
  evaluated_ms: number;
  evaluation: string | null;
  failure: string | null;
  change: string | null;
  acknowledged: string | null;
  shared: string | null;
  departed: string | null;
  arrived: string | null;
  cancelled: string | null;
}

export interface TailRow {
  tail: string;
  fluid_l: number | null;
  fluid_entered_ms: number | null;
  inoperative: string;
  note: string;
  entered_ms: number;
  entered_by: string;
}

/** Columns of a FlightRow: the others are the store's own. */
export const FLIGHT_COLUMNS = `board_id, flight_id, leg_id, leg, tail, departure_ms, seq, is_removed, evaluated_ms, evaluation, failure,
  change, acknowledged, shared, departed, arrived, cancelled`;

export const UNREADABLE_EVALUATION = 'What was worked out could not be read';
export const UNREADABLE_LEG = 'The leg could not be read';
const UNREADABLE_FAILURE = 'The last attempt failed; why could not be read';
const UNREADABLE_CHANGE = 'What changed could not be read';
const UNREADABLE_TAIL = 'What is inoperative could not be read: all of it is taken to be.';

export function toBoard(row: BoardRow): Board {
  return {
    id: row.id,
    operator: row.operator,
    name: row.name,
    timeZone: row.time_zone,
    standsMs: row.stands_ms ?? undefined,
    createdMs: row.created_ms,
    seq: row.seq,
    publishedSeq: row.published_seq,
  };
}

export function toFlight(row: FlightRow): StoredFlight {
  const leg = readLeg(row.leg);
  const evaluation = leg === undefined ? undefined : readEvaluation(row.evaluation);
  return {
    boardId: row.board_id,
    id: row.flight_id,
    legId: row.leg_id,
    leg: leg ?? unreadLeg(row.tail),
    departureMs: row.departure_ms,
    seq: row.seq,
    isRemoved: row.is_removed !== 0,
    evaluation,
    failure: failureOf(row, leg !== undefined, evaluation !== undefined),
    change: changeOf(row),
    acknowledged: readAcknowledged(row.acknowledged),
    shared: readShared(row.shared),
    departed: readMark(row.departed),
    arrived: readMark(row.arrived),
    cancelled: readMark(row.cancelled),
  };
}

function failureOf(row: FlightRow, isLegRead: boolean, isEvaluationRead: boolean): StoredFlight['failure'] {
  const atMs = row.evaluated_ms;
  if (!isLegRead) return { atMs, sentence: UNREADABLE_LEG };
  if (row.failure !== null) return readFailure(row.failure) ?? { atMs, sentence: UNREADABLE_FAILURE };
  if (row.evaluation !== null && !isEvaluationRead) return { atMs, sentence: UNREADABLE_EVALUATION };
  return undefined;
}

/** A change that does not read is still one that somebody has to see: it stands until the next takes its place. */
function changeOf(row: FlightRow): Change | undefined {
  if (row.change === null) return undefined;
  const atUtc = new Date(row.evaluated_ms).toISOString();
  return (
    readChange(row.change) ?? { seq: row.seq, atUtc, kind: 'other' as const, sentence: UNREADABLE_CHANGE }
  );
}

/** Keeps the flight on the board, as one of which nothing is known. */
function unreadLeg(tail: string | null): ScheduleLeg {
  return {
    ...{ label: '?', tail, route: '? ?', weekdays: [...WEEKDAYS], departureLocal: '00:00', aircraft: '?' },
    ...{ timeZone: null, fromDate: null, untilDate: null, plannedMinutes: null, alternate: null },
    ...{ destinationMinima: null, alternateMinima: null },
  };
}

export function toTail(row: TailRow): StoredTail {
  const inoperative = readInoperative(row.inoperative);
  return {
    tail: row.tail,
    fluidOnBoardL: row.fluid_l ?? undefined,
    inoperative: inoperative ?? [...ICE_EQUIPMENT],
    note: inoperative === undefined ? `${UNREADABLE_TAIL} ${row.note}`.trim() : row.note,
    fluidEnteredMs: row.fluid_entered_ms ?? undefined,
    enteredMs: row.entered_ms,
    by: row.entered_by,
  };
}

/** "KBTV-KBGR 123": from, to and flight number. */
export function flightName({ route, label }: Pick<ScheduleLeg, 'route' | 'label'>): string {
  const places = route.trim().split(/\s+/);
  return `${places[0]}-${places.at(-1)} ${label}`;
}

/** Flights of a board and what dispatchers enter of them, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { AppBug, InvalidRequestError } from '../errors.ts';
import type { BoardFlights } from '../sources/boards.ts';
import { createBoardAgreement } from './board-agree.ts';
import { createBoardDue } from './board-due.ts';
import { DUE } from './board-due-query.ts';
import { inOneChange, NEXT_NUMBER } from './board-number.ts';
import { FLIGHT_COLUMNS, type FlightRow, type TailRow, toFlight, toTail } from './board-rows.ts';

/** Flights of an aeroplane that left longer ago, marked or not, are not worked out again for what it carries now. */
const RECENT_MS = 48 * 3_600_000;

type ReadSide = Pick<BoardFlights, 'flights' | 'flight' | 'flightsOfTail' | 'changedSince' | 'tails'>;
type EnteredSide = Pick<BoardFlights, 'putTail' | 'mark' | 'setShared' | 'forgetFlights'>;

export function createBoardFlights(db: D1Database): BoardFlights {
  return { ...forReaders(db), ...forDispatchers(db), ...createBoardAgreement(db), ...createBoardDue(db) };
}

/** Flights of one answer: 2,000 legs over two days; many more fit into no isolate. */
const MOST_READ = 4000;

function tooLong(): InvalidRequestError {
  return new InvalidRequestError({
    field: 'toUtc',
    found: `more than ${MOST_READ} flights`,
    expected: `at most ${MOST_READ}: a shorter window`,
  });
}

/**
 * Greater than ?2 and no greater than the number of the row at which ?3 rows are reached: all rows of a number come together, so
 * that a reader who goes on after the last number misses none. Fewer than ?3 flights are therefore all there are.
 */
const CHANGED = `board_id = ?1 AND seq > ?2 AND seq <= COALESCE(
  (SELECT seq FROM board_flights WHERE board_id = ?1 AND seq > ?2 ORDER BY seq LIMIT 1 OFFSET ?3), ${Number.MAX_SAFE_INTEGER})`;

function forReaders(db: D1Database): ReadSide {
  return {
    async flights(boardId, fromMs, toMs) {
      const { results } = await db
        .prepare(
          `SELECT ${FLIGHT_COLUMNS} FROM board_flights
           WHERE board_id = ?1 AND departure_ms BETWEEN ?2 AND ?3 AND is_removed = 0
           ORDER BY departure_ms, flight_id LIMIT ${MOST_READ + 1}`,
        )
        .bind(boardId, fromMs, toMs)
        .all<FlightRow>();
      if (results.length > MOST_READ) throw tooLong();
      return results.map(toFlight);
    },

    async flight(boardId, flightId) {
      const row = await db
        .prepare(`SELECT ${FLIGHT_COLUMNS} FROM board_flights WHERE board_id = ?1 AND flight_id = ?2`)
        .bind(boardId, flightId)
        .first<FlightRow>();
      return row === null ? undefined : toFlight(row);
    },

    async flightsOfTail(boardId, tail, fromMs, toMs) {
      const { results } = await db
        .prepare(
          `SELECT ${FLIGHT_COLUMNS} FROM board_flights
           WHERE board_id = ?1 AND tail = ?2 AND departure_ms BETWEEN ?3 AND ?4 AND is_removed = 0
           ORDER BY departure_ms, flight_id`,
        )
        .bind(boardId, tail, fromMs, toMs)
        .all<FlightRow>();
      return results.map(toFlight);
    },

    /** Read the board's own number before, never after: what changes in between then only comes twice. */
    async changedSince(boardId, seq, limit) {
      const bindings = [boardId, seq, Math.max(limit, 1) - 1] as const;
      const [flights, tails] = await db.batch([
        db
          .prepare(`SELECT ${FLIGHT_COLUMNS} FROM board_flights WHERE ${CHANGED} ORDER BY seq, flight_id`)
          .bind(...bindings),
        db.prepare(`SELECT * FROM board_tails WHERE ${CHANGED} ORDER BY seq, tail`).bind(...bindings),
      ]);
      return {
        flights: (flights!.results as FlightRow[]).map(toFlight),
        tails: (tails!.results as TailRow[]).map(toTail),
      };
    },

    async tails(boardId) {
      const { results } = await db
        .prepare('SELECT * FROM board_tails WHERE board_id = ?1 ORDER BY tail')
        .bind(boardId)
        .all<TailRow>();
      return results.map(toTail);
    },
  };
}

/** Without ?4 the fluid stays as it was entered, and when. */
const PUT_TAIL = `INSERT INTO board_tails
    (board_id, tail, fluid_l, fluid_entered_ms, inoperative, note, entered_ms, entered_by, seq)
  SELECT id, ?2, ?3, CASE WHEN ?3 IS NULL THEN NULL ELSE ?9 END, ?5, ?6, ?7, ?8, seq + 1 FROM boards WHERE id = ?1
  ON CONFLICT DO UPDATE SET
    fluid_l = CASE WHEN ?4 THEN excluded.fluid_l ELSE board_tails.fluid_l END,
    fluid_entered_ms = CASE WHEN ?4 THEN excluded.fluid_entered_ms ELSE board_tails.fluid_entered_ms END,
    inoperative = excluded.inoperative, note = excluded.note,
    entered_ms = excluded.entered_ms, entered_by = excluded.entered_by, seq = excluded.seq`;

const FLIGHTS_OF_TAIL_ARE_DUE = `UPDATE board_flights SET is_due = ${DUE.marked}, seq = ${NEXT_NUMBER}
  WHERE board_id = ?1 AND departure_ms >= ?3 - ${RECENT_MS}
    AND tail = ?2 AND is_removed = 0 AND arrived IS NULL AND cancelled IS NULL`;

/** What a flight takes of the tank, and when, bears on those after it. */
const LATER_OF_TAIL_ARE_DUE = `UPDATE board_flights SET is_due = ${DUE.marked}
  WHERE board_id = ?1 AND is_removed = 0 AND arrived IS NULL AND cancelled IS NULL
    AND (tail, departure_ms) IN (SELECT b.tail, b.departure_ms FROM board_flights a JOIN board_flights b
      ON b.board_id = a.board_id AND b.tail = a.tail AND b.departure_ms >= a.departure_ms
      WHERE a.board_id = ?1 AND a.flight_id = ?2)`;

function forDispatchers(db: D1Database): EnteredSide {
  const one = `board_id = ?1 AND flight_id = ?2 AND is_removed = 0`;
  return {
    async putTail(boardId, tail, { fluidOnBoardL, inoperative, note, by }, { nowMs, boardMs }) {
      const isFluidSaid = fluidOnBoardL !== undefined;
      const results = await inOneChange<TailRow>(db, boardId, [
        db
          .prepare(PUT_TAIL)
          .bind(
            ...[boardId, tail, fluidOnBoardL ?? null, Number(isFluidSaid)],
            ...[JSON.stringify(inoperative), note, nowMs, by, boardMs],
          ),
        db.prepare(FLIGHTS_OF_TAIL_ARE_DUE).bind(boardId, tail, boardMs),
        db.prepare('SELECT * FROM board_tails WHERE board_id = ?1 AND tail = ?2').bind(boardId, tail),
      ]);
      const row = results[2]?.results[0];
      if (row === undefined) throw new AppBug(`tail ${tail}: found no row after it was put, expected one`);
      return toTail(row);
    },

    async mark(boardId, flightId, { mark, atUtc, by }) {
      const made = atUtc === null ? null : JSON.stringify({ atMs: Date.parse(atUtc), by });
      const [, found] = await inOneChange<FlightRow>(db, boardId, [
        db
          .prepare(
            `UPDATE board_flights SET ${COLUMN_OF_MARK[mark]} = ?3, seq = ${NEXT_NUMBER}
             WHERE ${one} AND ${COLUMN_OF_MARK[mark]} IS NOT ?3`,
          )
          .bind(boardId, flightId, made),
        db.prepare(`SELECT ${FLIGHT_COLUMNS} FROM board_flights WHERE ${one}`).bind(boardId, flightId),
        db.prepare(LATER_OF_TAIL_ARE_DUE).bind(boardId, flightId),
        db
          .prepare(`UPDATE board_flights SET is_due = ${DUE.marked} WHERE ${one} AND arrived IS NULL`)
          .bind(boardId, flightId),
      ]);
      const row = found!.results[0];
      return row === undefined ? undefined : toFlight(row);
    },

    async setShared(boardId, flightId, shared) {
      await inOneChange(db, boardId, [
        db
          .prepare(`UPDATE board_flights SET shared = ?3, seq = ${NEXT_NUMBER} WHERE ${one}`)
          .bind(boardId, flightId, JSON.stringify(shared)),
      ]);
    },

    /** A board that stands at an instant keeps its own: no time passes there. */
    async forgetFlights(departedBeforeMs) {
      const { meta } = await db
        .prepare(
          `DELETE FROM board_flights
           WHERE board_id IN (SELECT id FROM boards WHERE stands_ms IS NULL) AND departure_ms < ?1`,
        )
        .bind(departedBeforeMs)
        .run();
      return meta.changes;
    },
  };
}

/** The only words of a call that become a column. */
const COLUMN_OF_MARK = { departed: 'departed', arrived: 'arrived', cancelled: 'cancelled' } as const;

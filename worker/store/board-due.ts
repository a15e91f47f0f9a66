/** Which flights are to be worked out, who works at one, and what came of it. */
import type { D1Database } from '@cloudflare/workers-types';
import type { BoardFlights, DueFlight, FlightClaim, FlightOutcome } from '../sources/boards.ts';
import { DUE, TAKE_DUE } from './board-due-query.ts';
import { readLeg } from './board-json.ts';
import { inOneChange, NEXT_NUMBER } from './board-number.ts';
import { type BoardRow, FLIGHT_COLUMNS, type FlightRow, toBoard, toFlight } from './board-rows.ts';

const NOTHING_CAME = 'Working it out came to nothing';

const IS_WANTED = 'is_removed = 0 AND cancelled IS NULL AND arrived IS NULL';

const CLAIM = `UPDATE board_flights SET token = ?3, lease_ms = ?4 + ?5, is_due = ${DUE.inWork}, asked_ms = 0
  WHERE board_id = ?1 AND flight_id = ?2 AND ${IS_WANTED} AND is_due <> ${DUE.not}
    AND NOT (token <> '' AND lease_ms > ?4 AND lease_ms <= ?4 + ?5)
  RETURNING ${FLIGHT_COLUMNS}`;

/** Nobody was told that it got worse: another change on top of it is still worse. */
const IS_UNTOLD_WORSE = `json_extract(?7, '$.kind') = 'other' AND json_extract(change, '$.kind') = 'worse'
  AND json_extract(change, '$.seq') > (SELECT published_seq FROM boards WHERE id = ?1)`;

const REACH_COLUMNS = ['south_deg', 'north_deg', 'west_deg', 'east_deg', 'reach_from_ms', 'reach_to_ms'];
const SETTLE = `UPDATE board_flights SET token = '', lease_ms = 0, seq = ${NEXT_NUMBER}, evaluated_ms = ?4,
    is_due = CASE is_due WHEN ${DUE.marked} THEN ${DUE.marked} ELSE ${DUE.not} END,
    asked_ms = CASE is_due WHEN ${DUE.marked} THEN 0 ELSE asked_ms END,
    evaluation = COALESCE(?5, evaluation), failure = ?6,
    change = CASE WHEN ?7 IS NULL THEN change WHEN ${IS_UNTOLD_WORSE}
      THEN json_set(?7, '$.seq', ${NEXT_NUMBER}, '$.kind', 'worse') ELSE json_set(?7, '$.seq', ${NEXT_NUMBER}) END,
    ${REACH_COLUMNS.map((column, at) => `${column} = COALESCE(?${8 + at}, ${column})`).join(', ')}
  WHERE board_id = ?1 AND flight_id = ?2 AND token = ?3 AND is_removed = 0 RETURNING flight_id`;

/** Flights so near are worked out every quarter of an hour; after three times that they stand as unknown. */
const SOON_MS = 2 * 3_600_000;
const BEHIND_MS = 45 * 60_000;
/** A new flight is worked out within minutes. */
const ASKED_LONG_MS = 5 * 60_000;

type DueSide = Pick<BoardFlights, 'takeDue' | 'ask' | 'claim' | 'settle' | 'behind' | 'waiting'>;

export function createBoardDue(db: D1Database): DueSide {
  return {
    async takeDue({ nowMs, leaseMs, ages, openOperators, limit, boardId }) {
      const rules = ages.map(({ withinMs, mostMs }) => [bounded(withinMs), bounded(mostMs)]);
      const { results } = await db
        .prepare(TAKE_DUE)
        .bind(nowMs, leaseMs, JSON.stringify(rules), JSON.stringify(openOperators), limit, boardId ?? null)
        .all<{ board_id: string; flight_id: string; wait: number }>();
      // Rows come back in no order of their own.
      return results
        .sort((a, b) => Number(a.wait < 0) - Number(b.wait < 0) || Math.abs(a.wait) - Math.abs(b.wait))
        .map((row) => ({ boardId: row.board_id, flightId: row.flight_id }));
    },

    async ask({ boardId, flightId }, nowMs) {
      const row = await db
        .prepare(
          `UPDATE board_flights SET is_due = ${DUE.marked}, asked_ms = ?3
           WHERE board_id = ?1 AND flight_id = ?2 AND ${IS_WANTED} RETURNING flight_id`,
        )
        .bind(boardId, flightId, nowMs)
        .first();
      return row !== null;
    },

    claim: (due, times) => claim(db, due, times),
    settle: (held, outcome) => settle(db, held, outcome),

    async behind(nowMs) {
      const row = await db
        .prepare(
          `SELECT COUNT(*) AS count FROM boards b CROSS JOIN board_flights f
           WHERE f.board_id = b.id AND b.stands_ms IS NULL AND f.departure_ms BETWEEN ?1 - ${SOON_MS} AND ?1 + ${SOON_MS}
             AND f.is_removed = 0 AND f.cancelled IS NULL AND f.arrived IS NULL AND (f.is_due <> ${DUE.not} OR f.failure IS NOT NULL)
             AND f.evaluated_ms < ?1 - ${BEHIND_MS} AND (f.evaluated_ms > 0 OR f.asked_ms BETWEEN 1 AND ?1 - ${ASKED_LONG_MS})`,
        )
        .bind(nowMs)
        .first<{ count: number }>();
      return row?.count ?? 0;
    },

    async waiting(boardId, fromMs) {
      const row = await db
        .prepare(
          `SELECT COUNT(*) AS count FROM board_flights
           WHERE board_id = ?1 AND departure_ms >= ?2 AND ${IS_WANTED} AND is_due <> ${DUE.not}`,
        )
        .bind(boardId, fromMs)
        .first<{ count: number }>();
      return row?.count ?? 0;
    },
  };
}

/** JSON has no infinity. */
const bounded = (ms: number) => Math.min(ms, Number.MAX_SAFE_INTEGER);

async function claim(
  db: D1Database,
  { boardId, flightId }: DueFlight,
  { leaseMs, nowMs }: { readonly leaseMs: number; readonly nowMs: number },
): Promise<FlightClaim | undefined> {
  const token = crypto.randomUUID();
  const [flights, boards] = await db.batch([
    // One statement decides: of two consumers at once only one changes the row.
    db.prepare(CLAIM).bind(boardId, flightId, token, nowMs, leaseMs),
    db.prepare('SELECT * FROM boards WHERE id = ?1').bind(boardId),
  ]);
  const flight = flights!.results[0] as FlightRow | undefined;
  const board = boards!.results[0] as BoardRow | undefined;
  // A leg that does not read cannot be flown; it stays due, and unknown.
  if (flight === undefined || board === undefined || readLeg(flight.leg) === undefined) return undefined;
  return { board: toBoard(board), flight: toFlight(flight), token };
}

async function settle(
  db: D1Database,
  { board, flight, token }: FlightClaim,
  { startedMs, evaluation, reach, failure, change }: FlightOutcome,
): Promise<boolean> {
  // Without a word of either kind an older evaluation would pass for the outcome of this attempt.
  const sentence = failure ?? (evaluation === undefined ? NOTHING_CAME : undefined);
  const edges = [
    reach?.southDeg,
    reach?.northDeg,
    reach?.westDeg,
    reach?.eastDeg,
    reach?.fromMs,
    reach?.toMs,
  ];
  const [settled] = await inOneChange(db, board.id, [
    db
      .prepare(SETTLE)
      .bind(
        ...[board.id, flight.id, token, startedMs, jsonOrNull(evaluation)],
        jsonOrNull(sentence === undefined ? undefined : { atMs: startedMs, sentence }),
        jsonOrNull(change),
        ...edges.map((edge) => edge ?? null),
      ),
  ]);
  return settled!.results.length > 0;
}

const jsonOrNull = (value: unknown) => (value === undefined ? null : JSON.stringify(value));

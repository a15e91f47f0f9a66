/** Who acknowledged what on a board, and every write to it: added, deleted when a person asks or time is up, never changed. */
import type { D1Database } from '@cloudflare/workers-types';
import type { AuditEntry, BoardRecords, LogEntry } from '../sources/boards.ts';
import { readLeg } from './board-json.ts';
import { inOneChange, NEXT_NUMBER } from './board-number.ts';
import { forgetPerson } from './board-people.ts';
import { flightName } from './board-rows.ts';

interface LogRow {
  board_id: string;
  flight_id: string;
  flight_name: string;
  seq: number;
  sentence: string;
  person: string;
  at_ms: number;
}

interface AuditRow {
  board_id: string;
  at_ms: number;
  principal: string;
  action: string;
  target: string;
  status: number;
}

/** null of a text that is no JSON: asked for a member of it, the statement would fail. */
const memberOf = (column: string, member: string) =>
  `CASE WHEN json_valid(${column}) THEN json_extract(${column}, '$.${member}') END`;
const CHANGE_SEQ = memberOf('change', 'seq');
const CHANGE_SENTENCE = memberOf('change', 'sentence');

/** ?1 board, ?2 flight, ?3 number that was seen, ?4 person, ?5 when. Numbers are bound as reals, which would be written so. */
const IS_SEEN = `board_id = ?1 AND flight_id = ?2 AND is_removed = 0 AND ${CHANGE_SEQ} >= ?3`;

/** Of an older number the sentence is gone: the newer one is not put into the mouth of who did not see it. */
const WRITE_LOG = `INSERT INTO board_log (board_id, flight_id, flight_name, seq, sentence, person, at_ms)
  SELECT board_id, flight_id, ?6, ?3,
    CASE WHEN ${CHANGE_SEQ} = ?3 THEN ${CHANGE_SENTENCE} ELSE 'Number ' || CAST(?3 AS INTEGER) || ', before: ' || ${CHANGE_SENTENCE} END, ?4, ?5
  FROM board_flights WHERE ${IS_SEEN} AND NOT EXISTS (
    SELECT 1 FROM board_log l WHERE l.board_id = ?1 AND l.flight_id = ?2 AND l.seq = ?3 AND l.person = ?4)
  RETURNING seq`;

/** Never back to an older number; who was first stands at the flight, the log has all. */
const ACKNOWLEDGE = `UPDATE board_flights
  SET acknowledged = json_object('seq', CAST(?3 AS INTEGER), 'by', ?4, 'atMs', CAST(?5 AS INTEGER)), seq = ${NEXT_NUMBER}
  WHERE ${IS_SEEN} AND COALESCE(${memberOf('acknowledged', 'seq')}, 0) < ?3`;

export function createBoardRecords(db: D1Database): BoardRecords {
  return {
    acknowledge: (entry) => acknowledge(db, entry),

    async log(boardId) {
      const { results } = await db
        .prepare('SELECT * FROM board_log WHERE board_id = ?1 ORDER BY id')
        .bind(boardId)
        .all<LogRow>();
      return results.map(toEntry);
    },

    forgetPerson: (boardId, name) => forgetPerson(db, boardId, name),

    async audit({ boardId, atMs, principal, action, target, status }) {
      await db
        .prepare(
          'INSERT INTO board_audit (board_id, at_ms, principal, action, target, status) VALUES (?1, ?2, ?3, ?4, ?5, ?6)',
        )
        .bind(boardId, atMs, principal, action, target, status)
        .run();
    },

    async auditOf(boardId, limit) {
      const { results } = await db
        .prepare('SELECT * FROM board_audit WHERE board_id = ?1 ORDER BY id DESC LIMIT ?2')
        .bind(boardId, limit)
        .all<AuditRow>();
      return results.map(toAudit);
    },

    async forgetAudit(beforeMs) {
      await db.prepare('DELETE FROM board_audit WHERE at_ms < ?1').bind(beforeMs).run();
    },
  };
}

async function acknowledge(
  db: D1Database,
  { boardId, flightId, seq, by, atMs }: Omit<LogEntry, 'flightName' | 'sentence'>,
): Promise<LogEntry | undefined> {
  const row = await db
    .prepare('SELECT leg FROM board_flights WHERE board_id = ?1 AND flight_id = ?2')
    .bind(boardId, flightId)
    .first<{ leg: string }>();
  if (row === null) return undefined;
  const leg = readLeg(row.leg);
  const bindings = [boardId, flightId, seq, by, atMs] as const;
  const [, , found] = await inOneChange<LogRow>(db, boardId, [
    db.prepare(WRITE_LOG).bind(...bindings, leg === undefined ? flightId : flightName(leg)),
    db.prepare(ACKNOWLEDGE).bind(...bindings),
    db
      .prepare(
        `SELECT l.* FROM board_log l JOIN board_flights f ON f.board_id = l.board_id AND f.flight_id = l.flight_id
         WHERE l.board_id = ?1 AND l.flight_id = ?2 AND l.seq = ?3 AND l.person = ?4 AND f.is_removed = 0
         ORDER BY l.id DESC LIMIT 1`,
      )
      .bind(boardId, flightId, seq, by),
  ]);
  const written = found!.results[0];
  return written === undefined ? undefined : toEntry(written);
}

function toEntry(row: LogRow): LogEntry {
  return {
    boardId: row.board_id,
    flightId: row.flight_id,
    flightName: row.flight_name,
    seq: row.seq,
    sentence: row.sentence,
    by: row.person,
    atMs: row.at_ms,
  };
}

function toAudit(row: AuditRow): AuditEntry {
  return {
    boardId: row.board_id,
    atMs: row.at_ms,
    principal: row.principal,
    action: row.action,
    target: row.target,
    status: row.status,
  };
}

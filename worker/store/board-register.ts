/** Boards, the links that open them and their legs, on D1. */
import type { D1Database, D1PreparedStatement } from '@cloudflare/workers-types';
import { AppBug, InvalidRequestError } from '../errors.ts';
import { boardAccess, MOST_LEGS, type StoredLeg } from '../schema/board.ts';
import type { Board, BoardKey, BoardRegister } from '../sources/boards.ts';
import { readLeg } from './board-json.ts';
import { type BoardRow, toBoard } from './board-rows.ts';
import { jsonBatches } from './json-batches.ts';

interface KeyRow {
  key_id: string;
  board_id: string;
  access: string;
  label: string;
  sha256: string;
  created_ms: number;
  revoked_ms: number | null;
}

/** Each has a board_id. */
const TABLES_OF_A_BOARD = [
  'board_keys',
  'board_legs',
  'board_flights',
  'board_tails',
  'board_log',
  'board_audit',
  'board_push',
] as const;

export function createBoardRegister(db: D1Database): BoardRegister {
  return { ...forBoards(db), ...forKeys(db), ...forLegs(db) };
}

type BoardSide = Pick<BoardRegister, 'create' | 'find' | 'list' | 'all' | 'remove'>;
type KeySide = Pick<BoardRegister, 'putKey' | 'keys' | 'findKey' | 'revokeKey'>;

function forBoards(db: D1Database): BoardSide {
  return {
    async create(board, keys) {
      await db.batch([insertBoard(db, board), ...keys.map((key) => insertKey(db, key))]);
    },
    async find(boardId) {
      const row = await db.prepare('SELECT * FROM boards WHERE id = ?1').bind(boardId).first<BoardRow>();
      return row === null ? undefined : toBoard(row);
    },
    async list(operator) {
      const { results } = await db
        .prepare('SELECT * FROM boards WHERE operator = ?1 ORDER BY name, id')
        .bind(operator)
        .all<BoardRow>();
      return results.map(toBoard);
    },
    async all() {
      const { results } = await db.prepare('SELECT * FROM boards ORDER BY created_ms, id').all<BoardRow>();
      return results.map(toBoard);
    },
    async remove(boardId) {
      await db.batch([
        ...TABLES_OF_A_BOARD.map((table) =>
          db.prepare(`DELETE FROM ${table} WHERE board_id = ?1`).bind(boardId),
        ),
        db.prepare('DELETE FROM boards WHERE id = ?1').bind(boardId),
      ]);
    },
  };
}

function insertBoard(db: D1Database, board: Board): D1PreparedStatement {
  const { id, operator, name, timeZone, standsMs, createdMs, seq, publishedSeq } = board;
  return db
    .prepare('INSERT INTO boards VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)')
    .bind(id, operator, name, timeZone, standsMs ?? null, createdMs, seq, publishedSeq);
}

function insertKey(db: D1Database, key: BoardKey): D1PreparedStatement {
  const { keyId, boardId, access, label, sha256, createdMs, revokedMs } = key;
  return db
    .prepare('INSERT INTO board_keys VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)')
    .bind(keyId, boardId, access, label, sha256, createdMs, revokedMs ?? null);
}

function forKeys(db: D1Database): KeySide {
  return {
    async putKey(key) {
      await insertKey(db, key).run();
    },
    async keys(boardId) {
      const { results } = await db
        .prepare('SELECT * FROM board_keys WHERE board_id = ?1 ORDER BY created_ms, key_id')
        .bind(boardId)
        .all<KeyRow>();
      return results.map(toKey);
    },
    async findKey(boardId, sha256) {
      const row = await db
        .prepare('SELECT * FROM board_keys WHERE board_id = ?1 AND sha256 = ?2 AND revoked_ms IS NULL')
        .bind(boardId, sha256)
        .first<KeyRow>();
      return row === null ? undefined : toKey(row);
    },
    async revokeKey(boardId, keyId, nowMs) {
      const [revoked] = await db.batch([
        db
          .prepare(
            'UPDATE board_keys SET revoked_ms = ?3 WHERE board_id = ?1 AND key_id = ?2 AND revoked_ms IS NULL RETURNING key_id',
          )
          .bind(boardId, keyId, nowMs),
        // Nobody who came by it is told anything from now on, and their places are free.
        db.prepare('DELETE FROM board_push WHERE board_id = ?1 AND key_id = ?2').bind(boardId, keyId),
      ]);
      return revoked!.results.length > 0;
    },
  };
}

/** A word that is none allows the least. */
function toKey(row: KeyRow): BoardKey {
  return {
    keyId: row.key_id,
    boardId: row.board_id,
    access: boardAccess.find((access) => access === row.access) ?? 'view',
    label: row.label,
    sha256: row.sha256,
    createdMs: row.created_ms,
    revokedMs: row.revoked_ms ?? undefined,
  };
}

const PUT_LEGS = `INSERT INTO board_legs (board_id, leg_id, body)
  SELECT ?1, json_extract(value, '$[0]'), json_extract(value, '$[1]') FROM json_each(?2) WHERE true
  ON CONFLICT DO UPDATE SET body = excluded.body`;

function forLegs(db: D1Database): Omit<BoardRegister, keyof BoardSide | keyof KeySide> {
  return {
    async legs(boardId) {
      const { results } = await db
        .prepare('SELECT leg_id, body FROM board_legs WHERE board_id = ?1 ORDER BY rowid')
        .bind(boardId)
        .all<{ leg_id: string; body: string }>();
      return results.map(toLeg);
    },
    async putLegs(boardId, legs, replace) {
      if (!replace) await refuseTooMany(db, boardId, legs);
      const rows = legs.map(({ id, leg }) => [id, JSON.stringify(leg)]);
      const emptied = db.prepare('DELETE FROM board_legs WHERE board_id = ?1').bind(boardId);
      const puts = jsonBatches(rows).map((text) => db.prepare(PUT_LEGS).bind(boardId, text));
      const statements = replace ? [emptied, ...puts] : puts;
      if (statements.length > 0) await db.batch(statements);
    },
    async removeLeg(boardId, legId) {
      const { results } = await db
        .prepare('DELETE FROM board_legs WHERE board_id = ?1 AND leg_id = ?2 RETURNING leg_id')
        .bind(boardId, legId)
        .all();
      return results.length > 0;
    },
  };
}

/** Left out, a leg would take its flights off the board: nothing is better than a schedule with a hole. */
function toLeg({ leg_id: id, body }: { leg_id: string; body: string }): StoredLeg {
  const leg = readLeg(body);
  if (leg === undefined)
    throw new AppBug(`leg ${id}: found one that does not read back, expected a leg of the schedule`);
  return { id, leg };
}

async function refuseTooMany(db: D1Database, boardId: string, legs: readonly StoredLeg[]): Promise<void> {
  const row = await db
    .prepare(
      `SELECT COUNT(*) AS count FROM board_legs
       WHERE board_id = ?1 AND leg_id NOT IN (SELECT value FROM json_each(?2))`,
    )
    .bind(boardId, JSON.stringify(legs.map(({ id }) => id)))
    .first<{ count: number }>();
  const found = (row?.count ?? 0) + legs.length;
  if (found > MOST_LEGS)
    throw new InvalidRequestError({
      field: 'legs',
      found: `${found} with those that the board has`,
      expected: `at most ${MOST_LEGS}`,
    });
}

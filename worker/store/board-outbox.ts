/** What is still to be told to a board's viewers, and to whom, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { InvalidRequestError } from '../errors.ts';
import type { BoardOutbox, PushSubscriber } from '../sources/boards.ts';
import { type BoardRow, toBoard } from './board-rows.ts';

interface PushRow {
  board_id: string;
  endpoint: string;
  key_id: string;
  p256dh: string;
  auth: string;
  person: string;
}

/** Browsers that are told of one board's verdicts, by each link and in all. */
export const MOST_SUBSCRIPTIONS = { ofLink: 20, ofBoard: 500 } as const;

/** Counted and written at once; a browser that is there already takes no further place. */
const SUBSCRIBE = `INSERT INTO board_push (board_id, endpoint, key_id, p256dh, auth, person, created_ms)
  SELECT ?1, ?2, ?3, ?4, ?5, ?6, ?7
  WHERE (SELECT COUNT(*) FROM board_push WHERE board_id = ?1 AND endpoint <> ?2) < ${MOST_SUBSCRIPTIONS.ofBoard}
    AND (SELECT COUNT(*) FROM board_push WHERE board_id = ?1 AND endpoint <> ?2 AND key_id = ?3) < ${MOST_SUBSCRIPTIONS.ofLink}
  ON CONFLICT DO UPDATE SET key_id = excluded.key_id, p256dh = excluded.p256dh, auth = excluded.auth, person = excluded.person
  RETURNING endpoint`;

export function createBoardOutbox(db: D1Database): BoardOutbox {
  return {
    async unpublished() {
      const { results } = await db
        .prepare('SELECT * FROM boards WHERE seq > published_seq ORDER BY id')
        .all<BoardRow>();
      return results.map(toBoard);
    },

    /** Nor beyond what the board has: what is told next would be taken for told. */
    async published(boardId, seq) {
      await db
        .prepare('UPDATE boards SET published_seq = MIN(?2, seq) WHERE id = ?1 AND published_seq < ?2')
        .bind(boardId, seq)
        .run();
    },

    async subscribe({ boardId, keyId, endpoint, keys, by }, nowMs) {
      const row = await db
        .prepare(SUBSCRIBE)
        .bind(boardId, endpoint, keyId, keys.p256dh, keys.auth, by, nowMs)
        .first();
      if (row === null) throw await tooMany(db, boardId, keyId);
    },

    async unsubscribe(boardId, endpoint) {
      await db
        .prepare('DELETE FROM board_push WHERE board_id = ?1 AND endpoint = ?2')
        .bind(boardId, endpoint)
        .run();
    },

    async subscribers(boardId) {
      const { results } = await db
        .prepare(
          `SELECT p.* FROM board_push p JOIN board_keys k ON k.key_id = p.key_id AND k.board_id = p.board_id
           WHERE p.board_id = ?1 AND k.revoked_ms IS NULL ORDER BY p.created_ms, p.endpoint`,
        )
        .bind(boardId)
        .all<PushRow>();
      return results.map(toSubscriber);
    },
  };
}

async function tooMany(db: D1Database, boardId: string, keyId: string): Promise<InvalidRequestError> {
  const row = await db
    .prepare('SELECT COUNT(*) AS count FROM board_push WHERE board_id = ?1 AND key_id = ?2')
    .bind(boardId, keyId)
    .first<{ count: number }>();
  const isOfLink = (row?.count ?? 0) >= MOST_SUBSCRIPTIONS.ofLink;
  const [most, whose] = isOfLink
    ? [MOST_SUBSCRIPTIONS.ofLink, 'this link']
    : [MOST_SUBSCRIPTIONS.ofBoard, 'this board'];
  return new InvalidRequestError({
    field: 'endpoint',
    found: `one more than ${most} browsers by ${whose}`,
    expected: `at most ${most}: take one back first`,
  });
}

function toSubscriber(row: PushRow): PushSubscriber {
  return {
    boardId: row.board_id,
    keyId: row.key_id,
    endpoint: row.endpoint,
    keys: { p256dh: row.p256dh, auth: row.auth },
    by: row.person,
  };
}

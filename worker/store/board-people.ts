/** A person's name taken off a board wherever it stands. */
import type { D1Database } from '@cloudflare/workers-types';
import { inOneChange, NEXT_NUMBER } from './board-number.ts';

const SIGN_IN = 'sign-in ';

/** Columns of a flight whose JSON says who. */
const SIGNED = ['acknowledged', 'departed', 'arrived', 'cancelled'] as const;
const signer = (column: string) => `CASE WHEN json_valid(${column}) THEN json_extract(${column}, '$.by') END`;

const SPELLINGS = [
  'SELECT DISTINCT person AS name FROM board_log WHERE board_id = ?1',
  'SELECT DISTINCT entered_by AS name FROM board_tails WHERE board_id = ?1',
  'SELECT DISTINCT person AS name FROM board_push WHERE board_id = ?1',
  `SELECT DISTINCT substr(principal, ${SIGN_IN.length + 1}) AS name FROM board_audit WHERE board_id = ?1 AND principal LIKE '${SIGN_IN}%'`,
  ...SIGNED.map(
    (column) => `SELECT DISTINCT ${signer(column)} AS name FROM board_flights WHERE board_id = ?1`,
  ),
];

/** ?2 holds the person's name as it was spelled here. */
const AMONG = 'IN (SELECT value FROM json_each(?2))';
const FORGET = [
  `DELETE FROM board_log WHERE board_id = ?1 AND person ${AMONG}`,
  `DELETE FROM board_push WHERE board_id = ?1 AND person ${AMONG}`,
  `UPDATE board_tails SET entered_by = '', seq = ${NEXT_NUMBER} WHERE board_id = ?1 AND entered_by ${AMONG}`,
  `UPDATE board_audit SET principal = '${SIGN_IN.trim()}' WHERE board_id = ?1 AND principal LIKE '${SIGN_IN}%'
     AND substr(principal, ${SIGN_IN.length + 1}) ${AMONG}`,
  `UPDATE board_flights SET seq = ${NEXT_NUMBER}, ${SIGNED.map(
    (column) =>
      `${column} = CASE WHEN ${signer(column)} ${AMONG} THEN json_set(${column}, '$.by', '') ELSE ${column} END`,
  ).join(', ')}
   WHERE board_id = ?1 AND (${SIGNED.map((column) => `${signer(column)} ${AMONG}`).join(' OR ')})`,
];

/** Log entries and subscriptions go, the rest stays without the name. Gives how many rows lost it. */
export async function forgetPerson(db: D1Database, boardId: string, name: string): Promise<number> {
  const wanted = folded(name);
  if (wanted === '') return 0;
  const asked = SPELLINGS.map((statement) => db.prepare(statement).bind(boardId));
  const found = await db.batch<{ name: string | null }>(asked);
  const names = new Set(found.flatMap(({ results }) => results.flatMap((row) => row.name ?? [])));
  const spelled = [...names].filter((each) => folded(each) === wanted);
  if (spelled.length === 0) return 0;
  const forgotten = await inOneChange(
    db,
    boardId,
    FORGET.map((statement) => db.prepare(statement).bind(boardId, JSON.stringify(spelled))),
  );
  return forgotten.reduce((count, { meta }) => count + meta.changes, 0);
}

/** D1 folds no letters but those of ASCII. By way of capitals, so that ß is ss. */
const folded = (name: string) => name.normalize('NFKC').trim().toUpperCase().toLowerCase();

/** How a change of a board takes its number. */
import type { D1Database, D1PreparedStatement, D1Result } from '@cloudflare/workers-types';

/** What rows of the board ?1 bear that change now. */
export const NEXT_NUMBER = '(SELECT seq + 1 FROM boards WHERE id = ?1)';

/** Taken only where a row bears it: what changes nothing takes no number. */
const TAKE_NUMBER = `UPDATE boards SET seq = seq + 1 WHERE id = ?1 AND (
  EXISTS (SELECT 1 FROM board_flights f WHERE f.board_id = ?1 AND f.seq > boards.seq)
  OR EXISTS (SELECT 1 FROM board_tails t WHERE t.board_id = ?1 AND t.seq > boards.seq))`;

/** One transaction: the statements, whose rows bear NEXT_NUMBER, and the number that they take. Gives the statements' results. */
export async function inOneChange<Row>(
  db: D1Database,
  boardId: string,
  statements: readonly D1PreparedStatement[],
): Promise<D1Result<Row>[]> {
  const results = await db.batch<Row>([...statements, db.prepare(TAKE_NUMBER).bind(boardId)]);
  return results.slice(0, -1);
}

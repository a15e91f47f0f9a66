/** Objects of shared briefs that no row stands for: of a crash between the two, or of a deletion that failed. */
import type { D1Database } from '@cloudflare/workers-types';
import type { ObjectStore } from '../sources/ports.ts';

/** Looked at a round; the next round goes on behind them. */
const MOST_A_ROUND = 400;
/** Objects are written before their row: a younger one may be about to get it. */
const LEFT_AFTER_MS = 86_400_000;
const PREFIX = 'shared/';
const KEY = /^shared\/([A-Za-z0-9_-]{22})\.(json|png|inputs)$/;
const CURSOR = 'shared objects';

interface Row {
  readonly id: string;
  /** 1 while the link is open, or only expired: its objects go with forgetExpired. */
  readonly stands: number;
}

/** @returns how many objects were deleted. */
export async function sweepSharedOrphans(
  db: D1Database,
  objects: ObjectStore,
  nowMs: number,
): Promise<number> {
  const cursor = await db
    .prepare('SELECT after_key FROM shared_sweeps WHERE name = ?1')
    .bind(CURSOR)
    .first<{ after_key: string }>();
  const found = await objects.listBehind(PREFIX, cursor?.after_key ?? '', MOST_A_ROUND);
  const rows = await rowsOf(db, new Set(found.flatMap(({ key }) => KEY.exec(key)?.[1] ?? [])));
  const orphans = found.filter(({ key, writtenMs }) => {
    const id = KEY.exec(key)?.[1];
    if (id === undefined) return false;
    const row = rows.get(id);
    return row === undefined ? writtenMs < nowMs - LEFT_AFTER_MS : row.stands === 0;
  });
  if (orphans.length > 0) await objects.delete(orphans.map(({ key }) => key));
  // A round that saw less than it may is at the end: the next begins anew.
  const afterKey = found.length < MOST_A_ROUND ? '' : found.at(-1)!.key;
  await db.prepare('INSERT OR REPLACE INTO shared_sweeps VALUES (?1, ?2)').bind(CURSOR, afterKey).run();
  return orphans.length;
}

async function rowsOf(db: D1Database, ids: ReadonlySet<string>): Promise<ReadonlyMap<string, Row>> {
  if (ids.size === 0) return new Map();
  const { results } = await db
    .prepare(
      `SELECT id, revoked_ms IS NULL AND sha256 <> '' AS stands FROM shared_briefs
       WHERE id IN (SELECT value FROM json_each(?1))`,
    )
    .bind(JSON.stringify([...ids]))
    .all<Row>();
  return new Map(results.map((row) => [row.id, row]));
}

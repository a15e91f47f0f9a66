/** Shared briefs: rows on D1, bytes on R2. */
import type { D1Database } from '@cloudflare/workers-types';
import type { ObjectStore } from '../sources/ports.ts';
import type { Maker, SharedBrief, SharedBriefRepository, WriteCounts } from '../sources/shared-briefs.ts';
import { sweepSharedOrphans } from './shared-orphans.ts';

interface Row {
  id: string;
  created_ms: number;
  expires_ms: number;
  revoked_ms: number | null;
  sha256: string;
  key_sha256: string;
  method: string;
  operators: string;
  request: string;
  title: string;
  sentence: string;
  inputs_sha256: string | null;
  maker: string | null;
}

/** A link that ended says so for this long, then it is as unknown as any other. */
const ROW_KEPT_MS = 90 * 86_400_000;
/** Objects deleted a round. */
const MOST_A_ROUND = 400;

const keyOf = (id: string) => `shared/${id}.json`;
const pictureKeyOf = (id: string) => `shared/${id}.png`;
const inputsKeyOf = (id: string) => `shared/${id}.inputs`;
const keysOf = (id: string) => [keyOf(id), pictureKeyOf(id), inputsKeyOf(id)];

export function createSharedBriefRepository(db: D1Database, objects: ObjectStore): SharedBriefRepository {
  return {
    async put(brief, made) {
      await Promise.all([
        objects.put(keyOf(brief.id), made.brief),
        objects.put(pictureKeyOf(brief.id), made.picture),
        made.inputs && objects.put(inputsKeyOf(brief.id), made.inputs),
      ]);
      await insert(db, brief);
    },
    async find(id) {
      const row = await db.prepare('SELECT * FROM shared_briefs WHERE id = ?1').bind(id).first<Row>();
      return row === null ? undefined : toBrief(row);
    },
    bytesOf: (id) => objects.get(keyOf(id)),
    pictureOf: (id) => objects.get(pictureKeyOf(id)),
    inputsOf: (id) => objects.get(inputsKeyOf(id)),
    async revoke(id, nowMs) {
      // The row first: from then on nobody reads the bytes, whatever becomes of their deletion.
      await db
        .prepare(
          "UPDATE shared_briefs SET revoked_ms = ?2, request = '', title = '', sentence = '' WHERE id = ?1 AND revoked_ms IS NULL",
        )
        .bind(id, nowMs)
        .run();
      await objects.delete(keysOf(id));
    },
    async forgetExpired(nowMs) {
      const { results } = await db
        .prepare(
          "SELECT id FROM shared_briefs WHERE expires_ms < ?1 AND sha256 <> '' ORDER BY expires_ms LIMIT ?2",
        )
        .bind(nowMs, MOST_A_ROUND)
        .all<{ id: string }>();
      const ids = results.map(({ id }) => id);
      if (ids.length > 0) {
        await objects.delete(ids.flatMap(keysOf));
        await db
          .prepare(
            "UPDATE shared_briefs SET sha256 = '', request = '', title = '', sentence = '' WHERE id IN (SELECT value FROM json_each(?1))",
          )
          .bind(JSON.stringify(ids))
          .run();
      }
      await db
        .prepare('DELETE FROM shared_briefs WHERE expires_ms < ?1')
        .bind(nowMs - ROW_KEPT_MS)
        .run();
      return ids.length;
    },
    sweepOrphans: (nowMs) => sweepSharedOrphans(db, objects, nowMs),
  };
}

async function insert(db: D1Database, brief: SharedBrief): Promise<void> {
  await db
    .prepare(
      `INSERT INTO shared_briefs (id, created_ms, expires_ms, sha256, key_sha256, method, operators, request, title, sentence,
         inputs_sha256, maker)
       VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11, ?12)`,
    )
    .bind(
      brief.id,
      brief.createdMs,
      brief.expiresMs,
      brief.sha256,
      brief.keySha256,
      brief.method,
      brief.operators.join(','),
      brief.request,
      brief.title,
      brief.sentence,
      brief.inputsSha256 ?? null,
      makerText(brief.maker),
    )
    .run();
}

/** An operator's name has no blank. */
function makerText(maker: Maker | undefined): string | null {
  if (maker === undefined) return null;
  return maker.boardKeyId === undefined ? maker.operator : `${maker.operator} ${maker.boardKeyId}`;
}

function toMaker(text: string | null): Maker | undefined {
  if (text === null) return undefined;
  const [operator, boardKeyId] = text.split(' ') as [string, string?];
  return boardKeyId === undefined ? { operator } : { operator, boardKeyId };
}

function toBrief(row: Row): SharedBrief {
  return {
    id: row.id,
    createdMs: row.created_ms,
    expiresMs: row.expires_ms,
    revokedMs: row.revoked_ms ?? undefined,
    sha256: row.sha256,
    keySha256: row.key_sha256,
    method: row.method,
    operators: row.operators.split(','),
    request: row.request,
    title: row.title,
    sentence: row.sentence,
    inputsSha256: row.inputs_sha256 ?? undefined,
    maker: toMaker(row.maker),
  };
}

export function createWriteCounts(db: D1Database): WriteCounts {
  return {
    async count(sender, windowStartMs) {
      const row = await db
        .prepare(
          `INSERT INTO write_counts VALUES (?1, ?2, 1)
           ON CONFLICT (sender, window_ms) DO UPDATE SET count = count + 1 RETURNING count`,
        )
        .bind(sender, windowStartMs)
        .first<{ count: number }>();
      return row?.count ?? 1;
    },
    async forgetBefore(windowMs) {
      await db.prepare('DELETE FROM write_counts WHERE window_ms < ?1').bind(windowMs).run();
    },
  };
}

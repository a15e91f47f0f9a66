/** What is remembered of the sources of bulletins, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import type { BulletinRepository, BulletinRow } from '../sources/bulletins.ts';

interface Row {
  source: string;
  asked_ms: number;
  gave_ms: number | null;
  stored: number;
  refused: number;
  refusal: string;
  fault: string;
  fault_ms: number | null;
}

const LONGEST_DETAIL = 500;
const shortened = (detail: string) => detail.slice(0, LONGEST_DETAIL);

export function createBulletinRepository(db: D1Database): BulletinRepository {
  return {
    async claim(source, { everyMs, nowMs }) {
      // One statement decides between two rounds at once. A time ahead of now is a wrong clock's.
      const row = await db
        .prepare(
          `INSERT INTO bulletin_sources (source, asked_ms) VALUES (?1, ?2)
           ON CONFLICT DO UPDATE SET asked_ms = ?2
           WHERE bulletin_sources.asked_ms <= ?3 OR bulletin_sources.asked_ms > ?2 RETURNING source`,
        )
        .bind(source, nowMs, nowMs - everyMs)
        .first();
      return row !== null;
    },

    async note(source, { answer, fault, nowMs }) {
      const answered = db.prepare(
        `UPDATE bulletin_sources SET stored = ?2, refused = ?3, refusal = ?4,
           gave_ms = CASE WHEN ?2 > 0 THEN ?5 ELSE gave_ms END WHERE source = ?1`,
      );
      const failed = db.prepare('UPDATE bulletin_sources SET fault = ?2, fault_ms = ?3 WHERE source = ?1');
      const statements = [];
      if (answer !== undefined) {
        const { stored, refused, refusal } = answer;
        statements.push(answered.bind(source, stored, refused, shortened(refusal), nowMs));
      }
      if (fault !== undefined) statements.push(failed.bind(source, shortened(fault), nowMs));
      if (statements.length > 0) await db.batch(statements);
    },

    async list() {
      const { results } = await db.prepare('SELECT * FROM bulletin_sources ORDER BY source').all<Row>();
      return results.map(toRow);
    },
  };
}

function toRow(row: Row): BulletinRow {
  const { source, stored, refused, refusal, fault } = row;
  return {
    source,
    askedMs: row.asked_ms,
    gaveMs: row.gave_ms ?? undefined,
    stored,
    refused,
    refusal,
    fault,
    faultMs: row.fault_ms ?? undefined,
  };
}

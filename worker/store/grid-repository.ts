/** Published forecast hours on D1. An hour is visible exactly when its row is. */
import type { D1Database } from '@cloudflare/workers-types';
import type { GridHour, GridRepository } from '../sources/ports.ts';

interface Row {
  operator: string;
  model: string;
  run_ms: number;
  valid_ms: number;
  manifest_key: string;
  ingested_ms: number;
}

/** A brief's time window never holds more hours than this of all runs together. */
const MOST_FOUND = 500;

export function createGridRepository(db: D1Database): GridRepository {
  return {
    async publish(hour) {
      const key = [hour.operator, hour.model, hour.runMs, hour.validMs] as const;
      const [before] = await db.batch<{ manifest_key: string }>([
        db
          .prepare(
            'SELECT manifest_key FROM grid_hours WHERE operator = ?1 AND model = ?2 AND run_ms = ?3 AND valid_ms = ?4',
          )
          .bind(...key),
        db
          .prepare('INSERT OR REPLACE INTO grid_hours VALUES (?1, ?2, ?3, ?4, ?5, ?6)')
          .bind(...key, hour.manifestKey, hour.ingestedMs),
      ]);
      return before?.results[0]?.manifest_key;
    },

    async find(operators, fromMs, toMs) {
      return select(db, operators, {
        where: 'valid_ms BETWEEN ? AND ? AND',
        bindings: [fromMs, toMs],
        limit: MOST_FOUND,
      });
    },

    async list(operators, limit) {
      return select(db, operators, { where: '', bindings: [], limit });
    },
  };
}

async function select(
  db: D1Database,
  operators: readonly string[],
  query: { where: string; bindings: readonly number[]; limit: number },
): Promise<readonly GridHour[]> {
  if (operators.length === 0) return [];
  const { results } = await db
    .prepare(
      `SELECT * FROM grid_hours WHERE ${query.where} operator IN (${operators.map(() => '?').join(', ')})
       ORDER BY run_ms DESC, valid_ms, model, operator LIMIT ?`,
    )
    .bind(...query.bindings, ...operators, query.limit)
    .all<Row>();
  return results.map((row) => ({
    operator: row.operator,
    model: row.model,
    runMs: row.run_ms,
    validMs: row.valid_ms,
    manifestKey: row.manifest_key,
    ingestedMs: row.ingested_ms,
  }));
}

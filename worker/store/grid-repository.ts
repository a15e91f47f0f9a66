/** Published forecast hours on D1. An hour is visible exactly when its row is. */
import type { D1Database, D1PreparedStatement } from '@cloudflare/workers-types';
import type { GridHour, GridRepository } from '../sources/ports.ts';
import { marks } from './sql-marks.ts';

interface Row {
  operator: string;
  model: string;
  run_ms: number;
  valid_ms: number;
  manifest_key: string;
  ingested_ms: number;
  spacing_m: number;
  has_cloud_water: number;
}

/** Objects of an hour lie under one prefix, its manifest last. */
const MANIFEST_NAME = '/manifest.json';
const PREFIX_OF_KEY = `substr(manifest_key, 1, length(manifest_key) - ${MANIFEST_NAME.length})`;
const prefixOf = (manifestKey: string) => manifestKey.slice(0, -MANIFEST_NAME.length);

/**
 * Hours of an operator (?1) valid before an instant (?2), or of which so many (?3) newer runs of the model have the same valid
 * time: a run that looks further ahead than those after it keeps what only it has.
 */
const OUTLIVED = `operator = ?1 AND (valid_ms < ?2 OR (
  SELECT COUNT(*) FROM grid_hours AS newer
  WHERE newer.operator = ?1 AND newer.model = grid_hours.model AND newer.valid_ms = grid_hours.valid_ms
    AND newer.run_ms > grid_hours.run_ms) >= ?3)`;

/** A brief's time window never holds more hours than this of all runs together. */
const MOST_FOUND = 500;

export function createGridRepository(db: D1Database): GridRepository {
  return {
    async begin({ prefix, operator, nowMs }) {
      await setPrefix(db, { prefix, operator, state: 'writing', nowMs }).run();
    },

    async publish(hour) {
      const key = [hour.operator, hour.model, hour.runMs, hour.validMs] as const;
      const prefix = prefixOf(hour.manifestKey);
      const nowMs = hour.ingestedMs;
      const [before] = await db.batch<{ manifest_key: string }>([
        db
          .prepare(
            'SELECT manifest_key FROM grid_hours WHERE operator = ?1 AND model = ?2 AND run_ms = ?3 AND valid_ms = ?4',
          )
          .bind(...key),
        db
          .prepare(
            `INSERT OR REPLACE INTO grid_prefixes
             SELECT ${PREFIX_OF_KEY}, operator, 'retired', ?5 FROM grid_hours
             WHERE operator = ?1 AND model = ?2 AND run_ms = ?3 AND valid_ms = ?4`,
          )
          .bind(...key, nowMs),
        setPrefix(db, { prefix, operator: hour.operator, state: 'published', nowMs }),
        db
          .prepare(
            `INSERT OR REPLACE INTO grid_hours
             (operator, model, run_ms, valid_ms, manifest_key, ingested_ms, spacing_m, has_cloud_water)
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)`,
          )
          .bind(...key, hour.manifestKey, hour.ingestedMs, hour.spacingM, Number(hour.hasCloudWater)),
      ]);
      return before?.results[0]?.manifest_key;
    },

    async retire(operator, { validBeforeMs, keepRuns, nowMs }) {
      const bindings = [operator, validBeforeMs, keepRuns] as const;
      const [, removed] = await db.batch([
        db
          .prepare(
            `INSERT OR REPLACE INTO grid_prefixes
             SELECT ${PREFIX_OF_KEY}, operator, 'retired', ?4 FROM grid_hours WHERE ${OUTLIVED}`,
          )
          .bind(...bindings, nowMs),
        db.prepare(`DELETE FROM grid_hours WHERE ${OUTLIVED}`).bind(...bindings),
      ]);
      return removed?.meta.changes ?? 0;
    },

    async leftovers({ writingBeforeMs, retiredBeforeMs }, limit) {
      const { results } = await db
        .prepare(
          `SELECT prefix FROM grid_prefixes
           WHERE (state = 'writing' AND changed_ms < ?1) OR (state = 'retired' AND changed_ms < ?2) LIMIT ?3`,
        )
        .bind(writingBeforeMs, retiredBeforeMs, limit)
        .all<{ prefix: string }>();
      return results.map(({ prefix }) => prefix);
    },

    async forgetPrefix(prefix) {
      await db.prepare('DELETE FROM grid_prefixes WHERE prefix = ?1').bind(prefix).run();
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

function setPrefix(
  db: D1Database,
  row: { prefix: string; operator: string; state: 'writing' | 'published'; nowMs: number },
): D1PreparedStatement {
  return db
    .prepare('INSERT OR REPLACE INTO grid_prefixes VALUES (?1, ?2, ?3, ?4)')
    .bind(row.prefix, row.operator, row.state, row.nowMs);
}

async function select(
  db: D1Database,
  operators: readonly string[],
  query: { where: string; bindings: readonly number[]; limit: number },
): Promise<readonly GridHour[]> {
  if (operators.length === 0) return [];
  const { results } = await db
    .prepare(
      `SELECT * FROM grid_hours WHERE ${query.where} operator IN (${marks(operators.length)})
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
    spacingM: row.spacing_m,
    hasCloudWater: row.has_cloud_water === 1,
  }));
}

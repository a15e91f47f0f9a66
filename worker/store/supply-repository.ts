/** Forecast hours asked for, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { SUPPLY_STATES, type SupplyRepository, type SupplyRow } from '../sources/supply.ts';

interface Row {
  model_id: string;
  run_ms: number;
  forecast_hour: number;
  state: string;
  detail: string;
  attempts: number;
  updated_ms: number;
}

const BATCH = 50;
const LONGEST_DETAIL = 500;
/** More rows than the hours of a few runs of all models together. */
const MOST_ROWS = 5000;

const UPSERT = `INSERT INTO supply_hours (model_id, run_ms, forecast_hour, state, detail, attempts, updated_ms)
  VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7)
  ON CONFLICT (model_id, run_ms, forecast_hour) DO UPDATE SET
    state = excluded.state, detail = excluded.detail, updated_ms = excluded.updated_ms,
    attempts = supply_hours.attempts + excluded.attempts`;

export function createSupplyRepository(db: D1Database): SupplyRepository {
  return {
    async since(runMs) {
      const { results } = await db
        .prepare('SELECT * FROM supply_hours WHERE run_ms >= ?1 ORDER BY run_ms DESC, forecast_hour LIMIT ?2')
        .bind(runMs, MOST_ROWS)
        .all<Row>();
      return results.map(toRow);
    },

    async mark(hours, state, { detail, nowMs }) {
      const upsert = db.prepare(UPSERT);
      const text = detail.slice(0, LONGEST_DETAIL);
      for (let from = 0; from < hours.length; from += BATCH) {
        await db.batch(
          hours
            .slice(from, from + BATCH)
            .map(({ modelId, runMs, forecastHour }) =>
              upsert.bind(modelId, runMs, forecastHour, state, text, 0, nowMs),
            ),
        );
      }
    },

    async claim({ modelId, runMs, forecastHour }, { leaseMs, nowMs }) {
      // One statement decides: of two consumers at once only one changes the row. A time ahead of now is a wrong clock's.
      const row = await db
        .prepare(
          `${UPSERT} WHERE NOT (supply_hours.state = 'working' AND supply_hours.updated_ms BETWEEN ?8 AND ?7)
           RETURNING *`,
        )
        .bind(modelId, runMs, forecastHour, 'working', '', 1, nowMs, nowMs - leaseMs)
        .first<Row>();
      return row === null ? undefined : toRow(row);
    },

    async find({ modelId, runMs, forecastHour }) {
      const row = await db
        .prepare('SELECT * FROM supply_hours WHERE model_id = ?1 AND run_ms = ?2 AND forecast_hour = ?3')
        .bind(modelId, runMs, forecastHour)
        .first<Row>();
      return row === null ? undefined : toRow(row);
    },

    async forgetBefore(runMs) {
      await db.prepare('DELETE FROM supply_hours WHERE run_ms < ?1').bind(runMs).run();
    },
  };
}

function toRow(row: Row): SupplyRow {
  return {
    modelId: row.model_id as SupplyRow['modelId'],
    runMs: row.run_ms,
    forecastHour: row.forecast_hour,
    state: SUPPLY_STATES.find((state) => state === row.state) ?? 'failed',
    detail: row.detail,
    attempts: row.attempts,
    updatedMs: row.updated_ms,
  };
}

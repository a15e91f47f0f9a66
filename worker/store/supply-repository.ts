/** Forecast hours asked for, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { SUPPLY_STATES, type SupplyHour, type SupplyRepository, type SupplyRow } from '../sources/supply.ts';

interface Row {
  model_id: string;
  run_ms: number;
  forecast_hour: number;
  state: string;
  detail: string;
  failures: number;
  refusals: number;
  token: string;
  updated_ms: number;
}

const BATCH = 50;
const LONGEST_DETAIL = 500;
/** More rows than the hours of a few runs of all models together. */
const MOST_ROWS = 5000;
/** The last word on an hour without a row: no row has it. */
const NEVER_MS = -1;

/** Every statement binds the hour to these. */
const ONE_HOUR = 'scope = ?1 AND model_id = ?2 AND run_ms = ?3 AND forecast_hour = ?4';

/**
 * @param scope  Whose hours and of which area: after a change of either, what was stored for another is asked for again.
 */
export function createSupplyRepository(db: D1Database, scope: string): SupplyRepository {
  return { ...forSchedule(db, scope), ...forConsumers(db, scope) };
}

/** The first four bindings of every statement on one hour. */
const keyed = (scope: string, { modelId, runMs, forecastHour }: SupplyHour) =>
  [scope, modelId, runMs, forecastHour] as const;

type ScheduleSide = Pick<SupplyRepository, 'since' | 'ask' | 'unask' | 'forgetBefore'>;

function forSchedule(db: D1Database, scope: string): ScheduleSide {
  return {
    async since(runMs) {
      const { results } = await db
        .prepare(
          `SELECT * FROM supply_hours WHERE scope = ?1 AND run_ms >= ?2
           ORDER BY run_ms DESC, model_id, forecast_hour LIMIT ?3`,
        )
        .bind(scope, runMs, MOST_ROWS)
        .all<Row>();
      return results.map(toRow);
    },

    async ask(hours, nowMs) {
      const ask = db.prepare(
        `INSERT INTO supply_hours (scope, model_id, run_ms, forecast_hour, state, updated_ms)
         VALUES (?1, ?2, ?3, ?4, 'queued', ?5)
         ON CONFLICT DO UPDATE SET state = 'queued', token = '', updated_ms = ?5
         WHERE supply_hours.updated_ms = ?6 RETURNING model_id`,
      );
      const asked: SupplyHour[] = [];
      for (const part of partsOf(hours)) {
        const answers = await db.batch(
          part.map((hour) => ask.bind(...keyed(scope, hour), nowMs, hour.lastWordMs ?? NEVER_MS)),
        );
        part.forEach(({ modelId, runMs, forecastHour }, index) => {
          const isMarked = (answers[index]?.results.length ?? 0) > 0;
          if (isMarked) asked.push({ modelId, runMs, forecastHour });
        });
      }
      return asked;
    },

    async unask(hours, { detail, nowMs }) {
      const unask = db.prepare(
        `UPDATE supply_hours SET state = 'unsent', detail = ?5, updated_ms = ?6 WHERE ${ONE_HOUR} AND state = 'queued'`,
      );
      for (const part of partsOf(hours)) {
        await db.batch(part.map((hour) => unask.bind(...keyed(scope, hour), shortened(detail), nowMs)));
      }
    },

    async forgetBefore(runMs) {
      await db.prepare('DELETE FROM supply_hours WHERE run_ms < ?1 OR scope <> ?2').bind(runMs, scope).run();
    },
  };
}

function forConsumers(db: D1Database, scope: string): Omit<SupplyRepository, keyof ScheduleSide> {
  return {
    async find(hour) {
      const row = await db
        .prepare(`SELECT * FROM supply_hours WHERE ${ONE_HOUR}`)
        .bind(...keyed(scope, hour))
        .first<Row>();
      return row === null ? undefined : toRow(row);
    },

    async claim(hour, { leaseMs, nowMs }) {
      const token = crypto.randomUUID();
      // One statement decides: of two consumers at once only one changes the row. A time ahead of now is a wrong clock's.
      const row = await db
        .prepare(
          `INSERT INTO supply_hours (scope, model_id, run_ms, forecast_hour, state, token, updated_ms)
           VALUES (?1, ?2, ?3, ?4, 'working', ?5, ?6)
           ON CONFLICT DO UPDATE SET state = 'working', token = ?5, updated_ms = ?6,
             failures = supply_hours.failures + (supply_hours.state = 'working')
           WHERE supply_hours.state <> 'stored'
             AND NOT (supply_hours.state = 'working' AND supply_hours.updated_ms BETWEEN ?7 AND ?6)
           RETURNING *`,
        )
        .bind(...keyed(scope, hour), token, nowMs, nowMs - leaseMs)
        .first<Row>();
      return row === null ? undefined : { ...toRow(row), token };
    },

    async holds(claim) {
      const row = await db
        .prepare(`SELECT token FROM supply_hours WHERE ${ONE_HOUR} AND state = 'working' AND token = ?5`)
        .bind(...keyed(scope, claim), claim.token)
        .first<Pick<Row, 'token'>>();
      return row !== null;
    },

    async settle(claim, { state, detail, isRefusal = false, nowMs }) {
      const isFailure = state === 'failed' || state === 'dead';
      const { meta } = await db
        .prepare(
          `UPDATE supply_hours SET state = ?5, detail = ?6, updated_ms = ?7, token = '',
             failures = failures + ?8, refusals = refusals + ?9
           WHERE ${ONE_HOUR} AND state = 'working' AND token = ?10`,
        )
        .bind(
          ...keyed(scope, claim),
          ...[state, shortened(detail), nowMs, Number(isFailure), Number(isRefusal), claim.token],
        )
        .run();
      return meta.changes > 0;
    },

    async bury(hour, { leaseMs, nowMs }) {
      const row = await db
        .prepare(
          `UPDATE supply_hours SET state = 'dead', updated_ms = ?5
           WHERE ${ONE_HOUR} AND state <> 'stored' AND NOT (state = 'working' AND updated_ms BETWEEN ?6 AND ?5)
           RETURNING *`,
        )
        .bind(...keyed(scope, hour), nowMs, nowMs - leaseMs)
        .first<Row>();
      return row === null ? undefined : toRow(row);
    },
  };
}

const shortened = (detail: string) => detail.slice(0, LONGEST_DETAIL);

function partsOf<T>(items: readonly T[]): (readonly T[])[] {
  return Array.from({ length: Math.ceil(items.length / BATCH) }, (_, part) =>
    items.slice(part * BATCH, (part + 1) * BATCH),
  );
}

function toRow(row: Row): SupplyRow {
  return {
    modelId: row.model_id as SupplyRow['modelId'],
    runMs: row.run_ms,
    forecastHour: row.forecast_hour,
    state: SUPPLY_STATES.find((state) => state === row.state) ?? 'failed',
    detail: row.detail,
    failures: row.failures,
    refusals: row.refusals,
    updatedMs: row.updated_ms,
  };
}

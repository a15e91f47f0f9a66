/** Counts and ages of what is stored, on D1: what alarms and metrics are worked out from. */
import type { D1Database } from '@cloudflare/workers-types';
import type { ServiceFacts, ServiceTotals } from '../sources/alarms.ts';
import { SUPPLY_STATES } from '../sources/supply.ts';

/** Flights of the last half day are still looked at; earlier ones are only kept. */
const FLIGHTS_BACK_MS = 12 * 3_600_000;

/** @param scope  As of the supply's repository: whose hours and of which area. */
export function createServiceFacts(db: D1Database, scope: string): ServiceFacts {
  const newest = async (sql: string, value: string | number) => {
    const { results } = await db.prepare(sql).bind(value).all<{ name: string; ms: number }>();
    return new Map(results.map(({ name, ms }) => [name, ms]));
  };
  return {
    newestRuns: () =>
      newest(
        `SELECT model_id AS name, max(run_ms) AS ms FROM supply_hours
         WHERE scope = ?1 AND state = 'stored' GROUP BY model_id`,
        scope,
      ),
    newestSoundings: (sinceMs) =>
      newest(
        'SELECT operator AS name, max(time_ms) AS ms FROM soundings WHERE time_ms >= ?1 GROUP BY operator',
        sinceMs,
      ),
    async supplyHours(updatedSinceMs) {
      const { results } = await db
        .prepare(
          `SELECT model_id, state, count(*) AS count, min(updated_ms) AS oldest_ms FROM supply_hours
           WHERE scope = ?1 AND updated_ms >= ?2 GROUP BY model_id, state`,
        )
        .bind(scope, updatedSinceMs)
        .all<{ model_id: string; state: string; count: number; oldest_ms: number }>();
      return results.map((row) => ({
        modelId: row.model_id,
        state: SUPPLY_STATES.find((state) => state === row.state) ?? 'failed',
        count: row.count,
        oldestMs: row.oldest_ms,
      }));
    },
    async totals(nowMs) {
      const row = await db
        .prepare(
          `SELECT (SELECT count(*) FROM boards) AS boards, count(*) AS flights,
             count(*) FILTER (WHERE is_due = 1 AND arrived IS NULL AND cancelled IS NULL) AS waiting,
             (SELECT count(*) FROM shared_briefs WHERE expires_ms > ?1 AND revoked_ms IS NULL) AS sharedBriefs
           FROM board_flights WHERE is_removed = 0 AND departure_ms >= ?2`,
        )
        .bind(nowMs, nowMs - FLIGHTS_BACK_MS)
        .first<ServiceTotals>();
      return row ?? { boards: 0, flights: 0, waiting: 0, sharedBriefs: 0 };
    },
  };
}

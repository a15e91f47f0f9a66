/** Holdover tables on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { type HoldoverTableText, holdoverTableSchema } from '../schema/holdover.ts';
import { type HoldoverRepository, holdoverTableId } from '../sources/holdover-tables.ts';
import { marks } from './sql-marks.ts';

interface Row {
  operator: string;
  id: string;
  body: string;
  loaded_ms: number;
}

export function createHoldoverRepository(db: D1Database): HoldoverRepository {
  return {
    async put(operator, table, nowMs) {
      const id = holdoverTableId(table);
      const before = db
        .prepare('SELECT operator, id, body FROM holdover_tables WHERE operator = ?1 AND id = ?2')
        .bind(operator, id);
      const write = db
        .prepare('INSERT OR REPLACE INTO holdover_tables VALUES (?1, ?2, ?3, ?4, ?5, ?6)')
        .bind(operator, id, table.issuedOn, table.expiresOn, JSON.stringify(table), nowMs);
      // In one batch, so that of two writers each is told what it replaced.
      const [found] = await db.batch<Row>([before, write]);
      const row = found?.results[0];
      return row && readTable(row.body);
    },

    async list(operators) {
      if (operators.length === 0) return [];
      const { results } = await db
        .prepare(
          `SELECT operator, id, body, loaded_ms FROM holdover_tables WHERE operator IN (${marks(operators.length)}) ORDER BY id, operator`,
        )
        .bind(...operators)
        .all<Row>();
      return results.flatMap(({ operator, id, body, loaded_ms: ingestedMs }) => {
        const table = readTable(body);
        return table === undefined ? [] : [{ operator, id, table, ingestedMs }];
      });
    },
  };
}

/** undefined for one that does not keep to today's form: it is loaded anew, never guessed at. */
function readTable(body: string): HoldoverTableText | undefined {
  try {
    return holdoverTableSchema.safeParse(JSON.parse(body)).data;
  } catch {
    return undefined;
  }
}

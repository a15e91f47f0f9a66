/** What is asked of scored reports, on D1. No query walks more than the time asked for: tests/runtime/skill.test.ts asks for their plans. */
import type { D1Database } from '@cloudflare/workers-types';
import { SAID } from '../sources/report-facts/pilot-observation.ts';
import {
  type ForecastTop,
  OUTCOMES,
  SCORED_KINDS,
  type ScoreQuery,
  type ScoreRepository,
} from '../sources/scores.ts';
import { numberedMarks } from './sql-marks.ts';

export function skillQueries(
  db: D1Database,
): Pick<ScoreRepository, 'tallies' | 'reportTallies' | 'waiting' | 'methods' | 'tops'> {
  return {
    tallies: (query) => tallies(db, query),
    reportTallies: (query) => reportTallies(db, query),

    async waiting({ operators, fromMs, beforeMs }) {
      if (operators.length === 0) return 0;
      const among = `IN (${numberedMarks(operators.length, 2)})`;
      const { results } = await db
        .prepare(
          `SELECT COUNT(DISTINCT r.id) AS count FROM reports r
           WHERE r.operator ${among} AND r.kind IN ('pirep', 'airep')
             AND r.issued_ms >= ?1 AND r.issued_ms < ?2 AND NOT EXISTS (
               SELECT 1 FROM scored_reports s WHERE s.operator ${among} AND s.report_id = r.id)`,
        )
        .bind(fromMs, beforeMs, ...operators)
        .all<{ count: number }>();
      return results[0]?.count ?? 0;
    },

    async methods(query) {
      const rows = await asked<{ method: string }>(
        db,
        query,
        'SELECT DISTINCT method FROM mine WHERE why_unplaced IS NULL ORDER BY 1',
      );
      return rows.map(({ method }) => method);
    },

    tops: (query, limit) => tops(db, query, limit),
  };
}

/** Bound before the operators. */
const BOUND = 6;

/** Rows of a statement over `mine`: each report of the question once, that of the first operator that has it. */
async function asked<Row>(db: D1Database, query: ScoreQuery, statement: string): Promise<Row[]> {
  const { operators, fromMs, beforeMs, box } = query;
  if (operators.length === 0) return [];
  const among = `IN (${numberedMarks(operators.length, BOUND)})`;
  const first = `?${BOUND + 1}`;
  const elsewhere = `SELECT 1 FROM scored_reports o WHERE o.report_id = r.report_id AND o.operator ${among}
    AND (o.operator = ${first} OR o.operator < r.operator)`;
  const inside = `AND lat_deg BETWEEN ?3 AND ?4
    AND (lon_deg >= ?5 ${box === undefined || box.westDeg <= box.eastDeg ? 'AND' : 'OR'} lon_deg <= ?6)`;
  const mine = `WITH mine AS (
    SELECT * FROM scored_reports r WHERE operator ${among} AND at_ms >= ?1 AND at_ms < ?2
      ${box === undefined ? '' : inside}
      ${operators.length === 1 ? '' : `AND (operator = ${first} OR NOT EXISTS (${elsewhere}))`})`;
  const edges = [box?.southDeg, box?.northDeg, box?.westDeg, box?.eastDeg].map((deg) => deg ?? null);
  const { results } = await db
    .prepare(`${mine} ${statement}`)
    .bind(fromMs, beforeMs, ...edges, ...operators)
    .all<Row>();
  return results;
}

async function tallies(db: D1Database, query: ScoreQuery) {
  const rows = await asked<{
    source_kind: string;
    source_name: string;
    lead_bucket: number;
    outcome: string;
    pct: number | null;
    count: number;
    flagged_sum: number;
    flagged_count: number;
  }>(
    db,
    query,
    // A cross join keeps its order: reports of the time asked for first, then their scores.
    `SELECT source_kind, source_name, lead_bucket, outcome, CAST(ROUND(probability * 100) AS INTEGER) AS pct,
       COUNT(*) AS count, COALESCE(SUM(flagged_share), 0) AS flagged_sum, COUNT(flagged_share) AS flagged_count
     FROM mine CROSS JOIN report_scores USING (operator, report_id)
     GROUP BY 1, 2, 3, 4, 5 ORDER BY 1, 2, 3, 4, 5`,
  );
  return rows.flatMap((row) => {
    const kind = SCORED_KINDS.find((each) => each === row.source_kind);
    const outcome = OUTCOMES.find((each) => each === row.outcome);
    if (kind === undefined || outcome === undefined) return [];
    return [
      {
        ...{ kind, outcome, name: row.source_name, leadBucket: row.lead_bucket, count: row.count },
        ...{ flaggedSum: row.flagged_sum, flaggedCount: row.flagged_count },
        probabilityPct: row.pct ?? undefined,
      },
    ];
  });
}

async function reportTallies(db: D1Database, query: ScoreQuery) {
  const rows = await asked<{ said: string; why: string | null; count: number }>(
    db,
    query,
    `SELECT said, COALESCE(why_unplaced, why_unscored) AS why, COUNT(*) AS count FROM mine
     GROUP BY 1, 2 ORDER BY 3 DESC, 1, 2`,
  );
  return rows.flatMap(({ said: word, why, count }) => {
    const said = SAID.find((each) => each === word);
    return said === undefined ? [] : [{ said, why: why ?? undefined, count }];
  });
}

interface TopOfStore {
  operator: string;
  place_words: string;
  lat_deg: number;
  lon_deg: number;
  time_ms: number;
  reported_ft: number;
  top_kind: string | null;
  forecast_ft: number | null;
  made_ms: number | null;
}

/** Beside the brief of all that existed, which is the one of the shortest lead. */
async function tops(db: D1Database, query: ScoreQuery, limit: number) {
  const rows = await asked<TopOfStore>(
    db,
    query,
    `SELECT m.operator, m.place_words, m.lat_deg, m.lon_deg, m.time_ms, m.top_ft AS reported_ft,
       s.top_kind, s.top_ft AS forecast_ft, s.made_ms
     FROM mine m LEFT JOIN report_scores s ON s.operator = m.operator AND s.report_id = m.report_id
       AND s.source_kind = 'brief' AND s.lead_bucket = (SELECT MIN(lead_bucket) FROM report_scores
         WHERE operator = m.operator AND report_id = m.report_id AND source_kind = 'brief')
     WHERE m.top_ft IS NOT NULL AND m.why_unplaced IS NULL
     ORDER BY m.at_ms DESC, m.report_id LIMIT ${Math.floor(limit)}`,
  );
  return rows.map((row) => ({
    ...{ operator: row.operator, placeWords: row.place_words, latDeg: row.lat_deg, lonDeg: row.lon_deg },
    ...{ timeMs: row.time_ms, reportedFt: row.reported_ft, forecast: topOf(row) },
    madeMs: row.made_ms ?? undefined,
  }));
}

function topOf({ top_kind: kind, forecast_ft: altitudeFt }: TopOfStore): ForecastTop {
  if (kind === 'top' && altitudeFt !== null) return { kind, altitudeFt };
  return kind === 'no-cloud' ? { kind } : { kind: 'unknown' };
}

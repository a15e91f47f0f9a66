/** Pilots' reports beside what was forecast, on D1. */
import type { D1Database, D1PreparedStatement } from '@cloudflare/workers-types';
import { SAID } from '../sources/report-facts/pilot-observation.ts';
import {
  type ForecastTop,
  OUTCOMES,
  SCORED_KINDS,
  type Score,
  type ScoredReport,
  type ScoreQuery,
  type ScoreRepository,
} from '../sources/scores.ts';
import { marks } from './sql-marks.ts';

const SCORE_COLUMNS =
  'source_kind, source_name, lead_bucket, made_ms, station, probability, flagged_share, outcome, top_kind, top_ft, method';
const REPORT_COLUMNS = [
  'operator',
  'report_id',
  'time_ms',
  'lat_deg',
  'lon_deg',
  'place_words',
  'lower_ft',
  'upper_ft',
  'said',
  'heaviest',
  'is_large_drops',
  'top_ft',
  'why_unplaced',
  'why_unscored',
  'scored_ms',
  'is_settled',
] as const;

/** Scores of a report that know any air. */
const KNOWN = '(SELECT COUNT(flagged_share) FROM report_scores WHERE operator = ?1 AND report_id = ?2)';

const DELETE_SCORES = `DELETE FROM report_scores WHERE operator = ?1 AND report_id = ?2 AND ${KNOWN} <= ?3`;
/** Scores come as one JSON text; where the older ones have stayed, they stay. */
const INSERT_SCORES = `INSERT INTO report_scores (operator, report_id, ${SCORE_COLUMNS})
  SELECT ?1, ?2, ${Array.from({ length: 11 }, (_, at) => `json_extract(value, '$[${at}]')`).join(', ')}
  FROM json_each(?3) WHERE NOT EXISTS (SELECT 1 FROM report_scores WHERE operator = ?1 AND report_id = ?2)`;
const PUT_REPORT = `INSERT INTO scored_reports (${REPORT_COLUMNS.join(', ')})
  VALUES (${REPORT_COLUMNS.map((_, at) => `?${at + 1}`).join(', ')})
  ON CONFLICT (operator, report_id) DO UPDATE SET
    ${REPORT_COLUMNS.map((name) => `${name} = excluded.${name}`).join(', ')}
  WHERE ${KNOWN} <= ?${REPORT_COLUMNS.length + 1}`;
const SETTLE = `UPDATE scored_reports SET is_settled = MAX(is_settled, ?3), scored_ms = ?4
  WHERE operator = ?1 AND report_id = ?2`;

export function createScoreRepository(db: D1Database): ScoreRepository {
  return {
    async put(report, scores, nowMs) {
      const key = [report.operator, report.reportId];
      const known = scores.filter(({ flaggedShare }) => flaggedShare !== undefined).length;
      const rows = JSON.stringify(scores.map((each) => scoreRow(each, report.method)));
      // One batch is all or nothing.
      await db.batch([
        db.prepare(DELETE_SCORES).bind(...key, known),
        db.prepare(INSERT_SCORES).bind(...key, rows),
        db.prepare(PUT_REPORT).bind(...reportRow(report, nowMs), known),
        db.prepare(SETTLE).bind(...key, Number(report.isSettled), nowMs),
      ]);
    },

    async due(unsettledBeforeMs, limit) {
      const { results } = await db
        .prepare(
          `SELECT r.operator, r.id, r.text, r.issued_ms AS issuedMs, r.ingested_ms AS receivedMs
           FROM reports r LEFT JOIN scored_reports s ON s.operator = r.operator AND s.report_id = r.id
           WHERE r.kind IN ('pirep', 'airep')
             AND (s.report_id IS NULL OR (s.is_settled = 0 AND s.time_ms <= ?1))
           ORDER BY r.issued_ms DESC, r.id, r.operator LIMIT ?2`,
        )
        .bind(unsettledBeforeMs, limit)
        .all<{ operator: string; id: string; text: string; issuedMs: number; receivedMs: number }>();
      return results;
    },

    tallies: (query) => tallies(db, query),
    reportTallies: (query) => reportTallies(db, query),

    async methods(query) {
      const { results } = await asked(
        db,
        query,
        'SELECT DISTINCT s.method FROM mine m JOIN report_scores s USING (operator, report_id) ORDER BY 1',
      ).all<{ method: string }>();
      return results.map(({ method }) => method);
    },

    tops: (query, limit) => tops(db, query, limit),

    async forgetBefore(scoredBeforeMs) {
      const old = '(SELECT operator, report_id FROM scored_reports WHERE scored_ms < ?1)';
      const [, reports] = await db.batch([
        db.prepare(`DELETE FROM report_scores WHERE (operator, report_id) IN ${old}`).bind(scoredBeforeMs),
        db.prepare('DELETE FROM scored_reports WHERE scored_ms < ?1').bind(scoredBeforeMs),
      ]);
      return reports?.meta.changes ?? 0;
    },
  };
}

function scoreRow(score: Score, method: string): (string | number | null)[] {
  const { kind, name, leadBucket, madeMs, station, probability, flaggedShare, outcome, top } = score;
  return [
    ...[kind, name, leadBucket, madeMs ?? null, station, probability ?? null, flaggedShare ?? null, outcome],
    ...[top.kind, top.kind === 'top' ? top.altitudeFt : null, method],
  ];
}

function reportRow(report: ScoredReport, nowMs: number): (string | number | null)[] {
  const { operator, reportId, timeMs, latDeg, lonDeg, placeWords, band, said, heaviest } = report;
  return [
    ...[operator, reportId, timeMs ?? null, latDeg ?? null, lonDeg ?? null, placeWords],
    ...[band?.lowerFt ?? null, band?.upperFt ?? null, said, heaviest ?? null, Number(report.isLargeDrops)],
    ...[report.topFt ?? null, report.whyUnplaced ?? null, report.whyUnscored ?? null],
    ...[nowMs, Number(report.isSettled)],
  ];
}

/** A statement over `mine`: each report of the question once, that of the first operator. One without a time is of when it came. */
function asked(db: D1Database, query: ScoreQuery, statement: string): D1PreparedStatement {
  const { operators, fromMs, beforeMs, box } = query;
  const inside = box && {
    lat: 'AND lat_deg BETWEEN ? AND ?',
    lon: `AND (lon_deg >= ? ${box.westDeg <= box.eastDeg ? 'AND' : 'OR'} lon_deg <= ?)`,
  };
  const mine = `WITH mine AS (
    SELECT * FROM (
      SELECT *, ROW_NUMBER() OVER (PARTITION BY report_id ORDER BY operator = ? DESC, operator) AS turn
      FROM scored_reports WHERE operator IN (${marks(operators.length)})
        AND COALESCE(time_ms, scored_ms) >= ? AND COALESCE(time_ms, scored_ms) < ?
        ${inside?.lat ?? ''} ${inside?.lon ?? ''}
    ) WHERE turn = 1)`;
  const edges = box === undefined ? [] : [box.southDeg, box.northDeg, box.westDeg, box.eastDeg];
  return db
    .prepare(`${mine} ${statement}`)
    .bind(operators[0] ?? '', ...operators, fromMs, beforeMs, ...edges);
}

async function tallies(db: D1Database, query: ScoreQuery) {
  const { results } = await asked(
    db,
    query,
    `SELECT source_kind, source_name, lead_bucket, outcome, CAST(ROUND(probability * 100) AS INTEGER) AS pct,
       COUNT(*) AS count, COALESCE(SUM(flagged_share), 0) AS flagged_sum, COUNT(flagged_share) AS flagged_count
     FROM mine JOIN report_scores USING (operator, report_id)
     GROUP BY 1, 2, 3, 4, 5 ORDER BY 1, 2, 3, 4, 5`,
  ).all<{
    source_kind: string;
    source_name: string;
    lead_bucket: number;
    outcome: string;
    pct: number | null;
    count: number;
    flagged_sum: number;
    flagged_count: number;
  }>();
  return results.flatMap((row) => {
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
  const { results } = await asked(
    db,
    query,
    `SELECT said, COALESCE(why_unplaced, why_unscored) AS why, COUNT(*) AS count FROM mine
     GROUP BY 1, 2 ORDER BY 3 DESC, 1, 2`,
  ).all<{ said: string; why: string | null; count: number }>();
  return results.flatMap(({ said: word, why, count }) => {
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
  const { results } = await asked(
    db,
    query,
    `SELECT m.operator, m.place_words, m.lat_deg, m.lon_deg, m.time_ms, m.top_ft AS reported_ft,
       s.top_kind, s.top_ft AS forecast_ft, s.made_ms
     FROM mine m LEFT JOIN report_scores s ON s.operator = m.operator AND s.report_id = m.report_id
       AND s.source_kind = 'brief' AND s.lead_bucket = (SELECT MIN(lead_bucket) FROM report_scores
         WHERE operator = m.operator AND report_id = m.report_id AND source_kind = 'brief')
     WHERE m.top_ft IS NOT NULL AND m.why_unplaced IS NULL
     ORDER BY m.time_ms DESC, m.report_id LIMIT ${Math.floor(limit)}`,
  ).all<TopOfStore>();
  return results.map((row) => ({
    ...{ operator: row.operator, placeWords: row.place_words, latDeg: row.lat_deg, lonDeg: row.lon_deg },
    ...{ timeMs: row.time_ms, reportedFt: row.reported_ft, forecast: topOf(row) },
    madeMs: row.made_ms ?? undefined,
  }));
}

function topOf({ top_kind: kind, forecast_ft: altitudeFt }: TopOfStore): ForecastTop {
  if (kind === 'top' && altitudeFt !== null) return { kind, altitudeFt };
  return kind === 'no-cloud' ? { kind } : { kind: 'unknown' };
}

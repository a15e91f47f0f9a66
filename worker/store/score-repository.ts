/** Pilots' reports beside what was forecast, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import type { Score, ScoredReport, ScoreRepository } from '../sources/scores.ts';
import { skillQueries } from './skill-queries.ts';

const SCORE_COLUMNS =
  'source_kind, source_name, lead_bucket, made_ms, station, probability, flagged_share, outcome, top_kind, top_ft';
const REPORT_COLUMNS = [
  'operator',
  'report_id',
  'at_ms',
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
  'method',
  'scored_ms',
  'is_settled',
] as const;

/** Scores of a report that know any air. */
const KNOWN = '(SELECT COUNT(flagged_share) FROM report_scores WHERE operator = ?1 AND report_id = ?2)';

const DELETE_SCORES = `DELETE FROM report_scores WHERE operator = ?1 AND report_id = ?2 AND ${KNOWN} <= ?3`;
/** Scores come as one JSON text; where the older ones have stayed, they stay. */
const INSERT_SCORES = `INSERT INTO report_scores (operator, report_id, ${SCORE_COLUMNS})
  SELECT ?1, ?2, ${Array.from({ length: 10 }, (_, at) => `json_extract(value, '$[${at}]')`).join(', ')}
  FROM json_each(?3) WHERE NOT EXISTS (SELECT 1 FROM report_scores WHERE operator = ?1 AND report_id = ?2)`;
const PUT_REPORT = `INSERT INTO scored_reports (${REPORT_COLUMNS.join(', ')})
  VALUES (${REPORT_COLUMNS.map((_, at) => `?${at + 1}`).join(', ')})
  ON CONFLICT (operator, report_id) DO UPDATE SET
    ${REPORT_COLUMNS.map((name) => `${name} = excluded.${name}`).join(', ')}
  WHERE ${KNOWN} <= ?${REPORT_COLUMNS.length + 1}`;
const SETTLE = `UPDATE scored_reports SET is_settled = MAX(is_settled, ?3), scored_ms = ?4
  WHERE operator = ?1 AND report_id = ?2`;
const BEGIN = `INSERT INTO score_attempts (operator, report_id, attempts, last_ms) VALUES (?1, ?2, 1, ?3)
  ON CONFLICT (operator, report_id) DO UPDATE SET attempts = attempts + 1, last_ms = excluded.last_ms
  RETURNING attempts`;
const DUE = `SELECT r.operator, r.id, r.text, r.issued_ms AS issuedMs, r.ingested_ms AS receivedMs
  FROM reports r
    LEFT JOIN scored_reports s ON s.operator = r.operator AND s.report_id = r.id
    LEFT JOIN score_attempts a ON a.operator = r.operator AND a.report_id = r.id
  WHERE r.kind IN ('pirep', 'airep')
    AND (s.report_id IS NULL OR (s.is_settled = 0 AND s.time_ms <= ?1))
    AND (a.last_ms IS NULL OR a.last_ms <= ?2)
  ORDER BY COALESCE(a.attempts, 0), r.issued_ms DESC, r.id, r.operator LIMIT ?3`;

export function createScoreRepository(db: D1Database): ScoreRepository {
  return {
    async put(report, scores, nowMs) {
      const key = [report.operator, report.reportId];
      const known = scores.filter(({ flaggedShare }) => flaggedShare !== undefined).length;
      const rows = JSON.stringify(scores.map((each) => scoreRow(each)));
      // One batch is all or nothing.
      await db.batch([
        db.prepare(DELETE_SCORES).bind(...key, known),
        db.prepare(INSERT_SCORES).bind(...key, rows),
        db.prepare(PUT_REPORT).bind(...reportRow(report, nowMs), known),
        db.prepare(SETTLE).bind(...key, Number(report.isSettled), nowMs),
        db.prepare('DELETE FROM score_attempts WHERE operator = ?1 AND report_id = ?2').bind(...key),
      ]);
    },

    async begin({ operator, id }, nowMs) {
      const row = await db.prepare(BEGIN).bind(operator, id, nowMs).first<{ attempts: number }>();
      return row?.attempts ?? 1;
    },

    async due({ unsettledMs, begunMs }, limit) {
      const { results } = await db
        .prepare(DUE)
        .bind(unsettledMs, begunMs, limit)
        .all<{ operator: string; id: string; text: string; issuedMs: number; receivedMs: number }>();
      return results;
    },

    ...skillQueries(db),

    async forgetBefore(scoredBeforeMs) {
      const old = '(SELECT operator, report_id FROM scored_reports WHERE scored_ms < ?1)';
      const [, reports] = await db.batch([
        db.prepare(`DELETE FROM report_scores WHERE (operator, report_id) IN ${old}`).bind(scoredBeforeMs),
        db.prepare('DELETE FROM scored_reports WHERE scored_ms < ?1').bind(scoredBeforeMs),
        db.prepare('DELETE FROM score_attempts WHERE last_ms < ?1').bind(scoredBeforeMs),
      ]);
      return reports?.meta.changes ?? 0;
    },
  };
}

function scoreRow(score: Score): (string | number | null)[] {
  const { kind, name, leadBucket, madeMs, station, probability, flaggedShare, outcome, top } = score;
  return [
    ...[kind, name, leadBucket, madeMs ?? null, station, probability ?? null, flaggedShare ?? null, outcome],
    ...[top.kind, top.kind === 'top' ? top.altitudeFt : null],
  ];
}

function reportRow(report: ScoredReport, nowMs: number): (string | number | null)[] {
  const { operator, reportId, atMs, timeMs, latDeg, lonDeg, placeWords, band, said, heaviest } = report;
  return [
    ...[operator, reportId, atMs, timeMs ?? null, latDeg ?? null, lonDeg ?? null, placeWords],
    ...[band?.lowerFt ?? null, band?.upperFt ?? null, said, heaviest ?? null, Number(report.isLargeDrops)],
    ...[report.topFt ?? null, report.whyUnplaced ?? null, report.whyUnscored ?? null, report.method],
    ...[nowMs, Number(report.isSettled)],
  ];
}

/** Reports and warnings on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { type Box, boxOfArea } from '../flight/hazard-areas.ts';
import {
  bearsOnLegs,
  type FoundReports,
  isNoteAlone,
  REPORT_KINDS,
  type Report,
  type ReportQuery,
  type ReportRepository,
  type StoredReport,
} from '../sources/reports.ts';
import { readBody, writtenBody } from './report-body.ts';
import { marks } from './sql-marks.ts';

/** Bound as one text: far under what D1 takes. */
const MOST_CHARACTERS = 500_000;
/** Observations of a day and forecasts, corrections and copies included. */
const MOST_OF_AERODROME = 200;
/** A leg with more around it is told that some are left out. */
const MOST_FOUND = 2000;
/** Of those that are only read beside a leg. */
const MOST_NOTES = 400;

/** What `bears_on_legs` holds. */
const BEARS = { not: 0, onLegs: 1, asNote: 2 } as const;

interface Row {
  operator: string;
  id: string;
  kind: string;
  hazard_kind: string;
  series: string;
  rank: number;
  issued_ms: number;
  valid_from_ms: number;
  valid_to_ms: number;
  text: string;
  body: string;
  ingested_ms: number;
}

/**
 * Rows come as one JSON text: a file of thousands of reports is a few statements. What comes again unchanged came when it first did,
 * so that a brief can be made again of what was there.
 */
const INSERT = `INSERT OR REPLACE INTO reports
  (operator, id, kind, hazard_kind, series, rank, issued_ms, valid_from_ms, valid_to_ms, bears_on_legs,
   south_deg, north_deg, west_deg, east_deg, text, body, ingested_ms)
  SELECT ?1, ${Array.from({ length: 15 }, (_, at) => `json_extract(value, '$[${at}]')`).join(', ')},
    COALESCE((SELECT ingested_ms FROM reports old WHERE old.operator = ?1 AND old.id = json_extract(value, '$[0]')
      AND old.text = json_extract(value, '$[13]') AND old.body = json_extract(value, '$[14]')), ?3)
  FROM json_each(?2)`;

const FORGET = `DELETE FROM reports WHERE valid_to_ms < ?1
  AND (kind NOT IN ('pirep', 'airep') OR ingested_ms < ?2 OR EXISTS (
    SELECT 1 FROM scored_reports s WHERE s.operator = reports.operator AND s.report_id = reports.id))`;

export function createReportRepository(db: D1Database): ReportRepository {
  return {
    async put(operator, reports, nowMs) {
      for (const rows of batchesOf(reports)) {
        await db
          .prepare(INSERT)
          .bind(operator, `[${rows.join(',')}]`, nowMs)
          .run();
      }
    },

    find: (query) => findReports(db, query, { bears: BEARS.onLegs, most: MOST_FOUND }),

    findNotes: (query) => findReports(db, query, { bears: BEARS.asNote, most: MOST_NOTES }),

    async ofAerodrome({ operators, station, fromMs, toMs }) {
      if (operators.length === 0) return [];
      const { results } = await db
        .prepare(
          `SELECT operator, id, kind, hazard_kind, series, rank, issued_ms, valid_from_ms, valid_to_ms, text, body, ingested_ms
           FROM reports WHERE (series = ? OR (series >= ? AND series < ?)) AND issued_ms BETWEEN ? AND ?
             AND operator IN (${marks(operators.length)})
           ORDER BY issued_ms DESC, rank DESC, id, operator LIMIT ?`,
        )
        // Of an observation the series ends with its time.
        .bind(
          `taf ${station}`,
          `metar ${station} `,
          `metar ${station}!`,
          fromMs,
          toMs,
          ...operators,
          MOST_OF_AERODROME,
        )
        .all<Row>();
      return results.flatMap((row) => toStored(row) ?? []);
    },

    async counts(operators) {
      if (operators.length === 0) return [];
      const { results } = await db
        .prepare(
          `SELECT kind, COUNT(*) AS count, MAX(issued_ms) AS newest_ms FROM reports
           WHERE operator IN (${marks(operators.length)}) GROUP BY kind ORDER BY kind`,
        )
        .bind(...operators)
        .all<{ kind: string; count: number; newest_ms: number }>();
      return results.flatMap((row) => {
        const kind = kindOf(row.kind);
        return kind === undefined ? [] : [{ kind, count: row.count, newestMs: row.newest_ms }];
      });
    },

    async forgetBefore(validBeforeMs, unscoredBeforeMs) {
      const { meta } = await db.prepare(FORGET).bind(validBeforeMs, unscoredBeforeMs).run();
      return meta.changes;
    },
  };
}

function batchesOf(reports: readonly Report[]): string[][] {
  const batches: string[][] = [];
  let characters = Number.POSITIVE_INFINITY;
  for (const report of reports) {
    const row = JSON.stringify(rowOf(report));
    characters += row.length;
    if (characters > MOST_CHARACTERS) {
      batches.push([]);
      characters = row.length;
    }
    batches.at(-1)!.push(row);
  }
  return batches;
}

function rowOf(report: Report): (string | number | null)[] {
  const { id, kind, hazardKind, series, rank, issuedMs, validFromMs, validToMs, text } = report;
  const box = boxAround(report);
  const edges = [box?.southDeg, box?.northDeg, box?.westDeg, box?.eastDeg].map((deg) => deg ?? null);
  const bears = bearsOnLegs(report) ? BEARS.onLegs : isNoteAlone(report) ? BEARS.asNote : BEARS.not;
  return [
    ...[id, kind, hazardKind, series, rank, issuedMs, validFromMs, validToMs, bears],
    ...edges,
    ...[text, writtenBody(report)],
  ];
}

/** Around all areas; undefined where one has no end. Areas on both sides of the antimeridian take all longitudes. */
function boxAround({ areas }: Report): Box | undefined {
  const boxes: Box[] = [];
  for (const area of areas) {
    const box = boxOfArea(area, 0);
    if (box === undefined) return undefined;
    boxes.push(box);
  }
  const [first, ...others] = boxes;
  if (first === undefined || others.length === 0) return first;
  const westDeg = Math.min(...boxes.map((each) => each.westDeg));
  const eastDeg = Math.max(...boxes.map((each) => each.eastDeg));
  const isPlain = boxes.every((each) => each.westDeg <= each.eastDeg);
  return {
    southDeg: Math.min(...boxes.map((each) => each.southDeg)),
    northDeg: Math.max(...boxes.map((each) => each.northDeg)),
    westDeg: isPlain ? westDeg : -180,
    eastDeg: isPlain ? eastDeg : 180,
  };
}

interface Wanted {
  readonly bears: number;
  readonly most: number;
}

async function findReports(
  db: D1Database,
  query: ReportQuery,
  { bears, most }: Wanted,
): Promise<FoundReports> {
  const { operators, lonRanges } = query;
  if (operators.length === 0) return { reports: [], isPartial: false };
  const inRange = lonRanges.map(() => 'OR (west_deg <= ? AND east_deg >= ?)').join(' ');
  const { results } = await db
    .prepare(
      `SELECT operator, id, kind, hazard_kind, series, rank, issued_ms, valid_from_ms, valid_to_ms, text, body, ingested_ms
       FROM reports WHERE bears_on_legs = ? AND valid_to_ms >= ? AND valid_from_ms <= ?
         AND (south_deg IS NULL OR (south_deg <= ? AND north_deg >= ? AND (west_deg > east_deg ${inRange})))
         AND operator IN (${marks(operators.length)})
       ORDER BY issued_ms DESC, id, operator LIMIT ?`,
    )
    .bind(
      bears,
      query.fromMs,
      query.toMs,
      query.northDeg,
      query.southDeg,
      ...lonRanges.flatMap(([west, east]) => [east, west]),
      ...operators,
      most + 1,
    )
    .all<Row>();
  const reports = results.slice(0, most).flatMap((row) => toStored(row) ?? []);
  return { reports, isPartial: reports.length < results.length };
}

function toStored(row: Row): StoredReport | undefined {
  const kind = kindOf(row.kind);
  const hazardKind = HAZARD_KINDS.find((each) => each === row.hazard_kind);
  const body = readBody(row.body);
  if (kind === undefined || hazardKind === undefined || body === undefined) return undefined;
  return {
    operator: row.operator,
    id: row.id,
    kind,
    hazardKind,
    series: row.series,
    rank: row.rank,
    issuedMs: row.issued_ms,
    validFromMs: row.valid_from_ms,
    validToMs: row.valid_to_ms,
    text: row.text,
    ingestedMs: row.ingested_ms,
    ...body,
  };
}

const HAZARD_KINDS = ['warning', 'surface-report', 'surface-forecast', 'pilot-report'] as const;
const kindOf = (text: string) => REPORT_KINDS.find((each) => each === text);

/** Ascents on D1: one row each, levels as JSON columns with null where the file had nothing. */
import type { D1Database } from '@cloudflare/workers-types';
import * as z from 'zod/mini';
import type { ReportText, Sounding, SoundingLevels } from '../formats/sounding.ts';
import type { SoundingQuery, SoundingRepository, SoundingRow, StoredSounding } from '../sources/ports.ts';
import { marks } from './sql-marks.ts';

const column = z.array(z.nullable(z.number()));
const bodySchema = z.object({
  pressurePa: z.array(z.number()),
  geopotentialHeightM: column,
  temperatureK: column,
  dewPointK: column,
  windDirectionDeg: column,
  windSpeedMps: column,
});

interface Row {
  operator: string;
  station_id: string;
  time_ms: number;
  format: string;
  lat_deg: number;
  lon_deg: number;
  elevation_m: number | null;
  release_ms: number | null;
  level_count: number;
  ingested_ms: number;
}

interface ReportRow {
  part: ReportText['part'];
  correction: number;
  body: string;
}

const FORMATS: readonly Sounding['format'][] = ['igra-v2', 'fm-35-temp', 'fm-94-bufr'];

/** Parts read of one ascent: four, and their repetitions and corrections. */
const MOST_REPORTS = 64;
/** D1 binds at most this many statements comfortably in one batch. */
const BATCH = 50;
/** A brief reads at most this many ascents; more in one box and twelve hours is not a sounding network. */
const MOST_FOUND = 400;

export function createSoundingRepository(db: D1Database): SoundingRepository {
  return {
    async put(operator, soundings, nowMs) {
      const insert = db.prepare(
        `INSERT OR REPLACE INTO soundings
         (operator, station_id, time_ms, format, lat_deg, lon_deg, elevation_m, level_count, ingested_ms, body,
          release_ms)
         VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10, ?11)`,
      );
      for (let from = 0; from < soundings.length; from += BATCH) {
        await db.batch(
          soundings
            .slice(from, from + BATCH)
            .map((sounding) =>
              insert.bind(
                operator,
                sounding.stationId,
                sounding.timeMs,
                sounding.format,
                sounding.latDeg,
                sounding.lonDeg,
                nullIfNaN(sounding.elevationM),
                sounding.levels.levelCount,
                nowMs,
                JSON.stringify(toBody(sounding.levels)),
                nullIfNaN(sounding.releaseMs),
              ),
            ),
        );
      }
    },

    keepReports: (operator, soundings) => keptReports(db, operator, { soundings, isAdding: true }),
    reports: (operator, soundings) => keptReports(db, operator, { soundings, isAdding: false }),

    async find(query) {
      if (query.operators.length === 0) return [];
      const { results } = await db
        .prepare(findSql(query))
        .bind(
          query.fromMs,
          query.toMs,
          query.southDeg,
          query.northDeg,
          ...query.operators,
          ...query.lonRanges.flat(),
          MOST_FOUND,
        )
        .all<Row & { body: string }>();
      return results.map(toStored);
    },

    async list(operators, limit) {
      if (operators.length === 0) return [];
      const { results } = await db
        .prepare(
          `SELECT operator, station_id, time_ms, format, lat_deg, lon_deg, elevation_m, level_count, ingested_ms
           FROM soundings WHERE operator IN (${marks(operators.length)})
           ORDER BY time_ms DESC, station_id LIMIT ?`,
        )
        .bind(...operators, limit)
        .all<Row>();
      return results.map(toListRow);
    },
  };
}

/** Inserts and reads in one go: every part that was there before, and the ascent's own, in the order of their coming. */
async function keptReports(
  db: D1Database,
  operator: string,
  { soundings, isAdding }: { readonly soundings: readonly Sounding[]; readonly isAdding: boolean },
): Promise<ReportText[][]> {
  const ofParts = soundings.filter(({ reports }) => reports.length > 0);
  if (ofParts.length === 0) return soundings.map(() => []);
  const insert = db.prepare(
    `INSERT OR IGNORE INTO temp_reports (operator, station_id, time_ms, part, correction, body)
     VALUES (?1, ?2, ?3, ?4, ?5, ?6)`,
  );
  const select = db.prepare(
    `SELECT part, correction, body FROM temp_reports
     WHERE operator = ?1 AND station_id = ?2 AND time_ms = ?3 ORDER BY rowid LIMIT ?4`,
  );
  const added = isAdding
    ? ofParts.flatMap(({ stationId, timeMs, reports }) =>
        reports.map((one) => insert.bind(operator, stationId, timeMs, one.part, one.correction, one.text)),
      )
    : [];
  const results = await db.batch<ReportRow>([
    ...added,
    ...ofParts.map(({ stationId, timeMs }) => select.bind(operator, stationId, timeMs, MOST_REPORTS)),
  ]);
  const found = new Map(ofParts.map((sounding, at) => [sounding, results[added.length + at]!.results]));
  return soundings.map((sounding) =>
    (found.get(sounding) ?? []).map(({ part, correction, body }) => ({ part, correction, text: body })),
  );
}

function findSql(query: SoundingQuery): string {
  const inRange = query.lonRanges.map(() => '(lon_deg BETWEEN ? AND ?)').join(' OR ');
  return `SELECT * FROM soundings
    WHERE time_ms BETWEEN ? AND ? AND lat_deg BETWEEN ? AND ?
      AND operator IN (${marks(query.operators.length)}) AND (${inRange})
    ORDER BY time_ms DESC, station_id, operator LIMIT ?`;
}

function toListRow(row: Row): SoundingRow {
  return {
    operator: row.operator,
    stationId: row.station_id,
    format: row.format,
    timeMs: row.time_ms,
    latDeg: row.lat_deg,
    lonDeg: row.lon_deg,
    levelCount: row.level_count,
    ingestedMs: row.ingested_ms,
  };
}

type Body = z.infer<typeof bodySchema>;

const NO_LEVELS: Body = {
  pressurePa: [],
  geopotentialHeightM: [],
  temperatureK: [],
  dewPointK: [],
  windDirectionDeg: [],
  windSpeedMps: [],
};

/** An ascent that does not read back stands without levels: with its weight it leaves the air unknown, and frees none. */
function bodyOf(text: string): Body {
  try {
    const parsed = bodySchema.safeParse(JSON.parse(text));
    return parsed.success ? parsed.data : NO_LEVELS;
  } catch {
    return NO_LEVELS;
  }
}

function toStored(row: Row & { body: string }): StoredSounding {
  const body = bodyOf(row.body);
  return {
    operator: row.operator,
    ingestedMs: row.ingested_ms,
    format: FORMATS.find((format) => format === row.format) ?? 'fm-35-temp',
    stationId: row.station_id,
    latDeg: row.lat_deg,
    lonDeg: row.lon_deg,
    elevationM: row.elevation_m ?? Number.NaN,
    timeMs: row.time_ms,
    releaseMs: row.release_ms ?? Number.NaN,
    reports: [],
    rejected: [],
    levels: {
      levelCount: body.pressurePa.length,
      pressurePa: Float64Array.from(body.pressurePa),
      geopotentialHeightM: fromColumn(body.geopotentialHeightM),
      temperatureK: fromColumn(body.temperatureK),
      dewPointK: fromColumn(body.dewPointK),
      windDirectionDeg: fromColumn(body.windDirectionDeg),
      windSpeedMps: fromColumn(body.windSpeedMps),
    },
  };
}

function toBody(levels: SoundingLevels): Body {
  return {
    pressurePa: Array.from(levels.pressurePa),
    geopotentialHeightM: toColumn(levels.geopotentialHeightM),
    temperatureK: toColumn(levels.temperatureK),
    dewPointK: toColumn(levels.dewPointK),
    windDirectionDeg: toColumn(levels.windDirectionDeg),
    windSpeedMps: toColumn(levels.windSpeedMps),
  };
}

const nullIfNaN = (value: number) => (Number.isFinite(value) ? value : null);
const toColumn = (values: Float64Array) => Array.from(values, nullIfNaN);
const fromColumn = (values: readonly (number | null)[]) =>
  Float64Array.from(values, (value) => value ?? Number.NaN);

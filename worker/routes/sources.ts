/** GET /api/sources: every ascent and grid hour that this request may read, newest first. */
import type { Context } from 'hono';
import { isInventedStation } from '../brief/invented.ts';
import { readableOperators } from './access.ts';
import type { AppEnv } from './app-env.ts';

const MOST_LISTED = 500;

export async function getSources(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const operators = await readableOperators(context.req.raw, settings);
  const [soundings, hours] = await Promise.all([
    deps.soundings.list(operators, MOST_LISTED),
    deps.grids.list(operators, MOST_LISTED),
  ]);
  return context.json({
    soundings: soundings.map((row) => ({
      operator: row.operator,
      station: row.stationId,
      format: row.format,
      latDeg: row.latDeg,
      lonDeg: row.lonDeg,
      validUtc: utc(row.timeMs),
      levels: row.levelCount,
      ingestedUtc: utc(row.ingestedMs),
      invented: isInventedStation(row.stationId),
    })),
    grids: hours.map((hour) => ({
      operator: hour.operator,
      model: hour.model,
      runUtc: utc(hour.runMs),
      validUtc: utc(hour.validMs),
      ingestedUtc: utc(hour.ingestedMs),
    })),
  });
}

const utc = (instantMs: number) => new Date(instantMs).toISOString();

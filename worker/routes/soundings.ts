/** POST /api/soundings: ascents in, what was kept level by level out. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { inspectSounding } from '../formats/inspect-sounding.ts';
import type { Rejection, Sounding } from '../formats/sounding.ts';
import { findStation } from '../formats/stations.ts';
import type { TempContext } from '../formats/temp/read-temp.ts';
import { bodyChunks } from '../sources/body.ts';
import { type KeptSoundings, keepSoundings } from '../sources/keep-soundings.ts';
import { uploadedSoundings } from '../sources/read-uploads.ts';
import { writingOperator } from './access.ts';
import type { AppEnv } from './app-env.ts';

const MOST_BYTES = 100 * 1024 * 1024;
/** Ascents stored at a time while a long file streams through. */
const BATCH = 50;
/** Ascents told level by level; of more, only station and time. */
const MOST_TOLD = 200;
const MOST_REJECTIONS_TOLD = 1000;

export async function postSoundings(context: Context<AppEnv>): Promise<Response> {
  const operator = await writingOperator(context.req.raw, context.var.settings);
  const { soundings: repository, nowMs } = context.var.deps;
  const reading = uploadContext(context.req.query(), nowMs());
  const told: object[] = [];
  const rejected: Rejection[] = [];
  const refused: KeptSoundings['refused'][number][] = [];
  let rejectedCount = 0;
  let stored = 0;
  let batch: Sounding[] = [];
  const flush = async () => {
    const kept = await keepSoundings(repository, operator, batch, { context: reading, nowMs: nowMs() });
    stored += kept.stored;
    refused.push(...kept.refused);
    told.push(...kept.soundings.slice(0, MOST_TOLD - told.length).map(inspectSounding));
    batch = [];
  };
  const chunks = bodyChunks(context.req.raw, MOST_BYTES);
  for await (const item of uploadedSoundings(chunks, reading)) {
    if (item.kind === 'rejected') {
      rejectedCount += 1;
      if (rejected.length < MOST_REJECTIONS_TOLD) rejected.push(item.rejection);
      continue;
    }
    batch.push(item.sounding);
    if (batch.length === BATCH) await flush();
  }
  await flush();
  return context.json({ stored, refused, rejectedCount, rejected, soundings: told }, stored > 0 ? 201 : 422);
}

/** Coordinates given at upload serve every station that the embedded table does not know. */
function uploadContext(query: Record<string, string>, nowMs: number): TempContext {
  const nearMs = query.near === undefined ? nowMs : Date.parse(query.near);
  if (!Number.isFinite(nearMs)) {
    throw new InvalidRequestError({ field: 'near', found: 'no date', expected: 'an ISO 8601 instant' });
  }
  const given =
    query.latDeg === undefined && query.lonDeg === undefined
      ? undefined
      : {
          latDeg: numberOf(query, 'latDeg', 90),
          lonDeg: numberOf(query, 'lonDeg', 180),
          elevationM: query.elevationM === undefined ? Number.NaN : numberOf(query, 'elevationM', 9000),
        };
  return { nearMs, stations: (wmoNumber) => findStation(wmoNumber) ?? given };
}

function numberOf(query: Record<string, string>, field: string, limit: number): number {
  const value = (query[field] ?? '').trim() === '' ? Number.NaN : Number(query[field]);
  if (!(Math.abs(value) <= limit)) {
    throw new InvalidRequestError({
      field,
      found: JSON.stringify(query[field] ?? null),
      expected: `a number from ${-limit} to ${limit}`,
    });
  }
  return value;
}

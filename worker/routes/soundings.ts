/** POST /api/soundings: ascents in, what was kept level by level out. */
import type { Context } from 'hono';
import { InvalidRequestError } from '../errors.ts';
import { type InspectedSounding, inspectSounding } from '../formats/inspect-sounding.ts';
import type { Rejection, Sounding } from '../formats/sounding.ts';
import { findStation } from '../formats/stations.ts';
import type { TempContext } from '../formats/temp/read-temp.ts';
import { writtenInstantMs, writtenNumber } from '../formats/written-values.ts';
import { postSoundings as call } from '../schema/calls-uploads.ts';
import { bodyChunks } from '../sources/body.ts';
import { type KeptSoundings, keepSoundings, MOST_AHEAD_MS } from '../sources/keep-soundings.ts';
import { uploadedSoundings } from '../sources/read-uploads.ts';
import type { AppEnv } from './app-env.ts';
import { writingOperator } from './read-call.ts';

/** Ascents stored at a time while a long file streams through. */
const BATCH = 50;
/** Ascents told level by level; of more, only station and time. */
const MOST_TOLD = 200;
const MOST_REJECTIONS_TOLD = 1000;
const MOST_REJECTIONS_AN_ASCENT = 200;

export async function postSoundings(context: Context<AppEnv>): Promise<Response> {
  const operator = writingOperator(context);
  const { soundings: repository, nowMs } = context.var.deps;
  const reading = uploadContext(context.req.query(), nowMs());
  const told: object[] = [];
  const rejected: Rejection[] = [];
  const refused: KeptSoundings['refused'][number][] = [];
  let rejectedCount = 0;
  let refusedCount = 0;
  let stored = 0;
  let batch: Sounding[] = [];
  const flush = async () => {
    const kept = await keepSoundings(repository, operator, batch, { context: reading, nowMs: nowMs() });
    stored += kept.stored;
    refusedCount += kept.refused.length;
    refused.push(...kept.refused.slice(0, MOST_REJECTIONS_TOLD - refused.length));
    told.push(...kept.soundings.slice(0, MOST_TOLD - told.length).map(toldOf));
    batch = [];
  };
  const chunks = bodyChunks(context.req.raw, call.mostBytes);
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
  const counts = { stored, refusedCount, refused, rejectedCount, rejected };
  return context.json({ ...counts, soundings: told }, stored > 0 ? 201 : 422);
}

/** An ascent level by level, of its rejections the first ones and how many more there are. */
function toldOf(sounding: Sounding): InspectedSounding {
  const inspected = inspectSounding(sounding);
  const leftOut = inspected.rejected.length - MOST_REJECTIONS_AN_ASCENT;
  if (leftOut <= 0) return inspected;
  const first = inspected.rejected.slice(0, MOST_REJECTIONS_AN_ASCENT);
  const more = { line: inspected.rejected[MOST_REJECTIONS_AN_ASCENT]!.line, reason: `and ${leftOut} more` };
  return { ...inspected, rejected: [...first, more] };
}

/** Coordinates given at upload serve every station that the embedded table does not know. */
function uploadContext(query: Record<string, string>, nowMs: number): TempContext {
  const near =
    query.near === undefined
      ? { nearMs: nowMs, notAfterMs: nowMs + MOST_AHEAD_MS }
      : { nearMs: instantOf(query.near, 'near') };
  const given =
    query.latDeg === undefined && query.lonDeg === undefined
      ? undefined
      : {
          latDeg: numberOf(query, 'latDeg', 90),
          lonDeg: numberOf(query, 'lonDeg', 180),
          elevationM: query.elevationM === undefined ? Number.NaN : numberOf(query, 'elevationM', 9000),
        };
  return { ...near, stations: (wmoNumber) => findStation(wmoNumber) ?? given };
}

/** A typing error must not store an ascent in a wrong month. */
function instantOf(text: string, field: string): number {
  const instantMs = writtenInstantMs(text);
  if (Number.isFinite(instantMs)) return instantMs;
  throw new InvalidRequestError({
    field,
    found: JSON.stringify(text.slice(0, 40)),
    expected: 'an instant such as 2026-01-14T12:00:00Z',
  });
}

function numberOf(query: Record<string, string>, field: string, limit: number): number {
  const value = writtenNumber(query[field]);
  if (!(Math.abs(value) <= limit)) {
    throw new InvalidRequestError({
      field,
      found: JSON.stringify(query[field] ?? null),
      expected: `a number from ${-limit} to ${limit}`,
    });
  }
  return value;
}

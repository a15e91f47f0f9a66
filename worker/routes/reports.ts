/** POST /api/reports: METAR, TAF, SIGMET, AIRMET and pilots' reports in any mixture in, what was kept of each out. */
import type { Context } from 'hono';
import { scoreNow } from '../brief/score-reports.ts';
import { InvalidRequestError } from '../errors.ts';
import { joinBytes } from '../formats/join-bytes.ts';
import { decodedText } from '../formats/plain-text.ts';
import { writtenInstantMs } from '../formats/written-values.ts';
import { faultLine } from '../log.ts';
import { postReports as call } from '../schema/calls-reports.ts';
import { bodyChunks } from '../sources/body.ts';
import { keepReports } from '../sources/keep-reports.ts';
import { MOST_AHEAD_MS } from '../sources/keep-soundings.ts';
import type { Report } from '../sources/reports.ts';
import { afterAnswer } from './after-answer.ts';
import type { AppEnv } from './app-env.ts';
import { writingOperator } from './read-call.ts';

const MOST_TOLD = 1000;

export async function postReports(context: Context<AppEnv>): Promise<Response> {
  const operator = writingOperator(context);
  const { deps } = context.var;
  const nowMs = deps.nowMs();
  const nearMs = nearOf(context.req.query('near'), nowMs);
  const text = await bodyCharacters(context.req.raw);
  const reading = { nearMs, nowMs, notAfterMs: nowMs + MOST_AHEAD_MS };
  const { reports, rejected } = await keepReports(deps, operator, text, reading);
  await afterAnswer(context, scoreAtOnce(context, reports, { operator, nearMs }));
  const answer = {
    stored: reports.length,
    rejectedCount: rejected.length,
    rejected: rejected.slice(0, MOST_TOLD),
    reports: reports.slice(0, MOST_TOLD).map(toldOf),
  };
  return context.json(answer, reports.length > 0 ? 201 : 422);
}

/** The reports are kept: nothing that happens here may undo that. */
async function scoreAtOnce(
  context: Context<AppEnv>,
  reports: readonly Report[],
  of: { readonly operator: string; readonly nearMs: number },
): Promise<void> {
  const { deps, settings } = context.var;
  try {
    await scoreNow(deps, reports, { ...of, openOperators: settings.openOperators });
  } catch (error) {
    console.error(faultLine('reports-not-scored', error));
  }
}

async function bodyCharacters(request: Request): Promise<string> {
  const chunks: Uint8Array[] = [];
  for await (const chunk of bodyChunks(request, call.mostBytes)) chunks.push(chunk);
  return decodedText(joinBytes(chunks));
}

/** Month and year of the reports; a typing error must not store them in a wrong one. */
function nearOf(text: string | undefined, nowMs: number): number {
  if (text === undefined) return nowMs;
  const instantMs = writtenInstantMs(text);
  if (Number.isFinite(instantMs)) return instantMs;
  throw new InvalidRequestError({
    field: 'near',
    found: JSON.stringify(text.slice(0, 40)),
    expected: 'an instant such as 2026-01-14T12:00:00Z',
  });
}

function toldOf({ id, kind, series, issuedMs, validFromMs, validToMs, areas, ice, cancels, text }: Report) {
  return {
    id,
    kind,
    issuedUtc: utc(issuedMs),
    validFromUtc: utc(validFromMs),
    validToUtc: utc(validToMs),
    isPlaced: areas.every((area) => area.kind !== 'unknown'),
    /** What of it raises a verdict where a leg meets it. */
    ice: ice.map(({ severity, sentence, fromMs, toMs }) => ({
      severity,
      sentence,
      fromUtc: utc(fromMs),
      toUtc: utc(toMs),
    })),
    cancels: cancels === undefined ? null : series,
    text,
  };
}

const utc = (instantMs: number) => new Date(instantMs).toISOString();

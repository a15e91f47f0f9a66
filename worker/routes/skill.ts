/** GET /api/skill: how forecasts did against pilots' reports, and the cloud tops of the last day beside those reported. */
import type { Context } from 'hono';
import { ICE_FORECAST_FROM } from '../brief/forecast-at-report.ts';
import { cautionsOf, reportsAnswer, skillRows, topAnswer } from '../brief/skill-answer.ts';
import { utc } from '../brief/utc.ts';
import { InvalidRequestError } from '../errors.ts';
import { type SkillAnswer, skillQuerySchema } from '../schema/skill.ts';
import type { ScoreQuery } from '../sources/scores.ts';
import { readableOperators } from './access.ts';
import type { AppEnv } from './app-env.ts';
import { parseRequest } from './parse-request.ts';

const TOPS_OF_MS = 24 * 3_600_000;
const MOST_TOPS = 500;

export async function getSkill(context: Context<AppEnv>): Promise<Response> {
  const { deps, settings } = context.var;
  const { fromUtc, beforeUtc, bbox } = parseRequest(skillQuerySchema, context.req.query());
  const query: ScoreQuery = {
    operators: await readableOperators(context.req.raw, settings),
    fromMs: fromUtc === undefined ? 0 : Date.parse(fromUtc),
    beforeMs: beforeUtc === undefined ? deps.nowMs() : Date.parse(beforeUtc),
    box: bbox && { westDeg: bbox[0], southDeg: bbox[1], eastDeg: bbox[2], northDeg: bbox[3] },
  };
  refuseEmpty(query);
  const lastDay = { ...query, fromMs: query.beforeMs - TOPS_OF_MS };
  const [tallies, reports, methods, tops] = await Promise.all([
    deps.scores.tallies(query),
    deps.scores.reportTallies(query),
    deps.scores.methods(query),
    deps.scores.tops(lastDay, MOST_TOPS + 1),
  ]);
  const answer: SkillAnswer = {
    methods: [...methods],
    iceForecastFrom: ICE_FORECAST_FROM,
    fromUtc: fromUtc === undefined ? null : utc(query.fromMs),
    beforeUtc: utc(query.beforeMs),
    bbox: bbox ?? null,
    reports: reportsAnswer(reports),
    sources: skillRows(tallies),
    cautions: cautionsOf(methods),
    tops: tops.slice(0, MOST_TOPS).map(topAnswer),
    topsArePartial: tops.length > MOST_TOPS,
  };
  return context.json(answer);
}

function refuseEmpty({ fromMs, beforeMs }: ScoreQuery): void {
  if (fromMs < beforeMs) return;
  throw new InvalidRequestError({
    field: 'fromUtc',
    found: utc(fromMs),
    expected: `an instant before ${utc(beforeMs)}`,
  });
}

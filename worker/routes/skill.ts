/** GET /api/skill: how forecasts did against pilots' reports, and the cloud tops of the last day beside those reported. */
import type { Context } from 'hono';
import { ICE_FORECAST_FROM } from '../brief/forecast-at-report.ts';
import { cautionsOf, reportsAnswer, skillRows, topAnswer } from '../brief/skill-answer.ts';
import { utc } from '../brief/utc.ts';
import { InvalidRequestError } from '../errors.ts';
import { getSkill as call } from '../schema/calls-reports.ts';
import { MOST_SKILL_DAYS, type SkillAnswer } from '../schema/skill.ts';
import type { ScoreQuery, ScoreRepository } from '../sources/scores.ts';
import type { AppEnv } from './app-env.ts';
import { requestQuery } from './read-call.ts';

const MS_PER_DAY = 24 * 3_600_000;
const TOPS_OF_MS = MS_PER_DAY;
const MOST_TOPS = 500;
const MOST_MS = MOST_SKILL_DAYS * MS_PER_DAY;

type Tops = Pick<SkillAnswer, 'tops' | 'topsArePartial'>;
type Skill = Pick<SkillAnswer, 'methods' | 'reports' | 'sources' | 'cautions'>;

/** Of a part that was not asked for. */
const NO_TOPS: Tops = { tops: [], topsArePartial: false };
const NO_SKILL: Skill = {
  ...{ methods: [], sources: [], cautions: [] },
  reports: { total: 0, ice: 0, noIce: 0, unscored: [], waiting: 0 },
};

export async function getSkill(context: Context<AppEnv>): Promise<Response> {
  const { deps, operators } = context.var;
  const { fromUtc, beforeUtc, bbox, parts } = requestQuery(context, call);
  const beforeMs = beforeUtc === undefined ? deps.nowMs() : Date.parse(beforeUtc);
  const query: ScoreQuery = {
    operators,
    fromMs: fromUtc === undefined ? beforeMs - MOST_MS : Date.parse(fromUtc),
    beforeMs,
    box: bbox && { westDeg: bbox[0], southDeg: bbox[1], eastDeg: bbox[2], northDeg: bbox[3] },
  };
  refuseUnfit(query);
  const [tops, skill] = await Promise.all([
    parts === 'skill' ? NO_TOPS : topsOf(deps.scores, query),
    parts === 'tops' ? NO_SKILL : skillOf(deps.scores, query),
  ]);
  const answer: SkillAnswer = {
    parts: parts === undefined ? ['tops', 'skill'] : [parts],
    iceForecastFrom: ICE_FORECAST_FROM,
    fromUtc: utc(query.fromMs),
    beforeUtc: utc(query.beforeMs),
    mostDays: MOST_SKILL_DAYS,
    bbox: bbox ?? null,
    ...skill,
    ...tops,
  };
  return context.json(answer);
}

async function topsOf(scores: ScoreRepository, query: ScoreQuery): Promise<Tops> {
  const lastDay = { ...query, fromMs: query.beforeMs - TOPS_OF_MS };
  const tops = await scores.tops(lastDay, MOST_TOPS + 1);
  return { tops: tops.slice(0, MOST_TOPS).map(topAnswer), topsArePartial: tops.length > MOST_TOPS };
}

async function skillOf(scores: ScoreRepository, query: ScoreQuery): Promise<Skill> {
  const [tallies, reports, waiting, methods] = await Promise.all([
    scores.tallies(query),
    scores.reportTallies(query),
    scores.waiting(query),
    scores.methods(query),
  ]);
  return {
    methods: [...methods],
    reports: reportsAnswer(reports, waiting),
    sources: skillRows(tallies),
    cautions: cautionsOf(methods),
  };
}

function refuseUnfit({ fromMs, beforeMs }: ScoreQuery): void {
  if (fromMs < beforeMs && beforeMs - fromMs <= MOST_MS) return;
  throw new InvalidRequestError({
    field: 'fromUtc',
    found: utc(fromMs),
    expected:
      fromMs < beforeMs
        ? `at most ${MOST_SKILL_DAYS} days before ${utc(beforeMs)}`
        : `an instant before ${utc(beforeMs)}`,
  });
}

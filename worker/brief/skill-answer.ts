/** From tallies of scored reports to the table of skill, with what must be said beside it. Pure. */
import type { SkillAnswer, SkillRow, TopAnswer } from '../schema/skill.ts';
import { areaUnder, rocCurve, type Share, skillOf, volumeEfficiency } from '../science/skill.ts';
import {
  LEAD_WORDS,
  type Outcome,
  type ReportTally,
  type ScoreTally,
  type TopRow,
} from '../sources/scores.ts';
import { roundTo } from './round-to.ts';
import { utc } from './utc.ts';

/** Fewer reports of ice, or of none, than this claim nothing (judgement). */
const FEWEST = 50;

export const SKILL_CAUTIONS: readonly string[] = [
  'Pilots avoid ice and seldom report its absence: reports sample neither the sky nor the ice in it.',
  'No share of false alarms among all warnings can be computed from such reports, and none is given; false alarms are counted on reports of no ice alone.',
  'Only runs that began and balloons that went up before a report count as forecasts of it, whenever they could first be read.',
  'The supply keeps the newest three runs of each valid time: of a model that runs every hour, leads of more than a few hours are not compared.',
  'Reports are off by tens of kilometers and by minutes, and how heavy ice is depends on the aeroplane.',
  'Intervals take reports for independent of each other, which those of one day and cloud are not: the truth is less certain than they say.',
  'The volume is that of the air over the places reported, where ice is likelier than elsewhere.',
];
const MIXED_METHODS = 'Scores of several versions of the method are counted together.';

/** @checked tests/brief/skill-answer.test.ts */
export function skillRows(tallies: readonly ScoreTally[]): SkillRow[] {
  const groups = new Map<string, ScoreTally[]>();
  for (const tally of tallies) {
    const key = `${tally.kind} ${tally.name} ${tally.leadBucket}`;
    groups.set(key, [...(groups.get(key) ?? []), tally]);
  }
  return [...groups.values()].map(rowOf);
}

/** Outcomes that say something of the forecast. */
const JUDGED: ReadonlySet<Outcome> = new Set(['hit', 'miss', 'false', 'correct-no']);

function rowOf(tallies: readonly ScoreTally[]): SkillRow {
  const { kind, name, leadBucket } = tallies[0]!;
  const count = (outcome: Outcome) =>
    tallies.reduce((sum, each) => sum + (each.outcome === outcome ? each.count : 0), 0);
  const [hits, misses, falseAlarms] = [count('hit'), count('miss'), count('false')];
  const correctNulls = count('correct-no');
  const { iceFound, nullsFound, trueSkill } = skillOf({ hits, misses, falseAlarms, correctNulls });
  const judged = tallies.filter(({ outcome }) => JUDGED.has(outcome));
  const flaggedCount = judged.reduce((sum, each) => sum + each.flaggedCount, 0);
  const flagged =
    flaggedCount === 0 ? undefined : judged.reduce((sum, each) => sum + each.flaggedSum, 0) / flaggedCount;
  const efficiency = volumeEfficiency(iceFound?.value, flagged);
  return {
    ...{ kind, name, lead: LEAD_WORDS[leadBucket] ?? null },
    counts: {
      ...{ hits, misses, falseAlarmsOnNulls: falseAlarms, correctNulls },
      ...{ unknown: count('unknown'), unscored: count('unscored') },
    },
    podYes: shareAnswer(iceFound),
    podNo: shareAnswer(nullsFound),
    trueSkill: rounded(trueSkill, 0.001),
    rocArea: rounded(rocArea(judged), 0.001),
    volumePct: rounded(flagged === undefined ? undefined : flagged * 100, 0.1),
    volumeEfficiency: rounded(efficiency, 0.01),
    caution: tooFew(hits + misses, falseAlarms + correctNulls),
  };
}

const rounded = (value: number | undefined, step: number) =>
  value === undefined ? null : roundTo(value, step);

function shareAnswer(share: Share | undefined): SkillRow['podYes'] {
  if (share === undefined) return null;
  const { value, low, high, count } = share;
  return {
    value: roundTo(value, 0.001),
    low: roundTo(low, 0.001),
    high: roundTo(high, 0.001),
    reports: count,
  };
}

function rocArea(judged: readonly ScoreTally[]): number | undefined {
  const curve = rocCurve(
    judged.flatMap(({ probabilityPct, outcome, count }) => {
      if (probabilityPct === undefined) return [];
      const isMet = outcome === 'hit' || outcome === 'miss';
      return [{ probability: probabilityPct / 100, met: isMet ? count : 0, notMet: isMet ? 0 : count }];
    }),
  );
  return curve && areaUnder(curve);
}

function tooFew(ofIce: number, ofNone: number): string | null {
  if (ofIce >= FEWEST && ofNone >= FEWEST) return null;
  return `Too few to claim skill: ${ofIce} of ice and ${ofNone} of no ice, ${FEWEST} of each are the least`;
}

/** @param waiting  Reports that came in and were not compared yet. */
export function reportsAnswer(tallies: readonly ReportTally[], waiting: number): SkillAnswer['reports'] {
  const sum = (some: readonly ReportTally[]) => some.reduce((total, { count }) => total + count, 0);
  const scored = tallies.filter(({ why }) => why === undefined);
  const whys = new Map<string, number>();
  for (const { why, count } of tallies) if (why !== undefined) whys.set(why, (whys.get(why) ?? 0) + count);
  return {
    total: sum(tallies),
    ice: sum(scored.filter(({ said }) => said === 'ice')),
    noIce: sum(scored.filter(({ said }) => said === 'no-ice')),
    unscored: [...whys].map(([why, count]) => ({ why, count })),
    waiting,
  };
}

export function cautionsOf(methods: readonly string[]): string[] {
  return methods.length > 1 ? [...SKILL_CAUTIONS, MIXED_METHODS] : [...SKILL_CAUTIONS];
}

const MS_PER_HOUR = 3_600_000;

export function topAnswer({ forecast, timeMs, madeMs, reportedFt, ...row }: TopRow): TopAnswer {
  const forecastTopFt = forecast.kind === 'top' ? forecast.altitudeFt : null;
  return {
    operator: row.operator,
    place: row.placeWords,
    latDeg: roundTo(row.latDeg, 0.001),
    lonDeg: roundTo(row.lonDeg, 0.001),
    timeUtc: utc(timeMs),
    reportedTopFt: reportedFt,
    forecast: forecast.kind,
    forecastTopFt,
    differenceFt: forecastTopFt === null ? null : forecastTopFt - reportedFt,
    leadHours: madeMs === undefined ? null : roundTo((timeMs - madeMs) / MS_PER_HOUR, 0.1),
  };
}

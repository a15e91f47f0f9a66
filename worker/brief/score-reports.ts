/**
 * Scores stored pilots' reports, one by one. Each attempt is noted before it is made, so that a report that fails, or takes the
 * whole round with it, stops no other: it comes last in later rounds, and after some attempts is settled as one that failed.
 */

import { faultLine } from '../log.ts';
import { observeReport } from '../sources/observe-report.ts';
import type { Dependencies, ObjectStore } from '../sources/ports.ts';
import type { PilotObservation } from '../sources/report-facts/pilot-observation.ts';
import type { Report } from '../sources/reports.ts';
import type { ReportToScore, Score } from '../sources/scores.ts';
import { METHOD_VERSION } from './method.ts';
import { middleOfPlace, type PlacedObservation, scoreReport } from './score-report.ts';

const MS_PER_HOUR = 3_600_000;
const MS_PER_DAY = 24 * MS_PER_HOUR;
/** By then the ascents and runs that began before a report have come in; hours of forecasts are kept longer. */
const SETTLED_AFTER_MS = 3 * MS_PER_HOUR;
/** Of an upload none of longer ago than this is scored at once. */
const AT_ONCE_REACH_MS = 48 * MS_PER_HOUR;
/** What one round may cost, or a report more; the rest waits for the next. */
export interface Limits {
  readonly reports: number;
  /** Objects read. */
  readonly reads: number;
  /** Columns diagnosed, of 1 to 1.5 ms each. */
  readonly columns: number;
}
/** The platform allows a thousand calls of all kinds an invocation, and its processor for seconds. */
const ROUND: Limits = { reports: 40, reads: 500, columns: 4000 };
const AT_ONCE: Limits = { reports: 20, reads: 300, columns: 1000 };
/** A report that failed so often is settled. */
const MOST_ATTEMPTS = 3;
/** What fails is tried again after this long: a store that is out of order for an hour must not settle anything (judgement). */
const TRIED_AGAIN_AFTER_MS = MS_PER_HOUR;
/** A winter and its summer: skill is counted in months (judgement). Counted from the scoring, so that old reports loaded today stay. */
export const SCORES_KEPT_MS = 400 * MS_PER_DAY;

export type ScoringDeps = Pick<
  Dependencies,
  'soundings' | 'grids' | 'objects' | 'places' | 'scores' | 'nowMs'
>;

/** Reports that were not come to are left to the next round. */
export interface Scored {
  readonly scored: number;
  readonly failed: number;
}

/** Of reports that have just come in the newest few around an instant; the schedule scores the others. */
export async function scoreNow(
  deps: ScoringDeps,
  reports: readonly Report[],
  of: { readonly operator: string; readonly openOperators: readonly string[]; readonly nearMs: number },
): Promise<Scored> {
  const receivedMs = deps.nowMs();
  const chosen = reports
    .filter(
      ({ kind, issuedMs }) =>
        (kind === 'pirep' || kind === 'airep') && Math.abs(issuedMs - of.nearMs) <= AT_ONCE_REACH_MS,
    )
    .toSorted((a, b) => b.issuedMs - a.issuedMs)
    .slice(0, AT_ONCE.reports)
    .map(({ id, text, issuedMs }) => ({ operator: of.operator, id, text, issuedMs, receivedMs }));
  return scoreAll(deps, chosen, { openOperators: of.openOperators, most: AT_ONCE });
}

/** A round of the schedule: reports without scores, and those that are to be scored once more, newest first. */
export async function scoreDue(
  deps: ScoringDeps,
  openOperators: readonly string[],
  most: Limits = ROUND,
): Promise<Scored> {
  const nowMs = deps.nowMs();
  const before = { unsettledMs: nowMs - SETTLED_AFTER_MS, begunMs: nowMs - TRIED_AGAIN_AFTER_MS };
  const due = await deps.scores.due(before, most.reports);
  const scored = await scoreAll(deps, due, { openOperators, most });
  await deps.scores.forgetBefore(deps.nowMs() - SCORES_KEPT_MS);
  return scored;
}

interface Round {
  readonly openOperators: readonly string[];
  readonly most: Limits;
}

async function scoreAll(
  deps: ScoringDeps,
  reports: readonly ReportToScore[],
  { openOperators, most }: Round,
): Promise<Scored> {
  const spent = { reads: 0, columns: 0 };
  const sparing = { ...deps, objects: readOnce(deps.objects, spent) };
  const result = { scored: 0, failed: 0 };
  for (const report of reports) {
    if (spent.reads >= most.reads || spent.columns >= most.columns) break;
    const isScored = await tryOne(sparing, report, { openOperators, spent });
    result[isScored ? 'scored' : 'failed'] += 1;
  }
  return result;
}

interface Spent {
  reads: number;
  columns: number;
}

interface Attempt {
  readonly openOperators: readonly string[];
  readonly spent: Spent;
}

/** @returns whether it has come to an end other than a failure. */
async function tryOne(deps: ScoringDeps, report: ReportToScore, attempt: Attempt): Promise<boolean> {
  let count = 0;
  try {
    count = await deps.scores.begin(report, deps.nowMs());
    if (count <= MOST_ATTEMPTS) {
      await scoreOne(deps, report, attempt);
      return true;
    }
    console.error(faultLine('report-not-scored', 'no attempt has come to an end', { report: report.id }));
  } catch (error) {
    console.error(faultLine('report-not-scored', error, { report: report.id }));
  }
  if (count >= MOST_ATTEMPTS) await settleFailure(deps, report);
  return false;
}

/**
 * Whole objects are manifests, which the reports of one time share; each is read once, and every read is counted. A read that
 * failed is forgotten: the next report asks again.
 */
function readOnce(objects: ObjectStore, spent: Spent): ObjectStore {
  const known = new Map<string, Promise<ArrayBuffer | undefined>>();
  return {
    ...objects,
    get: (key) => {
      const before = known.get(key);
      if (before !== undefined) return before;
      spent.reads += 1;
      const asked = objects.get(key);
      known.set(key, asked);
      asked.catch(() => known.delete(key));
      return asked;
    },
    getRange: (key, range) => {
      spent.reads += 1;
      return objects.getRange(key, range);
    },
  };
}

async function scoreOne(
  deps: ScoringDeps,
  report: ReportToScore,
  { openOperators, spent }: Attempt,
): Promise<void> {
  const observation = await observeReport(deps.places, report);
  const operators = [report.operator, ...openOperators.filter((each) => each !== report.operator)];
  await keep(deps, report, {
    observation,
    scores: isPlaced(observation) ? await scoreReport(deps, observation, operators, spent) : [],
  });
}

function isPlaced(observation: PilotObservation): observation is PlacedObservation {
  return observation.whyUnplaced === undefined && observation.timeMs !== undefined;
}

interface Found {
  readonly observation: PilotObservation;
  readonly scores: readonly Score[];
  readonly isFailure?: boolean;
}

async function keep(
  { scores: store, nowMs }: ScoringDeps,
  { operator, id, issuedMs, receivedMs }: ReportToScore,
  { observation, scores, isFailure = false }: Found,
): Promise<void> {
  const { points, ...told } = observation;
  const middle = points.length === 0 ? undefined : middleOfPlace(points);
  const isOld = nowMs() - (observation.timeMs ?? issuedMs) >= SETTLED_AFTER_MS;
  const isSettled = isOld || isFailure || observation.timeMs === undefined;
  const scored = {
    ...{ ...told, operator, reportId: id, atMs: observation.timeMs ?? receivedMs, method: METHOD_VERSION },
    ...{ latDeg: middle?.latDeg, lonDeg: middle?.lonDeg, isSettled },
  };
  await store.put(scored, scores, nowMs());
}

/** It is counted with its reason; scores of an earlier attempt stay. */
async function settleFailure(deps: ScoringDeps, report: ReportToScore): Promise<void> {
  const observation: PilotObservation = {
    ...{ timeMs: report.issuedMs, points: [], placeWords: '', band: undefined, said: 'nothing' },
    ...{ heaviest: undefined, topFt: undefined, isLargeDrops: false },
    ...{ whyUnplaced: 'scoring failed', whyUnscored: 'scoring failed' },
  };
  try {
    await keep(deps, report, { observation, scores: [], isFailure: true });
  } catch (error) {
    console.error(faultLine('failure-not-noted', error, { report: report.id }));
  }
}

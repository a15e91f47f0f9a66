/** Scores stored pilots' reports, one by one: what fails is noted with the report and stops no other. */
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
/** Scored while their sender waits: a few of an upload, and none of long ago. */
const MOST_AT_ONCE = 20;
const AT_ONCE_REACH_MS = 48 * MS_PER_HOUR;
/** What one round may cost: reports, and objects read for them, or a few more; the rest waits for the next. */
export interface Limits {
  readonly reports: number;
  readonly reads: number;
}
/** The platform allows a thousand calls of all kinds an invocation. */
const ROUND: Limits = { reports: 40, reads: 500 };
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
    .slice(0, MOST_AT_ONCE)
    .map(({ id, text, issuedMs }) => ({ operator: of.operator, id, text, issuedMs, receivedMs }));
  return scoreAll(deps, chosen, { openOperators: of.openOperators, mostReads: ROUND.reads });
}

/** A round of the schedule: reports without scores, and those that are to be scored once more, newest first. */
export async function scoreDue(
  deps: ScoringDeps,
  openOperators: readonly string[],
  most: Limits = ROUND,
): Promise<Scored> {
  const due = await deps.scores.due(deps.nowMs() - SETTLED_AFTER_MS, most.reports);
  const scored = await scoreAll(deps, due, { openOperators, mostReads: most.reads });
  await deps.scores.forgetBefore(deps.nowMs() - SCORES_KEPT_MS);
  return scored;
}

async function scoreAll(
  deps: ScoringDeps,
  reports: readonly ReportToScore[],
  { openOperators, mostReads }: { readonly openOperators: readonly string[]; readonly mostReads: number },
): Promise<Scored> {
  const reads = { count: 0 };
  const sparing = { ...deps, objects: readOnce(deps.objects, reads) };
  let [scored, failed] = [0, 0];
  for (const report of reports) {
    if (reads.count >= mostReads) break;
    try {
      await scoreOne(sparing, report, openOperators);
      scored += 1;
    } catch (error) {
      failed += 1;
      console.error('report not scored', report.id, error);
      await noteFailure(deps, report);
    }
  }
  return { scored, failed };
}

/** Whole objects are manifests, which the reports of one time share; each is read once, and every read is counted. */
function readOnce(objects: ObjectStore, reads: { count: number }): ObjectStore {
  const known = new Map<string, Promise<ArrayBuffer | undefined>>();
  return {
    ...objects,
    get: (key) => {
      const before = known.get(key);
      if (before !== undefined) return before;
      reads.count += 1;
      const asked = objects.get(key);
      known.set(key, asked);
      return asked;
    },
    getRange: (key, range) => {
      reads.count += 1;
      return objects.getRange(key, range);
    },
  };
}

async function scoreOne(
  deps: ScoringDeps,
  report: ReportToScore,
  openOperators: readonly string[],
): Promise<void> {
  const observation = await observeReport(deps.places, report);
  const operators = [report.operator, ...openOperators.filter((each) => each !== report.operator)];
  await keep(deps, report, {
    observation,
    scores: isPlaced(observation) ? await scoreReport(deps, observation, operators) : [],
  });
}

function isPlaced(observation: PilotObservation): observation is PlacedObservation {
  return observation.whyUnplaced === undefined && observation.timeMs !== undefined;
}

interface Found {
  readonly observation: PilotObservation;
  readonly scores: readonly Score[];
}

async function keep(
  { scores: store, nowMs }: ScoringDeps,
  { operator, id, issuedMs, receivedMs }: ReportToScore,
  { observation, scores }: Found,
): Promise<void> {
  const { points, ...told } = observation;
  const middle = points.length === 0 ? undefined : middleOfPlace(points);
  const isOld = nowMs() - (observation.timeMs ?? issuedMs) >= SETTLED_AFTER_MS;
  const scored = {
    ...told,
    ...{
      operator,
      reportId: id,
      atMs: observation.timeMs ?? receivedMs,
      latDeg: middle?.latDeg,
      lonDeg: middle?.lonDeg,
      method: METHOD_VERSION,
    },
    isSettled: isOld || observation.timeMs === undefined,
  };
  await store.put(scored, scores, nowMs());
}

/** So that a report that cannot be scored is tried once more and then left, and hides no other behind it. */
async function noteFailure(deps: ScoringDeps, report: ReportToScore): Promise<void> {
  const observation: PilotObservation = {
    ...{ timeMs: report.issuedMs, points: [], placeWords: '', band: undefined, said: 'nothing' },
    ...{ heaviest: undefined, topFt: undefined, isLargeDrops: false },
    ...{ whyUnplaced: 'scoring failed', whyUnscored: 'scoring failed' },
  };
  try {
    await keep(deps, report, { observation, scores: [] });
  } catch (error) {
    console.error('failure not noted', report.id, error);
  }
}

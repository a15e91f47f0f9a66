/** Scores in memory, over the reports in memory: what tests/runtime/skill.test.ts holds against D1. */
import type {
  ReportTally,
  Score,
  ScoredReport,
  ScoreQuery,
  ScoreRepository,
  ScoreTally,
  TopRow,
} from '../../worker/sources/scores.ts';

/** A stored report, as far as scoring is concerned. */
export interface KeptReport {
  readonly operator: string;
  readonly id: string;
  readonly kind: string;
  readonly text: string;
  readonly issuedMs: number;
  readonly receivedMs: number;
}

interface Row {
  readonly report: ScoredReport;
  readonly scores: readonly Score[];
  readonly scoredMs: number;
}

interface MemoryScores extends ScoreRepository {
  readonly isScored: (report: Pick<KeptReport, 'operator' | 'id'>) => boolean;
}

const keyOf = ({ operator, id }: Pick<KeptReport, 'operator' | 'id'>) => `${operator} ${id}`;
const knownOf = (scores: readonly Score[]) =>
  scores.filter(({ flaggedShare }) => flaggedShare !== undefined).length;

/** @param kept  The reports that there are, whenever it is asked. */
export function memoryScores(kept: () => readonly KeptReport[]): MemoryScores {
  const rows = new Map<string, Row>();
  const attempts = new Map<string, { readonly count: number; readonly lastMs: number }>();
  const mine = (query: ScoreQuery) => reportsOf([...rows.values()], query);
  return {
    isScored: (report) => rows.has(keyOf(report)),
    put: async (report, scores, nowMs) => {
      const key = keyOf({ operator: report.operator, id: report.reportId });
      const before = rows.get(key);
      const isBetter = before !== undefined && knownOf(before.scores) > knownOf(scores);
      const row = isBetter ? before : { report, scores };
      const isSettled = report.isSettled || before?.report.isSettled === true;
      rows.set(key, { ...row, report: { ...row.report, isSettled }, scoredMs: nowMs });
      attempts.delete(key);
    },
    begin: async (report, nowMs) => {
      const count = 1 + (attempts.get(keyOf(report))?.count ?? 0);
      attempts.set(keyOf(report), { count, lastMs: nowMs });
      return count;
    },
    due: async ({ unsettledMs, begunMs }, limit) => {
      const countOf = (report: KeptReport) => attempts.get(keyOf(report))?.count ?? 0;
      return kept()
        .filter((report) => {
          const scored = rows.get(keyOf(report))?.report;
          const isDue = scored === undefined || (!scored.isSettled && scored.timeMs! <= unsettledMs);
          return isPilots(report) && isDue && (attempts.get(keyOf(report))?.lastMs ?? -Infinity) <= begunMs;
        })
        .toSorted((a, b) => countOf(a) - countOf(b) || b.issuedMs - a.issuedMs)
        .slice(0, limit);
    },
    tallies: async (query) => mine(query).flatMap(({ scores }) => scores.map(tallyOf)),
    reportTallies: async (query) =>
      mine(query).map(
        ({ report }): ReportTally => ({
          ...{ said: report.said, why: report.whyUnplaced ?? report.whyUnscored, count: 1 },
        }),
      ),
    waiting: async ({ operators, fromMs, beforeMs }) =>
      new Set(
        kept()
          .filter((report) => isPilots(report) && operators.includes(report.operator))
          .filter(({ issuedMs }) => issuedMs >= fromMs && issuedMs < beforeMs)
          .filter(({ id }) => !operators.some((operator) => rows.has(keyOf({ operator, id }))))
          .map(({ id }) => id),
      ).size,
    methods: async (query) => [
      ...new Set(
        mine(query).flatMap(({ report }) => (report.whyUnplaced === undefined ? report.method : [])),
      ),
    ],
    tops: async (query, limit) =>
      mine(query)
        .flatMap(topOf)
        .toSorted((a, b) => b.timeMs - a.timeMs)
        .slice(0, limit),
    forgetBefore: async (scoredBeforeMs) => {
      const old = [...rows].filter(([, { scoredMs }]) => scoredMs < scoredBeforeMs);
      for (const [key] of old) rows.delete(key);
      return old.length;
    },
  };
}

export const isPilots = ({ kind }: Pick<KeptReport, 'kind'>) => kind === 'pirep' || kind === 'airep';

function reportsOf(rows: readonly Row[], { operators, fromMs, beforeMs, box }: ScoreQuery): Row[] {
  const rankOf = ({ report }: Row) => [operators[0], ...operators.toSorted()].indexOf(report.operator);
  const isIn = ({ report: { atMs, latDeg, lonDeg } }: Row) => {
    if (atMs < fromMs || atMs >= beforeMs) return false;
    if (box === undefined) return true;
    if (latDeg === undefined || lonDeg === undefined) return false;
    const [isEast, isWest] = [lonDeg >= box.westDeg, lonDeg <= box.eastDeg];
    const isBetween = box.westDeg <= box.eastDeg ? isEast && isWest : isEast || isWest;
    return latDeg >= box.southDeg && latDeg <= box.northDeg && isBetween;
  };
  const readable = rows.filter(({ report }) => operators.includes(report.operator));
  const isFirst = (row: Row) =>
    !readable.some((other) => other.report.reportId === row.report.reportId && rankOf(other) < rankOf(row));
  return readable.filter((row) => isIn(row) && isFirst(row));
}

/** One a score: whoever counts them adds them up. */
function tallyOf({ kind, name, leadBucket, outcome, probability, flaggedShare }: Score): ScoreTally {
  return {
    ...{ kind, name, leadBucket, outcome, count: 1 },
    probabilityPct: probability === undefined ? undefined : Math.round(100 * probability),
    ...{ flaggedSum: flaggedShare ?? 0, flaggedCount: Number(flaggedShare !== undefined) },
  };
}

function topOf({ report, scores }: Row): TopRow[] {
  const { operator, placeWords, latDeg, lonDeg, timeMs, topFt: reportedFt, whyUnplaced } = report;
  if (reportedFt === undefined || whyUnplaced !== undefined) return [];
  const [brief] = scores
    .filter(({ kind }) => kind === 'brief')
    .toSorted((a, b) => a.leadBucket - b.leadBucket);
  return [
    {
      ...{ operator, placeWords, latDeg: latDeg!, lonDeg: lonDeg!, timeMs: timeMs!, reportedFt },
      ...{ forecast: brief?.top ?? { kind: 'unknown' }, madeMs: brief?.madeMs },
    },
  ];
}

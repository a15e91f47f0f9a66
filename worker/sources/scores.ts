/** Pilots' reports beside what was forecast for their place and time, as they are kept. */
import type { PilotObservation, Said } from './report-facts/pilot-observation.ts';

/** Ends of the lead times that are told apart, h; the last is open. */
export const LEAD_EDGES_H = [0, 3, 6, 12, 24] as const;
/** In the order of LEAD_EDGES_H. */
export const LEAD_WORDS = ['0-3 h', '3-6 h', '6-12 h', '12-24 h', 'over 24 h'] as const;
/** Of a brief that nothing spoke for. */
export const NO_LEAD = -1;

const MS_PER_HOUR = 3_600_000;

/** @returns an index into LEAD_EDGES_H; a lead of an edge belongs above it. */
export function leadBucket(leadMs: number): number {
  return LEAD_EDGES_H.findLastIndex((edgeH) => edgeH * MS_PER_HOUR <= leadMs);
}

export const SCORED_KINDS = ['model', 'ascent', 'brief'] as const;
export type ScoredKind = (typeof SCORED_KINDS)[number];

/**
 * `unscored`: the report says nothing of ice that could be scored; its tops may still be compared. `unknown`: it does, and the
 * forecast's air was not known there.
 */
export const OUTCOMES = ['hit', 'miss', 'false', 'correct-no', 'unknown', 'unscored'] as const;
export type Outcome = (typeof OUTCOMES)[number];

/** A forecast that there is no cloud is one; that the air is not known is none. */
export type ForecastTop =
  | { readonly kind: 'top'; readonly altitudeFt: number }
  | { readonly kind: 'no-cloud' }
  | { readonly kind: 'unknown' };

/** What one source forecast for one report. */
export interface Score {
  readonly kind: ScoredKind;
  /** Of a model its name; `ascents` and `brief` for the others. */
  readonly name: string;
  /** Index into LEAD_EDGES_H, or NO_LEAD. One row a source and lead. */
  readonly leadBucket: number;
  /** Start of the run, or launch; of a brief the newest that spoke; undefined where nothing did. */
  readonly madeMs: number | undefined;
  /** Station of the ascent; empty for the others. */
  readonly station: string;
  /** Greatest of the known cells in the reported band, 0-1; undefined where none is known, or no band is. */
  readonly probability: number | undefined;
  /** Of the known air between the ground and 20,000 ft there, the share where ice was forecast; undefined without any. */
  readonly flaggedShare: number | undefined;
  readonly outcome: Outcome;
  readonly top: ForecastTop;
}

/** A report as it is compared. It stands alone: the report's own row is deleted after a day. */
export interface ScoredReport extends Omit<PilotObservation, 'points'> {
  readonly operator: string;
  readonly reportId: string;
  /** The time that it counts at, epoch ms: its own, or when it came in where it has none. */
  readonly atMs: number;
  /** The middle of its place; undefined where that is not known. */
  readonly latDeg: number | undefined;
  readonly lonDeg: number | undefined;
  /** Of the method that scored it. */
  readonly method: string;
  /** False while forecasts of before it may still come in: it is scored once more then. */
  readonly isSettled: boolean;
}

/** A stored pilot's report that is to be scored. */
export interface ReportToScore {
  readonly operator: string;
  readonly id: string;
  readonly text: string;
  readonly issuedMs: number;
  /** When it came in, epoch ms. */
  readonly receivedMs: number;
}

/** Which scored reports a question is about. */
export interface ScoreQuery {
  /** Of the same report of two operators that of the first counts. */
  readonly operators: readonly string[];
  /** Times that the reports count at, epoch ms: from the first, before the second. */
  readonly fromMs: number;
  readonly beforeMs: number;
  /** Degrees; west greater than east over the antimeridian. */
  readonly box:
    | {
        readonly westDeg: number;
        readonly southDeg: number;
        readonly eastDeg: number;
        readonly northDeg: number;
      }
    | undefined;
}

/** Reports of one source, lead, outcome and probability (in percent). */
export interface ScoreTally {
  readonly kind: ScoredKind;
  readonly name: string;
  readonly leadBucket: number;
  readonly outcome: Outcome;
  readonly probabilityPct: number | undefined;
  readonly count: number;
  /** Sum of the flagged shares, and how many have one. */
  readonly flaggedSum: number;
  readonly flaggedCount: number;
}

/** Reports by what they say, or by why they are not scored. */
export interface ReportTally {
  readonly said: Said;
  readonly why: string | undefined;
  readonly count: number;
}

/** A reported top beside that of the newest brief. */
export interface TopRow {
  readonly operator: string;
  readonly placeWords: string;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly timeMs: number;
  readonly reportedFt: number;
  readonly forecast: ForecastTop;
  readonly madeMs: number | undefined;
}

/** Which reports are due, epoch ms. */
export interface DueBefore {
  /** Beside those without scores those that are not settled and of this time or before. */
  readonly unsettledMs: number;
  /** Of those that were begun without coming to scores the ones last begun at this time or before. */
  readonly begunMs: number;
}

export interface ScoreRepository {
  /**
   * Keeps a report with its scores, all of it or nothing. The same report again replaces its scores, unless fewer of them know
   * any air than before: forecasts are deleted sooner than scores.
   */
  put(report: ScoredReport, scores: readonly Score[], nowMs: number): Promise<void>;
  /** Notes that a report is about to be scored; gives how often that was since it last had scores, this one counted. */
  begin(report: Pick<ReportToScore, 'operator' | 'id'>, nowMs: number): Promise<number>;
  /** Stored pilots' reports that are to be scored: those begun least often first, of them the newest. */
  due(before: DueBefore, limit: number): Promise<readonly ReportToScore[]>;
  tallies(query: ScoreQuery): Promise<readonly ScoreTally[]>;
  reportTallies(query: ScoreQuery): Promise<readonly ReportTally[]>;
  /** Stored pilots' reports of the time asked for that have no scores yet, wherever they are: their places were not read yet. */
  waiting(query: ScoreQuery): Promise<number>;
  /** Versions of the method that made the scores. */
  methods(query: ScoreQuery): Promise<readonly string[]>;
  /** Newest first. */
  tops(query: ScoreQuery, limit: number): Promise<readonly TopRow[]>;
  /** Deletes what was scored before an instant; gives how many reports. */
  forgetBefore(scoredBeforeMs: number): Promise<number>;
}

/** Reports and warnings as they are kept: the text, and what of it bears on a leg. */
import type { HazardArea } from '../flight/hazard-areas.ts';
import type { HazardLevel } from '../flight/hazard-levels.ts';
import type { HazardKind, HazardSeverity } from '../flight/hazards.ts';

export const REPORT_KINDS = ['metar', 'speci', 'taf', 'sigmet', 'airmet', 'pirep', 'airep'] as const;
export type ReportKind = (typeof REPORT_KINDS)[number];

/** Ice or freezing precipitation that a report tells of, for one period. */
export interface ReportedIce {
  readonly severity: HazardSeverity;
  /** "KXXX reports freezing rain at 11:53 UTC". */
  readonly sentence: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly lower: HazardLevel;
  readonly upper: HazardLevel;
}

/** Feet as the pilot gave them: above mean sea level, or flight levels as printed. */
export interface SaidHeights {
  readonly lowerFt: number;
  /** Equal to the lower one where one height is given. */
  readonly upperFt: number;
}

export interface SaidCloud {
  readonly base?: SaidHeights | undefined;
  readonly top?: SaidHeights | undefined;
}

/** What a pilot said beside ice that was met. It bears on nothing: no ice met there and then is none excluded. */
export interface PilotSaid {
  /** In so many words, and nothing else in the report tells of any. */
  readonly noIce: boolean;
  /** Between which heights, else at which the report was made; undefined where not stated. */
  readonly lowerFt?: number | undefined;
  readonly upperFt?: number | undefined;
  /** Each with a base or a top, the highest first. */
  readonly clouds: readonly SaidCloud[];
  readonly temperatureK?: number | undefined;
  /** "Pilot report at 11:50 UTC: no ice met 8,000 ft": fewer than 14 words. */
  readonly sentence: string;
}

/** Which warning a cancellation takes back. */
export interface Cancellation {
  readonly series: string;
  /** End of the period that it names; undefined: the one of that name that holds when the cancellation is issued. */
  readonly validToMs: number | undefined;
}

export interface Report {
  /** Of the kind, the series, the time and the text: the same report twice is one. */
  readonly id: string;
  readonly kind: ReportKind;
  readonly hazardKind: HazardKind;
  /** What later ones replace: the station and time of an observation, the station of a forecast, a warning's name. */
  readonly series: string;
  /** 0 for the first of a series and time, more for each correction of it. */
  readonly rank: number;
  readonly issuedMs: number;
  readonly validFromMs: number;
  readonly validToMs: number;
  readonly text: string;
  /** It holds in each of them. */
  readonly areas: readonly HazardArea[];
  readonly ice: readonly ReportedIce[];
  readonly cancels: Cancellation | undefined;
  /** It can take nothing back and replace nothing: parts of it were not understood. */
  readonly isDoubtful: boolean;
  /** Of pilots' reports alone. */
  readonly said?: PilotSaid | undefined;
}

export interface StoredReport extends Report {
  readonly operator: string;
  /** When it was stored last, epoch ms. */
  readonly ingestedMs: number;
}

export interface ReportQuery {
  readonly operators: readonly string[];
  readonly fromMs: number;
  readonly toMs: number;
  readonly southDeg: number;
  readonly northDeg: number;
  readonly lonRanges: readonly (readonly [number, number])[];
}

export interface FoundReports {
  /** Every one that may bear on the box and the time, those that take others back or replace them too. */
  readonly reports: readonly StoredReport[];
  /** There are more than are read, or some do not read back. */
  readonly isPartial: boolean;
}

export interface AerodromeQuery {
  readonly operators: readonly string[];
  readonly station: string;
  readonly fromMs: number;
  readonly toMs: number;
}

export interface ReportCount {
  readonly kind: ReportKind;
  readonly count: number;
  readonly newestMs: number;
}

export interface ReportRepository {
  /** The same report again is no other one. */
  put(operator: string, reports: readonly Report[], nowMs: number): Promise<void>;
  find(query: ReportQuery): Promise<FoundReports>;
  /** Those that only say something beside ice; read apart, so that however many there are they crowd no other out. */
  findNotes(query: ReportQuery): Promise<FoundReports>;
  /** Observations and forecasts of one aerodrome issued within a time, newest first, the later of two corrections first. */
  ofAerodrome(query: AerodromeQuery): Promise<readonly StoredReport[]>;
  counts(operators: readonly string[]): Promise<readonly ReportCount[]>;
  /**
   * Deletes what was valid before an instant; gives how many. Pilots' reports that were not compared with forecasts yet stay
   * while they came in at a second instant or later.
   */
  forgetBefore(validBeforeMs: number, unscoredBeforeMs: number): Promise<number>;
}

/** It holds ice, or may take back or replace one that does; others need not be read for a leg. */
export function bearsOnLegs({ ice, rank, kind, cancels }: Report): boolean {
  return ice.length > 0 || rank > 0 || kind === 'taf' || cancels !== undefined;
}

/** It is only to be read beside a leg. */
export function isNoteAlone(report: Report): boolean {
  return report.said !== undefined && !bearsOnLegs(report);
}

/**
 * The reports that stand: without the warnings that were taken back and the observations that were corrected, each with
 * the ice that no later forecast for its station replaces. What an operator writes changes his own reports alone, and in
 * whatever order they came.
 *
 * @checked tests/sources/standing-reports.test.ts
 */
export function standingReports(found: readonly StoredReport[]): StoredReport[] {
  const byOwner = new Map<string, StoredReport[]>();
  for (const report of found) {
    const owner = `${report.operator} ${report.series}`;
    const others = byOwner.get(owner);
    if (others === undefined) byOwner.set(owner, [report]);
    else others.push(report);
  }
  const cancellations = found.filter(({ cancels, isDoubtful }) => cancels !== undefined && !isDoubtful);
  return found
    .filter((report) => !cancellations.some((each) => isCancelledBy(report, each)))
    .flatMap((report) => {
      const others = byOwner.get(`${report.operator} ${report.series}`)!;
      return report.kind === 'taf'
        ? [unlessReplaced(report, others)]
        : isCorrected(report, others)
          ? []
          : [report];
    });
}

function isCancelledBy(report: StoredReport, { operator, cancels, issuedMs }: StoredReport): boolean {
  if (report.operator !== operator || report.series !== cancels!.series || report.cancels !== undefined)
    return false;
  if (cancels!.validToMs !== undefined) return cancels!.validToMs === report.validToMs;
  return report.validFromMs <= issuedMs && issuedMs < report.validToMs;
}

/** Of observations alone: their series holds their time. */
function isCorrected(report: StoredReport, others: readonly StoredReport[]): boolean {
  if (report.hazardKind !== 'surface-report') return false;
  return others.some((other) => other.rank > report.rank && !other.isDoubtful);
}

/** A forecast holds where no later one for its station does, which a cancellation is too. */
function unlessReplaced(report: StoredReport, others: readonly StoredReport[]): StoredReport {
  const ice = others
    .filter((other) => !other.isDoubtful && isLater(other, report))
    .reduce((left, later) => left.flatMap((each) => outside(each, later)), report.ice);
  return { ...report, ice };
}

/** What is left of a period before and after the validity of a report. */
function outside(ice: ReportedIce, { validFromMs, validToMs }: StoredReport): ReportedIce[] {
  if (ice.toMs <= validFromMs || ice.fromMs >= validToMs) return [ice];
  const before = { ...ice, toMs: validFromMs };
  const after = { ...ice, fromMs: validToMs };
  return [before, after].filter(({ fromMs, toMs }) => fromMs < toMs);
}

function isLater(a: StoredReport, b: StoredReport): boolean {
  return a.issuedMs > b.issuedMs || (a.issuedMs === b.issuedMs && a.rank > b.rank);
}

/** METAR, SPECI and TAF as read: what each says, null for what it does not, and every group that was not understood. */
import type { UnreadText } from '../pilot-reports/report.ts';
import type { Conditions } from './conditions.ts';
import type { Remarks } from './remarks.ts';
import type { RunwayState, RunwayVisualRange } from './runway-groups.ts';
import type { IcingLayer, TurbulenceLayer, WindShear } from './taf-groups.ts';
import type { SeaSurface } from './temperature-pressure-groups.ts';

/**
 * Something that the report says was not, or could not be, observed: slashes or M in the body, the sensor words of the
 * remarks (FZRANO, PWINO ...), `MISG`. An element that is simply absent is not listed; it is null in its own place.
 */
export type NotObserved =
  | ('wind' | 'visibility' | 'runway-visual-range' | 'present-weather' | 'recent-weather' | 'cloud')
  | ('temperature' | 'dew-point' | 'altimeter' | 'sea-level-pressure')
  /** FZRANO: freezing rain would not be told from rain. */
  | 'freezing-rain'
  /** AO1: the station cannot tell rain from snow. */
  | 'precipitation-type'
  | ('precipitation-amount' | 'thunderstorm' | 'icing')
  | ('visibility-at-second-place' | 'ceiling-at-second-place');

/** A trend of a METAR, or a change group of a TAF; null conditions do not change. */
export interface ChangeGroup extends Conditions {
  /** FM replaces everything; BECMG changes for good, TEMPO and INTER for less than an hour at a time; PROB stands alone. */
  readonly change: 'FM' | 'BECMG' | 'TEMPO' | 'INTER' | 'PROB';
  /** 30 or 40; null when certain. */
  readonly probabilityPct: number | null;
  /** Epoch ms. In a trend null is the time of the report. */
  readonly fromMs: number | null;
  /** Epoch ms. In a trend null is the end of its two hours; a TAF's FM lasts until the next or the end. */
  readonly untilMs: number | null;
  /** AT, in trends alone. */
  readonly atMs: number | null;
  readonly unread: readonly UnreadText[];
}

export interface MetarReport extends Conditions {
  readonly kind: 'metar' | 'speci';
  /** Four letters or figures. */
  readonly station: string;
  /** Epoch ms UTC. */
  readonly timeMs: number;
  readonly isAutomatic: boolean;
  /** COR or CCA, CCB ... in the report or its bulletin's heading. */
  readonly isCorrection: boolean;
  /** No observation was made: everything else is empty. */
  readonly isNil: boolean;
  readonly runwayVisualRanges: readonly RunwayVisualRange[];
  /** Of the time since the last report, not now. */
  readonly recentWeather: readonly Weather[];
  /** Whole degrees, -0 for M00; the remarks may hold tenths. */
  readonly temperatureC: number | null;
  readonly dewPointC: number | null;
  /** QNH of the Q group, else of the A group. */
  readonly altimeterHPa: number | null;
  /** Of the A group. */
  readonly altimeterInHg: number | null;
  /** Runways with wind shear: two figures with L, C or R, or ALL. */
  readonly windShearRunways: readonly string[];
  readonly seaSurface: SeaSurface | null;
  readonly runwayStates: readonly RunwayState[];
  /** Military words for ceiling and visibility: BLU, WHT, GRN, YLO, AMB, RED, BLACK. */
  readonly colorStates: readonly string[];
  /** NOSIG. */
  readonly isNoChangeExpected: boolean;
  readonly trends: readonly ChangeGroup[];
  readonly remarks: Remarks | null;
  /** `present-weather` also where a group that may be precipitation was not understood. */
  readonly notObserved: readonly NotObserved[];
  /** Values told twice that disagree; the members above keep what stands in their own place. */
  readonly doubts: readonly UnreadText[];
  /** Groups of the body that were not understood, in their order; a `change` holds all up to the next that was. */
  readonly unread: readonly UnreadText[];
  /** The report as it came, blanks made single. */
  readonly text: string;
}

export interface ForecastConditions extends Conditions {
  readonly windShear: WindShear | null;
  readonly icing: readonly IcingLayer[];
  readonly turbulence: readonly TurbulenceLayer[];
  /** QNHnnnnINS: the lowest setting expected. */
  readonly lowestAltimeterHPa: number | null;
}

export interface TafChangeGroup extends ChangeGroup, ForecastConditions {
  readonly fromMs: number;
  readonly untilMs: number;
}

export interface ForecastExtreme {
  readonly kind: 'maximum' | 'minimum';
  readonly temperatureC: number;
  readonly timeMs: number;
}

export interface TafReport {
  readonly kind: 'taf';
  readonly station: string;
  /** Epoch ms; null when the forecast gives its validity alone. */
  readonly issuedMs: number | null;
  /** Epoch ms; null when NIL, and when a cancellation names no period. */
  readonly validFromMs: number | null;
  readonly validUntilMs: number | null;
  readonly isAmendment: boolean;
  readonly isCorrection: boolean;
  readonly isCancellation: boolean;
  readonly isNil: boolean;
  /** From the begin of the validity. */
  readonly base: ForecastConditions;
  readonly changes: readonly TafChangeGroup[];
  readonly extremes: readonly ForecastExtreme[];
  /** What follows RMK, and notes such as AMD NOT SKED, as they stand. */
  readonly remarksText: string | null;
  /**
   * Groups that were not understood, of the forecast and its base; those of a change group stand there. An entry of the
   * element `change` is a change that could not be read, with all that follows it up to the next that could: nobody can
   * tell when it holds, so no period before it is sure to last as long as it says.
   */
  readonly unread: readonly UnreadText[];
  readonly text: string;
}

export type AerodromeReport = MetarReport | TafReport;

type Weather = Conditions['weather'][number];

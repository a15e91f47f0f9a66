/** Alarms about the running of the service itself, and the facts that they and the metrics are worked out from. */
import type { SupplyState } from './supply.ts';

/**
 * late-model, late-bulletins, late-soundings: data that are due and have not come; failing-ingests, dead-letters: forecast hours that
 * fail or were given up; board-behind: flights that wait to be worked out; supply-failing: rounds of the schedule that end in a fault;
 * check-failed: one of these could not be looked at.
 */
export const ALARM_CODES = [
  'late-model',
  'late-bulletins',
  'late-soundings',
  'failing-ingests',
  'dead-letters',
  'board-behind',
  'supply-failing',
  'check-failed',
] as const;
export type AlarmCode = (typeof ALARM_CODES)[number];

/** Something that is wrong at this moment. */
export interface Condition {
  readonly code: AlarmCode;
  /** What it is about: a model, an address without its query, an operator. */
  readonly subject: string;
  /** From when on it has been so, as far as can be told. */
  readonly sinceMs: number;
  readonly sentence: string;
}

/** A condition that was raised; it ends some time after it was last seen. */
export interface Alarm extends Condition {
  readonly id: number;
  readonly lastSeenMs: number;
  /** undefined while it lasts. */
  readonly endedMs: number | undefined;
  /** What the address that hears of alarms knows of it. */
  readonly told: 'nothing' | 'raised' | 'ended';
}

/** What one look at the service found. */
export interface Look {
  readonly conditions: readonly Condition[];
  /** Codes that could not be looked at: their alarms neither begin nor end. */
  readonly unknownCodes: readonly AlarmCode[];
  readonly nowMs: number;
  /** Alarms last seen before this instant end. */
  readonly endSeenBeforeMs: number;
}

/** schedule: the cron trigger came; supply: its round also ended well. */
export type HeartbeatName = 'schedule' | 'supply';

/** When something that comes by the clock came first and last. */
export interface Heartbeat {
  readonly firstMs: number;
  readonly atMs: number;
}

/** Alarms and heartbeats as they are kept. */
export interface AlarmRepository {
  /** Raises what is new, freshens what lasts, ends what was not seen for long enough. One active alarm a code and subject. */
  note(look: Look): Promise<void>;
  /** Those that last, oldest first. */
  active(): Promise<readonly Alarm[]>;
  /** Those that the address was not told of as they are: lasting ones, and ones that ended at or after an instant. */
  untold(endedSinceMs: number): Promise<readonly Alarm[]>;
  setTold(id: number, told: 'raised' | 'ended'): Promise<void>;
  forgetEndedBefore(endedMs: number): Promise<void>;
  beat(name: HeartbeatName, nowMs: number): Promise<void>;
  /** undefined for one that never came. */
  heartbeat(name: HeartbeatName): Promise<Heartbeat | undefined>;
}

/** Counts and ages of what is stored, each by an index. */
export interface ServiceFacts {
  /** Of each open model, the newest run that the supply stored an hour of, epoch ms. */
  newestRuns(): Promise<ReadonlyMap<string, number>>;
  /** Of each operator with an ascent since an instant, the time of the newest, epoch ms. */
  newestSoundings(sinceMs: number): Promise<ReadonlyMap<string, number>>;
  /** Forecast hours asked for by model and state whose last word came at or after an instant. */
  supplyHours(updatedSinceMs: number): Promise<readonly SupplyCount[]>;
  totals(nowMs: number): Promise<ServiceTotals>;
}

export interface SupplyCount {
  readonly modelId: string;
  readonly state: SupplyState;
  readonly count: number;
  /** Of the last words, the first, epoch ms. */
  readonly oldestMs: number;
}

export interface ServiceTotals {
  readonly boards: number;
  /** Flights of the boards that depart from half a day ago on. */
  readonly flights: number;
  /** Of these, the ones that wait to be worked out. */
  readonly waiting: number;
  /** Shared briefs whose link stands. */
  readonly sharedBriefs: number;
}

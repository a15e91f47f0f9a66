/** What the supply asks for, one forecast hour at a time, and what became of it. */
import type { ModelHour, OpenModelId } from './open-models.ts';

/** A forecast hour of a run of an open model. */
export interface SupplyHour extends ModelHour {
  readonly modelId: OpenModelId;
}

/**
 * queued: a message waits; unsent: the queue did not take it; working: a consumer has it; stored: published; late: not in the bucket yet; failed: the queue tries
 * again; dead: given up.
 */
export const SUPPLY_STATES = ['queued', 'unsent', 'working', 'stored', 'late', 'failed', 'dead'] as const;
export type SupplyState = (typeof SUPPLY_STATES)[number];

export interface SupplyRow extends SupplyHour {
  readonly state: SupplyState;
  /** What was found last, for people; empty when there is nothing to tell. */
  readonly detail: string;
  /** Times that it failed, or that a consumer fell silent over it; being late is no failure. */
  readonly failures: number;
  /** Of these, times that it came with messages that were refused. */
  readonly refusals: number;
  readonly updatedMs: number;
}

/** An hour that one consumer has; with the token only that one may say what became of it. */
export interface SupplyClaim extends SupplyRow {
  readonly token: string;
}

/** The last word on a claimed hour. */
export interface SupplyEnd {
  readonly state: 'stored' | 'late' | 'failed' | 'dead';
  readonly detail: string;
  readonly isRefusal?: boolean;
  readonly nowMs: number;
}

/** What is known of hours asked for, of one operator and area: rows on D1. */
export interface SupplyRepository {
  /** Rows of runs that started at or after an instant, newest run first. */
  since(runMs: number): Promise<readonly SupplyRow[]>;
  find(hour: SupplyHour): Promise<SupplyRow | undefined>;
  /**
   * Marks hours queued, each only while nobody has said a word on it since it was read.
   *
   * @param hours  With when the last word was when read; undefined for an hour without a row.
   * @returns      those that were marked: only these are to be sent.
   */
  ask(hours: readonly AskedHour[], nowMs: number): Promise<readonly SupplyHour[]>;
  /** Hours that were marked queued and could not be sent, unless a consumer has taken them all the same. */
  unask(
    hours: readonly SupplyHour[],
    told: { readonly detail: string; readonly nowMs: number },
  ): Promise<void>;
  /**
   * Takes an hour for one consumer.
   *
   * @returns the row as it stands now, or undefined when it is stored, or while another consumer has held it for less than the lease.
   */
  claim(
    hour: SupplyHour,
    lease: { readonly leaseMs: number; readonly nowMs: number },
  ): Promise<SupplyClaim | undefined>;
  /** @returns false when the claim is lost: its lease ended and another consumer has taken the hour. */
  holds(claim: SupplyClaim): Promise<boolean>;
  /** @returns false when the claim was lost: its lease ended and another consumer has taken the hour. */
  settle(claim: SupplyClaim, end: SupplyEnd): Promise<boolean>;
  /**
   * What the queue has given up: dead, unless it is stored or somebody has worked on it for less than the lease.
   *
   * @returns the row when it is dead now.
   */
  bury(
    hour: SupplyHour,
    lease: { readonly leaseMs: number; readonly nowMs: number },
  ): Promise<SupplyRow | undefined>;
  /** Forgets rows of runs that started before an instant, and those of other operators and areas: what was stored for these may be gone. */
  forgetBefore(runMs: number): Promise<void>;
}

export interface AskedHour extends SupplyHour {
  readonly lastWordMs: number | undefined;
}

/** One text an hour, to find it by. */
export const keyOfHour = ({ modelId, runMs, forecastHour }: SupplyHour): string =>
  `${modelId} ${runMs} ${forecastHour}`;

export const validMsOf = ({ runMs, forecastHour }: ModelHour): number => runMs + forecastHour * 3_600_000;

/** For people: which hour it is. */
export function nameOf({ modelId, runMs, forecastHour }: SupplyHour): string {
  return `${modelId} ${new Date(runMs).toISOString().slice(0, 13)}Z +${forecastHour} h`;
}

/** What the supply asks for, one forecast hour at a time, and what became of it. */
import type { ModelHour, OpenModelId } from './open-models.ts';

/** A forecast hour of a run of an open model. */
export interface SupplyHour extends ModelHour {
  readonly modelId: OpenModelId;
}

/**
 * queued: a message waits; working: a consumer has it; stored: published; late: not in the bucket yet; failed: the queue tries
 * again; dead: the queue gave up.
 */
export const SUPPLY_STATES = ['queued', 'working', 'stored', 'late', 'failed', 'dead'] as const;
export type SupplyState = (typeof SUPPLY_STATES)[number];

export interface SupplyRow extends SupplyHour {
  readonly state: SupplyState;
  /** What was found, for people; empty when there is nothing to tell. */
  readonly detail: string;
  /** Times that a consumer took it. */
  readonly attempts: number;
  readonly updatedMs: number;
}

/** What is known of hours asked for: rows on D1. */
export interface SupplyRepository {
  /** Rows of runs that started at or after an instant, newest run first. */
  since(runMs: number): Promise<readonly SupplyRow[]>;
  mark(
    hours: readonly SupplyHour[],
    state: SupplyState,
    told: { readonly detail: string; readonly nowMs: number },
  ): Promise<void>;
  /**
   * Takes an hour for one consumer.
   *
   * @returns the row as it stands now, or undefined while another consumer has held it for less than the lease.
   */
  claim(
    hour: SupplyHour,
    lease: { readonly leaseMs: number; readonly nowMs: number },
  ): Promise<SupplyRow | undefined>;
  find(hour: SupplyHour): Promise<SupplyRow | undefined>;
  /** Forgets rows of runs that started before an instant. */
  forgetBefore(runMs: number): Promise<void>;
}

export const validMsOf = ({ runMs, forecastHour }: ModelHour): number => runMs + forecastHour * 3_600_000;

/** For people: which hour it is. */
export function nameOf({ modelId, runMs, forecastHour }: SupplyHour): string {
  return `${modelId} ${new Date(runMs).toISOString().slice(0, 13)}Z +${forecastHour} h`;
}

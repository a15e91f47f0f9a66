/** Every few minutes: ask for the hours that are wanted, hide the ones that are outlived, delete what nothing reads. */
import type { OpenModel } from '../sources/open-models.ts';
import type { GridRepository, ObjectStore } from '../sources/ports.ts';
import type { SupplyHour, SupplyRepository } from '../sources/supply.ts';
import { earliestRunMs, planSupply } from './plan-supply.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 60 * MS_PER_MINUTE;
const MS_PER_DAY = 24 * MS_PER_HOUR;

/** A brief reaches back six hours from a leg's time for a lone hour. */
const KEPT_AFTER_VALID_MS = 7 * MS_PER_HOUR;
/** Of each valid time of a model: the newest run's hour, and two more in case it is damaged or has holes. */
const KEPT_RUNS = 3;
/** Objects of an hour that was replaced or retired stay this long for briefs that are reading them. */
const RETIRED_GRACE_MS = 15 * MS_PER_MINUTE;
/** Longer than any ingest takes: what is still being written then was left by a crash. */
const WRITING_GRACE_MS = 2 * MS_PER_HOUR;
/** Sets of objects deleted at a time. */
const MOST_DELETED = 20;
/** Messages that a queue takes in one call. */
const MOST_MESSAGES = 100;

export interface ScheduleDeps {
  readonly supply: SupplyRepository;
  readonly grids: GridRepository;
  readonly objects: ObjectStore;
  readonly models: readonly OpenModel[];
  readonly operator: string;
  readonly horizonMs: number;
  readonly send: (hours: readonly SupplyHour[]) => Promise<void>;
  readonly nowMs: () => number;
}

export interface ScheduleResult {
  readonly asked: readonly SupplyHour[];
  readonly retiredHours: number;
  readonly deletedPrefixes: number;
}

/** @throws what the queue or the stores throw; what was asked for and not sent is marked failed, and asked for again. */
export async function runSchedule(deps: ScheduleDeps): Promise<ScheduleResult> {
  const nowMs = deps.nowMs();
  const asked = await askForHours(deps, nowMs);
  const retiredHours = await deps.grids.retire(deps.operator, {
    validBeforeMs: nowMs - KEPT_AFTER_VALID_MS,
    keepRuns: KEPT_RUNS,
    nowMs,
  });
  await deps.supply.forgetBefore(earliestRunMs(deps.models, nowMs) - MS_PER_DAY);
  return { asked, retiredHours, deletedPrefixes: await deleteLeftovers(deps, nowMs) };
}

async function askForHours(deps: ScheduleDeps, nowMs: number): Promise<readonly SupplyHour[]> {
  if (deps.models.length === 0) return [];
  const known = await deps.supply.since(earliestRunMs(deps.models, nowMs));
  const wanted = planSupply(deps.models, known, { nowMs, horizonMs: deps.horizonMs });
  for (let from = 0; from < wanted.length; from += MOST_MESSAGES) {
    const part = wanted.slice(from, from + MOST_MESSAGES);
    // Marked first: a consumer may have the message before the queue has answered.
    await deps.supply.mark(part, 'queued', { detail: '', nowMs });
    try {
      await deps.send(part);
    } catch (error) {
      const detail = `queue: ${error instanceof Error ? error.message : String(error)}`;
      await deps.supply.mark(part, 'failed', { detail, nowMs });
      throw error;
    }
  }
  return wanted;
}

/** Objects first, then the note of them: a crash between leaves the note, and the next round deletes nothing twice. */
async function deleteLeftovers({ grids, objects }: ScheduleDeps, nowMs: number): Promise<number> {
  const before = { writingBeforeMs: nowMs - WRITING_GRACE_MS, retiredBeforeMs: nowMs - RETIRED_GRACE_MS };
  const prefixes = await grids.leftovers(before, MOST_DELETED);
  for (const prefix of prefixes) {
    for (
      let keys = await objects.list(`${prefix}/`);
      keys.length > 0;
      keys = await objects.list(`${prefix}/`)
    ) {
      await objects.delete(keys);
    }
    await grids.forgetPrefix(prefix);
  }
  return prefixes.length;
}

/** Every few minutes: ask for the hours that are wanted, hide the ones that are outlived, delete what nothing reads. */
import type { OpenModel } from '../sources/open-models.ts';
import type { GridRepository, ObjectStore } from '../sources/ports.ts';
import type { ReportRepository } from '../sources/reports.ts';
import { keyOfHour, type SupplyHour, type SupplyRepository } from '../sources/supply.ts';
import { earliestRunMs, planSupply } from './plan-supply.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 60 * MS_PER_MINUTE;
const MS_PER_DAY = 24 * MS_PER_HOUR;

/** A brief reaches back six hours from a leg's time for a lone hour. */
const KEPT_AFTER_VALID_MS = 7 * MS_PER_HOUR;
/** Of each valid time of a model: the newest run's hour, and two more in case it is damaged or has holes. */
const KEPT_RUNS = 3;
/** Pilots' reports that were not compared with forecasts yet stay this long after they came in. */
const UNSCORED_KEPT_MS = 2 * MS_PER_DAY;
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
  readonly reports: ReportRepository;
  /** Reports stay this long after the end of what they tell, ms. */
  readonly reportsKeptMs: number;
  readonly send: (hours: readonly SupplyHour[]) => Promise<void>;
  readonly nowMs: () => number;
}

export interface ScheduleResult {
  readonly asked: readonly SupplyHour[];
  readonly retiredHours: number;
  readonly deletedPrefixes: number;
  readonly forgottenReports: number;
}

/** @throws what the queue or the stores throw; what was asked for and not sent is marked failed, and asked for again. */
export async function runSchedule(deps: ScheduleDeps): Promise<ScheduleResult> {
  const nowMs = deps.nowMs();
  let asked: readonly SupplyHour[] = [];
  let cleaned = { retiredHours: 0, deletedPrefixes: 0, forgottenReports: 0 };
  try {
    asked = await askForHours(deps, nowMs);
  } finally {
    // A queue that takes nothing must not fill the store as well.
    cleaned = await cleanUp(deps, nowMs);
  }
  return { asked, ...cleaned };
}

async function askForHours(deps: ScheduleDeps, nowMs: number): Promise<readonly SupplyHour[]> {
  if (deps.models.length === 0) return [];
  const known = await deps.supply.since(earliestRunMs(deps.models, nowMs));
  const lastWordMs = new Map(known.map((row) => [keyOfHour(row), row.updatedMs]));
  const wanted = planSupply(deps.models, known, { nowMs, horizonMs: deps.horizonMs });
  const sent: SupplyHour[] = [];
  for (let from = 0; from < wanted.length; from += MOST_MESSAGES) {
    const part = wanted.slice(from, from + MOST_MESSAGES);
    const read = part.map((hour) => ({ ...hour, lastWordMs: lastWordMs.get(keyOfHour(hour)) }));
    // Marked first: a consumer may have the message before the queue has answered.
    const asked = await deps.supply.ask(read, nowMs);
    if (asked.length === 0) continue;
    try {
      await deps.send(asked);
    } catch (error) {
      const detail = `queue: ${error instanceof Error ? error.message : String(error)}`;
      await deps.supply.unask(asked, { detail, nowMs });
      throw error;
    }
    sent.push(...asked);
  }
  return sent;
}

async function cleanUp(deps: ScheduleDeps, nowMs: number) {
  // Without models what is stored was put in by hand: nothing newer will come for it.
  const retiredHours =
    deps.models.length === 0
      ? 0
      : await deps.grids.retire(deps.operator, {
          validBeforeMs: nowMs - KEPT_AFTER_VALID_MS,
          keepRuns: KEPT_RUNS,
          nowMs,
        });
  await deps.supply.forgetBefore(earliestRunMs(deps.models, nowMs) - MS_PER_DAY);
  const forgottenReports = await deps.reports.forgetBefore(
    nowMs - deps.reportsKeptMs,
    nowMs - UNSCORED_KEPT_MS,
  );
  return { retiredHours, deletedPrefixes: await deleteLeftovers(deps, nowMs), forgottenReports };
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

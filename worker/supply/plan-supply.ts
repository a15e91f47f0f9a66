/** Which forecast hours to ask for now. Pure: the same clock and the same rows give the same list. */
import { forecastHours, type OpenModel, usuallyThereMs } from '../sources/open-models.ts';
import { keyOfHour, type SupplyHour, type SupplyRow, validMsOf } from '../sources/supply.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 60 * MS_PER_MINUTE;

/** Hours asked for reach from this far before now, so that a leg under way has both ends. */
const BACK_MS = MS_PER_HOUR;
/** Hours of a model lie at most this far apart where legs are flown: one more at each end brackets every instant. */
const MOST_STEP_MS = 3 * MS_PER_HOUR;
/** Runs that may serve an hour: the newest that has it does, an older one while that is late or failing. */
const MOST_RUNS = 3;
/** Runs looked at: of those of a day some look further ahead than the ones after them. */
const RUNS_SINCE_MS = 30 * MS_PER_HOUR;

/** An hour that is late is asked for at every round, and less and less often the later it is: after a quarter of that time. */
const SHORTEST_LATE_MS = 4 * MS_PER_MINUTE;
const LATE_SHARE = 0.25;

/**
 * How long the last word on an hour stands before it is asked for again. A consumer that crashed leaves `working`, a lost
 * message `queued`; the queue itself repeats what failed a few times before that.
 */
const ASKED_AGAIN_AFTER_MS: Readonly<Record<SupplyRow['state'], number>> = {
  queued: 30 * MS_PER_MINUTE,
  unsent: 4 * MS_PER_MINUTE,
  working: 15 * MS_PER_MINUTE,
  failed: 30 * MS_PER_MINUTE,
  late: SHORTEST_LATE_MS,
  dead: MS_PER_HOUR,
  stored: Number.POSITIVE_INFINITY,
};

export interface SupplyClock {
  readonly nowMs: number;
  /** Hours are asked for up to this long after now, ms. */
  readonly horizonMs: number;
}

/**
 * @param known  rows of the last runs; of an hour without a row nothing is known.
 * @returns      hours to ask for, by model, valid time and newest run first.
 */
export function planSupply(
  models: readonly OpenModel[],
  known: readonly SupplyRow[],
  clock: SupplyClock,
): SupplyHour[] {
  const rows = new Map(known.map((row) => [keyOfHour(row), row]));
  return models.flatMap((model) => {
    const offered = newestRuns(model, clock.nowMs).flatMap((runMs) => hoursInWindow(model, runMs, clock));
    const validTimes = [...new Set(offered.map(validMsOf))].sort((a, b) => a - b);
    const isDueNow = (row: SupplyRow) => isDue(model, row, clock.nowMs);
    return validTimes.flatMap((validMs) => {
      const candidates = offered.filter((hour) => validMsOf(hour) === validMs).slice(0, MOST_RUNS);
      return askedOf(candidates, rows, isDueNow);
    });
  });
}

/** How far back a row can still matter, epoch ms. */
export function earliestRunMs(models: readonly OpenModel[], nowMs: number): number {
  return Math.min(nowMs, ...models.flatMap((model) => newestRuns(model, nowMs)));
}

/** The runs of the last day whose first hour is usually there by now, newest first. */
function newestRuns(model: OpenModel, nowMs: number): number[] {
  const latestMs = Math.floor(nowMs / MS_PER_HOUR) * MS_PER_HOUR;
  const count = RUNS_SINCE_MS / MS_PER_HOUR;
  return Array.from({ length: count }, (_, back) => latestMs - back * MS_PER_HOUR).filter((runMs) => {
    const [first] = forecastHours(model, runMs);
    return first !== undefined && usuallyThereMs(model, { runMs, forecastHour: first }) <= nowMs;
  });
}

/** Hours of a run in the window, one more before and behind it, and of these the ones that are usually there by now. */
function hoursInWindow(model: OpenModel, runMs: number, { nowMs, horizonMs }: SupplyClock): SupplyHour[] {
  return forecastHours(model, runMs)
    .map((forecastHour) => ({ modelId: model.id, runMs, forecastHour }))
    .filter((hour) => {
      const validMs = validMsOf(hour);
      const stepMs = stepAround(model, hour);
      const isInWindow = validMs > nowMs - BACK_MS - stepMs && validMs < nowMs + horizonMs + stepMs;
      return isInWindow && usuallyThereMs(model, hour) <= nowMs;
    });
}

/** Hours from this one to its neighbor, ms. */
function stepAround(model: OpenModel, { runMs, forecastHour }: SupplyHour): number {
  const hours = forecastHours(model, runMs);
  const at = hours.indexOf(forecastHour);
  const neighbor = hours[at + 1] ?? hours[at - 1] ?? forecastHour;
  return Math.min(MOST_STEP_MS, Math.abs(neighbor - forecastHour) * MS_PER_HOUR);
}

/** Of one valid time, newest run first: those to ask for, down to the first run that has it or may still bring it. */
function askedOf(
  candidates: readonly SupplyHour[],
  rows: ReadonlyMap<string, SupplyRow>,
  isDueNow: (row: SupplyRow) => boolean,
): SupplyHour[] {
  const asked: SupplyHour[] = [];
  for (const hour of candidates) {
    const row = rows.get(keyOfHour(hour));
    if (row?.state === 'stored') break;
    const isDue = row === undefined || isDueNow(row);
    if (isDue) asked.push(hour);
    const isUnderWay = row?.state === 'queued' || row?.state === 'working';
    // What is due again after a message or a consumer was lost may be lost for good: then an older run is wanted too.
    if (row === undefined || (isUnderWay && !isDue)) break;
  }
  return asked;
}

/** A word from the future was written under a wrong clock: it stands for nothing. */
function isDue(model: OpenModel, row: SupplyRow, nowMs: number): boolean {
  const elapsedMs = nowMs - row.updatedMs;
  return elapsedMs < 0 || elapsedMs >= waitMs(model, row);
}

function waitMs(model: OpenModel, row: SupplyRow): number {
  const shortestMs = ASKED_AGAIN_AFTER_MS[row.state];
  if (row.state !== 'late') return shortestMs;
  const lateByMs = row.updatedMs - usuallyThereMs(model, row);
  return Math.max(shortestMs, LATE_SHARE * lateByMs);
}

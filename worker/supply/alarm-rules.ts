/** When which alarm holds. Pure: the same facts give the same conditions. */
import type { AlarmCode, Condition, SupplyCount } from '../sources/alarms.ts';
import type { BulletinRow } from '../sources/bulletins.ts';
import { forecastHours, newestRunMs, type OpenModel, usuallyThereMs } from '../sources/open-models.ts';

const MS_PER_MINUTE = 60_000;
const MS_PER_HOUR = 60 * MS_PER_MINUTE;

/** A run is late when it is not in store so long after its first file is usually in its bucket (judgement). */
export const MODEL_LATE_MS = 90 * MS_PER_MINUTE;
/** A bulletin is asked for every five minutes; a host may be down that often before it is worth a word. */
export const BULLETIN_LATE_MS = 30 * MS_PER_MINUTE;
/** Balloons go up every twelve hours, and are in two or three hours later. */
export const SOUNDING_LATE_MS = 15 * MS_PER_HOUR;
/** Whoever loaded none for so long uses none. */
export const SOUNDINGS_IN_USE_MS = 7 * 24 * MS_PER_HOUR;
/** Within an hour, of one model; the queue mends fewer by itself. */
export const MOST_FAILED = 4;
export const FAILED_WITHIN_MS = MS_PER_HOUR;
/** What was given up is asked for again an hour later: it counts until that had its turn. */
export const DEAD_WITHIN_MS = 2 * MS_PER_HOUR;
/** A round that ended well is at most three rounds away. */
export const SUPPLY_LATE_MS = 15 * MS_PER_MINUTE;
/** Flights that are due may wait so long to be worked out. */
export const BOARD_BEHIND_MS = 15 * MS_PER_MINUTE;

/** A source of bulletins with what is remembered of it; undefined while it was never asked. */
export interface BulletinFact {
  readonly address: string;
  readonly row: BulletinRow | undefined;
}

/** Everything the rules look at. What was never there counts as late once the service has run for long enough. */
export interface AlarmFacts {
  readonly nowMs: number;
  /** When the schedule came for the first time. */
  readonly firstRoundMs: number;
  /** When a round last ended well; undefined: none did. */
  readonly supplyMs: number | undefined;
  readonly models: readonly OpenModel[];
  /** By identifier of the model: the newest run that was stored. */
  readonly newestRuns: ReadonlyMap<string, number>;
  readonly bulletins: readonly BulletinFact[];
  /** Of operators with ascents in use. */
  readonly newestSoundings: ReadonlyMap<string, number>;
  readonly supplyHours: readonly SupplyCount[];
  /** undefined: it could not be found out. */
  readonly boardsBehind: number | undefined;
}

/** Conditions that hold, and codes that nothing is known of. */
export function conditionsOf(facts: AlarmFacts): {
  readonly conditions: readonly Condition[];
  readonly unknownCodes: readonly AlarmCode[];
} {
  const conditions = [
    ...facts.models.flatMap((model) => lateModel(facts, model)),
    ...facts.bulletins.flatMap((fact) => lateBulletin(facts, fact)),
    ...[...facts.newestSoundings].flatMap(([operator, atMs]) => lateSoundings(facts, operator, atMs)),
    ...facts.supplyHours.flatMap((count) => badHours(facts, count)),
    ...behind(facts),
    ...failingSupply(facts),
  ];
  return { conditions, unknownCodes: facts.boardsBehind === undefined ? ['board-behind'] : [] };
}

function lateModel({ nowMs, firstRoundMs, newestRuns }: AlarmFacts, model: OpenModel): Condition[] {
  const dueMs = newestRunMs(model, 0, nowMs - MODEL_LATE_MS);
  const storedMs = newestRuns.get(model.id);
  if (dueMs === undefined || (storedMs !== undefined && storedMs >= dueMs)) return [];
  // A service that has just begun is still fetching.
  if (nowMs - firstRoundMs < MODEL_LATE_MS) return [];
  const sinceMs =
    storedMs === undefined
      ? firstRoundMs
      : usuallyThereMs(model, { runMs: runAfter(model, storedMs, dueMs), forecastHour: 0 });
  const have =
    storedMs === undefined
      ? 'no run was stored of late'
      : `the newest run that was stored is ${hourUtc(storedMs)}`;
  const sentence = `${model.name}: ${have}, that of ${hourUtc(dueMs)} is due`;
  return [{ code: 'late-model', subject: model.id, sinceMs, sentence }];
}

function runAfter(model: OpenModel, storedMs: number, dueMs: number): number {
  for (let runMs = storedMs + MS_PER_HOUR; runMs < dueMs; runMs += MS_PER_HOUR) {
    if (forecastHours(model, runMs).length > 0) return runMs;
  }
  return dueMs;
}

function lateBulletin({ nowMs, firstRoundMs }: AlarmFacts, { address, row }: BulletinFact): Condition[] {
  const sinceMs = Math.max(row?.gaveMs ?? firstRoundMs, firstRoundMs);
  if (nowMs - sinceMs < BULLETIN_LATE_MS) return [];
  const gave =
    row?.gaveMs === undefined
      ? 'has given nothing so far'
      : `last gave a report ${ago(nowMs - row.gaveMs)} ago`;
  return [{ code: 'late-bulletins', subject: address, sinceMs, sentence: `${address} ${gave}` }];
}

function lateSoundings({ nowMs }: AlarmFacts, operator: string, atMs: number): Condition[] {
  if (nowMs - atMs <= SOUNDING_LATE_MS) return [];
  const sentence = `The newest ascent of ${operator} is of ${ago(nowMs - atMs)} ago`;
  return [{ code: 'late-soundings', subject: operator, sinceMs: atMs + SOUNDING_LATE_MS, sentence }];
}

function badHours(
  { nowMs, supplyHours }: AlarmFacts,
  { modelId, state, count, oldestMs }: SupplyCount,
): Condition[] {
  const about = { subject: modelId, sinceMs: Math.min(oldestMs, nowMs) };
  if (state === 'dead') {
    return [{ ...about, code: 'dead-letters', sentence: `${modelId}: ${hours(count)} given up` }];
  }
  if (state !== 'failed' || count <= MOST_FAILED) return [];
  const others = supplyHours.filter((each) => each.modelId === modelId && each.state === 'stored');
  const stored = others.reduce((sum, each) => sum + each.count, 0);
  const sentence = `${modelId}: ${hours(count)} failing, ${stored} stored of late`;
  return [{ ...about, code: 'failing-ingests', sentence }];
}

function behind({ nowMs, boardsBehind }: AlarmFacts): Condition[] {
  const about = { subject: 'flights', sinceMs: nowMs - BOARD_BEHIND_MS };
  if (boardsBehind === undefined) {
    const sentence = 'How many flights wait to be worked out cannot be told';
    return [{ code: 'check-failed', subject: 'boards', sinceMs: nowMs, sentence }];
  }
  if (boardsBehind === 0) return [];
  const who = boardsBehind === 1 ? '1 flight has' : `${boardsBehind} flights have`;
  const sentence = `${who} waited more than ${BOARD_BEHIND_MS / MS_PER_MINUTE} minutes to be worked out`;
  return [{ ...about, code: 'board-behind', sentence }];
}

function failingSupply({ nowMs, firstRoundMs, supplyMs }: AlarmFacts): Condition[] {
  const sinceMs = supplyMs ?? firstRoundMs;
  if (nowMs - sinceMs < SUPPLY_LATE_MS) return [];
  const sentence = `No round of the supply has ended well for ${ago(nowMs - sinceMs)}`;
  return [{ code: 'supply-failing', subject: 'schedule', sinceMs, sentence }];
}

const hours = (count: number) => (count === 1 ? '1 forecast hour' : `${count} forecast hours`);
const hourUtc = (instantMs: number) =>
  `${new Date(instantMs).toISOString().slice(0, 13).replace('T', ' ')} UTC`;

/** "45 min", "16 h". */
function ago(durationMs: number): string {
  const minutes = Math.floor(durationMs / MS_PER_MINUTE);
  return minutes < 120 ? `${minutes} min` : `${Math.floor(minutes / 60)} h`;
}

/** The step of each round of the schedule that looks at the service itself: raises alarms, ends them, tells of them. */
import type { Alarm, AlarmRepository, ServiceFacts } from '../sources/alarms.ts';
import { type BulletinRepository, shownAddress, sourceName } from '../sources/bulletins.ts';
import type { OpenModel } from '../sources/open-models.ts';
import {
  type AlarmFacts,
  conditionsOf,
  DEAD_WITHIN_MS,
  FAILED_WITHIN_MS,
  SOUNDINGS_IN_USE_MS,
} from './alarm-rules.ts';
import { type Fetch, messageOf, tellAlarm } from './tell-alarm.ts';

const MS_PER_MINUTE = 60_000;
/** Two rounds without it and a little more: what comes and goes with each round is one alarm. */
const ENDS_AFTER_MS = 12 * MS_PER_MINUTE;
const KEPT_MS = 30 * 86_400_000;
/** That an alarm ended is told this much later at most. */
const END_TOLD_WITHIN_MS = 60 * MS_PER_MINUTE;

export interface AlarmDeps {
  readonly alarms: AlarmRepository;
  readonly facts: ServiceFacts;
  readonly bulletins: BulletinRepository;
  readonly models: readonly OpenModel[];
  readonly bulletinUrls: readonly string[];
  /** Whose ascents are looked at: those that the settings name. */
  readonly operators: readonly string[];
  /** Flights that are due for longer than `BOARD_BEHIND_MS`. */
  readonly boardsBehind: () => Promise<number>;
  /** Address that hears of alarms; undefined: none. */
  readonly alarmUrl: string | undefined;
  readonly fetch: Fetch;
  /** Takes an event and what belongs to it. */
  readonly log: (event: string, fields: Readonly<Record<string, string>>) => void;
  readonly nowMs: () => number;
}

/** Run at the end of a round. @throws what the stores throw: then no alarm ends, and the heartbeat stays away. */
export async function lookForAlarms(deps: AlarmDeps): Promise<void> {
  const nowMs = deps.nowMs();
  const facts = await gatherFacts(deps, nowMs);
  const look = { ...conditionsOf(facts), nowMs, endSeenBeforeMs: nowMs - ENDS_AFTER_MS };
  const before = new Set((await deps.alarms.active()).map(({ id }) => id));
  await deps.alarms.note(look);
  const after = await deps.alarms.active();
  for (const alarm of after) if (!before.has(alarm.id)) log(deps, 'alarm-raised', alarm);
  await deps.alarms.forgetEndedBefore(nowMs - KEPT_MS);
  // Last: a heartbeat says that all of this was done.
  await deps.alarms.beat('schedule', nowMs);
  await tellAll(deps, nowMs);
}

async function gatherFacts(deps: AlarmDeps, nowMs: number): Promise<AlarmFacts> {
  const { alarms, facts, bulletinUrls } = deps;
  const [schedule, supply, newestRuns, newestSoundings, failed, dead, rows, boardsBehind] = await Promise.all(
    [
      alarms.heartbeat('schedule'),
      alarms.heartbeat('supply'),
      facts.newestRuns(),
      facts.newestSoundings(nowMs - SOUNDINGS_IN_USE_MS),
      facts.supplyHours(nowMs - FAILED_WITHIN_MS),
      facts.supplyHours(nowMs - DEAD_WITHIN_MS),
      deps.bulletins.list(),
      deps.boardsBehind().catch(() => undefined),
    ],
  );
  const bySource = new Map(rows.map((row) => [row.source, row]));
  return {
    nowMs,
    firstRoundMs: schedule?.firstMs ?? nowMs,
    supplyMs: supply?.atMs,
    models: deps.models,
    newestRuns,
    newestSoundings: new Map([...newestSoundings].filter(([name]) => deps.operators.includes(name))),
    bulletins: await Promise.all(
      bulletinUrls.map(async (url) => ({
        address: shownAddress(url),
        row: bySource.get(await sourceName(url)),
      })),
    ),
    supplyHours: [
      ...failed.filter(({ state }) => state !== 'dead'),
      ...dead.filter(({ state }) => state === 'dead'),
    ],
    boardsBehind,
  };
}

/** One after the other, the oldest first; what is not told now is told in the next round. */
async function tellAll(deps: AlarmDeps, nowMs: number): Promise<void> {
  const { alarmUrl } = deps;
  if (alarmUrl === undefined) return;
  for (const alarm of await deps.alarms.untold(nowMs - END_TOLD_WITHIN_MS)) {
    const stages = (['raised', 'ended'] as const).filter((stage) =>
      stage === 'raised' ? alarm.told === 'nothing' : alarm.endedMs !== undefined,
    );
    for (const stage of stages) {
      const why = await tellAlarm(deps.fetch, alarmUrl, messageOf(alarm, stage));
      if (why !== undefined) {
        // An address that does not answer would hold up the round once for each alarm.
        deps.log('alarm-not-told', { code: alarm.code, subject: alarm.subject, stage, why });
        return;
      }
      await deps.alarms.setTold(alarm.id, stage);
    }
  }
}

function log(deps: AlarmDeps, event: string, { code, subject, sentence }: Alarm): void {
  deps.log(event, { code, subject, sentence });
}

/** Alarms, heartbeats and facts in memory. */
import type {
  Alarm,
  AlarmRepository,
  Heartbeat,
  HeartbeatName,
  ServiceFacts,
} from '../../worker/sources/alarms.ts';

type Kept = { -readonly [K in keyof Alarm]: Alarm[K] };

export function memoryAlarms(): AlarmRepository {
  let alarms: Kept[] = [];
  const beats = new Map<HeartbeatName, Heartbeat>();
  const lasting = () => alarms.filter(({ endedMs }) => endedMs === undefined);
  let lastId = 0;
  return {
    async note({ conditions, unknownCodes, nowMs, endSeenBeforeMs }) {
      for (const condition of conditions) {
        const known = lasting().find(
          ({ code, subject }) => code === condition.code && subject === condition.subject,
        );
        if (known === undefined) {
          lastId += 1;
          alarms.push({ ...condition, id: lastId, lastSeenMs: nowMs, endedMs: undefined, told: 'nothing' });
        } else {
          known.lastSeenMs = nowMs;
          known.sentence = condition.sentence;
        }
      }
      for (const alarm of lasting()) {
        if (unknownCodes.includes(alarm.code)) alarm.lastSeenMs = nowMs;
        if (alarm.lastSeenMs < endSeenBeforeMs || alarm.lastSeenMs > nowMs) alarm.endedMs = nowMs;
      }
    },
    active: async () => lasting().map((alarm) => ({ ...alarm })),
    untold: async (endedSinceMs) =>
      alarms
        .filter(({ told, endedMs }) =>
          endedMs === undefined ? told === 'nothing' : told !== 'ended' && endedMs >= endedSinceMs,
        )
        .map((alarm) => ({ ...alarm })),
    async setTold(id, told) {
      const alarm = alarms.find((each) => each.id === id);
      if (alarm !== undefined && alarm.told !== 'ended') alarm.told = told;
    },
    async forgetEndedBefore(endedMs) {
      alarms = alarms.filter((alarm) => alarm.endedMs === undefined || alarm.endedMs >= endedMs);
    },
    async beat(name, nowMs) {
      beats.set(name, { firstMs: beats.get(name)?.firstMs ?? nowMs, atMs: nowMs });
    },
    heartbeat: async (name) => beats.get(name),
  };
}

/** Nothing is stored. */
export function memoryFacts(): ServiceFacts {
  return {
    newestRuns: async () => new Map(),
    newestSoundings: async () => new Map(),
    supplyHours: async () => [],
    totals: async () => ({ boards: 0, flights: 0, waiting: 0, sharedBriefs: 0 }),
  };
}

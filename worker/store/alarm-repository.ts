/** Alarms and heartbeats, on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import type { Alarm, AlarmCode, AlarmRepository } from '../sources/alarms.ts';

interface Row {
  id: number;
  code: string;
  subject: string;
  since_ms: number;
  sentence: string;
  last_seen_ms: number;
  ended_ms: number | null;
  told: number;
}

const LONGEST_SENTENCE = 300;
/** More than the codes and what they may be about. */
const MOST_ROWS = 100;
const TOLD = ['nothing', 'raised', 'ended'] as const;

/** @returns the port over tables `alarms` and `heartbeats`. */
export function createAlarmRepository(db: D1Database): AlarmRepository {
  const list = async (where: string, ...values: readonly number[]) => {
    const { results } = await db
      .prepare(`SELECT * FROM alarms WHERE ${where} ORDER BY id LIMIT ${MOST_ROWS}`)
      .bind(...values)
      .all<Row>();
    return results.map(toAlarm);
  };
  return {
    async note({ conditions, unknownCodes, nowMs, endSeenBeforeMs }) {
      const see = db.prepare(
        `INSERT INTO alarms (code, subject, since_ms, sentence, last_seen_ms) VALUES (?1, ?2, ?3, ?4, ?5)
         ON CONFLICT (code, subject) WHERE ended_ms IS NULL DO UPDATE SET sentence = ?4, last_seen_ms = ?5`,
      );
      const keep = db.prepare('UPDATE alarms SET last_seen_ms = ?2 WHERE code = ?1 AND ended_ms IS NULL');
      // A time ahead of now is a wrong clock's.
      const end = db.prepare(
        `UPDATE alarms SET ended_ms = ?1
         WHERE ended_ms IS NULL AND (last_seen_ms < ?2 OR last_seen_ms > ?1)`,
      );
      await db.batch([
        ...conditions.map(({ code, subject, sinceMs, sentence }) =>
          see.bind(code, subject, sinceMs, sentence.slice(0, LONGEST_SENTENCE), nowMs),
        ),
        ...unknownCodes.map((code) => keep.bind(code, nowMs)),
        end.bind(nowMs, endSeenBeforeMs),
      ]);
    },
    active: () => list('ended_ms IS NULL'),
    untold: (endedSinceMs) =>
      list('(told = 0 AND ended_ms IS NULL) OR (told < 2 AND ended_ms >= ?1)', endedSinceMs),
    async setTold(id, told) {
      await db
        .prepare('UPDATE alarms SET told = max(told, ?2) WHERE id = ?1')
        .bind(id, TOLD.indexOf(told))
        .run();
    },
    async forgetEndedBefore(endedMs) {
      await db.prepare('DELETE FROM alarms WHERE ended_ms < ?1').bind(endedMs).run();
    },
    ...heartbeats(db),
  };
}

function heartbeats(db: D1Database): Pick<AlarmRepository, 'beat' | 'heartbeat'> {
  return {
    async beat(name, nowMs) {
      await db
        .prepare('INSERT INTO heartbeats VALUES (?1, ?2, ?2) ON CONFLICT (name) DO UPDATE SET at_ms = ?2')
        .bind(name, nowMs)
        .run();
    },
    async heartbeat(name) {
      const row = await db
        .prepare('SELECT first_ms, at_ms FROM heartbeats WHERE name = ?1')
        .bind(name)
        .first<{ first_ms: number; at_ms: number }>();
      return row === null ? undefined : { firstMs: row.first_ms, atMs: row.at_ms };
    },
  };
}

function toAlarm(row: Row): Alarm {
  return {
    id: row.id,
    code: row.code as AlarmCode,
    subject: row.subject,
    sinceMs: row.since_ms,
    sentence: row.sentence,
    lastSeenMs: row.last_seen_ms,
    endedMs: row.ended_ms ?? undefined,
    told: TOLD[row.told] ?? 'ended',
  };
}

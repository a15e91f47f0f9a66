/** Alarms, heartbeats and counts on D1. */
import type { D1Database } from '@cloudflare/workers-types';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import type { AlarmRepository, Condition } from '../../worker/sources/alarms.ts';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import { createAlarmRepository } from '../../worker/store/alarm-repository.ts';
import { createServiceFacts } from '../../worker/store/service-facts.ts';
import { createSupplyRepository } from '../../worker/store/supply-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import { memoryAlarms } from '../support/memory-alarms.ts';

const MIN = 60_000;
const NOW = Date.UTC(2026, 0, 15, 10);
let local: LocalD1;
let db: D1Database;
beforeAll(async () => {
  local = await startLocalD1();
  db = local.db;
});
afterAll(() => local.stop());

const condition = (subject: string, sentence = 'It is late'): Condition => ({
  code: 'late-model',
  subject,
  sinceMs: NOW - 60 * MIN,
  sentence,
});
const look = (minute: number, ...conditions: Condition[]) => ({
  conditions,
  unknownCodes: [],
  nowMs: NOW + minute * MIN,
  endSeenBeforeMs: NOW + (minute - 12) * MIN,
});

describe.each(['D1', 'memory'])('an AlarmRepository on %s', (kind) => {
  let alarms: AlarmRepository;
  beforeEach(async () => {
    await db.batch([db.prepare('DELETE FROM alarms'), db.prepare('DELETE FROM heartbeats')]);
    alarms = kind === 'D1' ? createAlarmRepository(db) : memoryAlarms();
  });

  it('holds one active alarm a code and subject, since when it first was', async () => {
    await alarms.note(look(0, condition('a'), condition('b')));
    await alarms.note(look(5, { ...condition('a', 'Later still'), sinceMs: NOW }));
    expect(await alarms.active()).toMatchObject([
      { subject: 'a', sentence: 'Later still', sinceMs: NOW - 60 * MIN, lastSeenMs: NOW + 5 * MIN },
      { subject: 'b', lastSeenMs: NOW },
    ]);
  });

  it('two rounds at once raise it once', async () => {
    await Promise.all([alarms.note(look(0, condition('a'))), alarms.note(look(0, condition('a')))]);
    expect(await alarms.active()).toHaveLength(1);
  });

  it('ends what was not seen for long enough; what comes again is another alarm', async () => {
    await alarms.note(look(0, condition('a')));
    const [first] = await alarms.active();
    await alarms.note(look(12));
    expect(await alarms.active()).toHaveLength(1);
    await alarms.note(look(13));
    expect(await alarms.active()).toEqual([]);
    await alarms.note(look(15, condition('a')));
    expect((await alarms.active())[0]!.id).not.toBe(first!.id);
  });

  it('a code that nothing is known of neither begins nor ends', async () => {
    await alarms.note(look(0, condition('a')));
    for (const minute of [10, 20, 30])
      await alarms.note({ ...look(minute), unknownCodes: ['late-model', 'board-behind'] });
    expect(await alarms.active()).toMatchObject([{ subject: 'a', lastSeenMs: NOW + 30 * MIN }]);
  });

  it('a time ahead of now, of a wrong clock, keeps no alarm for ever', async () => {
    await alarms.note(look(600, condition('a')));
    await alarms.note(look(0));
    expect(await alarms.active()).toEqual([]);
  });

  it('lists what is to be told until it was told, its end for a while', async () => {
    await alarms.note(look(0, condition('a')));
    const [alarm] = await alarms.untold(NOW);
    await alarms.setTold(alarm!.id, 'raised');
    expect(await alarms.untold(NOW)).toEqual([]);
    await alarms.note(look(20));
    expect(await alarms.untold(NOW + 20 * MIN)).toMatchObject([{ told: 'raised', endedMs: NOW + 20 * MIN }]);
    expect(await alarms.untold(NOW + 21 * MIN)).toEqual([]);
    await alarms.setTold(alarm!.id, 'ended');
    await alarms.setTold(alarm!.id, 'raised');
    expect(await alarms.untold(0)).toEqual([]);
  });

  it('forgets what ended long ago, never what lasts', async () => {
    await alarms.note(look(0, condition('a'), condition('b')));
    await alarms.note(look(20, condition('b')));
    await alarms.forgetEndedBefore(NOW + 21 * MIN);
    expect(await alarms.untold(0)).toMatchObject([{ subject: 'b' }]);
  });

  it('keeps when a heartbeat came first and last', async () => {
    expect(await alarms.heartbeat('schedule')).toBeUndefined();
    await alarms.beat('schedule', NOW);
    await alarms.beat('schedule', NOW + MIN);
    await alarms.beat('supply', NOW);
    expect(await alarms.heartbeat('schedule')).toEqual({ firstMs: NOW, atMs: NOW + MIN });
  });
});

describe('createServiceFacts', () => {
  it('counts forecast hours of its own scope and finds the newest run that was stored', async () => {
    const facts = createServiceFacts(db, 'mine');
    const runMs = NOW - 240 * MIN;
    for (const scope of ['mine', 'other']) {
      const supply = createSupplyRepository(db, scope);
      const hours = [0, 60].flatMap((backMin) =>
        [3, 4].map((forecastHour) => ({
          modelId: OPEN_MODELS['gfs-0p25'].id,
          runMs: runMs - backMin * MIN,
          forecastHour,
          lastWordMs: undefined,
        })),
      );
      await supply.ask(hours, NOW);
      const claim = await supply.claim(hours[2]!, { leaseMs: MIN, nowMs: NOW + MIN });
      await supply.settle(claim!, { state: 'stored', detail: '', nowMs: NOW + MIN });
    }
    expect(await facts.newestRuns()).toEqual(new Map([['gfs-0p25', runMs - 60 * MIN]]));
    expect(await facts.supplyHours(0)).toEqual([
      { modelId: 'gfs-0p25', state: 'queued', count: 3, oldestMs: NOW },
      { modelId: 'gfs-0p25', state: 'stored', count: 1, oldestMs: NOW + MIN },
    ]);
    expect(await facts.supplyHours(NOW + 1)).toHaveLength(1);
  });

  it('counts boards, their flights that still matter, and shared briefs that stand', async () => {
    const flight = (id: string, departureMs: number, changes: string) =>
      db
        .prepare(
          `INSERT INTO board_flights (board_id, flight_id, leg_id, leg, departure_ms, seq, is_due, is_removed, cancelled)
         VALUES ('b', ?1, 'l', '{}', ?2, 1, ${changes})`,
        )
        .bind(id, departureMs);
    const brief = (id: string, expiresMs: number, revokedMs: number | null) =>
      db
        .prepare(`INSERT INTO shared_briefs (id, created_ms, expires_ms, revoked_ms, sha256, key_sha256, method, operators, request, title, sentence)
           VALUES (?1, 0, ?2, ?3, '', '', '', '', '', '', '')`)
        .bind(id, expiresMs, revokedMs);
    await db.batch([
      db.prepare("INSERT INTO boards VALUES ('b', 'o', 'n', 'UTC', NULL, 0, 1, 1)"),
      flight('waits', NOW, '1, 0, NULL'),
      flight('done', NOW, '0, 0, NULL'),
      flight('cancelled', NOW, "1, 0, '{}'"),
      flight('removed', NOW, '1, 1, NULL'),
      flight('past', NOW - 13 * 60 * MIN, '1, 0, NULL'),
      brief('stands', NOW + 1, null),
      brief('expired', NOW, null),
      brief('revoked', NOW + 1, NOW),
    ]);
    expect(await createServiceFacts(db, '').totals(NOW)).toEqual({
      boards: 1,
      flights: 3,
      waiting: 1,
      sharedBriefs: 1,
    });
  });

  it('finds the newest ascent of each operator since an instant', async () => {
    const put = (operator: string, timeMs: number) =>
      db
        .prepare(
          `INSERT INTO soundings (operator, station_id, time_ms, format, lat_deg, lon_deg, level_count, ingested_ms, body)
         VALUES (?1, 's', ?2, 'igra', 0, 0, 1, 0, '{}')`,
        )
        .bind(operator, timeMs);
    await db.batch([put('a', NOW), put('a', NOW - MIN), put('b', NOW - 60 * MIN)]);
    expect(await createServiceFacts(db, '').newestSoundings(NOW - 30 * MIN)).toEqual(new Map([['a', NOW]]));
  });
});

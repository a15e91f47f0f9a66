/** Alarms over time: raised once, ended once, told of; and when each rule holds. */
import { beforeEach, describe, expect, it } from 'vitest';
import type { Alarm, ServiceFacts } from '../../worker/sources/alarms.ts';
import { sourceName } from '../../worker/sources/bulletins.ts';
import { OPEN_MODELS } from '../../worker/sources/open-models.ts';
import { type AlarmFacts, conditionsOf } from '../../worker/supply/alarm-rules.ts';
import { type AlarmDeps, lookForAlarms } from '../../worker/supply/alarms.ts';
import { createMemoryStores, type MemoryStores } from '../support/memory-stores.ts';

const MIN = 60_000;
const H = 60 * MIN;
const NOW = Date.UTC(2026, 0, 15, 10);
const GFS = OPEN_MODELS['gfs-0p25'];
const ALARM_URL = 'https://alarms.example/hook/topsecret-alarm';

const quiet: AlarmFacts = {
  nowMs: NOW,
  firstRoundMs: NOW - 24 * H,
  supplyMs: NOW - 5 * MIN,
  models: [],
  newestRuns: new Map(),
  bulletins: [],
  newestSoundings: new Map(),
  supplyHours: [],
  boardsBehind: 0,
};
const codes = (changes: Partial<AlarmFacts>) =>
  conditionsOf({ ...quiet, ...changes }).conditions.map(({ code, subject }) => `${code} ${subject}`);
const bulletin = (gaveMs: number | undefined) => ({
  address: 'https://a.example/metar',
  row: {
    source: 's',
    askedMs: NOW,
    gaveMs,
    stored: 1,
    refused: 0,
    refusal: '',
    fault: '',
    faultMs: undefined,
  },
});

describe('conditionsOf', () => {
  it('finds nothing wrong where nothing is set and rounds end well', () => {
    expect(conditionsOf(quiet)).toEqual({ conditions: [], unknownCodes: [] });
  });

  // GFS of 00 UTC is usually there from 03:30 on, that of 06 UTC from 09:30 on.
  it.each([
    [NOW, Date.UTC(2026, 0, 15, 0), []],
    [Date.UTC(2026, 0, 15, 10, 59), Date.UTC(2026, 0, 15, 0), []],
    [Date.UTC(2026, 0, 15, 11), Date.UTC(2026, 0, 15, 0), ['late-model gfs-0p25']],
    [Date.UTC(2026, 0, 15, 11), Date.UTC(2026, 0, 15, 6), []],
    [NOW, Date.UTC(2026, 0, 14, 18), ['late-model gfs-0p25']],
  ])('at %d a newest run of %d gives %j', (nowMs, runMs, expected) => {
    const newestRuns = new Map([['gfs-0p25', runMs]]);
    expect(codes({ nowMs, supplyMs: nowMs, models: [GFS], newestRuns })).toEqual(expected);
  });

  it('counts a run as late since its first file was due, not since it was noticed', () => {
    const newestRuns = new Map([['gfs-0p25', Date.UTC(2026, 0, 14, 12)]]);
    const [found] = conditionsOf({ ...quiet, models: [GFS], newestRuns }).conditions;
    expect(new Date(found!.sinceMs).toISOString()).toBe('2026-01-14T21:30:00.000Z');
    expect(found!.sentence).toBe(
      'GFS 0.25°: the newest run that was stored is 2026-01-14 12 UTC, that of 2026-01-15 00 UTC is due',
    );
  });

  it('gives a service that has just begun the time to fetch a first run', () => {
    expect(codes({ models: [GFS], firstRoundMs: NOW - 89 * MIN })).toEqual([]);
    expect(codes({ models: [GFS], firstRoundMs: NOW - 90 * MIN })).toEqual(['late-model gfs-0p25']);
  });

  it.each([
    [NOW - 29 * MIN, []],
    [NOW - 30 * MIN, ['late-bulletins https://a.example/metar']],
    [undefined, ['late-bulletins https://a.example/metar']],
  ])('a bulletin that last gave a report at %s gives %j', (gaveMs, expected) => {
    expect(codes({ bulletins: [bulletin(gaveMs)] })).toEqual(expected);
  });

  it('a bulletin that was never asked is late too, once the service has run for half an hour', () => {
    const bulletins = [{ ...bulletin(undefined), row: undefined }];
    expect(codes({ bulletins })).toHaveLength(1);
    expect(codes({ bulletins, firstRoundMs: NOW - 29 * MIN })).toEqual([]);
  });

  it('ascents are late after 15 hours, an operator each', () => {
    const newestSoundings = new Map([
      ['a', NOW - 15 * H],
      ['b', NOW - 15 * H - 1],
    ]);
    expect(codes({ newestSoundings })).toEqual(['late-soundings b']);
  });

  it.each([
    [{ state: 'failed', count: 4 }, []],
    [{ state: 'failed', count: 5 }, ['failing-ingests gfs-0p25']],
    [{ state: 'dead', count: 1 }, ['dead-letters gfs-0p25']],
    [{ state: 'late', count: 50 }, []],
    [{ state: 'stored', count: 50 }, []],
  ] as const)('forecast hours %j give %j', ({ state, count }, expected) => {
    const supplyHours = [{ modelId: 'gfs-0p25', state, count, oldestMs: NOW - 10 * MIN }];
    expect(codes({ supplyHours })).toEqual(expected);
  });

  it('rounds that fail are told of after 15 minutes', () => {
    expect(codes({ supplyMs: NOW - 14 * MIN })).toEqual([]);
    expect(codes({ supplyMs: NOW - 15 * MIN })).toEqual(['supply-failing schedule']);
    expect(codes({ supplyMs: undefined })).toEqual(['supply-failing schedule']);
  });

  it('a board that cannot be looked at is neither behind nor well', () => {
    expect(codes({ boardsBehind: 3 })).toEqual(['board-behind flights']);
    const { conditions, unknownCodes } = conditionsOf({ ...quiet, boardsBehind: undefined });
    expect(conditions.map(({ code }) => code)).toEqual(['check-failed']);
    expect(unknownCodes).toEqual(['board-behind']);
  });
});

describe('lookForAlarms', () => {
  let stores: MemoryStores;
  let told: { url: string; body: Record<string, unknown>; redirect: unknown }[];
  let logged: string[];
  let answer: () => Promise<Response>;
  let behind: () => Promise<number>;
  beforeEach(() => {
    stores = createMemoryStores();
    told = [];
    logged = [];
    answer = async () => new Response(null, { status: 204 });
    behind = async () => 0;
  });
  const at = async (minute: number, changes: Partial<AlarmDeps> = {}) => {
    await stores.alarms.beat('supply', NOW + minute * MIN);
    await lookForAlarms({
      ...stores,
      models: [],
      bulletinUrls: [],
      operators: ['open'],
      boardsBehind: () => behind(),
      alarmUrl: ALARM_URL,
      fetch: (url, init) => {
        told.push({ url, body: JSON.parse(String(init.body)), redirect: init.redirect });
        return answer();
      },
      log: (event, fields) => logged.push(JSON.stringify({ event, ...fields })),
      nowMs: () => NOW + minute * MIN,
      ...changes,
    });
  };
  const active = async () => (await stores.alarms.active()).map(({ code }: Alarm) => code);

  it('raises once and ends once, and tells of both', async () => {
    behind = async () => 2;
    await at(0);
    await at(5);
    expect(await active()).toEqual(['board-behind']);
    behind = async () => 0;
    for (const minute of [10, 15, 20, 25, 30]) await at(minute);
    expect(await active()).toEqual([]);
    expect(told.map(({ body }) => body)).toEqual([
      {
        text: 'Rimeway alarm: 2 flights have waited more than 15 minutes to be worked out',
        code: 'board-behind',
        subject: 'flights',
        since: '2026-01-15T09:45:00.000Z',
        ended: null,
      },
      expect.objectContaining({ code: 'board-behind', ended: '2026-01-15T10:20:00.000Z' }),
    ]);
    expect(told.every(({ redirect }) => redirect === 'manual')).toBe(true);
  });

  it('what comes and goes from round to round stays one alarm', async () => {
    for (let minute = 0; minute <= 60; minute += 5) {
      behind = async () => (minute % 10 === 0 ? 1 : 0);
      await at(minute);
    }
    expect(told).toHaveLength(1);
    expect(await active()).toEqual(['board-behind']);
  });

  it('what cannot be looked at ends no alarm', async () => {
    behind = async () => 2;
    await at(0);
    behind = () => Promise.reject(new Error('no store'));
    for (let minute = 5; minute <= 60; minute += 5) await at(minute);
    expect(await active()).toEqual(['board-behind', 'check-failed']);
  });

  it.each([
    ['status 500', async () => new Response(null, { status: 500 })],
    ['status 302', async () => new Response(null, { status: 302, headers: { location: '/' } })],
    ['not reached', () => Promise.reject(new TypeError(`cannot reach ${ALARM_URL}`))],
    ['no answer within 10 s', () => Promise.reject(new DOMException('', 'TimeoutError'))],
  ] as const)(
    'tells again later what was not heard (%s), and logs it without the address',
    async (why, failing) => {
      answer = failing;
      behind = async () => 2;
      await at(0);
      answer = async () => new Response();
      await at(5);
      await at(10);
      expect(told).toHaveLength(2);
      expect(logged).toEqual([
        expect.stringContaining('"event":"alarm-raised"'),
        `{"event":"alarm-not-told","code":"board-behind","subject":"flights","stage":"raised","why":"${why}"}`,
      ]);
    },
  );

  it('tells in order of an alarm that ended before anybody heard of it', async () => {
    answer = () => Promise.reject(new Error('down'));
    behind = async () => 2;
    await at(0);
    behind = async () => 0;
    await at(15);
    answer = async () => new Response();
    await at(20);
    expect(told.slice(2).map(({ body }) => body.ended)).toEqual([null, '2026-01-15T10:15:00.000Z']);
    await at(25);
    expect(told).toHaveLength(4);
  });

  it('tells nobody without an address, and raises all the same', async () => {
    behind = async () => 2;
    await at(0, { alarmUrl: undefined });
    expect([told.length, await active()]).toEqual([0, ['board-behind']]);
  });

  it('looks at bulletins under the names that the store has, and only at ascents of operators of the settings', async () => {
    const url = 'https://a.example/metar?key=topsecret';
    await stores.bulletins.claim(await sourceName(url), { everyMs: 1, nowMs: NOW });
    await stores.bulletins.note(await sourceName(url), {
      answer: { stored: 1, refused: 0, refusal: '' },
      nowMs: NOW,
    });
    const facts: ServiceFacts = {
      ...stores.facts,
      newestSoundings: async () => new Map([['gone', NOW - 20 * H]]),
    };
    await at(0, { bulletinUrls: [url], facts });
    await at(29, { bulletinUrls: [url], facts });
    expect(await active()).toEqual([]);
    await at(31, { bulletinUrls: [url], facts });
    expect(await active()).toEqual(['late-bulletins']);
    expect(logged.join()).not.toContain('topsecret');
  });

  it('leaves no heartbeat where the store failed', async () => {
    const facts: ServiceFacts = { ...stores.facts, newestRuns: () => Promise.reject(new Error('no store')) };
    await expect(at(0, { facts })).rejects.toThrow('no store');
    expect(await stores.alarms.heartbeat('schedule')).toBeUndefined();
  });
});

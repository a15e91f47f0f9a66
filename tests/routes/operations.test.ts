/** Health and metrics over stores in memory. */
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { describe, expect, it } from 'vitest';
import { createApp } from '../../worker/app.ts';
import { type Bindings, readSettings } from '../../worker/env.ts';
import { type Gauge, metricsText } from '../../worker/routes/metrics-text.ts';
import { ALARM_CODES, type ServiceFacts } from '../../worker/sources/alarms.ts';
import { sourceName } from '../../worker/sources/bulletins.ts';
import { SUPPLY_STATES } from '../../worker/sources/supply.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { readOpenMetrics } from '../support/open-metrics.ts';

const MIN = 60_000;
const H = 60 * MIN;
const NOW = Date.UTC(2026, 0, 15, 10);
const KEY = 'k'.repeat(20);
const URLS = ['https://a.example/metar?key=topsecret', 'https://b.example/taf'];
const settings = readSettings({
  OPERATOR_KEY_HASHES: JSON.stringify({ local: createHash('sha256').update(KEY).digest('hex') }),
  OPEN_OPERATORS: 'demo,open',
  OPERATING_AREA: '-80,40,-66,48',
  SUPPLY_MODELS: 'gfs-0p25,hrrr-prs',
  SUPPLY_OPERATOR: 'open',
  SUPPLY_HORIZON_HOURS: '18',
  SUPPLY_BASE_URL: '',
  REPORTS_KEPT_HOURS: '24',
  BULLETIN_URLS: URLS.join(' '),
} as unknown as Bindings);

const stage = (changes: Partial<ServiceFacts> = {}) => {
  const stores = createMemoryStores({ nowMs: NOW });
  const app = createApp({ ...stores, facts: { ...stores.facts, ...changes } }, settings);
  return {
    stores,
    get: (path: string, key = '') =>
      app.request(path, key === '' ? {} : { headers: { authorization: `Bearer ${key}` } }),
  };
};
const raised = {
  code: 'late-model',
  subject: 'gfs-0p25',
  sinceMs: NOW - 2 * H,
  sentence: 'GFS is late',
} as const;
const look = { conditions: [raised], unknownCodes: [], nowMs: NOW, endSeenBeforeMs: 0 };

describe('GET /api/health', () => {
  it('is well while the schedule comes and nothing is late', async () => {
    const { stores, get } = stage();
    await stores.alarms.beat('schedule', NOW - 15 * MIN);
    const response = await get('/api/health?strict=1');
    expect(response.status).toBe(200);
    expect(await response.json()).toMatchObject({
      late: [],
      alarms: [],
      scheduleUtc: '2026-01-15T09:45:00.000Z',
    });
  });

  it.each([[16 * MIN], [-16 * MIN], [undefined]])(
    'tells of a schedule that came %s ms ago, and strictly asked it is unwell',
    async (agoMs) => {
      const { stores, get } = stage();
      if (agoMs !== undefined) await stores.alarms.beat('schedule', NOW - agoMs);
      const response = await get('/api/health');
      expect(response.status).toBe(200);
      expect(await response.json()).toMatchObject({ late: [{ subject: 'schedule' }] });
      expect((await get('/api/health?strict=1')).status).toBe(503);
    },
  );

  it('tells of alarms, those of data among what is late, and strictly asked it is unwell', async () => {
    const { stores, get } = stage();
    await stores.alarms.beat('schedule', NOW);
    await stores.alarms.note(look);
    const response = await get('/api/health');
    expect(await response.json()).toMatchObject({
      late: [{ subject: 'gfs-0p25', sentence: 'GFS is late', sinceUtc: '2026-01-15T08:00:00.000Z' }],
      alarms: [{ code: 'late-model', subject: 'gfs-0p25' }],
    });
    expect([response.status, (await get('/api/health?strict=1')).status]).toEqual([200, 503]);
  });
});

describe('GET /api/metrics', () => {
  it('needs a key', async () => {
    expect((await stage().get('/api/metrics')).status).toBe(401);
    expect((await stage().get('/api/metrics', 'x'.repeat(20))).status).toBe(401);
  });

  it('gives every state and code, and ages that are infinite where nothing came', async () => {
    const { stores, get } = stage({
      newestRuns: async () => new Map([['gfs-0p25', NOW - 4 * H]]),
      newestSoundings: async () =>
        new Map([
          ['local', NOW - 2 * H],
          ['elsewhere', NOW],
        ]),
      supplyHours: async () => [
        { modelId: 'gfs-0p25', state: 'stored', count: 3, oldestMs: NOW },
        { modelId: 'hrrr-prs', state: 'stored', count: 4, oldestMs: NOW },
      ],
      totals: async () => ({ boards: 1, flights: 96, waiting: 2, sharedBriefs: 5 }),
    });
    await stores.alarms.note(look);
    await stores.bulletins.claim(await sourceName(URLS[1]!), { everyMs: 1, nowMs: NOW });
    await stores.bulletins.note(await sourceName(URLS[1]!), {
      answer: { stored: 1, refused: 0, refusal: '' },
      nowMs: NOW - MIN,
    });
    const response = await get('/api/metrics', KEY);
    expect(response.headers.get('content-type')).toBe(
      'application/openmetrics-text; version=1.0.0; charset=utf-8',
    );
    const text = await response.text();
    expect(text).not.toContain('topsecret');
    const samples = readOpenMetrics(text);
    const values = (name: string) =>
      samples
        .filter((each) => each.name === name)
        .map(({ labels, value }) => [...Object.values(labels), value].join(' '));
    expect(values('rimeway_data_age_seconds')).toEqual([
      'model-run gfs-0p25 14400',
      'model-run hrrr-prs Infinity',
      'bulletins 1 Infinity',
      'bulletins 2 60',
      'soundings local 7200',
    ]);
    expect(values('rimeway_schedule_age_seconds')).toEqual(['Infinity']);
    expect(values('rimeway_supply_hours')).toEqual(
      SUPPLY_STATES.map((state) => `${state} ${state === 'stored' ? 7 : 0}`),
    );
    expect(values('rimeway_alarms_active')).toEqual(
      ALARM_CODES.map((code) => `${code} ${code === 'late-model' ? 1 : 0}`),
    );
    expect(
      [
        'rimeway_boards',
        'rimeway_board_flights',
        'rimeway_board_flights_waiting',
        'rimeway_shared_briefs',
      ].flatMap(values),
    ).toEqual(['1', '96', '2', '5']);
  });
});

describe('metricsText', () => {
  const gauge: Gauge = {
    name: 'a_seconds',
    unit: 'seconds',
    help: 'One \\ "two"\nthree',
    samples: [
      { labels: { source: 'a "b" \\ c\nd' }, value: 1e-7 },
      { labels: { source: 'e' }, value: Number.NaN },
    ],
  };

  it('is read back with what was odd in it', () => {
    expect(readOpenMetrics(metricsText([gauge]))).toEqual([
      { name: 'a_seconds', labels: { source: 'a "b" \\ c\nd' }, value: 1e-7 },
      { name: 'a_seconds', labels: { source: 'e' }, value: Number.NaN },
    ]);
  });

  it("is what the standard's own reader takes, where this machine has it", () => {
    const reader = [
      'import sys',
      'from prometheus_client.openmetrics.parser import text_string_to_metric_families as read',
      'print([[s.name, s.labels, s.value] for f in read(sys.stdin.read()) for s in f.samples])',
    ].join('\n');
    const text = metricsText([
      gauge,
      { name: 'b', help: 'b', samples: [{ labels: {}, value: Number.POSITIVE_INFINITY }] },
    ]);
    const { stdout, stderr, status } = spawnSync('python3', ['-c', reader], {
      input: text,
      encoding: 'utf8',
    });
    if (status !== 0 && (stderr ?? 'ENOENT').match(/No module named|ENOENT/)) return;
    expect(stderr).toBe('');
    expect(stdout.trim()).toBe(
      "[['a_seconds', {'source': 'a \"b\" \\\\ c\\nd'}, 1e-07], ['a_seconds', {'source': 'e'}, nan], ['b', {}, inf]]",
    );
  });

  it.each([
    ['# TYPE a gauge\na 1\n', /end with its mark/],
    ['a 1\n# EOF\n', /without type/],
    ['# TYPE a gauge\na  1\n# EOF\n', /no line/],
    ['# TYPE a gauge\na{b="c",b="d"} 1\n# EOF\n', /label comes twice/],
    ['# TYPE a gauge\na 1\na 2\n# EOF\n', /sample comes twice/],
    ['# TYPE a gauge\n# UNIT a seconds\na 1\n# EOF\n', /unit/],
    ['# TYPE a gauge\na 1\n# HELP a b\n# EOF\n', /after its samples/],
  ])('is held to rules that refuse %j', (text, reason) => {
    expect(() => readOpenMetrics(text)).toThrow(reason);
  });
});

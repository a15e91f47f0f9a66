/** Pilots' reports against forecasts in the real service: what is scored when, what is kept, and what GET /api/skill answers. */
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it, vi } from 'vitest';
import { scoreDue, scoreNow } from '../../worker/brief/score-reports.ts';
import { skillRows } from '../../worker/brief/skill-answer.ts';
import { type SkillAnswer, skillAnswerSchema } from '../../worker/schema/skill.ts';
import { keepReports } from '../../worker/sources/keep-reports.ts';
import type { ScoreQuery } from '../../worker/sources/scores.ts';
import { createReportRepository } from '../../worker/store/report-repository.ts';
import { createScoreRepository } from '../../worker/store/score-repository.ts';
import { gridStores } from '../brief/hourly-grids.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import { allScored, startLocalInstance, type TestInstance } from '../support/local-instance.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, FIELDS, NOON_MS, over } from '../support/winter-leg.ts';

const H = 3_600_000;
const MANY = { reports: 100, reads: 100, columns: 10_000 };
const ANY = { unsettledMs: 0, begunMs: 1e15 };
const EVERYTHING: ScoreQuery = { operators: ['demo'], fromMs: 0, beforeMs: 1e15, box: undefined };

describe('in the store', () => {
  let local: LocalD1;
  beforeAll(async () => {
    local = await startLocalD1();
  });
  afterAll(() => local.stop());
  afterEach(() => {
    vi.restoreAllMocks();
  });
  beforeEach(async () => {
    for (const table of ['reports', 'scored_reports', 'report_scores', 'score_attempts'])
      await local.db.prepare(`DELETE FROM ${table}`).run();
  });

  /** An ascent of 11 UTC over the place; the clock stands at half past twelve unless said. */
  async function world({ air = DECK_AIR, nowMs = NOON_MS + H / 2 } = {}) {
    const memory = createMemoryStores({ places: FIELDS, nowMs });
    await memory.soundings.put('demo', [over(air, NOON_MS - H, { lonDeg: -73 })], nowMs);
    return {
      ...memory,
      reports: createReportRepository(local.db),
      scores: createScoreRepository(local.db),
    };
  }
  type World = Awaited<ReturnType<typeof world>>;

  const load = async (stores: World, text: string, operator = 'demo') =>
    (
      await keepReports(stores, operator, text, {
        ...{ nearMs: stores.nowMs(), nowMs: stores.nowMs() },
        notAfterMs: stores.nowMs() + 3 * H,
      })
    ).reports;
  const at = (stores: World, nowMs: number): World => ({ ...stores, nowMs: () => nowMs });
  const outcomes = async (stores: World, query = EVERYTHING) =>
    (await stores.scores.tallies(query)).map(
      ({ kind, leadBucket, outcome, count }) => `${kind} ${leadBucket} ${outcome} ${count}`,
    );
  const near = { operator: 'demo', openOperators: ['demo'], nearMs: NOON_MS };

  const ICE = 'AAAA UA /OV AAAA/TM 1210/FL060/TP ZZZZ/SK OVC020-TOP130/IC LGT RIME=';
  const NONE = 'AAAA UA /OV AAAA/TM 1215/FL060/TP ZZZZ/IC NEG=';

  it('a report scored twice, and by two rounds at once, has its scores once', async () => {
    const stores = await world();
    const reports = await load(stores, ICE);
    await scoreNow(stores, reports, near);
    const once = await outcomes(stores);
    expect(once).toEqual(['ascent 0 hit 1', 'brief 0 hit 1']);
    await Promise.all([scoreNow(stores, reports, near), scoreNow(stores, reports, near)]);
    expect(await outcomes(stores)).toEqual(once);
    expect(await stores.scores.reportTallies(EVERYTHING)).toEqual([
      { said: 'ice', why: undefined, count: 1 },
    ]);
  });

  it('the schedule scores what the upload left, newest first, a round at a time, and then nothing', async () => {
    const stores = await world();
    const texts = [0, 1, 2, 3].map((minute) => `AAAA UA /OV AAAA/TM 120${minute}/FL060/TP ZZZZ/IC LGT RIME=`);
    await load(stores, texts.join('\n'));
    expect(await scoreDue(stores, [], { ...MANY, reports: 2 })).toEqual({ scored: 2, failed: 0 });
    const left = await stores.scores.due(ANY, 100);
    expect(left.map(({ issuedMs }) => (issuedMs - NOON_MS) / 60_000)).toEqual([1, 0]);
    expect(await scoreDue(stores, [], { ...MANY, reports: 2 })).toEqual({ scored: 2, failed: 0 });
    expect(await scoreDue(stores, [], { ...MANY, reports: 2 })).toEqual({ scored: 0, failed: 0 });
    expect(await outcomes(stores)).toEqual(['ascent 0 hit 4', 'brief 0 hit 4']);
  });

  it('an upload of many, or of long ago, keeps nobody waiting: the newest twenty within two days', async () => {
    const stores = await world();
    const texts = Array.from(
      { length: 25 },
      (_, minute) => `AAAA UA /OV AAAA/TM 12${String(minute).padStart(2, '0')}/FL060/TP ZZZZ/IC NEG=`,
    );
    const reports = await load(stores, texts.join('\n'));
    const minutes: number[] = [];
    const put: World['scores']['put'] = async ({ timeMs }) => {
      minutes.push((timeMs! - NOON_MS) / 60_000);
    };
    const counting = { ...stores, scores: { ...stores.scores, put } };
    expect(await scoreNow(counting, reports, near)).toEqual({ scored: 20, failed: 0 });
    expect([minutes[0], minutes.at(-1)]).toEqual([24, 5]);
    const longAgo = { ...near, nearMs: NOON_MS + 72 * H };
    expect(await scoreNow(stores, reports, longAgo)).toEqual({ scored: 0, failed: 0 });
  });

  it('reads of a forecast are shared by the reports of an upload, and a round that has read enough leaves the rest', async () => {
    const grids = await gridStores([0, 1].map((afterH) => ({ afterH, isMoist: true, runBeforeH: 2 })));
    const stores = { ...(await world()), grids: grids.grids, objects: grids.objects };
    const text = [10, 11, 12].map((minute) => `AAAA UA /OV AAAA/TM 12${minute}/FL060/TP ZZZZ/IC LGT RIME=`);
    const reports = await load(stores, text.join('\n'));
    grids.counts.gets = 0;
    await scoreNow(stores, reports.slice(0, 1), near);
    const forOne = grids.counts.gets;
    grids.counts.gets = 0;
    await scoreNow(stores, reports, near);
    // Two manifests once, the values of two hours for each report.
    expect([forOne, grids.counts.gets]).toEqual([2 + 2, 2 + 3 * 2]);
    expect(await load(stores, text.join('\n').replaceAll('LGT', 'MOD'))).toHaveLength(3);
    expect(await scoreDue(stores, [], { ...MANY, reads: 5 })).toEqual({ scored: 2, failed: 0 });
    expect(await scoreDue(stores, [], { ...MANY, reads: 5 })).toEqual({ scored: 1, failed: 0 });
  });

  it('is scored once more when late data are in: an ascent that came after the report', async () => {
    const early = await world({ air: DRY_AIR });
    await early.soundings.put('demo', [], 0);
    const empty = { ...early, soundings: createMemoryStores().soundings };
    await scoreNow(empty, await load(empty, ICE), near);
    expect(await outcomes(empty)).toEqual(['brief -1 unknown 1']);
    expect(await scoreDue(at(early, NOON_MS + 3 * H), [])).toEqual({ scored: 0, failed: 0 });
    expect(await scoreDue(at(early, NOON_MS + 3.5 * H), [])).toEqual({ scored: 1, failed: 0 });
    expect(await outcomes(early)).toEqual(['ascent 0 miss 1', 'brief 0 miss 1']);
    expect(await scoreDue(at(early, NOON_MS + 4 * H), [])).toEqual({ scored: 0, failed: 0 });
  });

  it('is not scored away when the forecasts have been deleted since', async () => {
    const stores = await world();
    const reports = await load(stores, ICE);
    await scoreNow(stores, reports, near);
    const emptied = at({ ...stores, soundings: createMemoryStores().soundings }, NOON_MS + 8 * H);
    expect(await scoreDue(emptied, [])).toEqual({ scored: 1, failed: 0 });
    await scoreNow(emptied, reports, near);
    expect(await outcomes(stores)).toEqual(['ascent 0 hit 1', 'brief 0 hit 1']);
    expect(await scoreDue(emptied, [])).toEqual({ scored: 0, failed: 0 });
  });

  it('one that fails stops no other, is tried again each hour, and after three attempts is settled and counted', async () => {
    const stores = await world();
    const find: World['grids']['find'] = async () => Promise.reject(new Error('made to fail'));
    const broken = { ...stores, grids: { ...stores.grids, find } };
    await load(stores, `${ICE}\n${NONE}`);
    const told = vi.spyOn(console, 'error').mockImplementation(() => undefined);
    const round = (afterH: number) => scoreDue(at(broken, NOON_MS + afterH * H), []);
    expect(await round(1)).toEqual({ scored: 0, failed: 2 });
    expect(await round(1.9)).toEqual({ scored: 0, failed: 0 });
    expect(await round(2)).toEqual({ scored: 0, failed: 2 });
    expect(await stores.scores.reportTallies(EVERYTHING)).toEqual([]);
    expect(await round(3)).toEqual({ scored: 0, failed: 2 });
    expect(await stores.scores.reportTallies(EVERYTHING)).toEqual([
      { said: 'nothing', why: 'scoring failed', count: 2 },
    ]);
    expect(await round(9)).toEqual({ scored: 0, failed: 0 });
    expect(told).toHaveBeenCalledTimes(6);
  });

  it('a failure that passes leaves nothing: the next attempt has the scores', async () => {
    const stores = await world();
    const reports = await load(stores, ICE);
    vi.spyOn(console, 'error').mockImplementation(() => undefined);
    const find: World['grids']['find'] = async () => Promise.reject(new Error('made to fail'));
    await scoreNow({ ...stores, grids: { ...stores.grids, find } }, reports, near);
    expect(await scoreDue(at(stores, NOON_MS + 2 * H), [])).toEqual({ scored: 1, failed: 0 });
    expect(await outcomes(stores)).toEqual(['ascent 0 hit 1', 'brief 0 hit 1']);
    expect(await stores.scores.begin({ operator: 'demo', id: reports[0]!.id }, 0)).toBe(1);
  });

  it('one that ends its round before anything is kept comes last in the next, and is settled unscored after three', async () => {
    const stores = await world();
    const [ending] = await load(stores, NONE);
    const older = await load(stores, ICE);
    const idsDue = async () => (await stores.scores.due(ANY, 10)).map(({ id }) => id);
    expect(await idsDue()).toEqual([ending!.id, older[0]!.id]);
    const begin = () => stores.scores.begin({ operator: 'demo', id: ending!.id }, NOON_MS);
    expect(await begin()).toBe(1);
    expect(await idsDue()).toEqual([older[0]!.id, ending!.id]);
    expect([await begin(), await begin()]).toEqual([2, 3]);
    const told = vi.spyOn(console, 'error').mockImplementation(() => undefined);
    expect(await scoreDue(at(stores, NOON_MS + 4 * H), [])).toEqual({ scored: 1, failed: 1 });
    expect(told).toHaveBeenCalledTimes(1);
    expect(await stores.scores.reportTallies(EVERYTHING)).toEqual([
      { said: 'ice', why: undefined, count: 1 },
      { said: 'nothing', why: 'scoring failed', count: 1 },
    ]);
    expect(await idsDue()).toEqual([]);
  });

  it('the stores of other tests answer as the database does', async () => {
    const stores = await world();
    const memory = createMemoryStores({ places: FIELDS, nowMs: stores.nowMs() });
    const twofold: World = {
      ...stores,
      scores: {
        ...stores.scores,
        put: async (...row) => {
          await stores.scores.put(...row);
          await memory.scores.put(...row);
        },
      },
    };
    const odd = [
      'AAAA UA /FL060/TM 1210/TP ZZZZ/IC LGT RIME=',
      'AAAA UA /OV AAAA/FL060/TP ZZZZ/IC LGT RIME=',
    ];
    for (const operator of ['demo', 'local']) {
      const reports = await load(stores, [ICE, NONE, ...odd].join('\n'), operator);
      await scoreNow(twofold, reports, { ...near, operator });
      await scoreNow({ ...twofold, soundings: createMemoryStores().soundings }, reports, {
        ...near,
        operator,
      });
    }
    for (const each of [stores, memory]) await load(each, ICE.replace('1210', '1205'));
    expect(await stores.scores.waiting(EVERYTHING)).toBe(1);
    const answers = async ({ scores }: Pick<World, 'scores'>, query: ScoreQuery) => ({
      sources: skillRows(await scores.tallies(query)).sort((a, b) => (a.kind < b.kind ? -1 : 1)),
      reports: (await scores.reportTallies(query))
        .flatMap(({ said, why, count }) => Array.from({ length: count }, () => `${said} ${why}`))
        .sort(),
      methods: await scores.methods(query),
      waiting: await scores.waiting(query),
      tops: await scores.tops(query, 10),
    });
    const box = { westDeg: -74, southDeg: 44, eastDeg: -72, northDeg: 45 };
    for (const query of [
      EVERYTHING,
      { ...EVERYTHING, operators: ['local', 'demo'] },
      { ...EVERYTHING, box },
      { ...EVERYTHING, beforeMs: NOON_MS + 11 * 60_000 },
    ]) {
      const inDatabase = await answers(stores, query);
      expect(inDatabase.reports.length).toBeGreaterThan(0);
      expect(await answers(memory, query)).toEqual(inDatabase);
    }
  });

  it('an interrupted put leaves nothing behind: the next round finds the report again', async () => {
    const stores = await world();
    await load(stores, ICE);
    const [due] = await stores.scores.due(ANY, 1);
    const bad = { ...due!, reportId: due!.id, placeWords: null as never, said: 'ice' as const };
    const rest = {
      ...{ timeMs: NOON_MS, latDeg: 44, lonDeg: -73, band: undefined, heaviest: undefined, topFt: undefined },
      ...{
        isLargeDrops: false,
        whyUnplaced: undefined,
        whyUnscored: undefined,
        method: 'x',
        atMs: NOON_MS,
        isSettled: true,
      },
    };
    const score = {
      ...({ kind: 'brief', name: 'brief', leadBucket: 0, madeMs: 0, station: '', probability: 0.5 } as const),
      ...({ flaggedShare: 0.1, outcome: 'hit', top: { kind: 'unknown' } } as const),
    };
    await expect(stores.scores.put({ ...bad, ...rest }, [score], NOON_MS)).rejects.toThrow();
    expect(await outcomes(stores)).toEqual([]);
    expect(await stores.scores.due(ANY, 10)).toHaveLength(1);
  });

  it('every odd report is kept with the reason, and none is a hit, a miss or a correct no', async () => {
    const stores = await world();
    const odd = [
      'AAAA UA /FL060/TM 1210/TP ZZZZ/IC LGT RIME=',
      'AAAA UA /OV AAAA/FL060/TP ZZZZ/IC LGT RIME=',
      'AAAA UA /OV AAAA/TM 1250/FL060/TP ZZZZ/IC LGT RIME=',
      'AAAA UA /OV AAAA/TM 1210/FL060/TP ZZZZ/IC 4FF?X=',
      'AAAA UA /OV AAAA/TM 1211/FLUNKN/TP ZZZZ/IC LGT RIME=',
      'AAAA UA /OV AAAA/TM 1212/FL060/TP ZZZZ/SK OVC020-TOP130=',
    ];
    const reports = await load(stores, odd.join('\n'));
    expect(reports).toHaveLength(odd.length);
    expect(await scoreNow(stores, reports, near)).toEqual({ scored: odd.length, failed: 0 });
    const told = await stores.scores.reportTallies(EVERYTHING);
    expect(told.map(({ why, count }) => `${count} ${why}`).sort()).toEqual([
      '1 it says nothing of icing',
      '1 its time is later than the report came in',
      '1 its words on icing cannot be read',
      '1 no altitude of what it says of icing',
      '1 no place: location: found none, expected /OV',
      '1 no time that can be read',
    ]);
    expect(await outcomes(stores)).toEqual(['ascent 0 unscored 3', 'brief 0 unscored 3']);
    expect(await stores.scores.tops(EVERYTHING, 10)).toHaveLength(1);
  });

  it('unknown air is a count of its own', async () => {
    const stores = await world();
    const far = { ...stores, soundings: createMemoryStores().soundings };
    await scoreNow(far, await load(far, `${ICE}\n${NONE}`), near);
    expect(await outcomes(far)).toEqual(['brief -1 unknown 2']);
  });

  it('the same report of two operators counts once, and nobody sees another’s', async () => {
    const stores = await world();
    for (const operator of ['demo', 'local']) {
      await scoreNow(stores, await load(stores, ICE, operator), { ...near, operator });
    }
    expect(await outcomes(stores, { ...EVERYTHING, operators: ['local', 'demo'] })).toEqual([
      'ascent 0 hit 1',
      'brief 0 hit 1',
    ]);
    expect(await outcomes(stores, { ...EVERYTHING, operators: ['other'] })).toEqual([]);
    expect(await outcomes(stores, { ...EVERYTHING, operators: [] })).toEqual([]);
  });

  it('a report is scored by its operator’s data and the open ones alone', async () => {
    const stores = await world();
    await scoreNow(stores, await load(stores, ICE, 'local'), {
      ...near,
      ...{ operator: 'local', openOperators: [] },
    });
    expect(await outcomes(stores, { ...EVERYTHING, operators: ['local'] })).toEqual(['brief -1 unknown 1']);
  });

  it('a report of no matter when stays until it is scored, two days after it came in at most, and the answer counts it', async () => {
    const stores = await world();
    const cameMs = stores.nowMs();
    await load(stores, `${ICE}\nMETAR AAAA 141150Z 00000KT M05/M06 A3000=`);
    expect(await stores.reports.forgetBefore(1e15, cameMs)).toBe(1);
    expect(await stores.scores.waiting(EVERYTHING)).toBe(1);
    expect(await stores.scores.waiting({ ...EVERYTHING, operators: ['local'] })).toBe(0);
    expect(await stores.scores.waiting({ ...EVERYTHING, beforeMs: NOON_MS })).toBe(0);
    expect(await stores.scores.waiting({ ...EVERYTHING, fromMs: cameMs })).toBe(0);
    await scoreDue(stores, []);
    expect(await stores.scores.waiting(EVERYTHING)).toBe(0);
    await load(stores, ICE, 'local');
    expect(await stores.scores.waiting({ ...EVERYTHING, operators: ['local'] })).toBe(1);
    expect(await stores.scores.waiting({ ...EVERYTHING, operators: ['local', 'demo'] })).toBe(0);
    await stores.reports.forgetBefore(1e15, 1e15);
    await load(stores, ICE);
    expect(await stores.reports.forgetBefore(1e15, cameMs)).toBe(1);
    await load(stores, NONE);
    expect(await stores.reports.forgetBefore(1e15, cameMs + 1)).toBe(1);
    expect(await stores.scores.waiting(EVERYTHING)).toBe(0);
  });

  it('scores outlive their report, by 400 days and no more', async () => {
    const stores = await world();
    await scoreNow(stores, await load(stores, ICE), near);
    await stores.reports.forgetBefore(1e15, 0);
    const days = (count: number) => at(stores, stores.nowMs() + count * 24 * H);
    await scoreDue(days(399), []);
    expect(await outcomes(stores)).toHaveLength(2);
    await scoreDue(days(401), []);
    expect(await outcomes(stores)).toEqual([]);
    expect(await stores.scores.reportTallies(EVERYTHING)).toEqual([]);
  });

  it('one without a time counts when it came in', async () => {
    const stores = await world();
    await scoreNow(stores, await load(stores, 'AAAA UA /OV AAAA/FL060/TP ZZZZ/IC LGT RIME='), near);
    const total = async (fromMs: number, beforeMs: number) =>
      (await stores.scores.reportTallies({ ...EVERYTHING, fromMs, beforeMs })).length;
    const cameMs = stores.nowMs();
    expect([await total(cameMs, cameMs + 1), await total(0, cameMs)]).toEqual([1, 0]);
  });

  it.each([
    ['one operator', ['demo'], undefined],
    [
      'three operators and a box',
      ['local', 'demo', 'open'],
      { westDeg: 1, southDeg: 2, eastDeg: 3, northDeg: 4 },
    ],
  ])(
    'what is asked of scores by %s walks no table: every step searches an index',
    async (_, operators, box) => {
      const asked: string[] = [];
      const explaining = {
        prepare: (text: string) => ({
          bind: (...values: unknown[]) => ({
            all: async () => {
              const plan = local.db.prepare(`EXPLAIN QUERY PLAN ${text}`).bind(...values);
              const { results } = await plan.all<{ detail: string }>();
              asked.push(...results.map(({ detail }) => detail));
              return { results: [] };
            },
          }),
        }),
      };
      const scores = createScoreRepository(explaining as unknown as LocalD1['db']);
      const query = { ...EVERYTHING, operators, box };
      await scores.tallies(query);
      await scores.reportTallies(query);
      await scores.methods(query);
      await scores.tops(query, 10);
      expect(asked.filter((step) => step.startsWith('SCAN'))).toEqual([]);
      const byTime =
        /^SEARCH r USING INDEX scored_reports_by_time \(operator=\? AND at_ms>\? AND at_ms<\?\)$/;
      expect(asked.filter((step) => byTime.test(step))).toHaveLength(4);
    },
  );

  it('a box over the antimeridian holds what lies on both sides of it', async () => {
    const stores = await world();
    await scoreNow(stores, await load(stores, ICE), near);
    const box = { westDeg: -74, southDeg: 44, eastDeg: -72, northDeg: 45 };
    const inside = (edges: Partial<typeof box>) =>
      outcomes(stores, { ...EVERYTHING, box: { ...box, ...edges } });
    expect(await inside({})).toHaveLength(2);
    expect(await inside({ northDeg: 44.4 })).toEqual([]);
    expect(await inside({ eastDeg: -73.5 })).toEqual([]);
    expect(await inside({ westDeg: 170 })).toHaveLength(2);
    expect(await inside({ westDeg: 170, eastDeg: -170 })).toEqual([]);
  });
});

describe('GET /api/skill', () => {
  let instance: TestInstance;
  beforeAll(async () => {
    instance = await startLocalInstance();
  });
  afterAll(() => instance.stop());

  async function get(
    query = '',
    key = '',
  ): Promise<{ status: number; answer: SkillAnswer & { field?: string } }> {
    const headers: Record<string, string> = key === '' ? {} : { authorization: `Bearer ${key}` };
    const response = await fetch(`${instance.baseUrl}/api/skill${query}`, { headers });
    return { status: response.status, answer: (await response.json()) as SkillAnswer };
  }
  const NOON = '2026-01-14T12:00:00Z';

  it('has the invented morning: six reports, five scored against the 06 UTC ascents, too few to claim anything', async () => {
    const { answer } = await get(`?beforeUtc=${NOON}`);
    expect(skillAnswerSchema.parse(answer)).toEqual(answer);
    expect(answer.reports).toEqual({
      ...{ total: 6, ice: 3, noIce: 2 },
      unscored: [{ why: 'it says nothing of icing', count: 1 }],
      waiting: 0,
    });
    expect(answer.sources.map(({ kind, lead }) => `${kind} ${lead}`)).toEqual([
      'ascent 0-3 h',
      'brief 0-3 h',
    ]);
    for (const { counts, caution } of answer.sources) {
      expect(counts.hits + counts.misses + counts.falseAlarmsOnNulls + counts.correctNulls).toBe(5);
      expect(counts).toMatchObject({ hits: 3, misses: 0, unknown: 0, unscored: 1 });
      expect(caution).toContain('Too few to claim skill');
    }
    expect(answer.cautions.join(' ')).toMatch(/seldom report its absence.*false alarms/s);
  });

  it('has the tops of the day before an instant, newest first, with those of the brief', async () => {
    const { answer } = await get(`?beforeUtc=${NOON}`);
    expect(answer.tops.map(({ place, reportedTopFt }) => [place, reportedTopFt])).toEqual([
      ['KPWM', 8000],
      ['KBGR', 8200],
      ['KBTV', 8000],
      ['KMSS', 15_200],
    ]);
    for (const { forecast, forecastTopFt, reportedTopFt, differenceFt, leadHours, operator } of answer.tops) {
      expect(operator).toBe('demo');
      expect(forecast).toBe('top');
      // The decks of 06 UTC end within a few hundred feet of what the pilots of the play say two hours later.
      expect(Math.abs(forecastTopFt! - reportedTopFt)).toBeLessThan(1500);
      expect(differenceFt).toBe(forecastTopFt! - reportedTopFt);
      expect(leadHours).toBeGreaterThan(1);
      expect(leadHours).toBeLessThan(3);
    }
    expect((await get('?beforeUtc=2026-01-15T08:00:00Z')).answer.tops.map(({ place }) => place)).toEqual([
      'KPWM',
    ]);
    expect((await get('?beforeUtc=2026-01-14T07:00:00Z')).answer).toMatchObject({ tops: [], sources: [] });
  });

  it('counts 120 days, and says so: reports of before them are left out', async () => {
    const { answer } = await get(`?beforeUtc=${NOON}`);
    // From noon 14.5 days of September, 31, 30, 31 and 13.5 of January.
    expect([Date.parse(answer.fromUtc), answer.mostDays]).toEqual([Date.parse('2025-09-16T12:00:00Z'), 120]);
    const later = await get('?beforeUtc=2026-06-01T00:00:00Z');
    expect(later.answer.reports.total).toBe(0);
    expect((await get(`?fromUtc=2025-09-16T12:00:00Z&beforeUtc=${NOON}`)).status).toBe(200);
  });

  it('is of a box where one is given', async () => {
    const { answer } = await get(`?beforeUtc=${NOON}&bbox=-71,43,-68,45`);
    expect(answer.tops.map(({ place }) => place)).toEqual(['KPWM', 'KBGR']);
    expect(answer.reports.total).toBe(2);
    expect(answer.bbox).toEqual([-71, 43, -68, 45]);
  });

  it.each([
    ['?bbox=1,2,3', 'bbox'],
    ['?bbox=0,50,10,40', 'bbox'],
    ['?beforeUtc=yesterday', 'beforeUtc'],
    [`?fromUtc=${NOON}&beforeUtc=${NOON}`, 'fromUtc'],
    // A second more than 120 days.
    [`?fromUtc=2025-09-16T11:59:59Z&beforeUtc=${NOON}`, 'fromUtc'],
    ['?parts=everything', 'parts'],
  ])('refuses %s by the name of the field', async (query, field) => {
    const { status, answer } = await get(query);
    expect([status, answer.field]).toEqual([422, field]);
  });

  it('needs no key, and refuses one that is nobody’s', async () => {
    expect((await get('', 'nobody-has-this-key-here')).status).toBe(401);
    expect((await get('', instance.operatorKey)).status).toBe(200);
  });

  it('the schedule deletes what is scored, and then scores what an upload left: the supply comes first', async () => {
    const before = (await get(`?beforeUtc=${NOON}`)).answer.reports.total;
    const minutes = Array.from({ length: 25 }, (_, minute) => String(minute + 10));
    const pilots = minutes.map(
      (minute) => `KBTV UA /OV KBTV/TM 07${minute}/FL060/TP ZZZZ/IC NEG/RM INVENTED=`,
    );
    const response = await fetch(`${instance.baseUrl}/api/reports?near=${NOON}`, {
      method: 'POST',
      body: [...pilots, 'METAR KBTV 140754Z 00000KT M05/M06 A3000='].join('\n'),
      headers: { authorization: `Bearer ${instance.operatorKey}` },
    });
    expect(await response.json()).toMatchObject({ stored: 26 });
    // Twenty at once, while nobody waits for them.
    await allScored(instance.baseUrl, NOON, 5);
    await instance.schedule();
    const counts = async () => {
      const sources = await (await fetch(`${instance.baseUrl}/api/sources`)).json();
      return (sources as { reports: { kind: string; count: number }[] }).reports.map(
        ({ kind, count }) => `${count} ${kind}`,
      );
    };
    expect(await counts()).toEqual(['5 pirep']);
    expect((await get(`?beforeUtc=${NOON}`)).answer.reports).toMatchObject({
      total: before + 25,
      waiting: 0,
    });
    await instance.schedule();
    expect(await counts()).toEqual([]);
    expect((await get(`?beforeUtc=${NOON}`)).answer.reports.total).toBe(before + 25);
  });
});

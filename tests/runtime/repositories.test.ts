/** The repositories on D1, against the ones in memory that other tests trust: the same calls, the same answers. */
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import type { BulletinRepository } from '../../worker/sources/bulletins.ts';
import { keepSoundings } from '../../worker/sources/keep-soundings.ts';
import type { GridHour, GridRepository, SoundingRepository } from '../../worker/sources/ports.ts';
import type { Report, ReportRepository } from '../../worker/sources/reports.ts';
import type { SupplyHour, SupplyRepository } from '../../worker/sources/supply.ts';
import { createBulletinRepository } from '../../worker/store/bulletin-repository.ts';
import { createGridRepository } from '../../worker/store/grid-repository.ts';
import { createReportRepository } from '../../worker/store/report-repository.ts';
import { createSoundingRepository } from '../../worker/store/sounding-repository.ts';
import { createSupplyRepository } from '../../worker/store/supply-repository.ts';
import { type LocalD1, startLocalD1 } from '../support/local-d1.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { rows } from '../support/sounding-levels.ts';

const H = 3_600_000;
const DAY = Date.UTC(2026, 0, 15);

let local: LocalD1;
beforeAll(async () => {
  local = await startLocalD1();
});
afterAll(() => local.stop());
beforeEach(async () => {
  const tables = [
    'grid_hours',
    'grid_prefixes',
    'supply_hours',
    'soundings',
    'temp_reports',
    'reports',
    'bulletin_sources',
  ];
  for (const table of tables) await local.db.prepare(`DELETE FROM ${table}`).run();
});

const STORES = ['D1', 'memory'] as const;

describe.each(STORES)('grid hours in %s', (store) => {
  let grids: GridRepository;
  beforeEach(() => {
    grids = store === 'D1' ? createGridRepository(local.db) : createMemoryStores().grids;
  });
  const hour = (run: number, valid: number, more: Partial<GridHour> = {}): GridHour => ({
    operator: 'open',
    model: 'a',
    runMs: DAY + run * H,
    validMs: DAY + valid * H,
    manifestKey: `grids/open/a/${run}/${valid}/first/manifest.json`,
    ingestedMs: DAY,
    spacingM: 3000,
    hasCloudWater: true,
    ...more,
  });
  const keysOf = async (operator = 'open') =>
    (await grids.find([operator], 0, Number.MAX_SAFE_INTEGER))
      .map(({ manifestKey }) => manifestKey)
      .toSorted();
  const leftovers = (writingBeforeMs: number, retiredBeforeMs: number) =>
    grids.leftovers({ writingBeforeMs, retiredBeforeMs }, 10);

  it('an hour published again takes the place of the first, whose objects are retired', async () => {
    expect(await grids.publish(hour(0, 6))).toBeUndefined();
    const again = hour(0, 6, { manifestKey: 'grids/open/a/0/6/second/manifest.json', ingestedMs: DAY + H });
    expect(await grids.publish(again)).toBe('grids/open/a/0/6/first/manifest.json');
    expect(await keysOf()).toEqual(['grids/open/a/0/6/second/manifest.json']);
    expect(await leftovers(0, DAY + H)).toEqual([]);
    expect(await leftovers(0, DAY + H + 1)).toEqual(['grids/open/a/0/6/first']);
    await grids.forgetPrefix('grids/open/a/0/6/first');
    expect(await leftovers(0, DAY + 9 * H)).toEqual([]);
  });

  it('what was begun and never published is found, what was published is not', async () => {
    await grids.begin({ prefix: 'grids/open/a/0/6/first', operator: 'open', nowMs: DAY });
    await grids.begin({ prefix: 'grids/open/a/0/7/first', operator: 'open', nowMs: DAY });
    await grids.publish(hour(0, 6));
    expect(await leftovers(DAY, 0)).toEqual([]);
    expect(await leftovers(DAY + 1, 0)).toEqual(['grids/open/a/0/7/first']);
  });

  it('hides hours that are past, and runs that newer ones outlive, of this operator and each model alone', async () => {
    for (const run of [0, 6, 12]) for (const valid of [12, 18]) await grids.publish(hour(run, valid));
    await grids.publish(hour(0, 18, { model: 'b', manifestKey: 'grids/open/b/0/18/first/manifest.json' }));
    await grids.publish(
      hour(0, 18, { operator: 'other', manifestKey: 'grids/other/a/0/18/x/manifest.json' }),
    );
    const hidden = await grids.retire('open', {
      validBeforeMs: DAY + 13 * H,
      keepRuns: 2,
      nowMs: DAY + 20 * H,
    });
    expect(hidden).toBe(4);
    expect(await keysOf()).toEqual([
      'grids/open/a/12/18/first/manifest.json',
      'grids/open/a/6/18/first/manifest.json',
      'grids/open/b/0/18/first/manifest.json',
    ]);
    expect(await keysOf('other')).toHaveLength(1);
    expect((await leftovers(0, DAY + 21 * H)).toSorted()).toEqual([
      'grids/open/a/0/12/first',
      'grids/open/a/0/18/first',
      'grids/open/a/12/12/first',
      'grids/open/a/6/12/first',
    ]);
  });
});

describe.each(STORES)('hours of the supply in %s', (store) => {
  let supply: SupplyRepository;
  beforeEach(() => {
    supply = store === 'D1' ? createSupplyRepository(local.db, 'open') : createMemoryStores().supply;
  });
  const HOUR: SupplyHour = { modelId: 'gfs-0p25', runMs: DAY, forecastHour: 6 };
  const lease = (nowMs: number) => ({ leaseMs: H, nowMs });

  const LATER = { ...HOUR, runMs: DAY + 6 * H };
  const claimed = async (nowMs: number) => (await supply.claim(HOUR, lease(nowMs)))!;
  const failed = (nowMs: number) => ({ state: 'failed', detail: 'found a fault', nowMs }) as const;

  it('one consumer at a time has an hour, until its lease is over', async () => {
    expect(await supply.claim(HOUR, lease(DAY))).toMatchObject({ state: 'working', updatedMs: DAY });
    expect(await supply.claim(HOUR, lease(DAY + H))).toBeUndefined();
    expect(await supply.claim(HOUR, lease(DAY + H + 1))).toMatchObject({ updatedMs: DAY + H + 1 });
  });

  it('of many consumers at once one has it', async () => {
    const claims = await Promise.all(Array.from({ length: 8 }, () => supply.claim(HOUR, lease(DAY))));
    expect(claims.filter((row) => row !== undefined)).toHaveLength(1);
  });

  it('a lease from a clock that was ahead holds nobody', async () => {
    await supply.claim(HOUR, lease(DAY + 9 * H));
    expect(await supply.claim(HOUR, lease(DAY))).toMatchObject({ state: 'working' });
  });

  it('a consumer whose lease is over has no word on the hour any more', async () => {
    const slow = await claimed(DAY);
    const next = await claimed(DAY + H + 1);
    expect(await supply.settle(slow, failed(DAY + H + 2))).toBe(false);
    expect([await supply.holds(slow), await supply.holds(next)]).toEqual([false, true]);
    // That it fell silent counts as a failure.
    expect(await supply.find(HOUR)).toMatchObject({ state: 'working', failures: 1 });
    expect(await supply.settle(next, { state: 'stored', detail: '153 fields', nowMs: DAY + H + 3 })).toBe(
      true,
    );
    expect(await supply.settle(slow, failed(DAY + H + 4))).toBe(false);
    expect(await supply.find(HOUR)).toMatchObject({ state: 'stored', detail: '153 fields' });
    expect(await supply.claim(HOUR, lease(DAY + 9 * H))).toBeUndefined();
  });

  it('counts failures and refusals, not times that the hour was late', async () => {
    await supply.settle(await claimed(DAY), { state: 'late', detail: 'found 404', nowMs: DAY });
    await supply.settle(await claimed(DAY), failed(DAY));
    await supply.settle(await claimed(DAY), { ...failed(DAY + 1), isRefusal: true });
    expect(await supply.find(HOUR)).toEqual({
      ...HOUR,
      state: 'failed',
      detail: 'found a fault',
      failures: 2,
      refusals: 1,
      updatedMs: DAY + 1,
    });
  });

  it('asks for an hour only while nobody has said a word on it since it was read', async () => {
    const asked = async (lastWordMs: number | undefined, nowMs: number) =>
      (await supply.ask([{ ...HOUR, lastWordMs }], nowMs)).length === 1;
    expect(await asked(undefined, DAY)).toBe(true);
    expect(await asked(undefined, DAY + 1)).toBe(false);
    expect(await asked(DAY, DAY + 2)).toBe(true);
    await supply.settle(await claimed(DAY + 3), failed(DAY + 4));
    expect(await asked(DAY + 2, DAY + 5)).toBe(false);
    expect(await supply.find(HOUR)).toMatchObject({ state: 'failed', updatedMs: DAY + 4 });
    // What was found last is told until there is another word.
    expect(await asked(DAY + 4, DAY + 6)).toBe(true);
    expect(await supply.find(HOUR)).toMatchObject({ state: 'queued', detail: 'found a fault' });
  });

  it('two schedules at once ask for an hour once', async () => {
    const hours = Array.from({ length: 120 }, (_, forecastHour) => ({
      ...HOUR,
      forecastHour,
      lastWordMs: undefined,
    }));
    const asked = await Promise.all([supply.ask(hours, DAY), supply.ask(hours, DAY)]);
    const all = asked.flat().map(({ forecastHour }) => forecastHour);
    expect(all.toSorted((a, b) => a - b)).toEqual(hours.map(({ forecastHour }) => forecastHour));
  });

  it('what could not be sent is unsent, unless a consumer has it', async () => {
    await supply.ask(
      [
        { ...HOUR, lastWordMs: undefined },
        { ...LATER, lastWordMs: undefined },
      ],
      DAY,
    );
    await supply.claim(LATER, lease(DAY));
    await supply.unask([HOUR, LATER], { detail: 'queue: full', nowMs: DAY + 1 });
    expect(await supply.find(HOUR)).toMatchObject({ state: 'unsent', detail: 'queue: full' });
    expect(await supply.find(LATER)).toMatchObject({ state: 'working', detail: '' });
  });

  it('buries with its last fault what nobody works on, and nothing that is stored', async () => {
    const claim = await claimed(DAY);
    expect(await supply.bury(HOUR, lease(DAY))).toBeUndefined();
    await supply.settle(claim, failed(DAY));
    expect(await supply.bury(HOUR, lease(DAY + 1))).toMatchObject({ state: 'dead', detail: 'found a fault' });
    await supply.settle(await claimed(DAY + 2), { state: 'stored', detail: '', nowMs: DAY + 2 });
    expect(await supply.bury(HOUR, lease(DAY + 3))).toBeUndefined();
    expect(await supply.bury(LATER, lease(DAY + 3))).toBeUndefined();
    await supply.claim(LATER, lease(DAY));
    expect(await supply.bury(LATER, lease(DAY + H))).toBeUndefined();
    expect(await supply.bury(LATER, lease(DAY + H + 1))).toMatchObject({ state: 'dead' });
  });

  it('tells rows of the newest run first, and forgets those of runs before an instant', async () => {
    await supply.ask(
      [
        { ...HOUR, lastWordMs: undefined },
        { ...LATER, lastWordMs: undefined },
      ],
      DAY,
    );
    expect((await supply.since(DAY)).map(({ runMs }) => runMs)).toEqual([DAY + 6 * H, DAY]);
    expect(await supply.since(DAY + 7 * H)).toEqual([]);
    await supply.forgetBefore(DAY + H);
    expect(await supply.find(HOUR)).toBeUndefined();
  });
});

it('what is stored for one area or operator is unknown for another', async () => {
  const [here, there] = ['open -80 40 -66 48', 'open -95 38 -80 46'].map((scope) =>
    createSupplyRepository(local.db, scope),
  );
  const hour: SupplyHour = { modelId: 'gfs-0p25', runMs: DAY, forecastHour: 6 };
  const claim = (await here!.claim(hour, { leaseMs: H, nowMs: DAY }))!;
  await here!.settle(claim, { state: 'stored', detail: '', nowMs: DAY });
  expect(await there!.find(hour)).toBeUndefined();
  expect(await there!.since(0)).toEqual([]);
  expect(await there!.claim(hour, { leaseMs: H, nowMs: DAY })).toMatchObject({ state: 'working' });
  expect(await here!.find(hour)).toMatchObject({ state: 'stored' });
  // Once the supply of another area has begun, its hours may take the place of those here.
  await there!.forgetBefore(0);
  expect(await here!.find(hour)).toBeUndefined();
  expect(await there!.find(hour)).toBeDefined();
});

describe.each(STORES)('parts of TEMP in %s', (store) => {
  let soundings: SoundingRepository;
  beforeEach(() => {
    soundings = store === 'D1' ? createSoundingRepository(local.db) : createMemoryStores().soundings;
  });
  const CONTEXT = { nearMs: DAY, stations: () => ({ latDeg: 44.47, lonDeg: -73.15, elevationM: 197 }) };
  const PART_A =
    'TTAA 65123 00901 99987 02112 06008 00091 ///// ///// 92722 04905 08019 85398 01230 15030 88999 77999 31313 48108 81130=';
  const PART_B = 'TTBB 6512/ 00901 00987 02112 11968 03506 22850 01230 21212 00987 06008 11951 07014=';
  const keep = (...texts: string[]) =>
    keepSoundings(
      soundings,
      'op',
      texts.flatMap((text) => readTemp(text, CONTEXT).soundings),
      { context: CONTEXT, nowMs: DAY + 24 * H },
    );
  const stored = () =>
    soundings.find({
      operators: ['op'],
      fromMs: 0,
      toMs: Number.MAX_SAFE_INTEGER,
      southDeg: -90,
      northDeg: 90,
      lonRanges: [[-180, 180]],
    });

  it('gather, in whatever order and however often they come', async () => {
    await keep(PART_B, PART_A.replace('00901', '00777'));
    await keep(PART_A);
    await keep(PART_B);
    const found = await stored();
    expect(found.map(({ stationId }) => stationId).toSorted()).toEqual(['00777', '00901']);
    const whole = found.find(({ stationId }) => stationId === '00901')!;
    expect(rows(whole).map(([hPa]) => hPa)).toEqual([987, 968, 951, 925, 850]);
    expect(whole.releaseMs).toBe(DAY + 11.5 * H);
  });

  it('of writers at the same time none takes anything from another', async () => {
    await Promise.all([keep(PART_A), keep(PART_B), keep(PART_A), keep(PART_B)]);
    const [whole, ...others] = await stored();
    expect(others).toEqual([]);
    expect(rows(whole!).map(([hPa]) => hPa)).toEqual([987, 968, 951, 925, 850]);
  });
});

const ICE = {
  severity: 'severe',
  sentence: 'SIGMET 1: severe icing until 14:00 UTC',
  fromMs: DAY,
  toMs: DAY + 2 * H,
  lower: { kind: 'open' },
  upper: { kind: 'pressure-altitude', altitudeM: 3000, marginM: 0 },
} as const;
const REPORT: Report = {
  id: 'first',
  kind: 'sigmet',
  hazardKind: 'warning',
  series: 'sigmet 1',
  rank: 0,
  issuedMs: DAY,
  validFromMs: DAY,
  validToMs: DAY + 2 * H,
  text: 'SIGMET 1',
  areas: [{ kind: 'circle', center: { latDeg: 45, lonDeg: -70 }, radiusM: 50_000 }],
  ice: [ICE],
  cancels: undefined,
  isDoubtful: false,
};
/** Around 45N 70W. */
const AROUND = { southDeg: 44, northDeg: 46, lonRanges: [[-71, -69]] } as const;

describe.each(STORES)('reports in %s', (store) => {
  let reports: ReportRepository;
  beforeEach(() => {
    reports = store === 'D1' ? createReportRepository(local.db) : createMemoryStores().reports;
  });
  const find = (fromMs = DAY, toMs = DAY + H, operators = ['open']) =>
    reports.find({ operators, fromMs, toMs, ...AROUND });
  const idsOf = async (...query: Parameters<typeof find>) =>
    (await find(...query)).reports.map(({ id }) => id).toSorted();

  it('come back as they were kept', async () => {
    const sides = {
      kind: 'sides',
      sides: [
        { kind: 'parallel', side: 'N', latDeg: 40 },
        {
          kind: 'line',
          bearingDeg: 45,
          points: [
            { latDeg: 1, lonDeg: 2 },
            { latDeg: 3, lonDeg: 4 },
          ],
        },
      ],
      box: undefined,
    } as const;
    const cancels = { series: 'sigmet 1', validToMs: undefined };
    const report: Report = { ...REPORT, areas: [...REPORT.areas, sides], cancels, isDoubtful: true, rank: 2 };
    await reports.put('open', [report], DAY);
    const found = await find();
    expect(JSON.parse(JSON.stringify(found))).toEqual(
      JSON.parse(
        JSON.stringify({ reports: [{ ...report, operator: 'open', ingestedMs: DAY }], isPartial: false }),
      ),
    );
  });

  it('came when they first did, however often they come again, and anew once they say otherwise', async () => {
    const cameMs = async () => (await find()).reports.map(({ ingestedMs }) => ingestedMs);
    await reports.put('open', [REPORT], DAY);
    await reports.put('open', [REPORT], DAY + 1);
    expect(await cameMs()).toEqual([DAY]);
    await reports.put('open', [{ ...REPORT, text: `${REPORT.text} $` }], DAY + 2);
    expect(await cameMs()).toEqual([DAY + 2]);
    await reports.put('open', [{ ...REPORT, text: `${REPORT.text} $`, isDoubtful: true }], DAY + 3);
    expect(await cameMs()).toEqual([DAY + 3]);
  });

  it('are found by operator and by the time that they hold', async () => {
    await reports.put('open', [REPORT], DAY);
    await reports.put('other', [{ ...REPORT, id: 'second' }], DAY);
    expect(await idsOf()).toEqual(['first']);
    expect(await idsOf(DAY, DAY, ['other', 'open'])).toEqual(['first', 'second']);
    expect(await idsOf(DAY + 2 * H + 1, DAY + 3 * H)).toEqual([]);
    expect(await idsOf(DAY - H, DAY - 1)).toEqual([]);
    expect(await idsOf(DAY, DAY, [])).toEqual([]);
  });

  it('without ice are read only where they may replace or take back others', async () => {
    const plain: Report = { ...REPORT, ice: [] };
    await reports.put(
      'open',
      [
        { ...plain, id: 'plain' },
        { ...plain, id: 'corrected', rank: 1 },
        { ...plain, id: 'forecast', kind: 'taf' },
        { ...plain, id: 'cancels', cancels: { series: 'sigmet 1', validToMs: DAY } },
      ],
      DAY,
    );
    expect(await idsOf()).toEqual(['cancels', 'corrected', 'forecast']);
  });

  it('that only say something beside ice are read apart', async () => {
    const said = { noIce: true, clouds: [], sentence: 'Pilot report: no ice met' };
    const plain: Report = { ...REPORT, kind: 'pirep', hazardKind: 'pilot-report', ice: [] };
    await reports.put(
      'open',
      [
        { ...plain, id: 'silent' },
        { ...plain, id: 'note', said },
      ],
      DAY,
    );
    await reports.put('open', [{ ...plain, id: 'of ice', ice: [ICE], said }], DAY);
    expect(await idsOf()).toEqual(['of ice']);
    const query = { operators: ['open'], fromMs: DAY, toMs: DAY, ...AROUND };
    const found = await reports.findNotes(query);
    expect(JSON.parse(JSON.stringify(found))).toEqual({
      reports: [
        JSON.parse(JSON.stringify({ ...plain, id: 'note', said, operator: 'open', ingestedMs: DAY })),
      ],
      isPartial: false,
    });
  });

  it('are one however often they come, by however many writers', async () => {
    const many = Array.from({ length: 300 }, (_, number) => ({ ...REPORT, id: `report ${number}` }));
    await Promise.all([reports.put('open', many, DAY), reports.put('open', many, DAY)]);
    await reports.put('open', [], DAY);
    expect((await find()).reports).toHaveLength(300);
    expect(await reports.counts(['open'])).toEqual([{ kind: 'sigmet', count: 300, newestMs: DAY }]);
  });

  it('are deleted once their validity is long enough over', async () => {
    await reports.put('open', [REPORT, { ...REPORT, id: 'later', validToMs: DAY + 3 * H }], DAY);
    expect(await reports.forgetBefore(DAY + 2 * H, 0)).toBe(0);
    expect(await reports.forgetBefore(DAY + 2 * H + 1, 0)).toBe(1);
    expect(await idsOf()).toEqual(['later']);
  });
});

describe('reports in D1 alone', () => {
  const at = (latDeg: number, lonDeg: number): Report => ({
    ...REPORT,
    areas: [{ kind: 'circle', center: { latDeg, lonDeg }, radiusM: 50_000 }],
  });
  const isFound = async (
    report: Report,
    box: { southDeg: number; northDeg: number; lonRanges: readonly (readonly [number, number])[] },
  ) => {
    const reports = createReportRepository(local.db);
    await reports.put('open', [report], DAY);
    return (await reports.find({ operators: ['open'], fromMs: DAY, toMs: DAY, ...box })).reports.length === 1;
  };
  const PACIFIC = {
    southDeg: 50,
    northDeg: 54,
    lonRanges: [
      [-180, -178],
      [179, 180],
    ],
  } as const;

  it.each([
    ['inside', at(45, -70), AROUND, true],
    ['beside, and reaching in', at(45, -68.6), AROUND, true],
    ['beside', at(45, -65), AROUND, false],
    ['north of it', at(50, -70), AROUND, false],
    ['west of the antimeridian', at(52, 179.5), PACIFIC, true],
    ['across it', at(52, 180), PACIFIC, true],
    ['on the other side of the earth', at(52, 0), PACIFIC, false],
    ['anywhere', { ...REPORT, areas: [{ kind: 'unknown', box: undefined }] }, PACIFIC, true],
    [
      'in several areas of which one is near',
      { ...REPORT, areas: [...at(10, 100).areas, ...at(45, -70).areas] },
      AROUND,
      true,
    ],
    [
      'in several of which one is anywhere',
      { ...REPORT, areas: [...at(10, 100).areas, { kind: 'unknown', box: undefined }] },
      AROUND,
      true,
    ],
  ] as const)('one %s', async (_, report, box, expected) => {
    expect(await isFound(report, box)).toBe(expected);
  });

  it.each(['{', '{}', '[]', '{"areas":[],"ice":[],"isDoubtful":false}'])(
    'a body that is %s is told, never passed over',
    async (body) => {
      const reports = createReportRepository(local.db);
      await reports.put('open', [REPORT], DAY);
      await local.db.prepare('UPDATE reports SET body = ?1').bind(body).run();
      expect(await reports.find({ operators: ['open'], fromMs: DAY, toMs: DAY, ...AROUND })).toEqual({
        reports: [],
        isPartial: true,
      });
    },
  );

  it('however many say that no ice was met, one of ice is read, and nothing is partial but the notes', async () => {
    const reports = createReportRepository(local.db);
    const said = { noIce: true, clouds: [], sentence: 'Pilot report: no ice met' };
    const note: Report = { ...REPORT, kind: 'pirep', hazardKind: 'pilot-report', ice: [], said };
    const many = Array.from({ length: 2100 }, (_, number) => ({ ...note, id: `note ${number}` }));
    await reports.put('open', [...many, { ...REPORT, issuedMs: DAY - H }], DAY);
    const query = { operators: ['open'], fromMs: DAY, toMs: DAY, ...AROUND };
    const found = await reports.find(query);
    expect([found.reports.map(({ id }) => id), found.isPartial]).toEqual([['first'], false]);
    const notes = await reports.findNotes(query);
    expect([notes.reports.length, notes.isPartial]).toEqual([400, true]);
  });

  it('more than can be read is told', async () => {
    const reports = createReportRepository(local.db);
    const many = Array.from({ length: 2001 }, (_, number) => ({ ...REPORT, id: `report ${number}` }));
    await reports.put('open', many, DAY);
    const found = await reports.find({ operators: ['open'], fromMs: DAY, toMs: DAY, ...AROUND });
    expect([found.reports.length, found.isPartial]).toEqual([2000, true]);
  });
});

describe.each(STORES)('sources of bulletins in %s', (store) => {
  let bulletins: BulletinRepository;
  beforeEach(() => {
    bulletins = store === 'D1' ? createBulletinRepository(local.db) : createMemoryStores().bulletins;
  });
  const claim = (nowMs: number) => bulletins.claim('a', { everyMs: 1000, nowMs });

  it('are asked by one of many rounds at once, and again once the interval is over', async () => {
    const rounds = await Promise.all([1, 2, 3, 4].map(() => claim(DAY)));
    expect(rounds.filter((isMine) => isMine)).toHaveLength(1);
    expect(await claim(DAY + 999)).toBe(false);
    expect(await claim(DAY + 1000)).toBe(true);
    expect(await bulletins.claim('b', { everyMs: 1000, nowMs: DAY + 1001 })).toBe(true);
  });

  it('of a clock that was ahead hold up nobody', async () => {
    await claim(DAY + H);
    expect(await claim(DAY)).toBe(true);
  });

  it('keep when they last gave something, and their last fault, whatever came after each', async () => {
    await claim(DAY);
    const good = { stored: 3, refused: 1, refusal: 'line 2: odd' };
    await bulletins.note('a', { answer: good, nowMs: DAY + 1 });
    await bulletins.note('a', { fault: 'none within 15000 ms', nowMs: DAY + 2 });
    const row = {
      source: 'a',
      askedMs: DAY,
      gaveMs: DAY + 1,
      fault: 'none within 15000 ms',
      faultMs: DAY + 2,
    };
    expect(await bulletins.list()).toEqual([{ ...row, ...good }]);
    const empty = { stored: 0, refused: 2, refusal: 'line 1: no report' };
    await bulletins.note('a', { answer: empty, fault: 'no report in it', nowMs: DAY + 3 });
    const after = { ...row, ...empty, fault: 'no report in it', faultMs: DAY + 3 };
    expect(await bulletins.list()).toEqual([after]);
    await bulletins.note('a', { answer: { ...good, refused: 0, refusal: '' }, nowMs: DAY + 4 });
    const last = { ...after, ...good, refused: 0, refusal: '', gaveMs: DAY + 4 };
    expect(await bulletins.list()).toEqual([last]);
  });
});

/** What forecasts said of the place and time of a pilot's report: curtains made by hand, then invented air through the stores. */
import { describe, expect, it } from 'vitest';
import { type ForecastAtReport, forecastAtReport } from '../../worker/brief/forecast-at-report.ts';
import { type PlacedObservation, scoreReport } from '../../worker/brief/score-report.ts';
import { CELL_STATE } from '../../worker/science/columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import type { ObservedBand, Said } from '../../worker/sources/report-facts/pilot-observation.ts';
import { leadBucket, NO_LEAD, type Score } from '../../worker/sources/scores.ts';
import { type CellAt, DRY, layer, makeCurtain, UNKNOWN } from '../flight/make-curtain.ts';
import { assertClose } from '../support/assert-close.ts';
import type { AscentLevel } from '../support/make-ascent.ts';
import { createMemoryStores } from '../support/memory-stores.ts';
import { DECK_AIR, DRY_AIR, NOON_MS, over } from '../support/winter-leg.ts';
import { type GridSpec, gridStores } from './hourly-grids.ts';

const H = 3_600_000;
const at = (lowerFt: number, upperFt = lowerFt): ObservedBand => ({ lowerFt, upperFt });
const ICY = { icingProbability: 0.5, cloudProbability: 0.9 };
const GROUND = { state: CELL_STATE.belowGround };

/** Cells of 500 ft from the sea to 30,000 ft; heights as in the standard atmosphere, or as many feet higher. */
function told(cellAt: CellAt, band: ObservedBand | undefined, { points = 1, higherFt = 0 } = {}) {
  const { weather, icing } = makeCurtain(points, cellAt);
  weather.geopotentialHeightM.forEach((_, index) => {
    if (weather.state[index] !== CELL_STATE.known) return;
    weather.geopotentialHeightM[index] = mFromFt(250 + 500 * (index % 60) + higherFt);
  });
  return forecastAtReport({ indicatedMinusPressureM: 0, weather, icing }, band);
}

const both =
  (...layers: readonly CellAt[]): CellAt =>
  (point, middleFt) =>
    Object.assign({}, ...layers.map((each) => each(point, middleFt)));

describe('ice in the reported band', () => {
  const deck = layer(5000, 6000, ICY);

  it.each<[string, ObservedBand, boolean]>([
    ['in it', at(5500), true],
    ['up to 1,000 ft over it', at(6900), true],
    ['more than 1,000 ft over it', at(7010), false],
    ['up to 1,000 ft under it', at(4100), true],
    ['more than 1,000 ft under it', at(3990), false],
    ['anywhere in a band that spans it', at(1000, 9000), true],
  ])('is forecast for a report %s', (_, band, isIce) => {
    expect(told(deck, band).isIce).toBe(isIce);
  });

  it('is the greatest there', () => {
    const two = both(layer(5000, 5500, { icingProbability: 0.25 }), layer(5500, 6000, ICY));
    expect(told(two, at(5000)).probability).toBe(0.5);
  });

  it.each([
    [0.14, false],
    [0.15, true],
  ])('of a chance of %d is forecast: %s', (icingProbability, isIce) => {
    expect(told(layer(5000, 6000, { icingProbability }), at(5500)).isIce).toBe(isIce);
  });

  it('is that of large drops too', () => {
    expect(told(layer(2000, 3000, { largeDrops: 2 }), at(2500)).isIce).toBe(true);
  });

  it('is unknown where no cell of the band is, neither forecast nor not', () => {
    const { isIce, probability } = told(layer(4000, 7500, UNKNOWN), at(5500));
    expect([isIce, probability]).toEqual([undefined, undefined]);
  });

  it('is unknown where a part of the band is and the rest has none, and forecast where the rest has some', () => {
    const gap = layer(5000, 5500, UNKNOWN);
    expect(told(gap, at(5500)).isIce).toBeUndefined();
    expect(told(both(gap, layer(5500, 6000, ICY)), at(5500)).isIce).toBe(true);
  });

  it('is not asked of what lies under the ground, but is unknown where nothing is left', () => {
    expect(told(layer(0, 2000, GROUND), at(2000)).isIce).toBe(false);
    expect(told(layer(0, 5000, GROUND), at(1000)).isIce).toBeUndefined();
  });

  it('is unknown over the top of the curtain', () => {
    expect(told(DRY, at(28_900)).isIce).toBe(false);
    expect(told(DRY, at(29_500)).isIce).toBeUndefined();
  });

  it('counts an altitude in every way that it may be meant: here heights are 2,000 ft over pressure altitudes', () => {
    // 8,000 ft by a map is 6,000 ft on the standard setting: within 1,000 ft of the deck's top only so.
    expect(told(layer(4000, 5500, ICY), at(8000)).isIce).toBe(false);
    expect(told(layer(4000, 5500, ICY), at(8000), { higherFt: 2000 }).isIce).toBe(true);
  });

  it('along a leg is the greatest of its points, and none only where all of them are known', () => {
    const last = layer(5000, 6000, ICY, [2, 2]);
    expect(told(last, at(5500), { points: 3 }).isIce).toBe(true);
    expect(told(layer(0, 30_000, UNKNOWN, [2, 2]), at(5500), { points: 3 }).isIce).toBeUndefined();
  });
});

describe('the flagged share of the air', () => {
  it.each<[string, CellAt, number | undefined]>([
    ['5,000 ft of 20,000 are a quarter', layer(5000, 10_000, ICY), 0.25],
    ['nothing is flagged', DRY, 0],
    ['ice over 20,000 ft is outside', layer(20_000, 25_000, ICY), 0],
    [
      'of 10,000 ft over the ground 5,000 are half',
      both(layer(0, 10_000, GROUND), layer(10_000, 15_000, ICY)),
      0.5,
    ],
    ['of 10,000 known ft 5,000 are half', both(layer(0, 10_000, UNKNOWN), layer(10_000, 15_000, ICY)), 0.5],
    ['nothing known has none', () => UNKNOWN, undefined],
  ])('%s', (_, cellAt, share) => {
    const found = told(cellAt, undefined).flaggedShare;
    if (share === undefined) expect(found).toBeUndefined();
    else assertClose(found!, share, { abs: 1e-9, why: 'rounding' });
  });
});

describe('the forecast cloud top', () => {
  const cloud = layer(3000, 6500, { cloudProbability: 0.9 });
  it.each<[string, CellAt, ForecastAtReport['top']]>([
    ['is the upper edge of the highest likely cloud', cloud, { kind: 'top', altitudeFt: 6500 }],
    ['is none where all is known and clear', DRY, { kind: 'no-cloud' }],
    ['is not that of thin chances', layer(3000, 6500, { cloudProbability: 0.3 }), { kind: 'no-cloud' }],
    ['is unknown under unknown air', both(cloud, layer(6500, 8000, UNKNOWN)), { kind: 'unknown' }],
    ['is unknown where a cell of clear air is', layer(9000, 9500, UNKNOWN), { kind: 'unknown' }],
    ['is unknown of nothing', () => UNKNOWN, { kind: 'unknown' }],
  ])('%s', (_, cellAt, top) => {
    expect(told(cellAt, undefined).top).toEqual(top);
  });

  it('is told as an altimeter on the local setting has it: where heights are 400 ft more, so is the top', () => {
    expect(told(cloud, undefined, { higherFt: 400 }).top).toEqual({ kind: 'top', altitudeFt: 6900 });
  });

  it('from 18,000 ft is a flight level', () => {
    const high = layer(3000, 21_000, { cloudProbability: 0.9 });
    expect(told(high, undefined, { higherFt: 400 }).top).toEqual({ kind: 'top', altitudeFt: 21_000 });
  });

  it('along a leg is the highest, unknown where one is not known', () => {
    const two = both(cloud, layer(6500, 7000, { cloudProbability: 0.9 }, [1, 1]));
    expect(told(two, undefined, { points: 3 }).top).toEqual({ kind: 'top', altitudeFt: 7000 });
    const torn = both(cloud, layer(0, 30_000, UNKNOWN, [2, 2]));
    expect(told(torn, undefined, { points: 3 }).top).toEqual({ kind: 'unknown' });
  });
});

it.each([
  [0.5, 0],
  [2.99, 0],
  [3, 1],
  [6, 2],
  [12, 3],
  [23.9, 3],
  [24, 4],
  [100, 4],
])('a lead of %d h is in bucket %d of 0-3, 3-6, 6-12, 12-24 and over 24 h', (hours, bucket) => {
  expect(leadBucket(hours * H)).toBe(bucket);
});

/** Said at noon over 44.5 N 71.5 W, 6,000 ft, unless changed. */
function report(said: Said, change: Partial<PlacedObservation> = {}): PlacedObservation {
  return {
    ...{ said, timeMs: NOON_MS, points: [{ latDeg: 44.5, lonDeg: -71.5 }], placeWords: 'X', band: at(6000) },
    ...{ heaviest: said === 'ice' ? 'light' : undefined, topFt: undefined, isLargeDrops: false },
    ...{ whyUnplaced: undefined, whyUnscored: said === 'nothing' ? 'it says nothing of icing' : undefined },
    ...change,
  };
}

const line = ({ kind, leadBucket: bucket, outcome }: Score) => `${kind} ${bucket} ${outcome}`;

/** Scores against ascents over the very place, each launched so many hours before noon. */
async function byAscents(
  observation: PlacedObservation,
  ...launches: readonly (readonly [rows: readonly AscentLevel[], beforeH: number])[]
) {
  const stores = createMemoryStores();
  const soundings = launches.map(([rows, beforeH]) => over(rows, NOON_MS - beforeH * H));
  await stores.soundings.put('demo', soundings, NOON_MS);
  return scoreReport(stores, observation, ['demo']);
}

describe('against ascents', () => {
  it.each<[Said, readonly AscentLevel[], string]>([
    ['ice', DECK_AIR, 'hit'],
    ['ice', DRY_AIR, 'miss'],
    ['no-ice', DECK_AIR, 'false'],
    ['no-ice', DRY_AIR, 'correct-no'],
    ['nothing', DECK_AIR, 'unscored'],
  ])('%s in an ascent of two hours before', async (said, rows, outcome) => {
    const scores = await byAscents(report(said), [rows, 2]);
    expect(scores.map(line)).toEqual([`ascent 0 ${outcome}`, `brief 0 ${outcome}`]);
    expect(scores[0]?.station).toBe('ZZM00000999');
  });

  it('one that goes up with the report or later is no forecast of it', async () => {
    const scores = await byAscents(report('ice'), [DECK_AIR, 0], [DECK_AIR, -1]);
    expect(scores.map(line)).toEqual([`brief ${NO_LEAD} unknown`]);
    expect(scores[0]).toMatchObject({ madeMs: undefined, probability: undefined, top: { kind: 'unknown' } });
  });

  it('beyond its reach in time it says nothing', async () => {
    expect((await byAscents(report('no-ice'), [DRY_AIR, 6.5])).map(line)).toEqual([
      `brief ${NO_LEAD} unknown`,
    ]);
  });

  it('two of one station count for their own lead, and a brief of each', async () => {
    const scores = await byAscents(report('ice'), [DRY_AIR, 1], [DECK_AIR, 4]);
    expect(scores.map(line).sort()).toEqual(['ascent 0 miss', 'ascent 1 hit', 'brief 0 miss', 'brief 1 hit']);
  });

  it('has the top of the deck: 600 hPa at 4,100 m is 13,450 ft, cells are 500 ft', async () => {
    const [score] = await byAscents(report('nothing', { band: undefined, topFt: 13_000 }), [DECK_AIR, 1]);
    if (score?.top.kind !== 'top') throw new Error('no top');
    assertClose(score.top.altitudeFt, 13_450, { abs: 600, why: 'a cell, and errors of an hour' });
    expect(score.probability).toBeUndefined();
  });

  it('over its highest level nothing is known', async () => {
    const low = DECK_AIR.slice(0, 6);
    const scores = await byAscents(report('no-ice', { band: at(12_000) }), [low, 1]);
    expect(scores.map(({ outcome }) => outcome)).toEqual(['unknown', 'unknown']);
  });
});

describe('against models', () => {
  const halfPastNoon = { timeMs: NOON_MS + H / 2 };
  const run = (runBeforeH: number, isMoist: boolean): GridSpec[] =>
    [0, 1].map((afterH) => ({ afterH, isMoist, runBeforeH }));

  it.each<[Said, boolean, string]>([
    ['ice', true, 'hit'],
    ['ice', false, 'miss'],
    ['no-ice', true, 'false'],
    ['no-ice', false, 'correct-no'],
  ])('%s where it is moist (%s) is a %s, between two hours of one run', async (said, isMoist, outcome) => {
    const stores = await gridStores(run(2, isMoist));
    const scores = await scoreReport(stores, report(said, halfPastNoon), ['demo']);
    expect(scores.map(line)).toEqual([`model 0 ${outcome}`, `brief 0 ${outcome}`]);
  });

  it('each run for its lead, and a brief as it was made then: the newest was wrong', async () => {
    const stores = await gridStores([...run(1, false), ...run(7, true)]);
    const scores = await scoreReport(stores, report('ice', halfPastNoon), ['demo']);
    expect(scores.map(line).sort()).toEqual(['brief 0 miss', 'brief 2 hit', 'model 0 miss', 'model 2 hit']);
  });

  it('of two runs of one lead the newer alone: a report counts once', async () => {
    const stores = await gridStores([...run(1, false), ...run(2, true)]);
    const scores = await scoreReport(stores, report('ice', halfPastNoon), ['demo']);
    expect(scores.map(line)).toEqual(['model 0 miss', 'brief 0 miss']);
    expect(scores[0]?.madeMs).toBe(NOON_MS - H);
  });

  it('a run that starts at the time of the report is no forecast of it', async () => {
    const stores = await gridStores(run(0, true));
    expect((await scoreReport(stores, report('ice'), ['demo'])).map(line)).toEqual([
      `brief ${NO_LEAD} unknown`,
    ]);
  });

  it('a lone hour speaks in the brief and is not scored alone', async () => {
    const stores = await gridStores([{ afterH: 1, isMoist: true, runBeforeH: 2 }]);
    expect((await scoreReport(stores, report('ice'), ['demo'])).map(line)).toEqual(['brief 0 hit']);
  });

  it('one that does not reach the place forecast nothing there', async () => {
    const stores = await gridStores(run(2, false));
    const far = report('no-ice', { ...halfPastNoon, points: [{ latDeg: 35, lonDeg: -100 }] });
    expect((await scoreReport(stores, far, ['demo'])).map(line)).toEqual([`brief ${NO_LEAD} unknown`]);
  });

  it.each([
    ['its values', (key: string) => !key.endsWith('.json')],
    ['all of it', () => true],
  ])('one that has lost %s is unknown, neither a miss nor a correct no', async (_, isLost) => {
    const stores = await gridStores(run(2, false));
    for (const key of [...stores.objectMap.keys()].filter(isLost)) stores.objectMap.delete(key);
    for (const said of ['ice', 'no-ice'] as const) {
      const scores = await scoreReport(stores, report(said, halfPastNoon), ['demo']);
      expect(scores.map(({ kind, outcome }) => `${kind} ${outcome}`)).toEqual([
        'model unknown',
        'brief unknown',
      ]);
    }
  });

  it('nobody else’s data speak', async () => {
    const stores = await gridStores(run(2, true));
    expect((await scoreReport(stores, report('ice', halfPastNoon), ['local'])).map(line)).toEqual([
      `brief ${NO_LEAD} unknown`,
    ]);
  });
});

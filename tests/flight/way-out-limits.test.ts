/** What a way out of the ice may cost and where it may lead. See way-out-cost.test.ts for what the ways cost. */
import { describe, expect, test } from 'vitest';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { mFromFt, mFromNm, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { levelWays, WAYS_ROUTE, wayWords } from './fly-ways.ts';
import {
  type CellAt,
  flat,
  flatMinimum,
  LIGHT_ICE,
  layer,
  ROUND_AIRCRAFT,
  type TestCell,
  UNKNOWN,
} from './make-curtain.ts';

const route = WAYS_ROUTE;
const STRETCH_S = route.distanceM[1]! / mpsFromKt(180);
const SURE_ICE: TestCell = { ...LIGHT_ICE, icingProbability: 1 };
const wordsAt20 = (...args: Parameters<typeof levelWays>) => wayWords(levelWays(...args), 20);
const climbing = (ftPerMin: number) => ({ ...ROUND_AIRCRAFT, climbRateMps: flat(mFromFt(ftPerMin) / 60) });
const descending = (ftPerMin: number) => ({
  ...ROUND_AIRCRAFT,
  descentRateMps: flat(mFromFt(ftPerMin) / 60),
});

describe('waysOut, the air that a way leads to', () => {
  const over = (icingProbability: number): CellAt => {
    return (_, middleFt) => (middleFt < 10000 ? LIGHT_ICE : { ...LIGHT_ICE, icingProbability });
  };

  test('has a chance of ice under 15 %, however much more likely ice is in what is left', () => {
    expect(wordsAt20(over(0.14))).toBe('up 11500');
    expect(wordsAt20(over(0.16))).toBe('none');
  });

  test('0.44 and 0.9 in a layer over 0.16 everywhere: more ice is never better', () => {
    const inLayer = (icingProbability: number) =>
      levelWays((_, middleFt) => ({
        ...LIGHT_ICE,
        icingProbability: middleFt > 8000 && middleFt < 10000 ? icingProbability : 0.16,
      }));
    const all = new Array(route.pointCount).fill('none');
    for (const probability of [0.44, 0.9]) {
      const { way, longestNoneS } = inLayer(probability);
      expect(way, `${probability}`).toEqual(all);
      assertClose(longestNoneS, (route.pointCount - 1) * STRETCH_S, { rel: 1e-6, why: 'all the way' });
    }
  });

  test('holds no severe icing, however small its chance', () => {
    const severe: CellAt = (_, middleFt) =>
      middleFt < 10000 ? LIGHT_ICE : { ...LIGHT_ICE, icingProbability: 0.14, intensity: 4 };
    expect(wordsAt20(severe)).toBe('none');
  });

  // On the way to 11,500 ft nothing is severe, but within 1,000 ft above it.
  test('has none near above it either', () => {
    const near: CellAt = (_, middleFt) => {
      if (middleFt < 10000) return LIGHT_ICE;
      return middleFt > 12000 && middleFt < 12500
        ? { ...LIGHT_ICE, icingProbability: 0.14, intensity: 4 }
        : {};
    };
    expect(wordsAt20(near)).toBe('none');
  });
});

describe('waysOut, the longest way', () => {
  // From 8,000 ft in a deck up to 18,000 ft to 19,500 ft: 11,500 ft at 410 ft/min are 28 min, at 1,000 ft/min 11.5.
  test('a deck of 0-18,000 ft leaves 8,000 ft no way of 28 min', () => {
    const deck = layer(0, 18000, { ...SURE_ICE, growthMmPerMin: 0.05 });
    expect(wordsAt20(deck, { aircraft: climbing(410), altitudeFt: 8000 })).toBe('none');
    expect(wordsAt20(deck, { aircraft: climbing(1000), altitudeFt: 8000 })).toBe('none');
    expect(wordsAt20(deck, { aircraft: climbing(1160), altitudeFt: 8000 })).toBe('up 19500');
  });

  // From 9,000 ft to 11,500 ft: 250 ft/min take 10 min.
  test('up takes ten minutes at most', () => {
    const deck = layer(0, 10000, { ...SURE_ICE, growthMmPerMin: 0.3 });
    expect(wordsAt20(deck, { aircraft: climbing(251) })).toBe('up 11500');
    expect(wordsAt20(deck, { aircraft: climbing(249) })).toBe('none');
  });

  // From 9,000 ft to 6,000 ft: 300 ft/min take 10 min.
  test('down takes ten minutes at most', () => {
    const deck = layer(7000, 30000, { ...SURE_ICE, growthMmPerMin: 0.3 });
    expect(wordsAt20(deck, { aircraft: descending(301) })).toBe('down 6000');
    expect(wordsAt20(deck, { aircraft: descending(299) })).toBe('none');
  });

  test('no way gathers more than five millimeters', () => {
    const deck = (growthMmPerMin: number) => layer(0, 9500, { ...SURE_ICE, growthMmPerMin });
    const slow = climbing(250);
    // 500 ft of the deck at 250 ft/min are 2 min: 2.45 and 2.55 mm a minute.
    expect(wordsAt20(deck(2.45), { aircraft: slow })).toBe('up 11000');
    expect(wordsAt20(deck(2.55), { aircraft: slow })).toBe('none');
  });

  // Points lie 97.9 s apart: with a turn of 60 s eight stretches are 843 s, nine 941.
  test('back takes fifteen minutes at most, the turn included', () => {
    const wall = layer(0, 30000, { ...SURE_ICE, growthMmPerMin: 0.1 }, [18, 38]);
    const { way } = levelWays(wall);
    expect([way[25], way[26]]).toEqual(['back', 'none']);
  });
});

describe('waysOut down and the minima', () => {
  const highDeck = layer(7000, 30000, LIGHT_ICE);
  const minimumWith = (point: number, altitudeFt: number) => {
    const minimum = flatMinimum(route.pointCount, 3000);
    minimum.altitudeM[point] = mFromFt(altitudeFt);
    return minimum;
  };

  // Down 3,000 ft at 500 ft/min takes 6 min, 15 NM at 150 kt: points lie 4.89 NM apart, three of them are passed.
  test('keep those of all points passed on the way down, and no others', () => {
    for (const point of [20, 21, 22, 23])
      expect(wordsAt20(highDeck, { minimum: minimumWith(point, 6500) }), `${point}`).toBe('none');
    for (const point of [19, 24])
      expect(wordsAt20(highDeck, { minimum: minimumWith(point, 6500) }), `${point}`).toBe('down 6000');
  });

  test('an unknown one among them leaves it unknown', () => {
    const found = levelWays(highDeck, { minimum: minimumWith(22, Number.NaN) });
    expect([found.way[20], found.isMinimumMissing]).toEqual(['unknown', true]);
  });

  test('no way leads down to 6,000 ft from a valley among minima of 11,000 ft', () => {
    const minimum = flatMinimum(route.pointCount, 11000);
    minimum.altitudeM[20] = mFromFt(6000);
    const deck = layer(7000, 30000, LIGHT_ICE);
    expect(wordsAt20(deck, { minimum, altitudeFt: 12000 })).toBe('none');
  });
});

describe('waysOut back and the minima', () => {
  const wall = layer(0, 30000, LIGHT_ICE, [18, 38]);
  const behind = (altitudeFt: number, point = 18) => {
    const minimum = flatMinimum(route.pointCount, 3000);
    minimum.altitudeM[point] = mFromFt(altitudeFt);
    return minimum;
  };

  test('never leads under a minimum behind', () => {
    const at8000 = (minimum: ReturnType<typeof behind>) => wordsAt20(wall, { minimum, altitudeFt: 8000 });
    expect(at8000(behind(9000))).toBe('none');
    expect(at8000(behind(9000, 17))).toBe('none');
    expect(at8000(behind(8000))).toBe('back');
    // Not flown over: the air of point 17 is free.
    expect(at8000(behind(9000, 16))).toBe('back');
  });
});

describe('waysOut, how long there is none', () => {
  const all = (icingProbability: number) =>
    levelWays(layer(0, 30000, { ...LIGHT_ICE, icingProbability })).longestNoneS;

  test('counts points in expected ice alone', () => {
    expect(all(0.39)).toBe(0);
    assertClose(all(0.4), (route.pointCount - 1) * STRETCH_S, { rel: 1e-6, why: 'by hand' });
  });

  test('unknown counts where the air flown is not known to be free', () => {
    const around = (flown: TestCell) =>
      levelWays((_, middleFt) => (middleFt > 9000 && middleFt < 9500 ? flown : UNKNOWN));
    const wholeS = (route.pointCount - 1) * STRETCH_S;
    expect(around({}).longestNoneKnownS).toBe(0);
    expect(around({}).way[20]).toBe('unknown');
    assertClose(around({ icingProbability: 0.2 }).longestNoneKnownS, wholeS, { rel: 1e-6, why: 'by hand' });
    const drops = around({ largeDrops: LARGE_DROPS.freezingDrizzle });
    assertClose(drops.longestNoneKnownS, wholeS, { rel: 1e-6, why: 'by hand' });
  });

  test('none and unknown by turns are one run without a known way, however short each is', () => {
    const byTurns: CellAt = (point, middleFt) =>
      point % 2 === 0 && middleFt > 12000 ? UNKNOWN : { ...SURE_ICE, growthMmPerMin: 0.01 };
    const { way, longestNoneS, longestNoneKnownS } = levelWays(byTurns, { minimumFt: 8500 });
    expect(new Set(way)).toEqual(new Set(['none', 'unknown']));
    assertClose(longestNoneS, STRETCH_S, { rel: 1e-6, why: 'one point, half a stretch on either side' });
    const wholeS = (route.pointCount - 1) * STRETCH_S;
    assertClose(longestNoneKnownS, wholeS, { rel: 1e-6, why: 'all the way' });
  });
});

describe('waysOut to an aerodrome', () => {
  // 5,000 ft at 500 ft/min are 10 min: 4.9 mm at 0.49 mm/min, 5.1 at 0.51.
  test('gathers no more than five millimeters', () => {
    const at20 = (growthMmPerMin: number) =>
      wordsAt20(layer(0, 30000, { ...SURE_ICE, growthMmPerMin }), {
        altitudeFt: 5000,
        aircraft: { ...ROUND_AIRCRAFT, ceilingM: mFromFt(6000) },
        aerodromes: [{ name: 'CCCC', elevationM: 0, pointIndex: 20, offsetM: mFromNm(0) }],
      });
    expect(at20(0.49)).toBe('aerodrome CCCC');
    expect(at20(0.51)).toBe('none');
  });

  test('ground under the descent adds no air without ice', () => {
    const overGround: CellAt = (_, middleFt) =>
      middleFt < 2500 ? { state: CELL_STATE.belowGround } : { ...SURE_ICE, growthMmPerMin: 0.51 };
    const low = { ...ROUND_AIRCRAFT, ceilingM: mFromFt(6000) };
    const aerodromes = [{ name: 'CCCC', elevationM: 0, pointIndex: 20, offsetM: 0 }];
    expect(wordsAt20(overGround, { altitudeFt: 5000, aircraft: low, aerodromes })).toBe('none');
  });
});

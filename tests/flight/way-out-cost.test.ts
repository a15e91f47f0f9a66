/** What a way out costs, the aerodromes as ways out, and how long there is none. Amounts are worked out by hand. */
import { describe, expect, test } from 'vitest';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { mFromFt, mFromNm, mpsFromKt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { levelWays, WAYS_ROUTE, wayWords } from './fly-ways.ts';
import {
  type CellAt,
  DRY,
  flat,
  LIGHT_ICE,
  layer,
  makeTestRoute,
  ROUND_AIRCRAFT,
  type TestCell,
  UNKNOWN,
} from './make-curtain.ts';

const BY_HAND_F32 = { abs: 1e-6, rel: 1e-6, why: 'by hand, columns are 32-bit' };
/** In every draw. */
const SURE_ICE: TestCell = { ...LIGHT_ICE, icingProbability: 1, growthMmPerMin: 0.6 };
const EVERYWHERE = layer(0, 30000, SURE_ICE);
/** Half as much: 5 mm, more than which no way may gather, in 1,000 s. */
const GENTLE = { ...SURE_ICE, growthMmPerMin: 0.3 };
const GENTLE_EVERYWHERE = layer(0, 30000, GENTLE);
const wordsOf = (...args: Parameters<typeof levelWays>) => {
  const found = levelWays(...args);
  return found.way.map((_, point) => wayWords(found, point));
};

describe('waysOut, what a way costs', () => {
  test('up is timed to the altitude it leads to, and gathers ice as far as the ice goes', () => {
    // From 9,000 ft to 11,500 ft: 150 s, of which 60 s at 0.6 mm/min.
    const found = levelWays(layer(0, 10000, SURE_ICE));
    assertClose(found.timeS[20]!, 150, BY_HAND_F32);
    assertClose(found.builtM[20]! * 1000, 0.6, BY_HAND_F32);
  });

  test('ice on the wing slows the climb out of it', () => {
    // By point 20, 100 NM, 2,000 s have grown 20 mm; at 2 % a millimeter 60 % of the climb rate is left, and 500 ft steps lose more.
    const aircraft = { ...ROUND_AIRCRAFT, iceLoss: { ...ROUND_AIRCRAFT.iceLoss, climbRatePerM: 20 } };
    const clean = levelWays(layer(0, 10000, SURE_ICE));
    const iced = levelWays(layer(0, 10000, SURE_ICE), { aircraft });
    expect(iced.timeS[20]).toBeGreaterThan(150 / 0.65);
    expect(iced.timeS[20]).toBeLessThan(150 / 0.55);
    expect(iced.builtM[20]).toBeGreaterThan(clean.builtM[20]!);
  });

  test('with ice on the wing nothing above the iced ceiling is a way', () => {
    const aircraft = { ...ROUND_AIRCRAFT, icedCeilingM: mFromFt(11000) };
    const found = wordsOf(layer(0, 10000, SURE_ICE), { aircraft });
    expect(found[20]).toBe('none');
    // At the first point nothing has grown yet, but a minute of climb through the ice makes 0.6 mm: the ceiling is that of a clean wing.
    expect(found[0]).toBe('up 11500');
  });

  test('a way that takes longer is taken when it gathers enough less ice', () => {
    // Down 4,000 ft at 1,000 ft/min is 240 s in 0.6 mm/min, 3 of them in the deck: 1.8 mm, 456 in all. Up 3,500 ft at 500 ft/min
    // is 420 s, 2 min of them in the deck: 1.2 mm, 564. With 0.01 mm/min below it is 240 + 3.6 against 420 + 2.4.
    const slow = {
      ...ROUND_AIRCRAFT,
      climbRateMps: flat(mFromFt(500) / 60),
      descentRateMps: flat(mFromFt(1000) / 60),
    };
    const deck =
      (upperGrowth: number, lowerGrowth: number): CellAt =>
      (_, middleFt) => {
        if (middleFt < 6000 || middleFt > 10000) return {};
        return { ...SURE_ICE, growthMmPerMin: middleFt > 9000 ? upperGrowth : lowerGrowth };
      };
    expect(wordsOf(deck(0.01, 0.01), { aircraft: slow })[20]).toBe('down 5000');
    // Down: 240 s and 3 min at 2 mm/min, 6 mm: 960. Up to 11,500 ft: 300 s and 2 min at 0.01: 302.
    expect(wordsOf(deck(0.01, 2), { aircraft: slow })[20]).toBe('up 11500');
  });

  test('back counts the turn and the way in the ice', () => {
    // From point 20 to 17: half a turn, 60 s, and three stretches, 300 s and a little for 4.89 NM each, all but the last in ice.
    const stretchS = WAYS_ROUTE.distanceM[1]! / mpsFromKt(180);
    const found = levelWays(layer(0, 30000, SURE_ICE, [18, 40]));
    assertClose(found.timeS[20]!, 60 + 3 * stretchS, BY_HAND_F32);
    assertClose(found.builtM[20]! * 1000, 0.01 * (60 + 2 * stretchS), BY_HAND_F32);
  });
});

describe('waysOut to an aerodrome', () => {
  const route = makeTestRoute();

  test('the departure and the destination are ways out within fifteen minutes, through ice as well', () => {
    const found = wordsOf(GENTLE_EVERYWHERE, { route, altitudeFt: 5000 });
    expect(found[0]).toBe('aerodrome AAAA');
    expect(found.at(-1)).toBe('aerodrome BBBB');
    expect(found[20]).toBe('none');
  });

  // 5,000 ft at 500 ft/min are 600 s; 840 s at 150 kt are 35 NM, and a turn of 60 s makes 15 min. Points lie 4.89 NM apart.
  test('the time is that of the way or of the descent, whichever is longer, and of the turn', () => {
    const found = levelWays(GENTLE_EVERYWHERE, { route, altitudeFt: 5000 });
    assertClose(found.timeS[0]!, 660, BY_HAND_F32);
    assertClose(found.timeS[7]!, route.distanceM[7]! / mpsFromKt(150) + 60, BY_HAND_F32);
    expect([found.way[7], found.way[8]]).toEqual(['aerodrome', 'none']);
  });

  test('from so high that the descent takes longer it is none', () => {
    expect(levelWays(GENTLE_EVERYWHERE, { route, altitudeFt: 7000 }).way[0]).toBe('aerodrome');
    expect(levelWays(GENTLE_EVERYWHERE, { route, altitudeFt: 7500 }).way[0]).toBe('none');
  });

  test('other aerodromes near the route serve as well, with the distance they lie off', () => {
    const place = (offNm: number) => [
      { name: 'CCCC', elevationM: 0, pointIndex: 20, offsetM: mFromNm(offNm) },
    ];
    const at20 = (offNm: number) =>
      wordsOf(GENTLE_EVERYWHERE, { altitudeFt: 5000, aerodromes: place(offNm) })[20];
    expect(at20(34)).toBe('aerodrome CCCC');
    expect(at20(36)).toBe('none');
  });

  test('severe icing or large drops on the way to it bar it, unknown air leaves it unknown', () => {
    const belowThere =
      (cell: TestCell): CellAt =>
      (point, middleFt) =>
        point === 0 && middleFt < 2000 ? cell : GENTLE_EVERYWHERE(point, middleFt);
    const at3 = (cellAt: CellAt) => wordsOf(cellAt, { route, altitudeFt: 5000 })[3];
    expect(at3(belowThere({ largeDrops: LARGE_DROPS.freezingDrizzle }))).toBe('none');
    expect(at3(belowThere({ ...GENTLE, intensity: 4 }))).toBe('none');
    expect(at3(belowThere(UNKNOWN))).toBe('unknown');
    expect(at3(belowThere({}))).toBe('aerodrome AAAA');
  });

  test('none leads through severe icing, not from inside it either', () => {
    const severe = layer(0, 30000, { ...GENTLE, intensity: 4 });
    expect(wordsOf(severe, { route, altitudeFt: 5000 })[3]).toBe('none');
  });
});

describe('waysOut and danger on the way', () => {
  const severeAbove: CellAt = (_, middleFt) => {
    if (middleFt > 10000) return {};
    return middleFt > 9500 ? { ...SURE_ICE, intensity: 4 } : SURE_ICE;
  };

  test('severe icing bars the way up through it to an aeroplane that is not in it', () => {
    expect(wordsOf(severeAbove, { altitudeFt: 9000 })[20]).toBe('none');
    // Between the edges of cells, as on any altimeter setting but the standard one.
    expect(wordsOf(severeAbove, { altitudeFt: 9230 })[20]).toBe('none');
  });

  test('nor is there a way from inside it: a flight that meets it is outside limits', () => {
    expect(wordsOf(severeAbove, { altitudeFt: 9500 })[20]).toBe('none');
  });
});

describe('waysOut, how long there is none', () => {
  const stretchS = WAYS_ROUTE.distanceM[1]! / mpsFromKt(180);

  test('a point stands for the time half way to its neighbors, and runs are told apart', () => {
    const pieces =
      (ice: CellAt): CellAt =>
      (point, middleFt) =>
        point >= 10 && point <= 30 ? ice(point, middleFt) : {};
    const without = (ice: CellAt) => {
      const { way, longestNoneS } = levelWays(pieces(ice));
      return { count: way.filter((each) => each === 'none').length, longestNoneS };
    };
    // With a turn of 60 s point 9 lies 900 s back or less at eight stretches of 97.9 s: 10 to 17 have a way, 18 to 30 none.
    const gentle = without(GENTLE_EVERYWHERE);
    expect(gentle.count).toBe(13);
    assertClose(gentle.longestNoneS, 13 * stretchS, BY_HAND_F32);
    // At 0.01 mm/s 5 mm take 500 s, 60 of them for the turn: four stretches in the ice, from 14, and none from 15.
    const twice = without(EVERYWHERE);
    expect(twice.count).toBe(16);
    assertClose(twice.longestNoneS, 16 * stretchS, BY_HAND_F32);
  });

  test('unknown is counted apart from none', () => {
    const { longestNoneS, longestNoneKnownS, isMinimumMissing } = levelWays(() => UNKNOWN);
    expect(longestNoneS).toBe(0);
    assertClose(longestNoneKnownS, WAYS_ROUTE.distanceM.at(-1)! / mpsFromKt(180), BY_HAND_F32);
    expect(isMinimumMissing).toBe(false);
  });

  test('a missing minimum altitude is told as the reason when air is known', () => {
    const found = levelWays(layer(7000, 30000, SURE_ICE), { minimumFt: Number.NaN });
    expect([found.way[20], found.isMinimumMissing]).toEqual(['unknown', true]);
  });
});

describe('waysOut when the protection fails', () => {
  test('the worst place is the one from which leaving gathers most, and without any way the rest of the leg gathers', () => {
    const { failure, way } = levelWays(layer(0, 30000, SURE_ICE, [10, 30]));
    const firstNone = way.indexOf('none');
    const stretchS = WAYS_ROUTE.distanceM[1]! / mpsFromKt(180);
    expect(failure).toMatchObject({ way: 'none', pointIndex: firstNone });
    // From there to half way beyond point 30, at 0.01 mm/s.
    assertClose(failure!.builtM * 1000, 0.01 * (30.5 - firstNone) * stretchS, {
      abs: 0.01 * 0.51 * stretchS,
      why: 'the ice on the wing is that of half a stretch before the point',
    });
  });

  test('with a way everywhere it is the dearest of them', () => {
    const { failure, builtM } = levelWays(layer(0, 10000, SURE_ICE));
    expect(failure?.way).toBe('up');
    expect(failure?.builtM).toBe(Math.max(...builtM));
  });

  test('there is none without ice near', () => {
    expect(levelWays(DRY).failure).toBeUndefined();
  });
});

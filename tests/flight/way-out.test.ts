import { describe, expect, test } from 'vitest';
import type { MinimumAltitudes, WayOut } from '../../worker/flight/types.ts';
import { type WayOutRequest, waysOut } from '../../worker/flight/way-out.ts';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { ftFromM, mFromFt, mpsFromKt } from '../../worker/science/units.ts';
import {
  type CellAt,
  DRY,
  flatMinimum,
  LIGHT_ICE,
  layer,
  makeCurtain,
  makeTestRoute,
  ROUND_AIRCRAFT,
  UNKNOWN,
} from './make-curtain.ts';

const route = makeTestRoute();
/** 180 kt all along: 5 NM take 100 s. */
const secondsOverPoints = route.distanceM.map((distanceM) => distanceM / mpsFromKt(180));

function ways(
  cellAt: CellAt,
  change: Partial<WayOutRequest> & { altitudeFt?: number; minimumFt?: number } = {},
): WayOut[] {
  return waysOut({
    route,
    aircraft: ROUND_AIRCRAFT,
    icing: makeCurtain(route.pointCount, cellAt).icing,
    minimum: flatMinimum(route.pointCount, change.minimumFt ?? 3000),
    indicatedMinusPressureM: 0,
    pressureAltitudeM: mFromFt(change.altitudeFt ?? 9000),
    secondsOverPoints,
    ...change,
  });
}

const words = ({ way, toAltitudeM }: WayOut) =>
  toAltitudeM === undefined ? way : `${way} ${Math.round(ftFromM(toAltitudeM))}`;
const wordsAt20 = (...args: Parameters<typeof ways>) => words(ways(...args)[20]!);
/** The low ice of the tests of "up" leaves no way down. */
const lowDeck = layer(0, 10000, LIGHT_ICE);

describe('waysOut where none is needed', () => {
  test('has one entry a point with its distance', () => {
    const found = ways(DRY);
    expect(found.map((each) => each.way)).toEqual(found.map(() => 'not-needed'));
    expect(found.map((each) => each.distanceM)).toEqual(Array.from(route.distanceM));
  });

  test('ice more than 1,000 ft above or below asks for none', () => {
    expect(wordsAt20(layer(10000, 12000, LIGHT_ICE))).toBe('not-needed');
    expect(wordsAt20(layer(5000, 8000, LIGHT_ICE))).toBe('not-needed');
  });

  test('ice of less than one in twenty asks for none; from there on it does, as in deep cloud with a cold top', () => {
    expect(wordsAt20(layer(0, 30000, { ...LIGHT_ICE, icingProbability: 0.04 }))).toBe('not-needed');
    expect(wordsAt20(layer(0, 30000, { ...LIGHT_ICE, icingProbability: 0.08 }))).not.toBe('not-needed');
  });

  test('ice within five minutes ahead asks for one, further ahead not yet', () => {
    const found = ways(layer(0, 30000, LIGHT_ICE, [24, 40]));
    expect(found[20]!.way).toBe('not-needed');
    expect(found[21]!.way).not.toBe('not-needed');
  });
});

describe('waysOut up', () => {
  test('leads to the first 500 ft at least 1,500 ft over the top', () => {
    expect(wordsAt20(lowDeck)).toBe('up 11500');
  });

  test('is shut by a ceiling below that', () => {
    const aircraft = { ...ROUND_AIRCRAFT, ceilingM: mFromFt(11000) };
    expect(wordsAt20(lowDeck, { aircraft })).toBe('none');
  });

  test('needs air 1,000 ft above it too', () => {
    const twoDecks: CellAt = (_, middleFt) =>
      middleFt < 10000 || (middleFt > 12000 && middleFt < 15000) ? LIGHT_ICE : {};
    expect(wordsAt20(twoDecks)).toBe('up 16500');
  });

  test('into air without data is no way out', () => {
    const found = wordsAt20((_, middleFt) => (middleFt < 10000 ? LIGHT_ICE : UNKNOWN));
    expect(found).toBe('unknown');
  });

  test('through a gap in the data is no way out either', () => {
    const gap: CellAt = (_, middleFt) =>
      middleFt > 9500 && middleFt < 10000 ? UNKNOWN : lowDeck(20, middleFt);
    expect(wordsAt20(gap)).toBe('unknown');
  });

  test('into freezing rain is no way out', () => {
    const rainAbove: CellAt = (_, middleFt) =>
      middleFt < 10000 ? LIGHT_ICE : { largeDrops: LARGE_DROPS.freezingRain };
    expect(wordsAt20(rainAbove)).toBe('none');
  });

  test('altitudes are whole 500 ft on the altimeter whatever the setting', () => {
    const indicatedMinusPressureM = mFromFt(230);
    expect(wordsAt20(lowDeck, { indicatedMinusPressureM, pressureAltitudeM: mFromFt(8770) })).toBe(
      'up 12000',
    );
  });
});

describe('waysOut down', () => {
  const highDeck = layer(7000, 30000, LIGHT_ICE);

  test('leads to the first 500 ft at least 1,000 ft under the base', () => {
    expect(wordsAt20(highDeck)).toBe('down 6000');
  });

  test('never below the minimum altitude', () => {
    expect(wordsAt20(highDeck, { minimumFt: 6000 })).toBe('down 6000');
    expect(wordsAt20(highDeck, { minimumFt: 6100 })).toBe('none');
  });

  test('is not offered where the minimum altitude is unknown', () => {
    expect(wordsAt20(highDeck, { minimumFt: Number.NaN })).toBe('unknown');
  });

  test('only the minimum altitude of the point itself counts', () => {
    const minimum: MinimumAltitudes = flatMinimum(route.pointCount, 3000);
    minimum.altitudeM[19] = mFromFt(9000);
    expect(wordsAt20(highDeck, { minimum })).toBe('down 6000');
  });

  test('into air without data is no way out', () => {
    expect(wordsAt20((_, middleFt) => (middleFt < 7000 ? UNKNOWN : LIGHT_ICE))).toBe('unknown');
  });

  test('the ground is no air to go to', () => {
    const found = wordsAt20((_, middleFt) =>
      middleFt < 7000 ? { state: CELL_STATE.belowGround } : LIGHT_ICE,
    );
    expect(found).not.toContain('down');
  });
});

describe('waysOut back', () => {
  const wall = layer(0, 30000, LIGHT_ICE, [18, 40]);

  test('leads to air without ice passed less than 15 minutes ago', () => {
    const found = ways(wall);
    expect(found[18]!.way).toBe('back');
    expect(found[25]!.way).toBe('back');
    expect(found[30]!.way).toBe('none');
  });

  test('over a stretch without data is no way out', () => {
    const found = ways((point, middleFt) => (point === 18 ? UNKNOWN : wall(point, middleFt)));
    expect(found[22]!.way).toBe('unknown');
  });
});

describe('waysOut, several at once', () => {
  // Up 2,500 ft at 1,000 ft/min is 150 s; down 3,000 ft at 500 ft/min is 360 s; back one point is 160 s.
  test('the one that takes least time is named', () => {
    const between = layer(7000, 10000, LIGHT_ICE);
    expect(wordsAt20(between)).toBe('up 11500');
    expect(wordsAt20(between, { aircraft: { ...ROUND_AIRCRAFT, ceilingM: mFromFt(10000) } })).toBe(
      'down 6000',
    );
  });

  test('air without data about the altitude is unknown when no way out is known', () => {
    expect(wordsAt20(() => UNKNOWN)).toBe('unknown');
  });

  test('air without data about the altitude does not hide a way back', () => {
    expect(ways(layer(0, 30000, UNKNOWN, [20, 40]))[20]!.way).toBe('back');
  });
});

import { describe, expect, test } from 'vitest';
import type { MinimumAltitudes } from '../../worker/flight/types.ts';
import { CELL_STATE, LARGE_DROPS } from '../../worker/science/columns.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { at, choose, deckToTheGround } from './choose.ts';
import { levelWays, WAYS_ROUTE, wayWords } from './fly-ways.ts';
import { type CellAt, DRY, flatMinimum, LIGHT_ICE, layer, ROUND_AIRCRAFT, UNKNOWN } from './make-curtain.ts';

const route = WAYS_ROUTE;
const wordsAt20 = (...args: Parameters<typeof levelWays>) => wayWords(levelWays(...args), 20);
/** The low ice of the tests of "up" leaves no way down. */
const lowDeck = layer(0, 10000, LIGHT_ICE);

/** Climbs no higher, with ice or without. */
const upTo = (ceilingFt: number) => ({
  ...ROUND_AIRCRAFT,
  ceilingM: mFromFt(ceilingFt),
  icedCeilingM: mFromFt(ceilingFt),
});

describe('waysOut where none is needed', () => {
  test('has one entry a point, without altitude, time or ice', () => {
    const found = levelWays(DRY);
    const all = Array.from({ length: route.pointCount }, () => Number.NaN);
    expect(found.way).toEqual(all.map(() => 'not-needed'));
    for (const values of [found.toAltitudeM, found.timeS, found.builtM])
      expect(Array.from(values)).toEqual(all);
    expect([found.longestNoneS, found.longestNoneKnownS, found.failure]).toEqual([0, 0, undefined]);
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
    const found = levelWays(layer(0, 30000, LIGHT_ICE, [24, 40]));
    expect(found.way[20]).toBe('not-needed');
    expect(found.way[21]).not.toBe('not-needed');
  });
});

describe('waysOut up', () => {
  test('leads to the first 500 ft at least 1,500 ft over the top', () => {
    expect(wordsAt20(lowDeck)).toBe('up 11500');
  });

  test('is shut by a ceiling below that', () => {
    expect(wordsAt20(lowDeck, { aircraft: upTo(11000) })).toBe('none');
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
    expect(wordsAt20(lowDeck, { indicatedMinusPressureM, altitudeFt: 8770 })).toBe('up 12000');
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
    const found = levelWays(wall);
    expect(found.way[18]).toBe('back');
    expect(found.way[25]).toBe('back');
    expect(found.way[30]).toBe('none');
  });

  test('over a stretch without data is no way out', () => {
    const found = levelWays((point, middleFt) => (point === 18 ? UNKNOWN : wall(point, middleFt)));
    expect(found.way[22]).toBe('unknown');
  });
});

describe('waysOut, several at once', () => {
  // Nine draws of ten grow 0.3 mm/min. Up 2,500 ft takes 150 s, 60 s of them in the ice: 0.27 mm. Down 3,000 ft takes 360 s,
  // 240 s of them in it: 1.08 mm. At 120 s a millimeter they cost 182 and 490.
  test('the one that costs least is named', () => {
    const between = layer(7000, 10000, LIGHT_ICE);
    expect(wordsAt20(between)).toBe('up 11500');
    expect(wordsAt20(between, { aircraft: upTo(10000) })).toBe('down 6000');
  });

  test('air without data about the altitude is unknown when no way out is known', () => {
    expect(wordsAt20(() => UNKNOWN)).toBe('unknown');
  });

  test('air without data about the altitude does not hide a way back', () => {
    expect(levelWays(layer(0, 30000, UNKNOWN, [20, 40])).way[20]).toBe('back');
  });
});

describe('to stay level', () => {
  const choice = choose(deckToTheGround);
  const flown = at(choice, 11000);
  const words = flown.waysOut!.way;
  const descentFrom = flown.flownM!.findLastIndex((m) => m > mFromFt(10_900));

  test('is the way out over the deck, where the ice that comes is that of the planned descent', () => {
    expect(words[descentFrom]).toBe('stay');
    expect(flown.waysOut!.builtM[descentFrom]).toBe(0);
  });

  test('is none in the deck, nor while still climbing through it', () => {
    expect(words.slice(0, 2)).not.toContain('stay');
    expect(words.at(-1)).not.toBe('stay');
  });

  test('is none where the ice ahead lies at that level, however unlikely it is that it is there', () => {
    const unlikely = { ...LIGHT_ICE, icingProbability: 0.08 };
    expect(levelWays(layer(0, 30000, unlikely, [21, 40])).way).not.toContain('stay');
    for (const from of [21, 24, 30])
      expect(levelWays(layer(0, 30000, LIGHT_ICE, [from, 40])).way).not.toContain('stay');
  });

  test('is none under the minimum altitude, nor where that is unknown', () => {
    for (const minimumFt of [12_000, Number.NaN]) {
      const minimum = flatMinimum(flown.waysOut!.way.length, minimumFt);
      const low = choose(deckToTheGround, { minimum });
      const stays = low.candidates.flatMap(({ waysOut }) => waysOut?.way ?? []).includes('stay');
      expect(stays && Number.isNaN(minimumFt)).toBe(false);
      for (const { indicatedAltitudeM, waysOut } of low.candidates)
        if (indicatedAltitudeM < mFromFt(11_900)) expect(waysOut?.way ?? []).not.toContain('stay');
    }
  });
});

import { describe, expect, test } from 'vitest';
import { minimumAltitudes } from '../../worker/flight/minimum-altitude.ts';
import type { StretchGround } from '../../worker/flight/terrain-stretch.ts';
import { MINIMUM_SOURCES } from '../../worker/flight/types.ts';
import { ftFromM, mFromFt, mFromNm } from '../../worker/science/units.ts';
import { makeTestRoute } from './make-curtain.ts';

const route = makeTestRoute(100);
const segment = (fromNm: number, toNm: number, altitudeFt: number) => ({
  fromM: mFromNm(fromNm),
  toM: mFromNm(toNm),
  altitudeM: mFromFt(altitudeFt),
});
const spotAt = (distanceNm: number, heightFt: number) => ({
  latDeg: 40 + (mFromNm(distanceNm) / 6_371_008.8) * (180 / Math.PI),
  lonDeg: -70,
  heightM: mFromFt(heightFt),
});
const minima = (change: Partial<Parameters<typeof minimumAltitudes>[0]>) =>
  minimumAltitudes({ route, entered: [], spotHeights: [], corridorHalfWidthM: mFromNm(4), ...change });
const altitudesFt = (found: ReturnType<typeof minima>) =>
  Array.from(found.altitudeM, (altitudeM) =>
    Number.isNaN(altitudeM) ? null : Math.round(ftFromM(altitudeM)),
  );
const sources = (found: ReturnType<typeof minima>) =>
  Array.from(found.source, (code) => MINIMUM_SOURCES[code]);

describe('minimumAltitudes', () => {
  test('without anything known is unknown everywhere', () => {
    const found = minima({});
    expect(found.legSource).toBe('unknown');
    expect(altitudesFt(found).every((altitudeFt) => altitudeFt === null)).toBe(true);
    expect(Array.from(found.terrainM).every(Number.isNaN)).toBe(true);
  });

  test('an entered minimum exactly 1,000 ft above a spot holds, whatever the spot: feet leave dust in meters', () => {
    for (let spotFt = 100; spotFt <= 6000; spotFt += 100) {
      const found = minima({ entered: [segment(0, 100, spotFt + 1000)], spotHeights: [spotAt(50, spotFt)] });
      expect(found.legSource, `spot of ${spotFt} ft`).toBe('entered');
    }
  });

  test('an entered minimum for the whole leg holds everywhere, its end written in round miles', () => {
    const found = minima({ entered: [segment(0, 99.7, 6000)] });
    expect(found.legSource).toBe('entered');
    expect(new Set(altitudesFt(found))).toEqual(new Set([6000]));
  });

  test('where two entered minima meet the higher one holds', () => {
    const found = minima({ entered: [segment(0, 50, 4000), segment(50, 100, 7000)] });
    expect(altitudesFt(found).slice(9, 12)).toEqual([4000, 7000, 7000]);
    expect(found.legSource).toBe('entered');
  });

  test('the higher minimum holds over the stretch of a point it only touches', () => {
    const found = minima({ entered: [segment(0, 53, 4000), segment(52, 100, 7000)] });
    expect(altitudesFt(found)[10]).toBe(7000);
  });

  test('an entered minimum shorter than the spacing is not lost between two points', () => {
    const found = minima({ entered: [segment(0, 100, 4000), segment(51.5, 53, 9000)] });
    expect(Math.max(...altitudesFt(found).map((altitudeFt) => altitudeFt!))).toBe(9000);
    const alone = minima({ entered: [segment(51.5, 53, 9000)] });
    expect(altitudesFt(alone).filter((altitudeFt) => altitudeFt === 9000)).toHaveLength(1);
  });

  test('outside what was entered it stays unknown, and the leg is partly unknown', () => {
    const found = minima({ entered: [segment(0, 50, 4000)] });
    expect(found.legSource).toBe('partly-unknown');
    expect(altitudesFt(found).at(-1)).toBeNull();
    expect(sources(found)[15]).toBe('unknown');
  });

  test('a minimum beyond the end of the route covers nothing', () => {
    expect(minima({ entered: [segment(150, 200, 4000)] }).legSource).toBe('unknown');
  });

  test('a spot speaks for the stretches within the corridor and for no other ground', () => {
    const found = minima({ spotHeights: [spotAt(50, 3000)] });
    expect(found.legSource).toBe('partly-unknown');
    expect(altitudesFt(found).slice(8, 13)).toEqual([null, 5000, 5000, 5000, null]);
    expect(Math.round(ftFromM(found.terrainM[10]!))).toBe(3000);
  });

  test('of several spots the highest counts', () => {
    const found = minima({ spotHeights: [spotAt(50, 3000), spotAt(51, 4500), spotAt(49, 100)] });
    expect(altitudesFt(found)[10]).toBe(6500);
  });

  test('spots along the whole leg make it known from spot heights', () => {
    const found = minima({ spotHeights: Array.from({ length: 21 }, (_, index) => spotAt(index * 5, 1000)) });
    expect(found.legSource).toBe('spot-heights');
  });

  test('entered and spots together cover what neither does alone', () => {
    const spotHeights = Array.from({ length: 11 }, (_, index) => spotAt(50 + index * 5, 1000));
    const found = minima({ entered: [segment(0, 50, 4000)], spotHeights });
    expect(found.legSource).toBe('spot-heights');
    expect(sources(found)[0]).toBe('entered');
  });

  test('a spot without a height says nothing', () => {
    expect(minima({ spotHeights: [{ latDeg: 40.5, lonDeg: -70, heightM: Number.NaN }] }).legSource).toBe(
      'unknown',
    );
  });

  test('works across the antimeridian', () => {
    const pacific = {
      ...route,
      lonDeg: route.lonDeg.map((_, point) => (point % 2 === 0 ? 179.99 : -179.99)),
    };
    const found = minima({
      route: pacific,
      spotHeights: [{ latDeg: 40.83, lonDeg: -180, heightM: mFromFt(3000) }],
    });
    expect(altitudesFt(found)[10]).toBe(5000);
  });

  test('an entered minimum into known ground does not hold: spot heights do, and the slip is told', () => {
    const spotHeights = [spotAt(50, 4393)];
    const found = minima({ entered: [segment(0, 100, -1000)], spotHeights });
    const point = found.terrainM.findIndex((heightM) => Number.isFinite(heightM));
    expect(ftFromM(found.altitudeM[point]!)).toBeCloseTo(6393, 6);
    expect(ftFromM(found.overruledM[point]!)).toBeCloseTo(-1000, 6);
    expect(found.overruledM.filter((altitudeM) => Number.isFinite(altitudeM)).length).toBeLessThan(5);
    const enough = minima({ entered: [segment(0, 100, 5393)], spotHeights });
    expect(ftFromM(enough.altitudeM[point]!)).toBeCloseTo(5393, 6);
    expect(enough.overruledM[point]).toBeNaN();
  });

  test('refuses an entered minimum that ends before it starts', () => {
    expect(() => minima({ entered: [segment(0, 10, 3000), segment(50, 40, 4000)] })).toThrowError(
      expect.objectContaining({ kind: 'invalid-request', field: 'options.minimumAltitudes[1].toNm' }),
    );
  });
});

/** What tiles know of a stretch, ft; known throughout and without mountains unless said otherwise. */
const tileFt = (heightFt: number, change: Partial<StretchGround> = {}): StretchGround => ({
  highestM: mFromFt(heightFt),
  atLeastM: mFromFt(heightFt),
  allowanceM: mFromFt(400),
  isMountainous: false,
  ...change,
});
const everywhere = <Value>(value: Value): Value[] => Array.from({ length: route.pointCount }, () => value);
const orographyFt = (heightFt: number) => new Float64Array(route.pointCount).fill(mFromFt(heightFt));
const first = (found: ReturnType<typeof minima>) => ({
  altitudeFt: altitudesFt(found)[10],
  source: sources(found)[10],
  terrainFt: Math.round(ftFromM(found.terrainM[10]!)),
  allowanceFt: Math.round(ftFromM(found.allowanceM[10]!)),
});

describe('minimumAltitudes over elevation tiles', () => {
  test('stand 1,000 ft over the ground and its allowance', () => {
    const found = minima({ tileGround: everywhere(tileFt(1500)) });
    expect(first(found)).toEqual({
      ...{ altitudeFt: 2900, source: 'terrain-tiles', terrainFt: 1500, allowanceFt: 400 },
    });
    expect(found.legSource).toBe('terrain-tiles');
  });

  test('are rounded up to whole hundreds of feet, and those of spot heights alone are not', () => {
    const over = (heightFt: number) => altitudesFt(minima({ tileGround: everywhere(tileFt(heightFt)) }))[10];
    expect([1500, 1501, 1599.9, 1600].map(over)).toEqual([2900, 3000, 3000, 3000]);
    expect(first(minima({ orographyM: orographyFt(701) })).altitudeFt).toBe(5800);
    expect(first(minima({ spotHeights: [spotAt(50, 3001)] })).altitudeFt).toBe(5001);
  });

  test.each([true, undefined])(
    'stand 2,000 ft over it in mountains, and where they cannot be ruled out (%s)',
    (isMountainous) => {
      const found = minima({ tileGround: everywhere(tileFt(1500, { isMountainous })) });
      expect(first(found).altitudeFt).toBe(3900);
    },
  );

  test('the higher of tiles and spot heights rules, with the clearance of the tiles', () => {
    const spots = (heightFt: number) => ({ spotHeights: [spotAt(50, heightFt)] });
    const over = (spotFt: number, groundFt: number) =>
      first(minima({ ...spots(spotFt), tileGround: everywhere(tileFt(groundFt)) }));
    expect(over(3000, 1500)).toMatchObject({ altitudeFt: 4000, terrainFt: 3000, allowanceFt: 0 });
    expect(over(3000, 2800)).toMatchObject({ altitudeFt: 4200, terrainFt: 3000, allowanceFt: 200 });
    expect(over(1000, 2800)).toMatchObject({ altitudeFt: 4200, terrainFt: 2800, allowanceFt: 400 });
  });

  test('leave a stretch that they do not know whole to the next source, and never below what they do know', () => {
    const part = tileFt(Number.NaN, { atLeastM: mFromFt(4000), isMountainous: undefined });
    const tileGround = everywhere(part);
    const alone = minima({ tileGround });
    expect(alone.legSource).toBe('unknown');
    expect(first(alone)).toMatchObject({ altitudeFt: null, terrainFt: Number.NaN });
    const withSpot = first(minima({ tileGround, spotHeights: [spotAt(50, 3000)] }));
    expect(withSpot).toMatchObject({ altitudeFt: 6400, source: 'spot-heights', terrainFt: 4000 });
    const withModel = first(minima({ tileGround, orographyM: orographyFt(500) }));
    expect(withModel).toMatchObject({ altitudeFt: 6400, source: 'model-orography', terrainFt: 4000 });
  });

  test('that know one stretch and not the next leave the leg partly unknown', () => {
    const unknown = tileFt(Number.NaN, { atLeastM: Number.NaN });
    const tileGround = everywhere(tileFt(1500)).map((ground, point) => (point === 7 ? unknown : ground));
    const found = minima({ tileGround });
    expect(found.legSource).toBe('partly-unknown');
    expect(altitudesFt(found)[7]).toBeNull();
  });

  test('rule out an entered minimum within 1,000 ft of ground they know, also of a part of the stretch', () => {
    const entered = [segment(0, 100, 4900)];
    const whole = minima({ entered, tileGround: everywhere(tileFt(4000)) });
    expect(first(whole)).toMatchObject({ altitudeFt: 5400, source: 'terrain-tiles' });
    const part = tileFt(Number.NaN, { atLeastM: mFromFt(4000) });
    const partly = minima({ entered, tileGround: everywhere(part) });
    expect(first(partly)).toMatchObject({ altitudeFt: null, source: 'unknown' });
    expect(ftFromM(partly.overrulingGroundM[10]!)).toBeCloseTo(4000, 6);
    expect(ftFromM(partly.overruledM[10]!)).toBeCloseTo(4900, 6);
  });

  test('do not raise an entered minimum that clears them by 1,000 ft: allowances are not ground', () => {
    const found = minima({ entered: [segment(0, 100, 5000)], tileGround: everywhere(tileFt(4000)) });
    expect(first(found)).toMatchObject({
      altitudeFt: 5000,
      source: 'entered',
      terrainFt: 4000,
      allowanceFt: 0,
    });
    expect(MINIMUM_SOURCES[found.terrainSource[10]!]).toBe('terrain-tiles');
  });
});

describe('minimumAltitudes over a model’s ground', () => {
  test('come last, 3,000 ft for what it smooths and 2,000 ft over it', () => {
    const found = minima({ orographyM: orographyFt(700) });
    expect(first(found)).toEqual({
      ...{ altitudeFt: 5700, source: 'model-orography', terrainFt: 700, allowanceFt: 3000 },
    });
    expect(found.legSource).toBe('model-orography');
  });

  // 3,500 ft, 3,000 for what the model smooths and 2,000 over it: a spot beside it never asks for less than the model alone.
  test('count with all their allowance beside a lower spot, and nothing beside tiles', () => {
    const orographyM = orographyFt(3500);
    const withSpot = minima({ orographyM, spotHeights: [spotAt(50, 3000)] });
    expect(first(withSpot)).toMatchObject({ altitudeFt: 8500, source: 'spot-heights' });
    expect(sources(withSpot)[0]).toBe('model-orography');
    expect(withSpot.legSource).toBe('model-orography');
    const withTiles = minima({ orographyM, tileGround: everywhere(tileFt(1500)) });
    expect(first(withTiles)).toMatchObject({ altitudeFt: 2900, source: 'terrain-tiles' });
  });

  test('stay unknown where the model has none', () => {
    const orographyM = orographyFt(700);
    orographyM[3] = Number.NaN;
    expect(altitudesFt(minima({ orographyM }))[3]).toBeNull();
  });

  test('rule out an entered minimum within 1,000 ft of it', () => {
    const found = minima({ entered: [segment(0, 100, 1600)], orographyM: orographyFt(700) });
    expect(first(found)).toMatchObject({ altitudeFt: 5700, source: 'model-orography' });
  });
});

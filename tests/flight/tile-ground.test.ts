import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { minimumAltitudes } from '../../worker/flight/minimum-altitude.ts';
import { terrainStretches } from '../../worker/flight/terrain-stretch.ts';
import { tileAllowanceM, tileGround } from '../../worker/flight/tile-ground.ts';
import { destination } from '../../worker/science/great-circle.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { worldXFromLonDeg, worldYFromLatDeg } from '../../worker/science/web-mercator.ts';
import { blockGrid, TEST_SIDE, TEST_ZOOM } from '../support/block-grids.ts';
import { testPublished } from '../support/published-values.ts';
import { makeTestRoute } from './make-curtain.ts';

const PLACE = { latDeg: 45, lonDeg: -72 };
const STRETCH = { line: [PLACE, PLACE, PLACE] };
const columnOf = (lonDeg: number) => Math.floor(TEST_SIDE * worldXFromLonDeg(lonDeg));
const rowOf = (latDeg: number) => Math.floor(TEST_SIDE * worldYFromLatDeg(latDeg));
const HERE = { column: columnOf(PLACE.lonDeg), row: rowOf(PLACE.latDeg) };
const HALF_WIDTH_M = mFromNm(4);

/** The block at a distance and bearing from the place. */
function blockAt(distanceM: number, bearingDeg: number) {
  const { latDeg, lonDeg } = destination(PLACE, (bearingDeg * Math.PI) / 180, distanceM);
  return { column: columnOf(lonDeg), row: rowOf(latDeg) };
}

/** Flat ground with one block of another height. */
function flatBut(flatM: number, at: { column: number; row: number }, otherM: number) {
  return blockGrid((column, row) => (column === at.column && row === at.row ? otherM : flatM));
}
const groundOf = (grid: ReturnType<typeof blockGrid>, halfWidthM = HALF_WIDTH_M) =>
  tileGround(grid, [STRETCH], halfWidthM)[0]!;

describe('tileGround', () => {
  test('is the highest block within the half-width, whichever side it lies on', () => {
    for (let bearingDeg = 0; bearingDeg < 360; bearingDeg += 30) {
      const grid = flatBut(100, blockAt(0.98 * HALF_WIDTH_M, bearingDeg), 400);
      expect(groundOf(grid).highestM, `bearing ${bearingDeg}`).toBe(400);
    }
  });

  test('does not count a block well beyond the half-width', () => {
    expect(groundOf(flatBut(100, blockAt(HALF_WIDTH_M + 6000, 70), 400)).highestM).toBe(100);
  });

  test('is unknown when one block under the corridor is, and says what is known', () => {
    const ground = groundOf(
      blockGrid((column, row) => (column === HERE.column + 1 && row === HERE.row ? Number.NaN : 300)),
    );
    expect(ground).toMatchObject({ highestM: Number.NaN, atLeastM: 300 });
    const none = groundOf(blockGrid(() => Number.NaN));
    expect(none).toMatchObject({ highestM: Number.NaN, atLeastM: Number.NaN, isMountainous: undefined });
  });

  test('is the surface over the sea, whose floor the tiles hold', () => {
    expect(groundOf(blockGrid(() => -3000))).toMatchObject({ highestM: 0, isMountainous: false });
  });

  test('is unknown near a pole', () => {
    const place = { latDeg: 80, lonDeg: 0 };
    const [ground] = tileGround(
      blockGrid(() => 100),
      [{ line: [place, place] }],
      HALF_WIDTH_M,
    );
    expect(ground).toMatchObject({ highestM: Number.NaN, atLeastM: Number.NaN, isMountainous: undefined });
  });

  test('is as high on both sides of the antimeridian', () => {
    const line = [
      { latDeg: 52, lonDeg: 179.99 },
      { latDeg: 52, lonDeg: -179.99 },
    ];
    for (const column of [0, TEST_SIDE - 1]) {
      const grid = blockGrid((each, row) => (each === column && row === rowOf(52) ? 500 : 10));
      expect(tileGround(grid, [{ line }], HALF_WIDTH_M)[0]!.highestM).toBe(500);
    }
  });

  test('allows more for summits the coarser the pixels', () => {
    expect(tileAllowanceM(9, 45)).toBeCloseTo(16 + 216.0 / 2, 0);
    expect(tileAllowanceM(8, 45)).toBeGreaterThan(1.8 * tileAllowanceM(9, 45));
    expect(groundOf(blockGrid(() => 0)).allowanceM).toBe(tileAllowanceM(TEST_ZOOM, 45));
  });
});

/** Height and distance of a hill over flat ground, m; whether the ground changes by more than 900 m within 18.5 km. */
const HILLS = [
  [901, 5000, true],
  [901, 16_000, true],
  [2500, 18_000, true],
  [2500, 40_000, false],
  [700, 5000, false],
  [300, 0, false],
] as const;

testPublished(
  'ground that changes by more than 900 m within 18.5 km is mountainous',
  {
    source: 'Regulation (EU) 2016/1185, and ICAO Doc 8168: mountainous area',
    tag: 'L',
    values: HILLS.length,
  },
  (published) => {
    for (const [heightM, distanceM, isMountainous] of HILLS) {
      const grid = flatBut(0, blockAt(distanceM, 45), heightM);
      const found = groundOf(grid, 185).isMountainous;
      published.same(found, isMountainous, `${heightM} m high, ${distanceM} m away`);
    }
  },
);

describe('mountains', () => {
  test('a deep valley beside high ground counts as a hill over low ground does', () => {
    const at = blockAt(HALF_WIDTH_M + 9000, 200);
    const valley = blockGrid(
      () => 1500,
      (column, row) => (column === at.column && row === at.row ? 400 : 1500),
    );
    expect(groundOf(valley).isMountainous).toBe(true);
  });

  test('the summit allowance counts: a change that only just stays below with it is none', () => {
    const allowanceM = tileAllowanceM(TEST_ZOOM, 45);
    expect(groundOf(flatBut(0, HERE, Math.floor(895 - allowanceM))).isMountainous).toBe(false);
    expect(groundOf(flatBut(0, HERE, Math.ceil(905 - allowanceM))).isMountainous).toBe(true);
  });

  test('cannot be ruled out where a block within their reach is unknown', () => {
    const grid = flatBut(100, blockAt(HALF_WIDTH_M + 14_000, 90), Number.NaN);
    expect(groundOf(grid)).toMatchObject({ highestM: 100, isMountainous: undefined });
  });

  test('are told although another block is unknown', () => {
    const [far, near] = [blockAt(HALF_WIDTH_M + 14_000, 90), blockAt(3000, 0)];
    const grid = blockGrid((column, row) => {
      if (column === far.column && row === far.row) return Number.NaN;
      return column === near.column && row === near.row ? 1500 : 100;
    });
    expect(groundOf(grid).isMountainous).toBe(true);
  });

  test('high flat ground is none', () => {
    expect(groundOf(blockGrid(() => 3000)).isMountainous).toBe(false);
  });
});

describe('a wider corridor', () => {
  test('never has lower ground, a lower minimum or fewer mountains', () => {
    const route = makeTestRoute(60);
    const stretches = terrainStretches(route);
    let compared = 0;
    let higher = 0;
    fc.assert(
      fc.property(
        fc.record({
          seed: fc.integer({ min: 1, max: 1e6 }),
          narrowNm: fc.integer({ min: 1, max: 120 }).map((tenths) => tenths / 10),
          widerNm: fc.integer({ min: 0, max: 120 }).map((tenths) => tenths / 10),
          unknownShare: fc.constantFrom(0, 0, 0.002, 0.02),
          reliefM: fc.constantFrom(300, 800, 3000),
        }),
        ({ seed, narrowNm, widerNm, unknownShare, reliefM }) => {
          const grid = blockGrid((column, row) => {
            const random = hashRatio(seed, column, row);
            return random < unknownShare
              ? Number.NaN
              : Math.round(reliefM * hashRatio(seed + 1, column, row));
          });
          const of = (halfWidthM: number) => {
            const tiles = tileGround(grid, stretches, halfWidthM);
            const minimum = minimumAltitudes({
              ...{ route, entered: [], spotHeights: [], corridorHalfWidthM: halfWidthM },
              tileGround: tiles,
            });
            return { tiles, minimum };
          };
          const narrow = of(mFromNm(narrowNm));
          const wide = of(mFromNm(narrowNm + widerNm));
          narrow.tiles.forEach((ground, point) => {
            const wider = wide.tiles[point]!;
            expect(wider.highestM < ground.highestM, `highest at ${point}`).toBe(false);
            expect(wider.atLeastM < ground.atLeastM, `at least at ${point}`).toBe(false);
            expect(Number.isNaN(ground.highestM) && !Number.isNaN(wider.highestM)).toBe(false);
            if (ground.isMountainous === true) expect(wider.isMountainous).toBe(true);
            if (ground.isMountainous === undefined) expect(wider.isMountainous).not.toBe(false);
            const [low, high] = [narrow, wide].map(({ minimum }) => minimum.altitudeM[point]!);
            expect(high! < low!, `minimum at ${point}`).toBe(false);
            compared += 1;
            higher += Number(wider.highestM > ground.highestM);
          });
        },
      ),
      { numRuns: 40, seed: 11 },
    );
    expect(compared).toBe(40 * route.pointCount);
    expect(higher).toBeGreaterThan(100);
  });
});

/** From 0 to 1, the same for the same block. */
function hashRatio(seed: number, column: number, row: number): number {
  let hash = Math.imul(seed, 2_654_435_761) ^ Math.imul(column, 40_503) ^ Math.imul(row, 2_246_822_519);
  hash = Math.imul(hash ^ (hash >>> 15), 2_246_822_507);
  hash = Math.imul(hash ^ (hash >>> 13), 3_266_489_909);
  return ((hash ^ (hash >>> 16)) >>> 0) / 2 ** 32;
}

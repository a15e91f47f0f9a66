import { describe, expect, test } from 'vitest';
import { makeRoutePoints } from '../../worker/flight/route.ts';
import { terrainStretches } from '../../worker/flight/terrain-stretch.ts';
import { tileGround } from '../../worker/flight/tile-ground.ts';
import { MOST_TILES, planTiles } from '../../worker/flight/tile-plan.ts';
import { destination } from '../../worker/science/great-circle.ts';
import { mFromNm } from '../../worker/science/units.ts';

const BLOCKS = 16;

interface Leg {
  readonly latDeg: number;
  readonly lonDeg?: number;
  readonly courseDeg: number;
  readonly lengthNm: number;
}

function stretchesOf(leg: Leg) {
  const from = { latDeg: leg.latDeg, lonDeg: leg.lonDeg ?? -72 };
  const to = destination(from, (leg.courseDeg * Math.PI) / 180, mFromNm(leg.lengthNm));
  const fix = (name: string, place: typeof from) => ({ name, ...place, elevationM: Number.NaN });
  const route = makeRoutePoints([fix('A', from), fix('B', to)]);
  return terrainStretches(route);
}
const planOf = (leg: Leg, halfWidthNm = 10) => planTiles(stretchesOf(leg), mFromNm(halfWidthNm), BLOCKS);

describe('planTiles', () => {
  test.each([0, 20, 30, 45, 55, 62, 68])(
    'takes about 40 tiles for 300 NM from %i degrees, on any course',
    (latDeg) => {
      for (let courseDeg = 0; courseDeg < 360; courseDeg += 15) {
        const { zoom, tiles } = planOf({ latDeg, courseDeg, lengthNm: 300 });
        expect(tiles.length, `course ${courseDeg}`).toBeLessThanOrEqual(52);
        expect(zoom).toBeGreaterThanOrEqual(8);
      }
    },
  );

  test('takes the finest zoom for 300 NM in middle latitudes, a coarser one for a leg across a continent', () => {
    expect(planOf({ latDeg: 44, courseDeg: 90, lengthNm: 300 }).zoom).toBe(9);
    expect(planOf({ latDeg: 44, courseDeg: 90, lengthNm: 1400 }).zoom).toBeLessThan(9);
  });

  test('keeps the zoom whatever the width, and has every tile of the narrower corridor in the wider', () => {
    const leg = { latDeg: 44, courseDeg: 60, lengthNm: 200 };
    const narrow = planOf(leg, 4);
    const wide = planOf(leg, 20);
    expect(wide.zoom).toBe(narrow.zoom);
    const has = new Set(wide.tiles.map(({ x, y }) => `${x} ${y}`));
    expect(narrow.tiles.filter(({ x, y }) => !has.has(`${x} ${y}`))).toEqual([]);
    expect(wide.tiles.length).toBeGreaterThan(narrow.tiles.length);
  });

  test.each([
    [0, 90, 10],
    [44, 45, 10],
    [44, 200, 30],
    [52, 120, 4],
    [66, 300, 10],
    [-71, 10, 10],
  ])(
    'has every tile that is looked at, from %i degrees on course %i, %i NM wide',
    (latDeg, courseDeg, wideNm) => {
      const leg = { latDeg, lonDeg: 179, courseDeg, lengthNm: 150 };
      const { zoom, tiles } = planOf(leg, wideNm);
      const planned = new Set(tiles.map(({ x, y }) => `${x} ${y}`));
      const lookedAt = new Set<string>();
      const heightM = (column: number, row: number) => {
        lookedAt.add(`${Math.floor(column / BLOCKS)} ${Math.floor(row / BLOCKS)}`);
        return 100;
      };
      const grid = { zoom, blocksPerSide: BLOCKS * 2 ** zoom, highestM: heightM, lowestM: heightM };
      tileGround(grid, stretchesOf(leg), mFromNm(wideNm));
      expect([...lookedAt].filter((tile) => !planned.has(tile))).toEqual([]);
      expect(lookedAt.size).toBeGreaterThan(tiles.length / 2);
    },
  );

  test('never asks for more than its cap', () => {
    expect(planOf({ latDeg: 44, courseDeg: 45, lengthNm: 300 }, 100).tiles).toHaveLength(MOST_TILES);
  });

  test('stays within the world across the antimeridian', () => {
    const { zoom, tiles } = planOf({ latDeg: 55, lonDeg: 179, courseDeg: 90, lengthNm: 100 });
    const columns = tiles.map(({ x }) => x);
    expect(Math.min(...columns)).toBe(0);
    expect(Math.max(...columns)).toBe(2 ** zoom - 1);
  });

  test('asks for nothing near a pole', () => {
    expect(planOf({ latDeg: 80, courseDeg: 90, lengthNm: 50 }).tiles).toEqual([]);
  });
});

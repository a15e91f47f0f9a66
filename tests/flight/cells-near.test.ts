import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cellsNear } from '../../worker/flight/cells-near.ts';
import { destination, interpolate } from '../../worker/science/great-circle.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { worldXFromLonDeg, worldYFromLatDeg } from '../../worker/science/web-mercator.ts';

const SIDE = 16 * 2 ** 9;

function cellOf(latDeg: number, lonDeg: number, side: number): number {
  return Math.floor(side * worldXFromLonDeg(lonDeg)) + side * Math.floor(side * worldYFromLatDeg(latDeg));
}

/** Evenly spread: fc.double takes as many numbers below a millionth as above it. */
const evenly = (min: number, max: number) =>
  fc.integer({ min: 0, max: 999_999 }).map((step) => min + ((max - min) * step) / 1_000_000);
const ratio = evenly(0, 1);
/** Anywhere, and often close to the antimeridian. */
const someLonDeg = fc.oneof(evenly(-180, 180), evenly(179.8, 180), evenly(-180, -179.8));
const someCorridor = fc.record({
  latDeg: evenly(-74, 74),
  lonDeg: someLonDeg,
  courseRad: evenly(0, 2 * Math.PI),
  lengthM: evenly(0, 40_000),
  places: fc.array(fc.tuple(ratio, ratio, ratio), { minLength: 20, maxLength: 20 }),
});

describe('cellsNear', () => {
  test.each([
    ['blocks of tiles under usual corridors', SIDE, 185, 92_600],
    ['cells much smaller than the corridor', 2 ** 16, 185, 3000],
    ['whole tiles', 2 ** 9, 185, 92_600],
  ])(
    'misses no cell with a place within the half-width, up to 74 degrees: %s',
    (...[, side, leastM, mostM]) => {
      let compared = 0;
      fc.assert(
        fc.property(someCorridor, ratio, ({ courseRad, lengthM, places, ...from }, width) => {
          const halfWidthM = leastM + width * (mostM - leastM);
          const to = destination(from, courseRad, lengthM);
          const cells = cellsNear({ line: [from, to] }, halfWidthM, side);
          if (cells === undefined) throw new Error('told as too near a pole');
          for (const [along, turn, off] of places) {
            const middle = interpolate(from, to, along);
            const place = destination(middle, 2 * Math.PI * turn, off * halfWidthM);
            expect(cells.has(cellOf(place.latDeg, place.lonDeg, side)), JSON.stringify(place)).toBe(true);
            compared += 1;
          }
        }),
        { numRuns: 150, seed: 7 },
      );
      expect(compared).toBe(3000);
    },
  );

  test('takes few cells that lie farther away than their own size', () => {
    const from = { latDeg: 45, lonDeg: -72 };
    const cells = cellsNear({ line: [from, destination(from, 1, 9000)] }, 18_520, SIDE)!;
    const cellM = (40_030_000 * Math.cos(Math.PI / 4)) / SIDE;
    const areaM2 = Math.PI * 18_520 ** 2 + 2 * 18_520 * 9000;
    expect(cells.size * cellM * cellM).toBeGreaterThan(areaM2);
    expect(cells.size * cellM * cellM).toBeLessThan(1.6 * areaM2);
  });

  test('goes on across the antimeridian, from both sides alike', () => {
    const columnsOf = (lonDeg: number) => {
      const place = { latDeg: 52, lonDeg };
      return [...cellsNear({ line: [place, place] }, mFromNm(4), SIDE)!].map((cell) => cell % SIDE);
    };
    const columns = columnsOf(-180);
    expect(columns).toContain(0);
    expect(columns).toContain(SIDE - 1);
    expect(new Set(columnsOf(180))).toEqual(new Set(columns));
  });

  test('a line across the antimeridian is short', () => {
    const line = [
      { latDeg: 60, lonDeg: 179.95 },
      { latDeg: 60, lonDeg: -179.95 },
    ];
    expect(cellsNear({ line }, mFromNm(4), SIDE)!.size).toBeLessThan(100);
    expect(cellsNear({ line }, mFromNm(4), SIDE)!.size).toBeGreaterThan(50);
  });

  test('tells nothing near a pole', () => {
    const place = { latDeg: 76, lonDeg: 0 };
    expect(cellsNear({ line: [place, place] }, 1000, SIDE)).toBeUndefined();
  });
});

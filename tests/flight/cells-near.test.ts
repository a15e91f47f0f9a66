import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { cellsNear } from '../../worker/flight/cells-near.ts';
import { destination, interpolate } from '../../worker/science/great-circle.ts';
import { mFromNm } from '../../worker/science/units.ts';
import { worldXFromLonDeg, worldYFromLatDeg } from '../../worker/science/web-mercator.ts';

const SIDE = 16 * 2 ** 9;

function cellOf(latDeg: number, lonDeg: number): number {
  const column = Math.floor(SIDE * worldXFromLonDeg(lonDeg));
  return column + SIDE * Math.floor(SIDE * worldYFromLatDeg(latDeg));
}

describe('cellsNear', () => {
  test('misses no cell that has a place within the half-width, anywhere up to 74 degrees', () => {
    let compared = 0;
    fc.assert(
      fc.property(
        fc.record({
          latDeg: fc.double({ min: -74, max: 74, noNaN: true }),
          lonDeg: fc.double({ min: -180, max: 179.999, noNaN: true }),
          courseRad: fc.double({ min: 0, max: 6.28, noNaN: true }),
          lengthM: fc.double({ min: 0, max: 40_000, noNaN: true }),
          halfWidthM: fc.double({ min: 185, max: 92_600, noNaN: true }),
          places: fc.array(
            fc.tuple(
              fc.double({ min: 0, max: 1, noNaN: true }),
              fc.double({ min: 0, max: 6.28, noNaN: true }),
              fc.double({ min: 0, max: 0.9999, noNaN: true }),
            ),
            { minLength: 20, maxLength: 20 },
          ),
        }),
        ({ courseRad, lengthM, halfWidthM, places, ...from }) => {
          const to = destination(from, courseRad, lengthM);
          const cells = cellsNear({ line: [from, to] }, halfWidthM, SIDE);
          if (cells === undefined) throw new Error('told as too near a pole');
          for (const [along, offRad, off] of places) {
            const place = destination(interpolate(from, to, along), offRad, off * halfWidthM);
            expect(cells.has(cellOf(place.latDeg, place.lonDeg)), JSON.stringify(place)).toBe(true);
            compared += 1;
          }
        },
      ),
      { numRuns: 150, seed: 7 },
    );
    expect(compared).toBe(3000);
  });

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
  });

  test('tells nothing near a pole', () => {
    const place = { latDeg: 76, lonDeg: 0 };
    expect(cellsNear({ line: [place, place] }, 1000, SIDE)).toBeUndefined();
  });
});

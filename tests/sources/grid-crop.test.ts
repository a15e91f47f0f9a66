import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Area } from '../../worker/env.ts';
import type { Grib2GridDefinition } from '../../worker/formats/grib2/field.ts';
import { gridFromDefinition } from '../../worker/formats/grib2/grid-definition.ts';
import { gridCrop } from '../../worker/sources/grid-crop.ts';

/** Around the globe from Greenwich eastward, from pole to pole, a degree and a half apart. */
const GLOBE: Grib2GridDefinition = {
  template: 0,
  nx: 240,
  ny: 121,
  earthRadiusM: 6_371_229,
  firstLatDeg: 90,
  firstLonDeg: 0,
  latStepDeg: -1.5,
  lonStepDeg: 1.5,
};
const globe = gridFromDefinition(GLOBE);
const fromDateLine = gridFromDefinition({ ...GLOBE, firstLonDeg: 180 });
const half = gridFromDefinition({ ...GLOBE, nx: 120, firstLonDeg: -90 });

const area = fc
  .record({
    westDeg: fc.double({ min: -180, max: 180, noNaN: true }),
    widthDeg: fc.double({ min: 0.01, max: 359, noNaN: true }),
    southDeg: fc.double({ min: -85, max: 80, noNaN: true }),
    heightDeg: fc.double({ min: 0.01, max: 5, noNaN: true }),
  })
  .map(({ westDeg, widthDeg, southDeg, heightDeg }) => ({
    westDeg,
    southDeg,
    eastDeg: westDeg + widthDeg > 180 ? westDeg + widthDeg - 360 : westDeg + widthDeg,
    northDeg: southDeg + heightDeg,
    widthDeg,
  }));
const eastOf = (westDeg: number, lonDeg: number) => (((lonDeg - westDeg) % 360) + 360) % 360;

describe('gridCrop', () => {
  it.each([
    ['from Greenwich', globe],
    ['from the date line', fromDateLine],
  ] as const)(
    'of a grid around the globe %s keeps what the area needs across any seam, and little more',
    (_, grid) => {
      fc.assert(
        fc.property(area, ({ widthDeg, ...box }) => {
          const crop = gridCrop(grid, box)!;
          expect(crop.i0).toBeGreaterThanOrEqual(0);
          expect(crop.i0).toBeLessThan(grid.nx);
          const held = new Set(Array.from({ length: crop.nx }, (_, column) => (crop.i0 + column) % grid.nx));
          expect(held.size).toBe(crop.nx);
          // Each place of the area has its neighbors to the west and to the east.
          for (const share of [0, 0.31, 0.77, 1]) {
            const { i } = grid.toIndex(box.southDeg, box.westDeg + share * widthDeg);
            expect(held.has(Math.floor(i) % grid.nx), `west of ${i}`).toBe(true);
            expect(held.has(Math.ceil(i) % grid.nx), `east of ${i}`).toBe(true);
          }
          expect(crop.nx).toBeLessThanOrEqual(Math.ceil(widthDeg / 1.5) + 6);
        }),
      );
    },
  );

  it('of a grid that ends counts no column past its end', () => {
    fc.assert(
      fc.property(area, ({ widthDeg, ...box }) => {
        const crop = gridCrop(half, box);
        const { i } = half.toIndex(box.southDeg, box.westDeg);
        const touches = eastOf(box.westDeg, -90) <= widthDeg || eastOf(-90, box.westDeg) <= 178.5;
        if (touches && i > 0 && i < half.nx - 1) expect(crop).toBeDefined();
        if (crop === undefined) return;
        expect(crop.i0).toBeGreaterThanOrEqual(0);
        expect(crop.i0 + crop.nx).toBeLessThanOrEqual(half.nx);
      }),
    );
  });

  it('keeps all of a grid without an area, and nothing of one that lies elsewhere', () => {
    expect(gridCrop(globe, undefined)).toEqual({ i0: 0, j0: 0, nx: 240, ny: 121 });
    const far: Area = { westDeg: 150, southDeg: 40, eastDeg: 160, northDeg: 45 };
    expect(gridCrop(half, far)).toBeUndefined();
  });
});

/** The numbers draws are made of, and the fields made of them. */
import { describe, expect, it } from 'vitest';
import { DRAW_COUNT, normalDraws, patchIndex, patchNumbers } from '../../worker/science/draw-numbers.ts';
import {
  fieldAt,
  makeFieldBasis,
  makeFieldOverPoint,
  NUMBERS_PER_FIELD,
  placeField,
} from '../../worker/science/error-fields.ts';
import { normalQuantile } from '../../worker/science/normal-quantile.ts';
import { assertClose } from '../support/assert-close.ts';

const mean = (values: readonly number[]) => values.reduce((sum, each) => sum + each, 0) / values.length;

describe('normalQuantile', () => {
  /** Standard normal tables, to the digits printed (from memory: every statistics book has them). */
  it.each([
    [0.5, 0],
    [0.8413, 0.9998],
    [0.9, 1.2816],
    [0.975, 1.96],
    [0.995, 2.5758],
    [0.999, 3.0902],
    [0.01, -2.3263],
  ])('of %f is %f', (probability, deviations) => {
    assertClose(normalQuantile(probability), deviations, { abs: 6e-5, why: 'half the last printed digit' });
  });

  it('is NaN outside 0 to 1, and without end at both', () => {
    expect(normalQuantile(-0.1)).toBeNaN();
    expect(normalQuantile(0)).toBe(Number.NEGATIVE_INFINITY);
    expect(normalQuantile(1)).toBe(Number.POSITIVE_INFINITY);
  });
});

describe('normalDraws', () => {
  const DIMENSIONS = 60;
  const numbers = normalDraws(DIMENSIONS);
  const row = (dimension: number) => [
    ...numbers.subarray(dimension * DRAW_COUNT, (dimension + 1) * DRAW_COUNT),
  ];

  it('has mean 0 and variance 1 in every dimension', () => {
    for (let dimension = 0; dimension < DIMENSIONS; dimension += 1) {
      expect(Math.abs(mean(row(dimension)))).toBeLessThan(1e-12);
      assertClose(mean(row(dimension).map((each) => each ** 2)), 1, { abs: 1e-12, why: 'stretched so' });
    }
  });

  it('hardly correlates any two dimensions: less than four times what chance gives', () => {
    for (let a = 0; a < DIMENSIONS; a += 1) {
      for (let b = 0; b < a; b += 1) {
        const other = row(b);
        expect(Math.abs(mean(row(a).map((each, draw) => each * other[draw]!)))).toBeLessThan(0.5);
      }
    }
  });
});

describe('patches', () => {
  it('are normal over many of them, and the same when asked again', () => {
    const table = patchNumbers();
    const met: number[] = [];
    for (let draw = 0; draw < 64; draw += 1) {
      for (let along = 0; along < 60; along += 1) {
        for (let up = 0; up < 20; up += 1) met.push(table[patchIndex(draw, along, up)]!);
      }
    }
    assertClose(mean(met), 0, { abs: 0.015, why: 'four standard errors of 76,800 numbers' });
    assertClose(mean(met.map((each) => each ** 2)), 1, { abs: 0.02, why: 'four standard errors' });
    expect(patchIndex(3, 7, 9)).toBe(patchIndex(3, 7, 9));
  });

  it('do not go together from neighbor to neighbor', () => {
    const table = patchNumbers();
    const products = (dAlong: number, dUp: number) => {
      const found: number[] = [];
      for (let draw = 0; draw < 64; draw += 1) {
        for (let along = 0; along < 100; along += 1) {
          found.push(table[patchIndex(draw, along, 5)]! * table[patchIndex(draw, along + dAlong, 5 + dUp)]!);
        }
      }
      return mean(found);
    };
    for (const [dAlong, dUp] of [
      [1, 0],
      [0, 1],
      [2, 1],
    ] as const) {
      expect(Math.abs(products(dAlong, dUp))).toBeLessThan(0.05);
    }
  });
});

describe('error fields', () => {
  const distanceM = Float64Array.from({ length: 101 }, (_, point) => point * 10_000);
  const heightM = Float64Array.from({ length: 41 }, (_, cell) => cell * 200);
  const basis = makeFieldBasis(distanceM, heightM);
  const numbers = normalDraws(NUMBERS_PER_FIELD);
  const value = (draw: number, point: number, cell: number) => {
    const over = makeFieldOverPoint();
    placeField(basis, { numbers, dimension: 0 }, { draw, point }, over);
    return fieldAt(basis, over, cell);
  };
  const correlation = (dPoint: number, dCell: number) => {
    const products: number[] = [];
    for (let draw = 0; draw < DRAW_COUNT; draw += 1) {
      for (let point = 0; point + dPoint <= 100; point += 5) {
        for (let cell = 0; cell + dCell <= 40; cell += 4) {
          products.push(value(draw, point, cell) * value(draw, point + dPoint, cell + dCell));
        }
      }
    }
    return mean(products);
  };

  it('have variance 1 over the curtain, within what 64 draws allow', () => {
    assertClose(correlation(0, 0), 1, { abs: 0.15, why: 'eight numbers a draw, 64 draws' });
  });

  it('keep most of their sign over 50 km and little over 500 km, and likewise with 200 m and 3 km of height', () => {
    expect(correlation(5, 0)).toBeGreaterThan(0.6);
    expect(Math.abs(correlation(50, 0))).toBeLessThan(0.35);
    expect(correlation(0, 1)).toBeGreaterThan(0.65);
    expect(Math.abs(correlation(0, 15))).toBeLessThan(0.35);
  });
});

/** Values through codes and back: within what is stated, missing as missing, and zero as zero. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { GRID_QUANTITIES } from '../../worker/sources/ports.ts';
import { codesOf, MISSING_CODE, packingOf } from '../../worker/store/grid-packing.ts';

const anyQuantity = fc.constantFrom(...GRID_QUANTITIES);
const anyValues = fc.array(
  fc.oneof(
    fc.float({ noDefaultInfinity: false, noNaN: false }),
    fc.float({ min: -2, max: 2, noNaN: true }),
    fc.constantFrom(0, -0, Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY),
  ),
  { minLength: 1, maxLength: 40 },
);

/** As a stored chunk gives them back. */
function throughCodes(values: Float32Array, quantity = 'temperatureK' as (typeof GRID_QUANTITIES)[number]) {
  const packing = packingOf(quantity, values);
  const { pack, unpack } = codesOf(packing);
  const codes = Uint16Array.from(values, pack);
  // A stored packing has been through JSON.
  const read = codesOf(JSON.parse(JSON.stringify(packing)));
  return { packing, codes, unpack, back: Float64Array.from(codes, read.unpack) };
}

describe('a slice through its codes', () => {
  test('differs by no more than is stated, and is missing exactly where it was', () => {
    fc.assert(
      fc.property(anyQuantity, anyValues, (quantity, list) => {
        const values = Float32Array.from(list);
        const { packing, back } = throughCodes(values, quantity);
        values.forEach((value, index) => {
          if (Number.isFinite(value)) {
            expect(Math.abs(back[index]! - value)).toBeLessThanOrEqual(packing.greatestError);
          } else expect(back[index]).toBeNaN();
        });
      }),
      { numRuns: 1000 },
    );
  });

  test('states half a step at most, beside the rounding of numbers so great that a step is lost in them', () => {
    fc.assert(
      fc.property(anyQuantity, anyValues, (quantity, list) => {
        const values = Float32Array.from(list);
        const { scaleFactor, greatestError } = packingOf(quantity, values);
        const greatest = Math.max(0, ...values.filter(Number.isFinite).map(Math.abs));
        expect(greatestError).toBeLessThanOrEqual(scaleFactor / 2 + greatest * 1e-15);
      }),
      { numRuns: 1000 },
    );
  });

  test('keeps the step of its quantity while the range fits, and takes the least power of two that fits after', () => {
    const fits = throughCodes(Float32Array.of(0, 655.34));
    expect([fits.packing.scaleFactor, ...fits.codes]).toEqual([0.01, 0, 65_534]);
    const grown = throughCodes(Float32Array.of(0, 655.35));
    expect([grown.packing.scaleFactor, ...grown.codes]).toEqual([0.02, 0, 32_767]);
    const more = packingOf('condensateKgPerKg', Float32Array.of(0, 0.02));
    expect(more.scaleFactor).toBe(4e-7);
  });

  test('that is one value everywhere gives that value to half a step', () => {
    const { back, packing } = throughCodes(new Float32Array(9).fill(263.15));
    expect(new Set(back)).toEqual(new Set([263.15]));
    expect(packing.greatestError).toBeLessThan(2e-5);
  });

  test('without any value has none after', () => {
    const { back, packing, codes } = throughCodes(new Float32Array(3).fill(Number.NaN));
    expect([...back, ...codes]).toEqual([
      ...new Array(3).fill(Number.NaN),
      ...new Array(3).fill(MISSING_CODE),
    ]);
    expect(packing).toEqual({ scaleFactor: 0.01, addOffset: 0, greatestError: 0 });
  });

  test.each([
    ['condensateKgPerKg', [0, 1e-7, 3.3e-4, 0.0123]],
    ['verticalVelocityPaPerS', [-12.345, 0, 7.1]],
    ['windEastMps', [-33.33, 0, 51]],
    ['rainRatio', [0, 1]],
  ] as const)('%s: zero is exactly zero', (quantity, list) => {
    const { back } = throughCodes(Float32Array.from(list), quantity);
    expect(back[list.indexOf(0 as never)]).toBe(0);
  });

  test('0 degC is a whole number of steps', () => {
    expect([...throughCodes(Float32Array.of(251.37, 273.15)).back]).toEqual([251.37, 273.15]);
  });
});

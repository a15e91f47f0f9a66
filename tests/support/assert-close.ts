import { expect } from 'vitest';

/**
 * Compares two numbers within a stated tolerance. `why` says where the tolerance comes from; a comparison with NaN on
 * one side only always fails.
 */
export function assertClose(
  actual: number,
  expected: number,
  tolerance: { readonly abs?: number; readonly rel?: number; readonly why: string },
): void {
  const allowed = (tolerance.abs ?? 0) + (tolerance.rel ?? 0) * Math.abs(expected);
  const difference = Math.abs(actual - expected);
  expect(
    difference <= allowed,
    `found ${actual}, expected ${expected} within ${allowed} (${tolerance.why}), off by ${difference}`,
  ).toBe(true);
}

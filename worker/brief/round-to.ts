/** Rounding of coordinates, cells and intermediates; amounts that people read go through flight/rounding.ts. */

/** @returns the nearest multiple of step, without the dust of binary fractions and never -0. */
export function roundTo(value: number, step: number): number {
  return Number((Math.round(value / step) * step).toFixed(6)) + 0;
}

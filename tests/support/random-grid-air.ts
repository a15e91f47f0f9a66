/** Columns of a model for property tests: random air that has condensate, and vertical motion and cloud fraction too. */
import fc from 'fast-check';
import type { Profile } from '../../worker/science/columns.ts';
import { even } from './even-numbers.ts';
import { AIR_PRESSURES, type DrawnAir, drawnAir, profileOfAir } from './random-air.ts';

/** One value a level of AIR_PRESSURES. */
export interface GridAir extends DrawnAir {
  /** From lift of about 0.15 m/s to as much sinking. */
  readonly verticalVelocityPaPerS: number[];
  readonly cloudFractionRatio: number[];
}

const everyLevel = (min: number, max: number) =>
  fc.array(even(min, max), { minLength: AIR_PRESSURES.length, maxLength: AIR_PRESSURES.length });

export const gridAir: fc.Arbitrary<GridAir> = fc
  .record({
    air: drawnAir,
    /** Two levels in five without any. */
    condensateGPerKg: everyLevel(-0.2, 0.3).map((values) => values.map((value) => Math.max(0, value))),
    condensateBasis: fc.constantFrom('liquid' as const, 'total' as const),
    verticalVelocityPaPerS: everyLevel(-1.5, 1.5),
    cloudFractionRatio: everyLevel(0, 1),
  })
  .map(({ air, ...more }) => ({ ...air, ...more }));

/** Without its own ground, like profileOfAir. */
export function profileOfGridAir(air: GridAir): Profile {
  return {
    ...profileOfAir(air),
    verticalVelocityPaPerS: Float64Array.from(air.verticalVelocityPaPerS),
    cloudFractionRatio: Float64Array.from(air.cloudFractionRatio),
  };
}

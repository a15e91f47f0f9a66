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

/** The same with rain on the levels and a share of freezing rain at the ground; of each, sometimes none. */
export interface RainyAir extends GridAir {
  readonly rainGPerKg: number[];
  readonly freezingRainRatio: number;
}

export const rainyAir: fc.Arbitrary<RainyAir> = fc
  .record({
    air: gridAir,
    /** From 1e-8 to 1e-3 kg/kg, a third of the levels without. */
    rainGPerKg: everyLevel(-7.5, 0).map((values) => values.map((value) => (value < -5 ? 0 : 10 ** value))),
    freezingRainRatio: fc.oneof(fc.constant(Number.NaN), fc.constant(0), even(0, 1)),
  })
  .map(({ air, ...more }) => ({ ...air, ...more }));

export function profileOfRainyAir(air: RainyAir): Profile {
  return {
    ...profileOfGridAir(air),
    rainKgPerKg: Float64Array.from(air.rainGPerKg, (value) => value / 1000),
    freezingRainRatio: air.freezingRainRatio,
  };
}

/** Without its own ground, like profileOfAir. */
export function profileOfGridAir(air: GridAir): Profile {
  return {
    ...profileOfAir(air),
    verticalVelocityPaPerS: Float64Array.from(air.verticalVelocityPaPerS),
    cloudFractionRatio: Float64Array.from(air.cloudFractionRatio),
  };
}

/** Columns of air for property tests: random, but air that could exist. */
import fc from 'fast-check';
import type { CondensateBasis, Profile } from '../../worker/science/columns.ts';
import { makeProfile } from './make-profile.ts';

export const AIR_PRESSURES = Array.from({ length: 33 }, (_, index) => 1000 - 20 * index);

/** What was drawn, so that a test can spoil a copy. */
export interface DrawnAir {
  readonly temperatureC: number[];
  readonly relativeHumidityPct: number[];
  readonly condensateGPerKg: number[];
  readonly condensateBasis: CondensateBasis;
}

/** Inversions stay within this of any lower level, K, and nothing cools faster with height than dry-adiabatically. */
const LARGEST_INVERSION_K = 14;
const DRY_LAPSE_K_PER_M = 0.0098;

/** A temperature curve from steps between -1 (dry-adiabatic) and 1 (warming by 3 K a level). */
function temperatureCurve(startC: number, steps: readonly number[]): number[] {
  const curve = [startC];
  let coldest = startC;
  for (let level = 1; level < AIR_PRESSURES.length; level += 1) {
    const scaleM = (287.05 * (curve[level - 1]! + 273.15)) / 9.80665;
    const depthM = scaleM * Math.log(AIR_PRESSURES[level - 1]! / AIR_PRESSURES[level]!);
    const step = steps[level - 1]!;
    const change = step < 0 ? step * DRY_LAPSE_K_PER_M * depthM : step * 3;
    const warmest = Math.min(coldest + LARGEST_INVERSION_K, warmestC(AIR_PRESSURES[level]!));
    const next = Math.min(curve[level - 1]! + change, warmest);
    coldest = Math.min(coldest, next);
    curve.push(next);
  }
  return curve;
}

/** Winter: 12 degC at most at 1000 hPa, 0 at 600 hPa. */
function warmestC(pressureHPa: number): number {
  return 12 - (12 * Math.log(1000 / pressureHPa)) / Math.log(1000 / 600);
}

/** Blocks of levels with one value each, so that layers have a depth. */
function inBlocks(values: readonly number[], lengths: readonly number[]): number[] {
  const levels: number[] = [];
  for (let block = 0; levels.length < AIR_PRESSURES.length; block += 1) {
    const length = lengths[block % lengths.length]!;
    for (let level = 0; level < length; level += 1) levels.push(values[block % values.length]!);
  }
  return levels.slice(0, AIR_PRESSURES.length);
}

const lengths = fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 4, maxLength: 8 });
const inRange = (min: number, max: number) => fc.double({ min, max, noNaN: true });
/** Mostly cooling upward, now and then a sharp inversion. */
const stepShare = fc.oneof({ weight: 5, arbitrary: inRange(-1, 0) }, { weight: 1, arbitrary: inRange(0, 1) });

export const drawnAir: fc.Arbitrary<DrawnAir> = fc
  .record({
    startC: inRange(-14, 6),
    steps: fc.array(stepShare, { minLength: 32, maxLength: 32 }),
    moisture: fc.array(fc.oneof(inRange(10, 84), inRange(84, 98), inRange(98, 104)), {
      minLength: 6,
      maxLength: 10,
    }),
    moistureLengths: lengths,
    condensate: fc.array(fc.oneof(fc.constant(0), inRange(0, 0.6)), { minLength: 6, maxLength: 10 }),
    condensateLengths: lengths,
    condensateBasis: fc.constantFrom<CondensateBasis>('none', 'liquid', 'total'),
  })
  .map((drawn) => ({
    temperatureC: temperatureCurve(drawn.startC, drawn.steps),
    relativeHumidityPct: inBlocks(drawn.moisture, drawn.moistureLengths),
    condensateGPerKg: inBlocks(drawn.condensate, drawn.condensateLengths),
    condensateBasis: drawn.condensateBasis,
  }));

/** Without its own ground: the lowest level is simply the lowest. */
export function profileOfAir(air: DrawnAir): Profile {
  return makeProfile({ ...air, pressureHPa: AIR_PRESSURES });
}

/** The four words for how fast ice builds on the unprotected outer wing. */
import { INTENSITY, LARGE_DROPS } from './columns.ts';
import { thicknessRateMps } from './growth.ts';
import { mpsFromInPerH } from './units.ts';

/** Limits of growth: 1/4, 1 and 3 inches an hour. */
const LIGHT_FROM_MPS = mpsFromInPerH(0.25);
const MODERATE_FROM_MPS = mpsFromInPerH(1);
const SEVERE_ABOVE_MPS = mpsFromInPerH(3);

/** A rounding of the limits themselves is not a crossing. */
const ROUNDING = 1e-9;

/**
 * Near 0 degC most of the caught water does not freeze on the wing, but runs back, and freezes on parts that are colder.
 * Intensity is screened on the catch: it counts as if at least this part froze (the limit of clear ice).
 */
export const LEAST_FREEZING = 0.3;

/**
 * Intensity of a growth rate.
 *
 * @param growthMps  m/s.
 * @returns          INTENSITY code: none at 0, trace under 1/4 in/h, light from 1/4, moderate from 1 to 3, severe above 3.
 * @throws           never.
 * @source           AIM 7-1-19, the same figures in AC 91-74B. The ranges there touch; ownership of the limits is ours.
 * @checked          tests/published/intensity.test.ts
 */
export function intensityOfGrowth(growthMps: number): number {
  if (growthMps > SEVERE_ABOVE_MPS * (1 + ROUNDING)) return INTENSITY.severe;
  if (growthMps >= MODERATE_FROM_MPS * (1 - ROUNDING)) return INTENSITY.moderate;
  if (growthMps >= LIGHT_FROM_MPS * (1 - ROUNDING)) return INTENSITY.light;
  return growthMps > 0 ? INTENSITY.trace : INTENSITY.none;
}

/**
 * Growth that intensity is judged by: never less than that of a fixed part of the catch.
 *
 * @param caught    Water caught on the wing, kg/m2/s.
 * @param freezing  Freezing fraction, 0-1.
 * @returns         m/s; positive whenever water is caught.
 * @throws          never.
 * @checked         tests/published/intensity.test.ts
 */
export function screenedGrowthMps(caught: number, freezing: number): number {
  return thicknessRateMps(caught, Math.max(LEAST_FREEZING, freezing));
}

/**
 * Where large drops are named icing is at least light, however little of them is assumed.
 *
 * @param intensity   INTENSITY code.
 * @param largeDrops  LARGE_DROPS code.
 * @returns           INTENSITY code.
 * @throws            never.
 * @checked           tests/published/intensity.test.ts
 */
export function withLargeDrops(intensity: number, largeDrops: number): number {
  return largeDrops === LARGE_DROPS.none ? intensity : Math.max(INTENSITY.light, intensity);
}

/** How probable it is that a cloud below 0 degC holds liquid: ice from its cold top, and lift that feeds the drops. */
import type { IcingCalibration } from './calibration.ts';
import { FREEZING_K, GRAVITY_MPS2 } from './constants.ts';

/** Down to the first droplets can stay liquid; at the second they freeze by themselves, K. */
const FREEZE_ALONE_FROM_K = FREEZING_K - 35;
const FREEZE_ALONE_TO_K = FREEZING_K - 40;

/** Lift that counts in full, m/s: at -5 degC and 850 hPa it condenses 0.13 g/m3 in 1000 s, more than crystals take up. */
const FULL_LIFT_MPS = 0.1;

/** Full lift counts as a top this much warmer, K, and as this much on the least probability; sinking the other way (judgement). */
const FULL_LIFT_K = 3;
const FULL_LIFT_PROBABILITY = 0.2;

/** Convective cloud holds liquid beside ice up to the level where all freezes, whatever its top: at least so probable (judgement). */
const CONVECTIVE_LIQUID = 0.4;

/**
 * Probability that cloud is liquid: by the temperature of the top that seeds it, by lift, and by being convective.
 *
 * @param topK         K.
 * @param motion       Share of full lift, -1 to 1, and whether a parcel from the base is buoyant.
 * @param calibration  See there.
 * @returns            0-1; rises with topK and lift.
 * @throws             never.
 */
export function liquidProbability(
  topK: number,
  motion: { readonly lift: number; readonly isConvective: boolean },
  calibration: IcingCalibration,
): number {
  const warmerK = topK + FULL_LIFT_K * motion.lift;
  const lifted = calibration.leastLiquidProbability + FULL_LIFT_PROBABILITY * Math.max(0, motion.lift);
  const least = motion.isConvective ? Math.max(CONVECTIVE_LIQUID, lifted) : lifted;
  return (
    least + (1 - least) / (1 + Math.exp((calibration.seedingTopK - warmerK) / calibration.seedingWidthK))
  );
}

/**
 * Vertical motion as a share of full lift.
 *
 * @param verticalVelocityPaPerS  Pa/s, negative upward; NaN where unknown.
 * @param densityKgPerM3          Of the air.
 * @param isGivenElsewhere        The column has vertical motion in other cells: here it is lost, and the strongest lift may be.
 * @returns                       -1 to 1; 0 for a source without vertical motion.
 * @throws                        never.
 */
export function liftShare(
  verticalVelocityPaPerS: number,
  densityKgPerM3: number,
  isGivenElsewhere: boolean,
): number {
  if (Number.isNaN(verticalVelocityPaPerS)) return isGivenElsewhere ? 1 : 0;
  const liftMps = upwardMpsFromPaPerS(verticalVelocityPaPerS, densityKgPerM3);
  return Math.min(1, Math.max(-1, liftMps / FULL_LIFT_MPS));
}

/**
 * Upward speed of air whose pressure changes because it moves.
 *
 * @param verticalVelocityPaPerS  Pa/s, negative upward.
 * @param densityKgPerM3          kg/m3.
 * @returns                       m/s.
 * @throws                        never.
 * @source                        Hydrostatic: w = -omega / (rho g).
 */
export function upwardMpsFromPaPerS(verticalVelocityPaPerS: number, densityKgPerM3: number): number {
  return -verticalVelocityPaPerS / (densityKgPerM3 * GRAVITY_MPS2);
}

/**
 * Part of droplets that can stay liquid at a temperature: all down to -35 degC, none below -40 degC.
 *
 * @param temperatureK  K, of the cell itself.
 * @returns             0-1.
 * @throws              never.
 * @source              Homogeneous freezing near -38 degC; the ramp is judgement.
 */
export function unfrozenShare(temperatureK: number): number {
  const share = (temperatureK - FREEZE_ALONE_TO_K) / (FREEZE_ALONE_FROM_K - FREEZE_ALONE_TO_K);
  return Math.min(1, Math.max(0, share));
}

/**
 * Probability that a cell is below 0 degC.
 *
 * @param temperatureK       Its temperature, K.
 * @param temperatureErrorK  One standard deviation, K; 0 for exact.
 * @returns                  0-1; exact temperatures give 0 at and above 0 degC and 1 below.
 * @throws                   never.
 * @source                   Normal error, its distribution by the logistic curve of slope 1.702 (within 0.01).
 */
export function coldProbability(temperatureK: number, temperatureErrorK: number): number {
  if (temperatureErrorK === 0) return temperatureK < FREEZING_K ? 1 : 0;
  return 1 / (1 + Math.exp((-1.702 * (FREEZING_K - temperatureK)) / temperatureErrorK));
}

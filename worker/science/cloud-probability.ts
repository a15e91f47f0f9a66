/** How probable cloud is at a humidity: liquid cloud by saturation over water, any cloud also by saturation over ice. */
import type { IcingCalibration } from './calibration.ts';
import { FREEZING_K } from './constants.ts';

/** Ice cloud is as probable as not at this humidity over ice, ratio (judgement; radiosondes err by 5 %). */
const ICE_CLOUD_HUMIDITY = 1;

/** Few crystals form in air warmer than the first; from the second on ice cloud is as usual as its humidity (judgement), K. */
export const CRYSTALS_FROM_K = FREEZING_K - 5;
const CRYSTALS_AT_K = FREEZING_K - 15;

/** Variance of the logistic distribution of width 1. */
export const LOGISTIC_VARIANCE = Math.PI ** 2 / 3;

/**
 * Margin over the humidity of liquid cloud, in widths of the change: the logit of its probability when humidity is exact.
 *
 * @param humidityRatio  Relative humidity over water, ratio.
 * @param calibration    See there.
 * @returns              No unit; 0 where cloud is as probable as not.
 * @throws               never.
 */
export function cloudMargin(humidityRatio: number, calibration: IcingCalibration): number {
  return (humidityRatio - calibration.cloudHumidityRatio) / calibration.cloudHumidityWidthRatio;
}

/**
 * The same for cloud of ice.
 *
 * @param humidityIceRatio  Relative humidity over ice, ratio.
 * @param temperatureK      K.
 * @param calibration       See there.
 * @returns                 No unit; -Infinity where it is too warm for crystals to form.
 * @throws                  never.
 */
export function iceCloudMargin(
  humidityIceRatio: number,
  temperatureK: number,
  calibration: IcingCalibration,
): number {
  const active = (CRYSTALS_FROM_K - temperatureK) / (CRYSTALS_FROM_K - CRYSTALS_AT_K);
  if (!(active > 0)) return Number.NEGATIVE_INFINITY;
  const margin = (humidityIceRatio - ICE_CLOUD_HUMIDITY) / calibration.cloudHumidityWidthRatio;
  return margin + Math.log(Math.min(1, active));
}

/**
 * Probability of cloud when the humidity itself is uncertain: the mean of the logistic curve over a normal error.
 *
 * @param margin              In widths.
 * @param humidityErrorRatio  One standard deviation of humidity, ratio; 0 for exact.
 * @param widthRatio          Width of the change, ratio.
 * @returns                   0-1; never falls as the margin rises.
 * @throws                    never.
 * @source                    Between two usual approximations by the share of variance: the margin shrunk by
 *                            sqrt(1 + pi s^2 / 8), s the error in widths (MacKay 1992, from memory), right for small errors
 *                            and too fat in the tail for large ones; and the normal distribution of variance 1.702^2 + s^2.
 * @checked                   tests/science/cloud-layers.test.ts
 */
export function cloudProbability(margin: number, humidityErrorRatio: number, widthRatio: number): number {
  if (humidityErrorRatio === 0) return 1 / (1 + Math.exp(-margin));
  const variance = (humidityErrorRatio / widthRatio) ** 2;
  const shrunk = 1 / (1 + Math.exp(-margin / Math.sqrt(1 + (Math.PI / 8) * variance)));
  const normal = normalShare(margin / Math.sqrt(LOGISTIC_SCALE ** 2 + variance));
  const share = variance / (variance + LOGISTIC_VARIANCE);
  return share * normal + (1 - share) * shrunk;
}

/** The logistic curve is within 0.01 of the normal distribution of this deviation. */
const LOGISTIC_SCALE = 1.702;

/**
 * Share of a standard normal distribution below a value.
 *
 * @param deviations  Standard deviations.
 * @returns           0-1, within 2e-4.
 * @throws            never.
 * @source            Bowling et al. 2009: logistic of 1.5976 z + 0.07056 z^3 (from memory).
 * @checked           tests/science/cloud-layers.test.ts
 */
export function normalShare(deviations: number): number {
  return 1 / (1 + Math.exp(-deviations * (1.5976 + 0.07056 * deviations * deviations)));
}

/** Condensate of a grid box at which cloud is as probable as not, kg/kg. */
const CLOUD_CONDENSATE = 1e-5;

/**
 * Probability of cloud in a grid box by its condensate: its cloud fraction where the model gives one, else half at
 * 0.01 g/kg and 96 % at 0.05.
 *
 * @param condensate     Liquid and ice together, kg/kg; below 0 counts as 0.
 * @param fractionRatio  Cloud fraction of the box, 0-1; NaN where the model gives none.
 * @returns              0-1, rises with condensate.
 * @throws               never.
 * @source               Without a fraction judgement; 0.01 g/kg is the usual threshold of presence.
 */
export function cloudProbabilityOfCondensate(condensate: number, fractionRatio = Number.NaN): number {
  if (!(condensate > 0)) return 0;
  const ratio = condensate / CLOUD_CONDENSATE;
  const presence = (ratio * ratio) / (1 + ratio * ratio);
  return Number.isNaN(fractionRatio) ? presence : presence * Math.min(1, Math.max(0, fractionRatio));
}

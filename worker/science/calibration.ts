/** The few numbers of the diagnosis that were chosen on measured flights, together, so that their choice can be repeated. */
import { FREEZING_K } from './constants.ts';

export interface IcingCalibration {
  /** Relative humidity over water at which liquid cloud is as probable as not, ratio, and the width of the change. */
  readonly cloudHumidityRatio: number;
  readonly cloudHumidityWidthRatio: number;
  /** Temperature of a cloud's top at which liquid below it is half as probable as under a warm top, K, and the width. */
  readonly seedingTopK: number;
  readonly seedingWidthK: number;
  /** Liquid is never less probable than this in cloud, whatever its top: deep frontal cloud still ices. */
  readonly leastLiquidProbability: number;
}

/**
 * Chosen on 955 cold layers of five research flights; that the choice is not the flights' alone is tried there by leaving
 * each flight out in turn. The change by top temperature lies near the -12 to -18 degC of the literature.
 *
 * @checked tests/data/insitu.test.ts
 */
export const CALIBRATION: IcingCalibration = {
  cloudHumidityRatio: 0.95,
  cloudHumidityWidthRatio: 0.03,
  seedingTopK: FREEZING_K - 15,
  seedingWidthK: 4,
  leastLiquidProbability: 0.1,
};

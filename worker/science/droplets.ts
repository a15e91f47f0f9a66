/** Droplet size from liquid water and droplet number. */
import { WATER_DENSITY_KG_PER_M3 } from './constants.ts';

/**
 * Droplets in each cubic meter of cloud, by where its air comes from, 1/m3 (judgement: winter cloud over land holds 100-300
 * a cm3, 130 on average in Cober et al. 1995; research flights over a cold sea met 22 in the middle). Known to a factor
 * exp(0.9).
 */
export const DROPLET_NUMBER_PER_M3 = { continental: 150e6, maritime: 60e6 } as const;
export type AirMass = keyof typeof DROPLET_NUMBER_PER_M3;
/** How far the number may be off, either way. */
export const DROPLET_NUMBER_FACTOR = Math.exp(0.9);

/** Shape of the gamma spectrum N(D) = N0 D^mu exp(-lambda D): 2 fits winter cloud at 0.13 g/m3, 130 /cm3 and 18 um. */
export const SPECTRUM_SHAPE = 2;

/**
 * Slope lambda of a gamma spectrum that holds the given water and number.
 *
 * @param liquidWaterKgPerM3  kg/m3, positive.
 * @param numberPerM3         1/m3, positive.
 * @param shape               mu, at least 0.
 * @returns                   1/m.
 * @throws                    never.
 * @source                    Third moment of the gamma distribution.
 * @checked                   tests/published/droplets.test.ts
 */
export function spectrumSlopePerM(liquidWaterKgPerM3: number, numberPerM3: number, shape: number): number {
  const moment = (shape + 1) * (shape + 2) * (shape + 3);
  return Math.cbrt((Math.PI * WATER_DENSITY_KG_PER_M3 * numberPerM3 * moment) / (6 * liquidWaterKgPerM3));
}

/**
 * Median volume diameter: half the water is in larger drops.
 *
 * @param liquidWaterKgPerM3  kg/m3; 0 gives 0.
 * @param numberPerM3         1/m3, positive.
 * @param shape               mu of the gamma spectrum.
 * @returns                   m.
 * @throws                    never.
 * @source                    (3.672 + mu) / lambda, the median of the mass of a gamma spectrum to 0.02 um.
 * @checked                   tests/published/droplets.test.ts
 */
export function medianVolumeDiameterM(
  liquidWaterKgPerM3: number,
  numberPerM3: number,
  shape: number = SPECTRUM_SHAPE,
): number {
  return (3.672 + shape) / spectrumSlopePerM(liquidWaterKgPerM3, numberPerM3, shape);
}

/** Diameters of gamma spectra: rows computed apart, one of which is the mean of a published data set. */
import { expect, test } from 'vitest';
import { medianVolumeDiameterM, SPECTRUM_SHAPE, spectrumSlopePerM } from '../../worker/science/droplets.ts';
import { kgPerM3FromGPerM3, umFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'median volume diameters and mean volume diameters of seven spectra',
  { source: 'Gamma spectrum of drops, third moment', tag: 'C', values: 14 },
  (published) => {
    // g/m3, 1/cm3, mu, median um, mean-volume um.
    const rows = [
      [0.13, 130, 0, 25.07, 12.41],
      [0.13, 130, 2, 17.98, 12.41],
      [0.13, 130, 5, 15.48, 12.41],
      [0.2, 100, 3, 21.14, 15.63],
      [0.2, 250, 3, 15.58, 11.52],
      [0.5, 100, 3, 28.7, 21.22],
      [0.1, 300, 3, 11.64, 8.6],
    ] as const;
    const tolerance = { abs: 0.006, why: 'printed to 0.01' };
    for (const [gPerM3, perCm3, shape, medianUm, meanUm] of rows) {
      const water = kgPerM3FromGPerM3(gPerM3);
      published.close(umFromM(medianVolumeDiameterM(water, perCm3 * 1e6, shape)), medianUm, tolerance);
      // Mean of D^3 over a gamma spectrum: (mu+1)(mu+2)(mu+3) / lambda^3.
      const slope = spectrumSlopePerM(water, perCm3 * 1e6, shape);
      const meanM = Math.cbrt((shape + 1) * (shape + 2) * (shape + 3)) / slope;
      published.close(umFromM(meanM), meanUm, tolerance);
    }
  },
);

testPublished(
  'the default shape gives the mean of 31 winter flights: 0.13 g/m3, 130 /cm3, 18 um',
  { source: 'Cober et al. 1995', tag: 'L', values: 1 },
  (published) => {
    published.close(umFromM(medianVolumeDiameterM(0.13e-3, 130e6)), 18, { abs: 0.5, why: 'printed to 1 um' });
    expect(SPECTRUM_SHAPE).toBe(2);
  },
);

test('half of the mass of the spectrum lies below the median volume diameter', () => {
  const slope = spectrumSlopePerM(0.2e-3, 100e6, 2);
  const median = medianVolumeDiameterM(0.2e-3, 100e6, 2);
  let below = 0;
  let all = 0;
  for (let diameter = 0.05e-6; diameter < 200e-6; diameter += 0.1e-6) {
    const mass = diameter ** 5 * Math.exp(-slope * diameter);
    all += mass;
    if (diameter < median) below += mass;
  }
  assertClose(below / all, 0.5, { abs: 0.003, why: 'the median to 0.02 um' });
});

test('no water has no size', () => {
  expect(medianVolumeDiameterM(0, 100e6)).toBe(0);
});

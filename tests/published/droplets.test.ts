/** Median volume diameter of gamma spectra: rows computed apart, one of which is a published mean. */
import { expect, test } from 'vitest';
import { medianVolumeDiameterM, spectrumSlopePerM } from '../../worker/science/droplets.ts';
import { kgPerM3FromGPerM3, umFromM } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

test('median volume diameters equal the computed rows', () => {
  // g/m3, 1/cm3, mu, um.
  const rows = [
    [0.13, 130, 0, 25.07],
    [0.13, 130, 2, 17.98],
    [0.13, 130, 5, 15.48],
    [0.2, 100, 3, 21.14],
    [0.2, 250, 3, 15.58],
    [0.5, 100, 3, 28.7],
    [0.1, 300, 3, 11.64],
  ] as const;
  for (const [gPerM3, perCm3, shape, um] of rows) {
    const found = umFromM(medianVolumeDiameterM(kgPerM3FromGPerM3(gPerM3), perCm3 * 1e6, shape));
    assertClose(found, um, { abs: 0.02, why: 'the form is exact to 0.02 um' });
  }
  expect(rows.length).toBe(7);
});

test('the default shape gives the mean of 31 winter flights: 0.13 g/m3, 130 /cm3, 18 um (Cober et al. 1995)', () => {
  assertClose(umFromM(medianVolumeDiameterM(0.13e-3, 130e6)), 18, { abs: 0.5, why: 'printed to 1 um' });
});

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

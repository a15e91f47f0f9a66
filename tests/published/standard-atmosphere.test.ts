/** The ICAO standard atmosphere: published anchors, and rows computed apart from the published equations. */
import { test } from 'vitest';
import { airDensityKgPerM3 } from '../../worker/science/humidity.ts';
import { isaDeviationK, layerThicknessM } from '../../worker/science/hydrostatics.ts';
import {
  geometricMFromGeopotentialM,
  geopotentialMFromGeometricM,
  pressureAltitudeMFromPressurePa,
  pressurePaFromPressureAltitudeM,
  standardTemperatureK,
} from '../../worker/science/standard-atmosphere.ts';
import {
  cFromK,
  ftFromM,
  hPaFromPa,
  inHgFromPa,
  kFromC,
  mFromFt,
  paFromHPa,
} from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

const COMPUTED = 'ICAO Doc 7488, standard atmosphere';

testPublished(
  'temperature, pressure and density at 13 pressure altitudes',
  { source: COMPUTED, tag: 'C', values: 65 },
  (published) => {
    // ft, degC, hPa, inHg, kg/m3, density ratio.
    const rows = [
      [0, 15.0, 1013.25, 29.921, 1.225, 1.0],
      [2000, 11.038, 942.129, 27.821, 1.1549, 0.9428],
      [4000, 7.075, 875.105, 25.842, 1.08791, 0.8881],
      [5000, 5.094, 843.073, 24.896, 1.05555, 0.8617],
      [6000, 3.113, 811.996, 23.978, 1.02393, 0.8359],
      [8000, -0.85, 752.624, 22.225, 0.96287, 0.786],
      [10000, -4.812, 696.816, 20.577, 0.90464, 0.7385],
      [12000, -8.774, 644.408, 19.029, 0.84914, 0.6932],
      [15000, -14.718, 571.819, 16.886, 0.77082, 0.6292],
      [18000, -20.662, 505.998, 14.942, 0.69815, 0.5699],
      [20000, -24.624, 465.632, 13.75, 0.65269, 0.5328],
      [25000, -34.53, 376.009, 11.104, 0.54895, 0.4481],
      [30000, -44.436, 300.896, 8.885, 0.45831, 0.3741],
    ] as const;
    const lastDigit = (abs: number) => ({ abs, why: 'half of the last printed digit, rounded' });
    const seaLevelKgPerM3 = airDensityKgPerM3(101325, kFromC(15), 0);
    for (const [ft, celsius, hPa, inHg, kgPerM3, densityRatio] of rows) {
      const pressurePa = pressurePaFromPressureAltitudeM(mFromFt(ft));
      const temperatureK = standardTemperatureK(mFromFt(ft));
      const density = airDensityKgPerM3(pressurePa, temperatureK, 0);
      published.close(cFromK(temperatureK), celsius, lastDigit(0.0006));
      published.close(hPaFromPa(pressurePa), hPa, lastDigit(0.0006));
      published.close(inHgFromPa(pressurePa), inHg, lastDigit(0.0006));
      published.close(density, kgPerM3, lastDigit(6e-6));
      published.close(density / seaLevelKgPerM3, densityRatio, lastDigit(6e-5));
    }
  },
);

testPublished(
  '11 km: 216.65 K, 22632.1 Pa, 36,089 ft',
  { source: 'U.S. Standard Atmosphere 1976, two public pages', tag: 'L', values: 3 },
  (published) => {
    published.close(standardTemperatureK(11000), 216.65, { abs: 1e-9, why: 'by definition' });
    published.close(pressurePaFromPressureAltitudeM(11000), 22632.1, { abs: 0.06, why: 'printed to 0.1 Pa' });
    published.close(ftFromM(11000), 36089, { abs: 0.5, why: 'printed to 1 ft' });
  },
);

testPublished(
  'pressure altitudes of seven mandatory levels and of four pressures near the ground',
  { source: COMPUTED, tag: 'C', values: 11 },
  (published) => {
    // hPa, ft.
    const levels = [
      [1000, 364],
      [925, 2500],
      [850, 4781],
      [700, 9882],
      [500, 18289],
      [400, 23574],
      [300, 30066],
    ] as const;
    for (const [hPa, ft] of levels) {
      published.close(ftFromM(pressureAltitudeMFromPressurePa(paFromHPa(hPa))), ft, {
        abs: 0.6,
        why: 'printed to 1 ft',
      });
    }
    // hPa, m; with 288.15 K at sea level.
    const nearGround = [
      [975.2, 321.66],
      [987.5, 216.59],
      [956, 487.85],
      [943, 601.91],
    ] as const;
    for (const [hPa, meters] of nearGround) {
      published.close(pressureAltitudeMFromPressurePa(paFromHPa(hPa)), meters, {
        abs: 0.01,
        why: 'printed to 0.01 m; the script rounds its exponent to six figures',
      });
    }
  },
);

testPublished(
  'geopotential meters of four geometric heights, both ways',
  { source: 'U.S. Standard Atmosphere 1976, eq. 18', tag: 'C', values: 4 },
  (published) => {
    const rows = [
      [1000, 999.84],
      [3000, 2998.58],
      [5000, 4996.07],
      [10000, 9984.29],
    ] as const;
    for (const [geometricM, geopotentialM] of rows) {
      const tolerance = { abs: 0.006, why: 'printed to 0.01 m' };
      published.close(geopotentialMFromGeometricM(geometricM), geopotentialM, tolerance);
      assertClose(geometricMFromGeopotentialM(geopotentialM), geometricM, tolerance);
    }
  },
);

test('pressure and pressure altitude undo each other from -1 to 20 km', () => {
  for (let meters = -1000; meters <= 20000; meters += 500) {
    assertClose(pressureAltitudeMFromPressurePa(pressurePaFromPressureAltitudeM(meters)), meters, {
      abs: 1e-6,
      why: 'exact inverse on both sides of 11 km',
    });
  }
});

test('air at -25 degC and 10,000 ft is 20.188 K colder than standard', () => {
  assertClose(isaDeviationK(kFromC(-25), mFromFt(10000)), -20.188, { abs: 0.001, why: 'row of 10,000 ft' });
});

test('the standard atmosphere from 1013.25 to 696.816 hPa is 10,000 ft thick by the hypsometric equation', () => {
  let thicknessM = 0;
  for (let step = 0; step < 100; step += 1) {
    const lowerPa = 101325 * (69681.6 / 101325) ** (step / 100);
    const upperPa = 101325 * (69681.6 / 101325) ** ((step + 1) / 100);
    const middleM = pressureAltitudeMFromPressurePa(Math.sqrt(lowerPa * upperPa));
    thicknessM += layerThicknessM(lowerPa, upperPa, standardTemperatureK(middleM));
  }
  assertClose(ftFromM(thicknessM), 10000, { abs: 1, why: 'pressure printed to 0.001 hPa' });
});

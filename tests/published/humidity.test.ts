/** Humidity relations against a meteorology library's tests and rows computed apart. */
import { expect, test } from 'vitest';
import {
  airDensityKgPerM3,
  dewPointK,
  frostPointK,
  mixingRatioKgPerKg,
  relativeHumidityIceRatio,
  relativeHumidityRatioFromDewPoint,
  specificHumidityKgPerKg,
  virtualTemperatureK,
} from '../../worker/science/humidity.ts';
import { relativeHumidityRatioOverWater } from '../../worker/science/humidity-basis.ts';
import { saturationMixingRatio } from '../../worker/science/moist-adiabat.ts';
import {
  saturationVaporPressureBoltonPa,
  saturationVaporPressureWaterPa,
} from '../../worker/science/saturation.ts';
import { cFromK, kFromC, paFromHPa } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

const LIBRARY = 'Unit tests of an open meteorology library (thermodynamics)';

testPublished(
  'relative humidity from a dew point and from a mixing ratio',
  { source: LIBRARY, tag: 'L', values: 2 },
  (published) => {
    published.close(100 * relativeHumidityRatioFromDewPoint(kFromC(25), kFromC(15)), 53.8, {
      abs: 0.016,
      why: 'half of 0.01, and 0.011 between the saturation forms of Bolton and of Murphy and Koop',
    });
    // 0.012 kg/kg at 1013.25 hPa and 20 degC; the library divides by the saturated ratio, Bolton.
    const saturated = mixingRatioKgPerKg(saturationVaporPressureBoltonPa(kFromC(20)), paFromHPa(1013.25));
    published.close((100 * 0.012) / saturated, 81.725, {
      abs: 0.004,
      why: 'ratio of gas constants 0.62198 here and 0.621957 there: 0.003',
    });
  },
);

testPublished(
  'specific humidity, virtual temperature and density of moist air',
  { source: LIBRARY, tag: 'L', values: 3 },
  (published) => {
    published.close(specificHumidityKgPerKg(0.01215), 0.012, { abs: 5e-6, why: 'half of the last digit' });
    published.close(virtualTemperatureK(288, 0.0016), 288.2796, {
      abs: 1e-4,
      why: 'half of the last digit, and the ratio of gas constants',
    });
    // 999 hPa.
    published.close(airDensityKgPerM3(paFromHPa(999), 288, 0.0016), 1.2072, {
      abs: 1e-4,
      why: 'half of the last digit, and gas constants that differ by 1e-5',
    });
  },
);

testPublished(
  'frost points of six dew points',
  { source: 'Murphy and Koop 2005, eq. 7 and 10', tag: 'C', values: 6 },
  (published) => {
    const rows = [
      [-2, -1.767],
      [-5, -4.43],
      [-10, -8.899],
      [-15, -13.406],
      [-20, -17.95],
      [-30, -27.154],
    ] as const;
    for (const [dewPointC, frostPointC] of rows) {
      const found = cFromK(frostPointK(saturationVaporPressureWaterPa(kFromC(dewPointC))));
      published.close(found, frostPointC, { abs: 0.001, why: 'printed to 0.001' });
      // Rule of thumb: 0.88-0.90 of the dew point; the ends are rounded.
      expect(found / dewPointC).toBeGreaterThan(0.875);
      expect(found / dewPointC).toBeLessThan(0.91);
    }
  },
);

testPublished(
  'air saturated over water, over ice in per cent',
  { source: 'Murphy and Koop 2005, eq. 7 and 10', tag: 'C', values: 6 },
  (published) => {
    const rows = [
      [-5, 104.98],
      [-10, 110.22],
      [-15, 115.74],
      [-20, 121.55],
      [-30, 134.0],
    ] as const;
    const tolerance = { abs: 0.006, why: 'printed to 0.01' };
    for (const [celsius, percent] of rows) {
      published.close(100 * relativeHumidityIceRatio(1, kFromC(celsius)), percent, tolerance);
    }
    published.close(100 * relativeHumidityIceRatio(0.87, kFromC(-15)), 100.7, {
      abs: 0.05,
      why: 'printed to 0.1',
    });
  },
);

testPublished(
  'saturated mixing ratios',
  { source: 'Murphy and Koop 2005, eq. 7 and 10', tag: 'C', values: 4 },
  (published) => {
    // hPa, degC, g/kg.
    const rows = [
      [1000, 0, 3.825],
      [850, -5, 3.102],
      [700, -10, 2.556],
      [500, -20, 1.565],
    ] as const;
    for (const [hPa, celsius, gPerKg] of rows) {
      published.close(1000 * saturationMixingRatio(kFromC(celsius), paFromHPa(hPa)), gPerKg, {
        abs: 0.001,
        why: 'printed to 0.001; ratio of gas constants 0.622 there',
      });
    }
  },
);

testPublished(
  '100 % of two mixed bases at -10 degC, over water (their forms are from memory)',
  { source: 'Mixed saturation of two global models', tag: 'C', values: 2 },
  (published) => {
    const overWater = (basis: 'ncep-mixed' | 'ecmwf-mixed') =>
      100 * relativeHumidityRatioOverWater(1, kFromC(-10), basis);
    published.close(overWater('ncep-mixed'), 95.4, { abs: 0.05, why: 'printed to 0.1' });
    published.close(overWater('ecmwf-mixed'), 93.7, { abs: 0.05, why: 'printed to 0.1' });
  },
);

test('every basis means water at 0 degC, and water stays water at any temperature', () => {
  for (const basis of ['water', 'ncep-mixed', 'ecmwf-mixed'] as const) {
    assertClose(relativeHumidityRatioOverWater(0.8, 273.16, basis), 0.8, { abs: 1e-12, why: 'no ice' });
  }
  expect(relativeHumidityRatioOverWater(0.8, 230, 'water')).toBe(0.8);
});

test('dew point undoes saturation from -90 to 40 degC, and no vapor has none', () => {
  for (let celsius = -90; celsius <= 40; celsius += 10) {
    assertClose(dewPointK(saturationVaporPressureWaterPa(kFromC(celsius))), kFromC(celsius), {
      abs: 1e-6,
      why: 'stated accuracy',
    });
  }
  expect(dewPointK(0)).toBeNaN();
  expect(frostPointK(Number.NaN)).toBeNaN();
});

/** Humidity relations against a meteorology library's tests, an online psychrometric calculator, and computed rows. */
import { expect, test } from 'vitest';
import {
  airDensityKgPerM3,
  dewPointK,
  frostPointK,
  iceBulbK,
  mixingRatioKgPerKg,
  relativeHumidityIceRatio,
  relativeHumidityRatioFromDewPoint,
  specificHumidityKgPerKg,
  virtualTemperatureK,
  wetBulbK,
} from '../../worker/science/humidity.ts';
import { relativeHumidityRatioOverWater } from '../../worker/science/humidity-basis.ts';
import { saturationMixingRatio } from '../../worker/science/moist-adiabat.ts';
import {
  saturationVaporPressureBoltonPa,
  saturationVaporPressureWaterPa,
} from '../../worker/science/saturation.ts';
import { cFromK, kFromC } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

test('25 degC over a dew point of 15 degC is 53.80 % (meteorology library, Bolton saturation)', () => {
  const percent = 100 * relativeHumidityRatioFromDewPoint(kFromC(25), kFromC(15));
  assertClose(percent, 53.8, {
    abs: 0.02,
    why: 'printed to 0.01; the two saturation forms differ by 0.01 here',
  });
});

test('a mixing ratio of 0.012 at 1013.25 hPa and 20 degC is 81.725 % of saturation (meteorology library)', () => {
  const saturated = mixingRatioKgPerKg(saturationVaporPressureBoltonPa(kFromC(20)), 101325);
  assertClose((100 * 0.012) / saturated, 81.725, {
    abs: 0.01,
    why: 'as the library states, w over ws, Bolton',
  });
});

test('a mixing ratio of 0.01215 is a specific humidity of 0.01200 (meteorology library)', () => {
  assertClose(specificHumidityKgPerKg(0.01215), 0.012, { abs: 1e-5, why: 'printed to 1e-5' });
});

test('288 K with 1.6 g/kg has a virtual temperature of 288.2796 K and at 999 hPa a density of 1.2072 kg/m3', () => {
  assertClose(virtualTemperatureK(288, 0.0016), 288.2796, { abs: 0.001, why: 'meteorology library' });
  assertClose(airDensityKgPerM3(99900, 288, 0.0016), 1.2072, { abs: 0.001, why: 'meteorology library' });
});

test('frost points of six dew points equal those computed apart (Murphy and Koop 2005)', () => {
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
    assertClose(found, frostPointC, { abs: 0.01, why: 'reference tolerance' });
    expect(found / dewPointC).toBeGreaterThan(0.88 - 0.01);
    expect(found / dewPointC).toBeLessThan(0.9 + 0.01);
  }
  expect(rows.length).toBe(6);
});

test('air saturated over water is supersaturated over ice by the computed amounts', () => {
  const rows = [
    [-5, 104.98],
    [-10, 110.22],
    [-15, 115.74],
    [-20, 121.55],
    [-30, 134.0],
  ] as const;
  for (const [celsius, percent] of rows) {
    assertClose(100 * relativeHumidityIceRatio(1, kFromC(celsius)), percent, {
      abs: 0.05,
      why: 'reference tolerance',
    });
  }
  assertClose(100 * relativeHumidityIceRatio(0.87, kFromC(-15)), 100.7, {
    abs: 0.05,
    why: '87 % at -15 degC',
  });
  expect(rows.length).toBe(5);
});

test('saturated mixing ratios equal the computed rows', () => {
  // hPa, degC, g/kg.
  const rows = [
    [1000, 0, 3.825],
    [850, -5, 3.102],
    [700, -10, 2.556],
    [500, -20, 1.565],
  ] as const;
  for (const [hPa, celsius, gPerKg] of rows) {
    assertClose(1000 * saturationMixingRatio(kFromC(celsius), hPa * 100), gPerKg, {
      abs: 0.01,
      why: 'reference tolerance',
    });
  }
  expect(rows.length).toBe(4);
});

test('wet bulbs at 1013.25 hPa equal those of an online psychrometric calculator', () => {
  const rows = [
    [5, 50, 1.345],
    [10, 70, 7.393],
    [20, 90, 18.863],
  ] as const;
  for (const [celsius, percent, bulbC] of rows) {
    assertClose(cFromK(wetBulbK(kFromC(celsius), percent / 100, 101325)), bulbC, {
      abs: 0.02,
      why: 'reference tolerance',
    });
  }
  expect(rows.length).toBe(3);
});

test('water and ice bulbs near and below 0 degC equal the computed rows', () => {
  // degC, dew point degC, hPa, water bulb, ice bulb.
  const rows = [
    [0, -5, 850, -1.968, -1.995],
    [-5, -10, 850, -6.598, -6.428],
    [2, -4, 900, -0.401, -0.541],
  ] as const;
  for (const [celsius, dewC, hPa, waterC, iceC] of rows) {
    const humidity = relativeHumidityRatioFromDewPoint(kFromC(celsius), kFromC(dewC));
    const tolerance = { abs: 0.05, why: 'reference tolerance' };
    assertClose(cFromK(wetBulbK(kFromC(celsius), humidity, hPa * 100)), waterC, tolerance);
    assertClose(cFromK(iceBulbK(kFromC(celsius), humidity, hPa * 100)), iceC, tolerance);
  }
  expect(rows.length).toBe(3);
});

test('100 % of two mixed bases at -10 degC is 95.4 and 93.7 % over water (forms from memory)', () => {
  const overWater = (basis: 'ncep-mixed' | 'ecmwf-mixed') =>
    100 * relativeHumidityRatioOverWater(1, kFromC(-10), basis);
  assertClose(overWater('ncep-mixed'), 95.4, { abs: 0.05, why: 'printed to 0.1' });
  assertClose(overWater('ecmwf-mixed'), 93.7, { abs: 0.05, why: 'printed to 0.1' });
});

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

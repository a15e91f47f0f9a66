/** Sources: named in each title. Rows as printed; conversions in view. */
import { expect, test } from 'vitest';
import {
  dewPointBoltonK,
  saturationVaporPressureBoltonPa,
  saturationVaporPressureIcePa,
  saturationVaporPressureWaterPa,
} from '../../worker/science/saturation.ts';
import { kFromC } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

test('saturation over ice and water equals the code-check table of Murphy and Koop 2005 (rows from memory)', () => {
  // K, ice Pa, water Pa, as printed to four or five figures.
  const rows = [
    [240, 27.272, 37.667],
    [210, 0.70202, 1.2335],
    [180, 0.0053975, 0.011239],
    [150, 6.106e-6, 1.562e-5],
  ] as const;
  for (const [temperatureK, icePa, waterPa] of rows) {
    const tolerance = { rel: 5e-4, why: 'printed to four or five figures' };
    assertClose(saturationVaporPressureIcePa(temperatureK), icePa, tolerance);
    assertClose(saturationVaporPressureWaterPa(temperatureK), waterPa, tolerance);
  }
  expect(rows.length).toBe(4);
});

test('at 240 K both agree with that table to 0.002 Pa (from memory)', () => {
  assertClose(saturationVaporPressureIcePa(240), 27.272, { abs: 0.002, why: 'last printed digit' });
  assertClose(saturationVaporPressureWaterPa(240), 37.667, { abs: 0.002, why: 'last printed digit' });
});

test('at the triple point both give 611.657 Pa (Guildner et al. 1976, by way of Wexler 1976)', () => {
  const tolerance = { abs: 0.001, why: 'last printed digit' };
  assertClose(saturationVaporPressureIcePa(273.16), 611.657, tolerance);
  assertClose(saturationVaporPressureWaterPa(273.16), 611.657, tolerance);
});

test('saturation over ice agrees with a hygrometer manual of 1 mmHg = 133.3224 Pa, table A-1, to 0.3 %', () => {
  // degC, mmHg. The table is on an old temperature scale: 0.3 %.
  const rows = [
    [-5, 3.013],
    [-10, 1.95],
    [-15, 1.241],
    [-20, 0.776],
    [-30, 0.2859],
    [-40, 0.0966],
  ] as const;
  for (const [celsius, mmHg] of rows) {
    assertClose(saturationVaporPressureIcePa(kFromC(celsius)), mmHg * 133.3224, {
      rel: 0.003,
      why: 'old temperature scale, three figures printed',
    });
  }
  expect(rows.length).toBe(6);
});

test('the form of Bolton 1980 gives the values of a meteorology library that uses it', () => {
  // degC, hPa, printed to 0.01.
  const rows = [
    [5, 8.72],
    [10, 12.27],
    [18, 20.63],
    [25, 31.67],
  ] as const;
  for (const [celsius, hPa] of rows) {
    assertClose(saturationVaporPressureBoltonPa(kFromC(celsius)) / 100, hPa, {
      abs: 0.01,
      why: 'printed to 0.01 hPa',
    });
  }
  expect(rows.length).toBe(4);
});

test('values from -40 to 20 degC equal those computed apart from the published equations', () => {
  // degC, Murphy and Koop water and ice, Goff-Gratch water and ice; computed by another script, Pa.
  const rows = [
    [20, 2339.399, Number.NaN, 2335.847, Number.NaN],
    [0, 611.213, 611.154, 610.336, 610.207],
    [-5, 421.761, 401.756, 421.166, 401.121],
    [-10, 286.453, 259.892, 286.044, 259.471],
    [-15, 191.31, 165.29, 191.02, 165.015],
    [-20, 125.504, 103.252, 125.292, 103.074],
    [-30, 50.936, 38.012, 50.832, 37.941],
    [-40, 18.912, 12.844, 18.894, 12.818],
  ] as const;
  let compared = 0;
  for (const [celsius, water, ice, goffWater, goffIce] of rows) {
    const waterPa = saturationVaporPressureWaterPa(kFromC(celsius));
    const icePa = saturationVaporPressureIcePa(kFromC(celsius));
    assertClose(waterPa, water, { rel: 2e-4, why: 'same equation' });
    assertClose(waterPa, goffWater, { rel: 2.5e-3, why: 'Goff-Gratch differs from it by up to 0.2 %' });
    compared += 2;
    if (celsius > 0) continue;
    assertClose(icePa, ice, { rel: 2e-4, why: 'same equation' });
    assertClose(icePa, goffIce, { rel: 2.5e-3, why: 'Goff-Gratch differs from it by up to 0.2 %' });
    compared += 2;
  }
  expect(compared).toBe(30);
});

test('the inverse of the Bolton form undoes it from -60 to 40 degC', () => {
  for (let celsius = -60; celsius <= 40; celsius += 5) {
    assertClose(dewPointBoltonK(saturationVaporPressureBoltonPa(kFromC(celsius))), kFromC(celsius), {
      abs: 1e-9,
      why: 'exact inverse',
    });
  }
});

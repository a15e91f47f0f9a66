/** Saturation vapor pressure against its own paper, other formulas of it, and a measured triple point. */
import { test } from 'vitest';
import {
  dewPointBoltonK,
  saturationVaporPressureBoltonPa,
  saturationVaporPressureIcePa,
  saturationVaporPressureWaterPa,
} from '../../worker/science/saturation.ts';
import { kFromC, paFromHPa } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

/** degC; Murphy and Koop water and ice, Goff-Gratch water and ice, Bolton, WMO-No. 8 water and ice: Pa, by another script. */
const COMPUTED_ROWS = [
  [0, 611.213, 611.154, 610.336, 610.207, 611.2, 611.2, 611.2],
  [-5, 421.761, 401.756, 421.166, 401.121, 421.991, 422.185, 401.738],
  [-10, 286.453, 259.892, 286.044, 259.471, 286.77, 287.031, 259.874],
  [-15, 191.31, 165.29, 191.02, 165.015, 191.611, 191.871, 165.287],
  [-20, 125.504, 103.252, 125.292, 103.074, 125.74, 125.965, 103.261],
  [-30, 50.936, 38.012, 50.832, 37.941, 51.035, 51.169, 38.025],
  [-40, 18.912, 12.844, 18.894, 12.818, 18.958, 19.021, 12.85],
] as const;

testPublished(
  'water and ice at four temperatures of the code-check table',
  { source: 'Murphy and Koop 2005, code-check table', tag: 'M', values: 8 },
  (published) => {
    // K, ice Pa, water Pa.
    const rows = [
      [240, 27.272, 37.667],
      [210, 0.70202, 1.2335],
      [180, 0.0053975, 0.011239],
      [150, 6.106e-6, 1.562e-5],
    ] as const;
    for (const [temperatureK, icePa, waterPa] of rows) {
      const tolerance = { rel: 1.5e-4, why: 'half of the last of four or five figures' };
      published.close(saturationVaporPressureIcePa(temperatureK), icePa, tolerance);
      published.close(saturationVaporPressureWaterPa(temperatureK), waterPa, tolerance);
    }
  },
);

testPublished(
  'both phases at the triple point',
  { source: 'Guildner et al. 1976, triple point 611.657 Pa, in Wexler 1976', tag: 'L', values: 1 },
  (published) => {
    const tolerance = { abs: 0.001, why: 'printed to 0.001 Pa' };
    published.close(saturationVaporPressureWaterPa(273.16), 611.657, tolerance);
    assertClose(saturationVaporPressureIcePa(273.16), 611.657, tolerance);
  },
);

testPublished(
  'the form of Bolton 1980 as a library that uses it has it',
  { source: 'Unit tests of an open meteorology library (thermodynamics)', tag: 'L', values: 4 },
  (published) => {
    // degC, hPa.
    const rows = [
      [5, 8.72],
      [10, 12.27],
      [18, 20.63],
      [25, 31.67],
    ] as const;
    for (const [celsius, hPa] of rows) {
      published.close(saturationVaporPressureBoltonPa(kFromC(celsius)), paFromHPa(hPa), {
        abs: 1,
        why: 'printed to 0.01 hPa, the library takes 6.112 hPa and 0.005 of rounding',
      });
    }
  },
);

testPublished(
  'water from 20 to -40 degC and ice from 0 to -40 degC by the same equations',
  { source: 'Murphy and Koop 2005, eq. 7 and 10', tag: 'C', values: 15 },
  (published) => {
    const tolerance = { abs: 0.0006, why: 'the same equation, printed to 0.001 Pa' };
    published.close(saturationVaporPressureWaterPa(kFromC(20)), 2339.399, tolerance);
    for (const [celsius, water, ice] of COMPUTED_ROWS) {
      published.close(saturationVaporPressureWaterPa(kFromC(celsius)), water, tolerance);
      published.close(saturationVaporPressureIcePa(kFromC(celsius)), ice, tolerance);
    }
  },
);

testPublished(
  'water and ice stay within 0.2 % of an older formula',
  { source: 'Goff and Gratch 1946', tag: 'C', values: 15 },
  (published) => {
    const tolerance = { rel: 0.0021, why: 'the older formula is lower by 0.10-0.20 %' };
    published.close(saturationVaporPressureWaterPa(kFromC(20)), 2335.847, tolerance);
    for (const [celsius, , , water, ice] of COMPUTED_ROWS) {
      published.close(saturationVaporPressureWaterPa(kFromC(celsius)), water, tolerance);
      published.close(saturationVaporPressureIcePa(kFromC(celsius)), ice, tolerance);
    }
  },
);

testPublished(
  'water by the form that can be turned round',
  { source: 'Bolton 1980, eq. 10', tag: 'C', values: 8 },
  (published) => {
    const tolerance = { abs: 0.0006, why: 'the same equation, printed to 0.001 Pa' };
    published.close(saturationVaporPressureBoltonPa(kFromC(20)), 2336.947, tolerance);
    for (const [celsius, , , , , bolton] of COMPUTED_ROWS) {
      published.close(saturationVaporPressureBoltonPa(kFromC(celsius)), bolton, tolerance);
    }
  },
);

testPublished(
  'ice within 0.05 % and water within 0.6 % of the Magnus forms (coefficients from memory)',
  { source: 'WMO-No. 8, Magnus forms of Sonntag 1990', tag: 'C', values: 14 },
  (published) => {
    for (const [celsius, , , , , , water, ice] of COMPUTED_ROWS) {
      published.close(saturationVaporPressureWaterPa(kFromC(celsius)), water, {
        rel: 0.006,
        why: 'the Magnus form is higher, by 0.57 % at -40 degC',
      });
      published.close(saturationVaporPressureIcePa(kFromC(celsius)), ice, {
        rel: 0.0005,
        why: 'the Magnus form is higher, by 0.045 % at -40 degC',
      });
    }
  },
);

test('the inverse of the Bolton form undoes it from -60 to 40 degC', () => {
  for (let celsius = -60; celsius <= 40; celsius += 5) {
    assertClose(dewPointBoltonK(saturationVaporPressureBoltonPa(kFromC(celsius))), kFromC(celsius), {
      abs: 1e-9,
      why: 'exact inverse',
    });
  }
});

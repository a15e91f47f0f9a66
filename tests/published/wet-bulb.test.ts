/** Wet bulbs against an online calculator, a library's psychrometer, and rows computed apart. */
import { iceBulbK, relativeHumidityRatioFromDewPoint, wetBulbK } from '../../worker/science/humidity.ts';
import { cFromK, kFromC, paFromHPa } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'three wet bulbs at 1013.25 hPa',
  { source: 'Online psychrometric calculator, in the tests of an open hydrology code', tag: 'L', values: 3 },
  (published) => {
    // degC, %, degC.
    const rows = [
      [5, 50, 1.345],
      [10, 70, 7.393],
      [20, 90, 18.863],
    ] as const;
    for (const [celsius, percent, bulbC] of rows) {
      published.close(cFromK(wetBulbK(kFromC(celsius), percent / 100, paFromHPa(1013.25))), bulbC, {
        abs: 0.01,
        why: 'another saturation formula and other specific heats: 0.009 in the driest row',
      });
    }
  },
);

testPublished(
  'a psychrometer at 20 over 18 degC and 1013.25 hPa',
  { source: 'Unit tests of an open meteorology library (thermodynamics)', tag: 'L', values: 2 },
  (published) => {
    // Relative humidity in %, by psychrometer coefficients of 6.21e-4 and 6.1e-4 a kelvin.
    for (const percent of [82.8747, 82.9701]) {
      published.close(cFromK(wetBulbK(kFromC(20), percent / 100, paFromHPa(1013.25))), 18, {
        abs: 0.04,
        why: 'the balance is a coefficient of 6.5e-4: 5 or 7 % of the 2 K of depression, a third of it in the bulb',
      });
    }
  },
);

testPublished(
  'water and ice bulbs near and below 0 degC',
  { source: 'Isobaric wet-bulb balance over water and over ice', tag: 'C', values: 6 },
  (published) => {
    // degC, dew point degC, hPa, water bulb, ice bulb.
    const rows = [
      [0, -5, 850, -1.968, -1.995],
      [-5, -10, 850, -6.598, -6.428],
      [2, -4, 900, -0.401, -0.541],
    ] as const;
    for (const [celsius, dewC, hPa, waterC, iceC] of rows) {
      const humidity = relativeHumidityRatioFromDewPoint(kFromC(celsius), kFromC(dewC));
      const tolerance = { abs: 0.002, why: 'printed to 0.001; ratio of gas constants 0.622 there' };
      published.close(cFromK(wetBulbK(kFromC(celsius), humidity, paFromHPa(hPa))), waterC, tolerance);
      published.close(cFromK(iceBulbK(kFromC(celsius), humidity, paFromHPa(hPa))), iceC, tolerance);
    }
  },
);

/** The dew-point depression of ice saturation, which the -8D technique takes for -T / 8. */
import {
  dewPointK,
  relativeHumidityIceRatio,
  relativeHumidityRatioFromDewPoint,
} from '../../worker/science/humidity.ts';
import { saturationVaporPressureIcePa } from '../../worker/science/saturation.ts';
import { kFromC } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

testPublished(
  'at -8 degC a depression of 1.0 K is ice saturation, as T = -8D says',
  { source: 'Glossary of Meteorology, "8D technique"', tag: 'L', values: 1 },
  (published) => {
    const humidity = relativeHumidityRatioFromDewPoint(kFromC(-8), kFromC(-8 - 1));
    published.close(100 * relativeHumidityIceRatio(humidity, kFromC(-8)), 100, {
      abs: 0.05,
      why: 'D is written in tenths; the rule is a straight line that is exact near -8 degC',
    });
  },
);

testPublished(
  'depressions at ice saturation from -2 to -30 degC',
  { source: 'Murphy and Koop 2005, eq. 7 and 10', tag: 'C', values: 9 },
  (published) => {
    // degC, K.
    const rows = [
      [-2, 0.263],
      [-5, 0.64],
      [-8, 0.997],
      [-10, 1.225],
      [-12, 1.445],
      [-15, 1.759],
      [-20, 2.242],
      [-25, 2.675],
      [-30, 3.056],
    ] as const;
    for (const [celsius, depressionK] of rows) {
      const dewPoint = dewPointK(saturationVaporPressureIcePa(kFromC(celsius)));
      published.close(kFromC(celsius) - dewPoint, depressionK, { abs: 0.0006, why: 'printed to 0.001' });
    }
  },
);

testPublished(
  'what -8D lets through in the cold: below ice saturation at -20 and -30 degC',
  { source: 'Murphy and Koop 2005, eq. 7 and 10', tag: 'C', values: 2 },
  (published) => {
    // degC, % over ice at T = -8D.
    const rows = [
      [-20, 97.8],
      [-30, 93.5],
    ] as const;
    for (const [celsius, percent] of rows) {
      const humidity = relativeHumidityRatioFromDewPoint(kFromC(celsius), kFromC(celsius + celsius / 8));
      published.close(100 * relativeHumidityIceRatio(humidity, kFromC(celsius)), percent, {
        abs: 0.05,
        why: 'printed to 0.1',
      });
    }
  },
);

/** The freezing fraction against the tables of the Aircraft Icing Handbook, with the heat ratio taken from them. */
import { expect, test } from 'vitest';
import {
  airColdK,
  convectionWPerM2K,
  dropColdK,
  freezingFraction,
} from '../../worker/science/heat-balance.ts';
import { kFromC } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';
import { HANDBOOK, HANDBOOK_ROWS, type HandbookRow } from './handbook-heat-rows.ts';

const SEA_LEVEL_PA = 101325;

function fractionWith(row: HandbookRow, heatRatio: number): number {
  const temperatureK = kFromC(row.celsius);
  return freezingFraction(
    dropColdK(temperatureK, row.speedMps),
    airColdK(temperatureK, SEA_LEVEL_PA, row.speedMps),
    heatRatio,
  );
}

/** Warming over convection; the percentages are whole, so each may be half of one off. */
const ratioOf = ({ warmingPct, convectionPct }: HandbookRow, off = 0): number =>
  (warmingPct - off) / (convectionPct + off);

testPublished(
  'tables 2-5 to 2-8: 42 freezing fractions, never more than 0.05 off',
  { source: HANDBOOK, tag: 'L', values: 42 },
  (published) => {
    for (const row of HANDBOOK_ROWS) {
      const found = fractionWith(row, ratioOf(row));
      const rounding = fractionWith(row, ratioOf(row, 0.5)) - found;
      published.close(found, row.freezingFraction, {
        abs: Math.min(0.05, 0.005 + rounding + 0.046 * row.freezingFraction),
        why: 'printed to 0.01; whole percentages; in the cold their own percentages give 3 to 6 % less than they print',
      });
    }
  },
);

testPublished(
  'the 13 rows computed apart with the published formula',
  { source: 'NASA/CR-2004-212875, heat balance (form from memory)', tag: 'C', values: 13 },
  (published) => {
    // m/s, um, g/m3, degC, n.
    const computed = [
      [70, 20, 0.7, -26, 0.862],
      [70, 20, 0.7, -20, 0.675],
      [70, 20, 0.7, -14, 0.486],
      [70, 20, 0.7, -8, 0.266],
      [70, 20, 0.7, -2, 0.031],
      [70, 20, 0.1, -6, 0.951],
      [70, 20, 0.1, -4, 0.531],
      [70, 20, 1.0, -6, 0.154],
      [70, 20, 5.0, -26, 0.397],
      [70, 40, 0.7, -26, 0.651],
      [100, 20, 0.7, -26, 0.676],
      [100, 20, 0.1, -6, 0.461],
      [130, 20, 0.1, -6, 0.089],
    ] as const;
    for (const [speedMps, dropUm, gPerM3, celsius, fraction] of computed) {
      const row = HANDBOOK_ROWS.find(
        (each) =>
          each.speedMps === speedMps &&
          each.dropUm === dropUm &&
          each.gPerM3 === gPerM3 &&
          each.celsius === celsius,
      );
      published.close(row === undefined ? Number.NaN : fractionWith(row, ratioOf(row)), fraction, {
        abs: 0.0015,
        why: 'printed to 0.001; vapor pressure by Murphy and Koop here, by a polynomial there',
      });
    }
  },
);

testPublished(
  'heat transfer of the 20 cm cylinder at 70 m/s and sea level',
  { source: 'NASA/CR-2004-212875, Nu = 1.14 Pr^0.4 Re^0.5', tag: 'C', values: 1 },
  (published) => {
    const impact = {
      ...{ pressurePa: SEA_LEVEL_PA, temperatureK: kFromC(-10), trueAirspeedMps: 70 },
      ...{ liquidWaterKgPerM3: 0, diameterM: 0, dropColdK: 0, airColdK: 0 },
    };
    published.close(convectionWPerM2K(impact, 0.2), 124, { rel: 0.015, why: 'the row gives no temperature' });
  },
);

test('a 3 cm rod at 150 kt and 700 hPa freezes water below about -1.6 degC, evaporation counted', () => {
  const freezes = (celsius: number) =>
    freezingFraction(
      dropColdK(kFromC(celsius), 77.167),
      airColdK(kFromC(celsius), 70000, 77.167),
      // Heat ratio of 0.2 g/m3 and 20 um on that rod, near 0.3; the sign of the balance hardly hangs on it.
      0.3,
    );
  expect(freezes(-1.8)).toBeGreaterThan(0);
  expect(freezes(-1.4)).toBe(0);
});

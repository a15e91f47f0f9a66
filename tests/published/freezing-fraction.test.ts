/** The heat balance against the Aircraft Icing Handbook, DOT/FAA/CT-88/8-1, tables 2-5 to 2-8: a 20 cm cylinder at sea level. */
import { expect, test } from 'vitest';
import {
  airColdK,
  convectionWPerM2K,
  dropColdK,
  freezingFraction,
} from '../../worker/science/heat-balance.ts';
import { kFromC } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

/** m/s, um, g/m3, degC, published n; sinks of heat by convection and by warming the water, % of all. */
const HANDBOOK_ROWS = [
  [70, 20, 0.7, -26, 0.9, 48, 36],
  [70, 20, 0.7, -20, 0.7, 47, 35],
  [70, 20, 0.7, -14, 0.49, 46, 33],
  [70, 20, 0.7, -8, 0.27, 44, 32],
  [70, 20, 0.7, -2, 0.03, 44, 31],
  [70, 20, 0.1, -6, 0.93, 60, 6],
  [70, 20, 0.1, -4, 0.53, 59, 6],
  [70, 20, 1.0, -6, 0.15, 39, 40],
  [70, 20, 5.0, -26, 0.42, 15, 80],
  [70, 40, 0.7, -26, 0.68, 39, 48],
  [100, 20, 0.7, -26, 0.71, 43, 44],
  [100, 20, 0.1, -6, 0.44, 60, 8],
  [130, 20, 0.1, -6, 0.08, 61, 10],
] as const;

test('the freezing fraction is within 0.05 of 13 published rows when the heat ratio is theirs', () => {
  for (const [speedMps, , , celsius, published, convectionPct, warmingPct] of HANDBOOK_ROWS) {
    const temperatureK = kFromC(celsius);
    const found = freezingFraction(
      dropColdK(temperatureK, speedMps),
      airColdK(temperatureK, 101325, speedMps),
      warmingPct / convectionPct,
    );
    assertClose(found, published, {
      abs: 0.05,
      why: 'percentages printed without decimals; 0.042 at -26 degC',
    });
  }
  expect(HANDBOOK_ROWS.length).toBe(13);
});

test('the same rows computed apart from the published formula agree to 0.01', () => {
  const computed = [
    0.862, 0.675, 0.486, 0.266, 0.031, 0.951, 0.531, 0.154, 0.397, 0.651, 0.676, 0.461, 0.089,
  ];
  HANDBOOK_ROWS.forEach(([speedMps, , , celsius, , convectionPct, warmingPct], row) => {
    const temperatureK = kFromC(celsius);
    const found = freezingFraction(
      dropColdK(temperatureK, speedMps),
      airColdK(temperatureK, 101325, speedMps),
      warmingPct / convectionPct,
    );
    assertClose(found, computed[row]!, { abs: 0.01, why: 'same formula, property fits' });
  });
  expect(computed.length).toBe(HANDBOOK_ROWS.length);
});

test('heat transfer of the 20 cm cylinder at 70 m/s and sea level is 124 W/m2/K (computed)', () => {
  const impact = {
    pressurePa: 101325,
    temperatureK: kFromC(-10),
    trueAirspeedMps: 70,
    liquidWaterKgPerM3: 0,
    diameterM: 0,
    dropColdK: 0,
    airColdK: 0,
  };
  assertClose(convectionWPerM2K(impact, 0.2), 124, { rel: 0.02, why: 'the row gives no temperature' });
});

test('a 3 cm rod at 150 kt and 700 hPa freezes water below about -1.6 degC, evaporation counted (computed)', () => {
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

/**
 * Collection efficiency of cylinders against Langmuir and Blodgett 1946 (AAF TR 5418), whose numerical integrations the
 * formulas were made for. What later integrations find instead stands in tests/independent/.
 */
import { expect, test } from 'vitest';
import {
  airViscosityPaS,
  modifiedInertia,
  overallEfficiency,
  rangeRatio,
  stagnationEfficiency,
} from '../../worker/science/collection.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

const LANGMUIR_BLODGETT = 'Langmuir and Blodgett 1946, AAF TR 5418';

testPublished(
  'table I: the range ratio from a Reynolds number of 1 to 1000',
  { source: LANGMUIR_BLODGETT, tag: 'L', values: 10 },
  (published) => {
    const rows = [
      [1, 0.92],
      [2, 0.8653],
      [5, 0.7734],
      [10, 0.6905],
      [20, 0.5904],
      [50, 0.4505],
      [100, 0.3524],
      [200, 0.2668],
      [500, 0.1752],
      [1000, 0.1215],
    ] as const;
    for (const [reynolds, ratio] of rows) {
      published.close(rangeRatio(reynolds), ratio, {
        rel: reynolds >= 10 ? 0.0125 : 0.062,
        why: 'the fit is 6 % high at 1, 3 % at 5, 0.8 % at 10 and 1.2 % at 1000',
      });
    }
  },
);

/** Table II: phi, K, E, beta0. One later copy has 0.801 for the 0.861 at K = 9, less than the value at 6.25. */
const TABLE_II = [
  [0, 0.256, 0.045, 0.202],
  [0, 0.4, 0.129, 0.321],
  [0, 0.625, 0.253, 0.439],
  [0, 0.9, 0.358, 0.531],
  [0, 1.6, 0.506, 0.66],
  [0, 3.6, 0.696, 0.799],
  [0, 6.4, 0.803, 0.868],
  [0, 10, 0.864, 0.909],
  [100, 0.25, 0.029, 0.164],
  [100, 0.36, 0.068, 0.246],
  [100, 0.64, 0.181, 0.378],
  [100, 1, 0.294, 0.478],
  [100, 1.96, 0.475, 0.617],
  [100, 3.24, 0.591, 0.705],
  [100, 6.25, 0.721, 0.817],
  [100, 9, 0.781, 0.861],
  [1000, 0.256, 0.022, 0.146],
  [1000, 0.4, 0.062, 0.233],
  [1000, 0.625, 0.127, 0.323],
  [1000, 0.9, 0.203, 0.398],
  [1000, 1.6, 0.34, 0.513],
  [1000, 3.6, 0.542, 0.68],
  [1000, 6.4, 0.659, 0.778],
  [1000, 10, 0.737, 0.837],
  [10000, 0.25, 0.012, 0.111],
  [10000, 0.36, 0.03, 0.168],
  [10000, 0.64, 0.08, 0.264],
  [10000, 1, 0.148, 0.343],
  [10000, 1.96, 0.28, 0.476],
  [10000, 3.24, 0.394, 0.58],
  [10000, 6.25, 0.546, 0.702],
  [10000, 9, 0.62, 0.759],
] as const;

/** phi is the square of the Reynolds number over K. */
const modifiedOf = (phi: number, inertia: number) =>
  modifiedInertia(inertia, rangeRatio(Math.sqrt(phi * inertia)));
const rootMeanSquare = (values: readonly number[]) =>
  Math.sqrt(values.reduce((sum, value) => sum + value * value, 0) / values.length);

testPublished(
  'table II: the stagnation efficiency at 32 points',
  { source: LANGMUIR_BLODGETT, tag: 'L', values: 32 },
  (published) => {
    const errors: number[] = [];
    for (const [phi, inertia, , stagnation] of TABLE_II) {
      const modified = modifiedOf(phi, inertia);
      const found = stagnationEfficiency(modified);
      const isExact = phi === 0 || modified < 0.5;
      published.close(found, stagnation, {
        abs: 0.004,
        rel: isExact ? 0 : 0.06,
        why: 'exact under Stokes drag and below a K0 of 0.5 but for the range ratio; up to 0.046 low above',
      });
      errors.push(found - stagnation);
    }
    expect(rootMeanSquare(errors)).toBeLessThan(0.0165);
  },
);

testPublished(
  'table II: the overall efficiency at 32 points',
  { source: LANGMUIR_BLODGETT, tag: 'L', values: 32 },
  (published) => {
    const errors: number[] = [];
    for (const [phi, inertia, overall] of TABLE_II) {
      const found = overallEfficiency(modifiedOf(phi, inertia));
      published.close(found, overall, {
        abs: 0.004,
        rel: 0.085,
        why: 'the two formulas without the corrections of table V and of drag: up to 0.047 low at 0.62',
      });
      errors.push(found - overall);
    }
    expect(rootMeanSquare(errors)).toBeLessThan(0.0225);
  },
);

testPublished(
  'viscosity at -20 degC, by the same fit and by that of Sutherland (from memory)',
  { source: 'NASA/CR-2004-212875 eq. A.24, and Sutherland', tag: 'C', values: 2 },
  (published) => {
    published.close(airViscosityPaS(253.15), 1.6156e-5, { abs: 6e-10, why: 'half of the last digit' });
    published.close(airViscosityPaS(253.15), 1.6153e-5, { rel: 3e-4, why: 'two fits of the same data' });
  },
);

test('the blend of the two overall formulas never falls, and nothing is caught at K0 of 1/8', () => {
  let before = 0;
  for (let modified = 0.125; modified < 3; modified += 0.01) {
    const overall = overallEfficiency(modified);
    expect(overall).toBeGreaterThanOrEqual(before);
    before = overall;
  }
  expect(overallEfficiency(0.125)).toBe(0);
  expect(stagnationEfficiency(0.1)).toBe(0);
  expect(overallEfficiency(0.1251)).toBeGreaterThan(0);
  expect(stagnationEfficiency(0.1251)).toBeGreaterThan(0);
  assertClose(overallEfficiency(1.1), (0.4157 + 0.4119) / 2, { abs: 1e-4, why: 'half way down the step' });
});

/** Overall efficiency of drops of many sizes: the five distributions of Langmuir and Blodgett 1946. */
import { modifiedInertia, overallEfficiency, rangeRatio } from '../../worker/science/collection.ts';
import { testPublished } from '../support/published-values.ts';

/** Shares of the water, and diameters over the median volume diameter. */
const WATER_SHARES = [0.05, 0.1, 0.2, 0.3, 0.2, 0.1, 0.05];
const DIAMETER_RATIOS = {
  A: [1, 1, 1, 1, 1, 1, 1],
  B: [0.56, 0.72, 0.84, 1, 1.17, 1.32, 1.49],
  C: [0.42, 0.61, 0.77, 1, 1.25, 1.51, 1.81],
  D: [0.31, 0.52, 0.71, 1, 1.37, 1.74, 2.22],
  E: [0.23, 0.44, 0.65, 1, 1.48, 2.0, 2.71],
} as const;

/** The report holds K phi, the square of the Reynolds number, at its value for the median diameter. */
function spectrumEfficiency(
  ratios: readonly number[],
  medianInertia: number,
  inertiaTimesPhi: number,
): number {
  const range = rangeRatio(Math.sqrt(inertiaTimesPhi));
  return ratios.reduce((sum, ratio, size) => {
    const modified = modifiedInertia(medianInertia * ratio * ratio, range);
    return sum + WATER_SHARES[size]! * overallEfficiency(modified);
  }, 0);
}

testPublished(
  'table XI: five distributions at five inertias, K phi of 1000',
  { source: 'Langmuir and Blodgett 1946, AAF TR 5418', tag: 'L', values: 25 },
  (published) => {
    const inverseInertias = [2, 1, 0.5, 0.2, 0.1];
    const rows = [
      ['A', 0.076, 0.226, 0.42, 0.656, 0.796],
      ['B', 0.0906, 0.2301, 0.409, 0.644, 0.781],
      ['C', 0.107, 0.237, 0.406, 0.629, 0.764],
      ['D', 0.124, 0.251, 0.409, 0.615, 0.747],
      ['E', 0.146, 0.267, 0.411, 0.605, 0.729],
    ] as const;
    for (const [name, ...efficiencies] of rows) {
      efficiencies.forEach((efficiency, column) => {
        const found = spectrumEfficiency(DIAMETER_RATIOS[name], 1 / inverseInertias[column]!, 1000);
        published.close(found, efficiency, {
          abs: 0.004,
          rel: 0.07,
          why: 'as for one size: the formulas without the corrections of table V and of drag, up to 0.029 low',
        });
      });
    }
  },
);

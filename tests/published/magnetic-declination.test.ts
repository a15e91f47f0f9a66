/** Declination against the test values that come with the World Magnetic Model; all that lie at sea level. */
import { makeMagneticModel } from '../../worker/flight/magnetic.ts';
import { testPublished } from '../support/published-values.ts';

const MS_PER_DAY = 86_400_000;

testPublished(
  'eight places and dates of the models of 2015, 2020 and 2025',
  { source: 'World Magnetic Model, test values of 2015, 2020 and 2025', tag: 'L', values: 8 },
  (published) => {
    // Decimal year, degrees north and east, declination. Read 2026-11-27 in the package of an open implementation.
    const rows = [
      [2015, 80, 0, -3.85],
      [2015, 0, 120, 0.57],
      [2015, -80, 240, 69.81],
      [2017.5, 80, 0, -2.75],
      [2017.5, 0, 120, 0.32],
      [2017.5, -80, 240, 69.58],
      [2022.5, -13, -59, -16.65],
      [2027.5, -13, -59, -17.49],
    ] as const;
    for (const [year, latDeg, lonDeg, declinationDeg] of rows) {
      const dateMs = Date.UTC(Math.floor(year)) + (year % 1) * 365 * MS_PER_DAY;
      published.close(makeMagneticModel(dateMs).declinationDeg({ latDeg, lonDeg }), declinationDeg, {
        abs: 0.0051,
        why: 'half of the last digit',
      });
    }
  },
);

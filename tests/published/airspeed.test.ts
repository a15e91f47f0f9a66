/** Indicated airspeed from true airspeed, against printed density ratios: the root of the ratio is theirs. */
import { expect, test } from 'vitest';
import { airspeedRatio } from '../../worker/science/standard-atmosphere.ts';
import { mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

/** Standard temperature, by its definition: 288.15 K less 6.5 K a kilometer. */
const standardK = (altitudeFt: number) => 288.15 - 0.0065 * mFromFt(altitudeFt);

/** Density ratio that makes the airspeed ratio, at the standard temperature. */
const densityRatioAt = (altitudeFt: number) => airspeedRatio(mFromFt(altitudeFt), standardK(altitudeFt)) ** 2;

const PRINTED = { abs: 0.00005, why: 'half the last printed digit' };

testPublished(
  'indicated over true airspeed is the root of the density ratio, to 10,000 ft',
  { source: 'International standard atmosphere, table of density ratios by 500 ft', tag: 'L', values: 2 },
  (published) => {
    published.close(densityRatioAt(5000), 0.8617, PRINTED);
    published.close(densityRatioAt(10000), 0.7385, PRINTED);
  },
);

testPublished(
  'indicated over true airspeed is the root of the density ratio, above',
  { source: 'ICAO Doc 7488, density ratio by feet', tag: 'M', values: 2 },
  (published) => {
    published.close(densityRatioAt(15000), 0.6292, PRINTED);
    published.close(densityRatioAt(20000), 0.5328, PRINTED);
  },
);

test('at sea level in the standard atmosphere indicated is true', () => {
  assertClose(airspeedRatio(0, 288.15), 1, { abs: 1e-12, why: 'by definition' });
});

// The gas law: density goes with one over temperature. 268.34 K is standard at 10,000 ft; 20 K colder air is 8.05 % denser.
test('colder air at the same pressure altitude shows a higher indicated airspeed for the same true one', () => {
  const cold = airspeedRatio(mFromFt(10000), standardK(10000) - 20);
  assertClose(cold ** 2 / 0.7385, 268.338 / 248.338, { abs: 1e-4, why: 'rounding of the printed ratio' });
  expect(cold).toBeGreaterThan(Math.sqrt(0.7385));
});

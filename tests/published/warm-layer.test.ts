/** Energies of warm and cold layers, and the limits of Bourgouin 2000. */
import { expect, test } from 'vitest';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { enclosedEnergyJPerKg, fateOfMeltedSnow } from '../../worker/science/melted-snow.ts';
import { kFromC } from '../../worker/science/units.ts';
import { testPublished } from '../support/published-values.ts';

/** Energy of a layer of given depth from its linear temperature, in thin slices; pressure by the hypsometric equation. */
function energyOfLayer(footC: number, topC: number, depthM: number): number {
  const slices = 100;
  let pressurePa = 90000;
  let sum = 0;
  for (let slice = 0; slice < slices; slice += 1) {
    const temperatureK = kFromC(footC + ((topC - footC) * (slice + 0.5)) / slices);
    const abovePa = pressurePa * Math.exp((-9.80665 * (depthM / slices)) / (287.05287 * temperatureK));
    sum += enclosedEnergyJPerKg(temperatureK, pressurePa, abovePa);
    pressurePa = abovePa;
  }
  return sum;
}

testPublished(
  'energies of near-isothermal layers, and of a surface layer from -8 to 0 degC over 600 m',
  { source: 'Bourgouin 2000, enclosed area Rd integral of (T - T0) d ln p', tag: 'C', values: 4 },
  (published) => {
    // Mean degC, m, J/kg.
    const rows = [
      [2, 1000, 71.8],
      [3, 800, 86.2],
      [1, 500, 18.0],
    ] as const;
    for (const [meanC, depthM, energy] of rows) {
      published.close(energyOfLayer(meanC, meanC, depthM), energy, {
        abs: 0.06,
        rel: meanC / 273.15,
        why: 'printed to 0.1; the rows divide by 273.15 K, the layer by its own temperature',
      });
    }
    // The form cp t ln(theta) would give 207 here, since its ends are unequally warm.
    published.close(-energyOfLayer(-8, 0, 600), 88, { abs: 0.5, why: 'printed to 1 J/kg' });
  },
);

/** The least cold energy that makes ice pellets of what a warm layer melted, J/kg. */
function pelletLimit(warmJPerKg: number): number {
  let low = 0;
  let high = 1000;
  for (let step = 0; step < 60; step += 1) {
    const middle = (low + high) / 2;
    if (fateOfMeltedSnow(warmJPerKg, middle) === LARGE_DROPS.icePellets) high = middle;
    else low = middle;
  }
  return high;
}

const exact = { abs: 1e-6, why: 'the limit itself' };

testPublished(
  'melted snow becomes ice pellets beyond 66 + 0.66 warm energy; under 2 J/kg nothing has melted',
  { source: 'Bourgouin 2000, as coded in public post-processing sources', tag: 'L', values: 3 },
  (published) => {
    const slope = (pelletLimit(100) - pelletLimit(10)) / 90;
    published.close(slope, 0.66, exact);
    published.close(pelletLimit(10) - 10 * slope, 66, exact);
    published.same(fateOfMeltedSnow(2, 0) === LARGE_DROPS.none, false, '2 J/kg');
    expect(fateOfMeltedSnow(1.999, 0)).toBe(LARGE_DROPS.none);
  },
);

testPublished(
  'the limit for four warm energies',
  { source: 'Bourgouin 2000, 66 + 0.66 warm energy', tag: 'C', values: 4 },
  (published) => {
    const rows = [
      [2, 67.3],
      [10, 72.6],
      [50, 99.0],
      [100, 132.0],
    ] as const;
    for (const [warm, limit] of rows) {
      published.close(pelletLimit(warm), limit, { abs: 0.05, why: 'printed to 0.1' });
      expect(fateOfMeltedSnow(warm, limit - 0.1), `${warm} J/kg, below`).toBe(LARGE_DROPS.freezingRain);
    }
  },
);

test('between 46 and 66 + 0.66 warm energy, published as either (lower limit from memory), freezing rain is assumed', () => {
  expect(fateOfMeltedSnow(50, 60 + 0.66 * 50)).toBe(LARGE_DROPS.freezingRain);
});

test('without a known warm energy nothing has melted', () => {
  expect(fateOfMeltedSnow(Number.NaN, 0)).toBe(LARGE_DROPS.none);
});

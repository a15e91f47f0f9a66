/** Energies of warm and cold layers, and the limits of Bourgouin 2000. */
import { expect, test } from 'vitest';
import { LARGE_DROPS } from '../../worker/science/columns.ts';
import { kFromC } from '../../worker/science/units.ts';
import { enclosedEnergyJPerKg, fateOfMeltedSnow } from '../../worker/science/warm-layer.ts';
import { assertClose } from '../support/assert-close.ts';

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

test('energies of near-isothermal layers equal the computed rows', () => {
  // Mean degC, m, J/kg.
  const rows = [
    [2, 1000, 71.8],
    [3, 800, 86.2],
    [1, 500, 18.0],
  ] as const;
  for (const [meanC, depthM, energy] of rows) {
    assertClose(energyOfLayer(meanC, meanC, depthM), energy, {
      rel: 0.015,
      why: 'the rows divide by 273.15 K, the layer by its own temperature: up to 1.1 %',
    });
  }
  expect(rows.length).toBe(3);
});

test('a surface layer from -8 to 0 degC over 600 m encloses 88 J/kg, not the 207 of the unequal-ends form', () => {
  assertClose(-energyOfLayer(-8, 0, 600), 88, { abs: 1, why: 'printed to 1 J/kg' });
});

test('melted snow becomes ice pellets beyond 66 + 0.66 warm energy (Bourgouin 2000)', () => {
  // Warm energy, limit of the cold energy: J/kg.
  const rows = [
    [2, 67.3],
    [10, 72.6],
    [50, 99.0],
    [100, 132.0],
  ] as const;
  for (const [warm, limit] of rows) {
    expect(fateOfMeltedSnow(warm, limit - 0.1), `${warm} J/kg, below`).toBe(LARGE_DROPS.freezingRain);
    expect(fateOfMeltedSnow(warm, limit + 0.1), `${warm} J/kg, above`).toBe(LARGE_DROPS.icePellets);
  }
  expect(rows.length).toBe(4);
});

test('between 46 and 66 + 0.66 warm energy, published as either (lower limit from memory), freezing rain is assumed', () => {
  expect(fateOfMeltedSnow(50, 60 + 0.66 * 50)).toBe(LARGE_DROPS.freezingRain);
});

test('under 2 J/kg nothing has melted', () => {
  expect(fateOfMeltedSnow(1.9, 0)).toBe(LARGE_DROPS.none);
  expect(fateOfMeltedSnow(Number.NaN, 0)).toBe(LARGE_DROPS.none);
});

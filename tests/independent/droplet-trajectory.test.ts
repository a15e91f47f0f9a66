/**
 * The trajectory integrator on its own: exact results of the theory, its own convergence, and two published sets of
 * integrations. Only then may it judge the fits (collection.test.ts).
 */
import { expect, test } from 'vitest';
import { modifiedInertia, rangeRatio, stagnationEfficiency } from '../../worker/science/collection.ts';
import { assertClose } from '../support/assert-close.ts';
import { recordDifferences } from '../support/difference-record.ts';
import {
  type Encounter,
  integrateCatch,
  langmuirBlodgettDrag,
  schillerNaumannDrag,
  stokesDrag,
} from '../support/droplet-trajectory.ts';
import { LANGMUIR_BLODGETT_TABLE, type TableRow } from '../support/langmuir-blodgett-table.ts';

const underStokes = (inertia: number): Encounter => ({ inertia, reynolds: 0, drag: stokesDrag });

/** Re^2 = phi K, by definition of phi. */
const tableEncounter = ({ phi, inertia }: TableRow): Encounter => ({
  inertia,
  reynolds: Math.sqrt(phi * inertia),
  drag: phi === 0 ? stokesDrag : langmuirBlodgettDrag,
});

test('under Stokes drag nothing is caught below K = 1/8, and something just above (G. I. Taylor 1940, exact)', () => {
  expect(integrateCatch(underStokes(0.12)).overall).toBe(0);
  expect(integrateCatch(underStokes(0.125)).overall).toBe(0);
  const above = integrateCatch(underStokes(0.14));
  expect(above.overall).toBeGreaterThan(2e-5);
  expect(above.stagnation).toBeGreaterThan(2e-3);
  expect(above.stagnation).toBeLessThan(0.02);
});

test('for heavy drops E tends to 1 - (pi/2)/K and beta0 to 1 - 1/K (first order of a straight path, by hand)', () => {
  // Along y = 1 and along y = 0 the integral over the path of the side wind is pi/2 and 1 cylinder radius over K.
  const heavy = integrateCatch(underStokes(1000));
  assertClose(1000 * (1 - heavy.overall), Math.PI / 2, { rel: 0.01, why: 'next term is of order ln K / K' });
  assertClose(1000 * (1 - heavy.stagnation), 1, { rel: 0.01, why: 'next term is of order ln K / K' });
});

test('steps a quarter as long and paths from four times as far give the same to 2e-5', () => {
  for (const [phi, inertia] of [
    [0, 0.256],
    [1000, 0.4],
    [10000, 0.25],
    [1000, 3.6],
    [10000, 9],
    [100, 40],
  ] as const) {
    const encounter = { inertia, reynolds: Math.sqrt(phi * inertia), drag: schillerNaumannDrag };
    const usual = integrateCatch(encounter);
    for (const finer of [{ stepFactor: 0.25 }, { startFactor: 4 }]) {
      const found = integrateCatch({ ...encounter, ...finer });
      assertClose(found.overall, usual.overall, { abs: 2e-5, why: 'fourth-order steps' });
      assertClose(found.stagnation, usual.stagnation, { abs: 2e-5, why: 'fourth-order steps' });
    }
  }
});

test('with its own drag curve it gives the E of all 32 rows of Langmuir and Blodgett within 0.018 (rms 0.009)', () => {
  const differences = recordDifferences();
  for (const row of LANGMUIR_BLODGETT_TABLE) {
    differences.add(integrateCatch(tableEncounter(row)).overall - row.overall, JSON.stringify(row));
  }
  expect(differences.count).toBe(32);
  // The next test names where the larger differences come from.
  expect(differences.largest, differences.largestAt).toBeLessThan(0.018);
  expect(differences.rms).toBeLessThan(0.0095);
});

test('the printed E of phi 0 from K 1.6 up are K / (K + pi/2), a formula: it lies up to 0.017 under the paths', () => {
  const rows = LANGMUIR_BLODGETT_TABLE.filter(({ phi, inertia }) => phi === 0 && inertia >= 1.6);
  for (const row of rows) {
    const formula = row.inertia / (row.inertia + Math.PI / 2);
    assertClose(row.overall, formula, { abs: 0.002, why: 'printed to 0.001' });
    const short = integrateCatch(tableEncounter(row)).overall - formula;
    expect(short).toBeGreaterThan(0.006);
    expect(short).toBeLessThan(0.0175);
  }
  expect(rows.length).toBe(4);
});

test('its beta0 are within 0.042 of the same rows (rms 0.023): the table has them from a rule, not from paths', () => {
  const differences = recordDifferences();
  for (const row of LANGMUIR_BLODGETT_TABLE) {
    differences.add(integrateCatch(tableEncounter(row)).stagnation - row.stagnation, JSON.stringify(row));
  }
  expect(differences.count).toBe(32);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.042);
  expect(differences.rms).toBeLessThan(0.024);
});

test('15 printed beta0 beyond Stokes drag are the curve of phi 0 at the modified inertia, to 0.004', () => {
  const last: Readonly<Record<number, number>> = { 100: 3.24, 1000: 1.6, 10000: 1 };
  const rows = LANGMUIR_BLODGETT_TABLE.filter(({ phi, inertia }) => inertia <= (last[phi] ?? 0));
  for (const { phi, inertia, stagnation } of rows) {
    const modified = modifiedInertia(inertia, rangeRatio(Math.sqrt(phi * inertia)));
    assertClose(stagnationEfficiency(modified), stagnation, { abs: 0.0045, why: 'the table is that rule' });
  }
  expect(rows.length).toBe(15);
});

/** Finstad et al. 1988 (also ISO 12494): a fit of their own integrations; coefficients as in public code. */
function finstadOverall(inertia: number, phi: number): number {
  const first = 1.066 * inertia ** -0.00616 * Math.exp(-1.103 * inertia ** -0.688);
  const second = 3.641 * inertia ** -0.498 * Math.exp(-1.497 * inertia ** -0.694);
  return first - 0.028 - 0.00637 * (phi - 100) ** 0.381 * (second - 0.0454);
}

test('with the drag of Schiller and Naumann it gives the E of Finstad et al. 1988 within 0.015 (rms 0.008)', () => {
  const differences = recordDifferences();
  for (const phi of [100, 300, 1000, 3000, 10000]) {
    for (const inertia of [0.25, 0.36, 0.5, 0.8, 1.2, 2, 3.2, 6, 10, 20, 40]) {
      const encounter = { inertia, reynolds: Math.sqrt(phi * inertia), drag: schillerNaumannDrag };
      const found = integrateCatch(encounter).overall;
      differences.add(found - finstadOverall(inertia, phi), `phi ${phi}, K ${inertia}`);
    }
  }
  expect(differences.count).toBe(55);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.015);
  expect(differences.rms).toBeLessThan(0.008);
});

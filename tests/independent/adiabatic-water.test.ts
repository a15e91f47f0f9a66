/**
 * Water of a rising parcel by the code's own march, against the pseudo-adiabat integrated in height and against conservation
 * of equivalent potential temperature. Bases -20 to 10 degC, 950 to 600 hPa, heights to 2 km.
 */
import { expect, test } from 'vitest';
import {
  adiabaticLiquidWaterKgPerM3,
  condensationKgPerM4,
  condensedKgPerM3,
  moistAdiabatStepK,
  saturationMixingRatio,
} from '../../worker/science/moist-adiabat.ts';
import { assertClose } from '../support/assert-close.ts';
import { recordDifferences } from '../support/difference-record.ts';
import {
  type CloudBase,
  conservedParcelK,
  fullLaw,
  liftParcel,
  type ParcelLaw,
  saturatedDensityKgPerM3,
  textbookLaw,
  waterOfParcelKgPerM3,
} from '../support/pseudo-adiabat.ts';

const BASES: readonly CloudBase[] = [-20, -15, -10, -5, 0, 5, 10].flatMap((celsius) =>
  [95_000, 85_000, 70_000, 60_000].map((pressurePa) => ({ pressurePa, temperatureK: 273.15 + celsius })),
);
const HEIGHTS_M = [50, 100, 300, 500, 1000, 1500, 2000];
const CASES = BASES.flatMap((base) => HEIGHTS_M.map((heightM) => ({ base, heightM })));

/** Cells of the altitude axis. */
const CELL_M = 152.4;

/** Ratio less 1 of each case's water to that of the parcel integrated by a law. */
function compareWater(law: ParcelLaw, waterOf: (base: CloudBase, heightM: number) => number) {
  const differences = recordDifferences();
  for (const { base, heightM } of CASES) {
    const expected = waterOfParcelKgPerM3(base, liftParcel(base, heightM, law));
    differences.add(waterOf(base, heightM) / expected - 1, `${JSON.stringify(base)}, ${heightM} m`);
  }
  expect(differences.count).toBe(196);
  return differences;
}

test('the closed march is within 1.25 % of the parcel of the full law (rms 0.8 %)', () => {
  // The march holds the condensing heat at its value of 0 degC: 2 % low at -20 degC, 1 % high at 10.
  const differences = compareWater(fullLaw, adiabaticLiquidWaterKgPerM3);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.0125);
  expect(differences.rms).toBeLessThan(0.008);
});

test('with that simplification in both it is within 0.2 %: saturation formulas up to 0.2 % apart, 0.1 % in their ratio', () => {
  const differences = compareWater(textbookLaw, adiabaticLiquidWaterKgPerM3);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.002);
});

/** The march from cell to cell: base, then the middles of cells above it. */
function marchThroughCells(base: CloudBase, heightM: number): number {
  const mixingRatio = saturationMixingRatio(base.temperatureK, base.pressurePa);
  let { temperatureK, pressurePa } = base;
  for (let below = 0; below < heightM; below += CELL_M) {
    const depthM = Math.min(CELL_M, heightM - below);
    const nextPa = pressurePa * Math.exp((-9.80665 * depthM) / (287.05 * temperatureK));
    temperatureK = moistAdiabatStepK(temperatureK, pressurePa, nextPa);
    pressurePa = nextPa;
  }
  return condensedKgPerM3(mixingRatio, temperatureK, pressurePa);
}

test('in steps of a cell, 500 ft, the march is within 0.2 % of the parcel of the same law', () => {
  const differences = compareWater(textbookLaw, marchThroughCells);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.002);
});

/** Condensation is per cubic meter where it happens; the parcel spreads as it rises. */
function sumCondensation(base: CloudBase, heightM: number): number {
  const slices = Math.ceil(heightM / 25);
  const sliceM = heightM / slices;
  let perKg = 0;
  let middle = liftParcel(base, sliceM / 2, fullLaw);
  for (let slice = 0; slice < slices; slice += 1) {
    const density = saturatedDensityKgPerM3(middle.temperatureK, middle.pressurePa);
    perKg += (condensationKgPerM4(middle.temperatureK, middle.pressurePa) / density) * sliceM;
    middle = liftParcel(middle, sliceM, fullLaw);
  }
  const top = liftParcel(base, heightM, fullLaw);
  return perKg * saturatedDensityKgPerM3(top.temperatureK, top.pressurePa);
}

test('the rate of condensation summed along the parcel of the full law gives its water, 0.2-2.4 % low (rms 1 %)', () => {
  // The fixed condensing heat is also in its slope of saturation: 1.5 % low at -20 degC, 4 % at -40.
  const differences = compareWater(fullLaw, sumCondensation);
  expect(differences.lowest, differences.largestAt).toBeGreaterThan(-0.025);
  expect(differences.highest, differences.largestAt).toBeLessThan(0);
  assertClose(differences.rms, 0.0097, { abs: 0.001, why: 'the figure in the title' });
});

test('the moist adiabat keeps the equivalent potential temperature of Bolton 1980: within 0.16 K over 2 km', () => {
  const differences = recordDifferences();
  for (const base of BASES) {
    const topPa = liftParcel(base, 2000, fullLaw).pressurePa;
    let { temperatureK, pressurePa } = base;
    for (let step = 1; step <= 20; step += 1) {
      const nextPa = base.pressurePa * (topPa / base.pressurePa) ** (step / 20);
      temperatureK = moistAdiabatStepK(temperatureK, pressurePa, nextPa);
      pressurePa = nextPa;
    }
    // The fixed condensing heat, 2 % of up to 8 K of latent warming.
    differences.add(temperatureK - conservedParcelK(base, topPa), JSON.stringify(base));
  }
  expect(differences.count).toBe(28);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.16);
});

test('the two outside ways agree with each other to 0.015 K', () => {
  for (const base of BASES) {
    const top = liftParcel(base, 2000, fullLaw);
    expect(Math.abs(conservedParcelK(base, top.pressurePa) - top.temperatureK)).toBeLessThan(0.015);
  }
});

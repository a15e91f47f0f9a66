/** The pseudo-adiabat against a meteorology library's tests; adiabatic water against rows computed apart. */
import { expect, test } from 'vitest';
import {
  adiabaticLiquidWaterKgPerM3,
  condensationKgPerM4,
  moistAdiabatStepK,
} from '../../worker/science/moist-adiabat.ts';
import { gPerM3FromKgPerM3, kFromC, paFromHPa } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

/** Along the pseudo-adiabat in steps of at most 10 hPa. */
function followAdiabatK(temperatureK: number, fromHPa: number, toHPa: number): number {
  const steps = Math.ceil(Math.abs(fromHPa - toHPa) / 10);
  let here = temperatureK;
  for (let step = 0; step < steps; step += 1) {
    const at = (index: number) => paFromHPa(fromHPa + ((toHPa - fromHPa) * index) / steps);
    here = moistAdiabatStepK(here, at(step), at(step + 1));
  }
  return here;
}

test('a parcel at 293 K and 1000 hPa cools upward as a meteorology library says', () => {
  const rows = [
    [800, 284.64],
    [600, 272.81],
    [500, 264.42],
    [400, 252.91],
  ] as const;
  for (const [hPa, kelvin] of rows) {
    assertClose(followAdiabatK(293, 1000, hPa), kelvin, { abs: 0.02, why: 'reference tolerance' });
  }
  expect(rows.length).toBe(4);
});

test('a parcel at 0 degC and 600 hPa warms downward as a meteorology library says', () => {
  const rows = [
    [700, 6.4775],
    [1000, 20.0804],
  ] as const;
  for (const [hPa, celsius] of rows) {
    assertClose(followAdiabatK(kFromC(0), 600, hPa), kFromC(celsius), {
      abs: 0.02,
      why: 'the library uses another saturation form: up to 0.02 K over 400 hPa',
    });
  }
  expect(rows.length).toBe(2);
});

test('water of an unmixed parcel equals the computed rows within 3 %', () => {
  // Base hPa, degC; g/m3 at 100, 300, 500 and 1000 m above it.
  const heightsM = [100, 300, 500, 1000];
  const rows = [
    [950, 0, 0.163, 0.471, 0.755, 1.369],
    [850, 10, 0.203, 0.592, 0.959, 1.786],
    [850, 0, 0.155, 0.45, 0.723, 1.316],
    [850, -5, 0.13, 0.374, 0.597, 1.07],
    [850, -10, 0.105, 0.3, 0.475, 0.837],
    [700, -5, 0.121, 0.348, 0.558, 1.007],
    [700, -10, 0.099, 0.283, 0.451, 0.8],
    [700, -15, 0.078, 0.222, 0.351, 0.611],
  ] as const;
  let compared = 0;
  for (const [hPa, celsius, ...waters] of rows) {
    const base = { pressurePa: paFromHPa(hPa), temperatureK: kFromC(celsius) };
    waters.forEach((gPerM3, index) => {
      const found = gPerM3FromKgPerM3(adiabaticLiquidWaterKgPerM3(base, heightsM[index]!));
      assertClose(found, gPerM3, { rel: 0.03, why: 'reference tolerance' });
      compared += 1;
    });
  }
  expect(compared).toBe(32);
});

test('the rate at cloud base is that of the first 100 m within 3 %', () => {
  const rows = [
    [950, 0, 0.163],
    [850, -5, 0.13],
    [850, -10, 0.105],
    [700, -15, 0.078],
  ] as const;
  for (const [hPa, celsius, gPerM3] of rows) {
    assertClose(1e5 * condensationKgPerM4(kFromC(celsius), paFromHPa(hPa)), gPerM3, {
      rel: 0.03,
      why: 'reference tolerance; the rate falls by 1 % in 100 m',
    });
  }
  expect(rows.length).toBe(4);
});

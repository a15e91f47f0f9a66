/** The pseudo-adiabat against a meteorology library's tests; adiabatic water against rows computed apart. */
import { test } from 'vitest';
import {
  adiabaticLiquidWaterKgPerM3,
  condensationKgPerM4,
  moistAdiabatStepK,
} from '../../worker/science/moist-adiabat.ts';
import { cFromK, gPerM3FromKgPerM3, kFromC, paFromHPa } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { testPublished } from '../support/published-values.ts';

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

testPublished(
  'a parcel rising from 293 K and 1000 hPa, and one sinking from 0 degC and 600 hPa',
  { source: 'Unit tests of an open meteorology library (thermodynamics)', tag: 'L', values: 6 },
  (published) => {
    const tolerance = { abs: 0.02, why: 'saturation form of Bolton there: up to 0.02 K over 400 hPa' };
    const rising = [
      [800, 284.64],
      [600, 272.81],
      [500, 264.42],
      [400, 252.91],
    ] as const;
    for (const [hPa, kelvin] of rising) published.close(followAdiabatK(293, 1000, hPa), kelvin, tolerance);
    const sinking = [
      [700, 6.4775],
      [1000, 20.0804],
    ] as const;
    for (const [hPa, celsius] of sinking) {
      published.close(cFromK(followAdiabatK(kFromC(0), 600, hPa)), celsius, tolerance);
    }
  },
);

/** Base hPa, degC; g/m3 at 100, 300, 500 and 1000 m above it; degC at 1000 m. */
const WATER_ROWS = [
  [950, 0, 0.163, 0.471, 0.755, 1.369, -6.65],
  [850, 10, 0.203, 0.592, 0.959, 1.786, 4.86],
  [850, 0, 0.155, 0.45, 0.723, 1.316, -6.42],
  [850, -5, 0.13, 0.374, 0.597, 1.07, -12.08],
  [850, -10, 0.105, 0.3, 0.475, 0.837, -17.69],
  [700, -5, 0.121, 0.348, 0.558, 1.007, -11.69],
  [700, -10, 0.099, 0.283, 0.451, 0.8, -17.35],
  [700, -15, 0.078, 0.222, 0.351, 0.611, -22.95],
] as const;

const MARCH = 'Pseudo-adiabat with hydrostatic march over Murphy and Koop 2005';

testPublished(
  'water of an unmixed parcel at four heights over eight bases',
  { source: MARCH, tag: 'C', values: 32 },
  (published) => {
    const heightsM = [100, 300, 500, 1000];
    for (const [hPa, celsius, ...values] of WATER_ROWS) {
      const base = { pressurePa: paFromHPa(hPa), temperatureK: kFromC(celsius) };
      heightsM.forEach((heightM, column) => {
        const found = gPerM3FromKgPerM3(adiabaticLiquidWaterKgPerM3(base, heightM));
        published.close(found, values[column]!, {
          rel: celsius > 0 ? 0.018 : 0.003 + 0.0004 * Math.abs(celsius),
          abs: 0.0005,
          why: 'half of the last digit; latent heat of 0 degC here, falling 0.1 % a kelvin there: 0.8 % at -15, 1.8 at 10',
        });
      });
    }
  },
);

testPublished(
  'temperature 1000 m above the eight bases',
  { source: MARCH, tag: 'C', values: 8 },
  (published) => {
    for (const [hPa, celsius, , , , , topC] of WATER_ROWS) {
      const scaleM = (287.05287 * (kFromC(celsius) + kFromC(topC))) / 2 / 9.80665;
      published.close(cFromK(followAdiabatK(kFromC(celsius), hPa, hPa * Math.exp(-1000 / scaleM))), topC, {
        abs: 0.065,
        why: 'printed to 0.01; latent heat of 0 degC here, falling 0.1 % a kelvin there: 0.06 K at -15 and at 10 degC',
      });
    }
  },
);

test('the rate at cloud base is that of the first 100 m within 3 %', () => {
  for (const [hPa, celsius, gPerM3] of WATER_ROWS) {
    assertClose(1e5 * condensationKgPerM4(kFromC(celsius), paFromHPa(hPa)), gPerM3, {
      rel: 0.03,
      why: 'the rate falls by 1 to 2 % in 100 m; printed to 0.001',
    });
  }
});

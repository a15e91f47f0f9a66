/**
 * Energy of warm and cold layers, summed over layers of pressure as the code does, against the integral of
 * g (T - T0) / T over height: the same by the hydrostatic equation, by another variable and another rule.
 */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { enclosedEnergyJPerKg } from '../../worker/science/melted-snow.ts';
import { assertClose } from '../support/assert-close.ts';
import { recordDifferences } from '../support/difference-record.ts';
import { integrate } from '../support/runge-kutta.ts';

const GRAVITY_MPS2 = 9.80665;
const GAS_CONSTANT = 287.05;
const ZERO_K = 273.15;

/** A layer whose temperature changes evenly with height. */
interface Layer {
  readonly footC: number;
  readonly topC: number;
  readonly depthM: number;
}

const temperatureIn = (layer: Layer, heightM: number): number =>
  ZERO_K + layer.footC + ((layer.topC - layer.footC) * heightM) / layer.depthM;

/** g times the integral of 1 - T0 / T over height, in closed form for an even lapse. */
function energyOverHeight({ footC, topC, depthM }: Layer): number {
  const lapse = (topC - footC) / depthM;
  const ratio = (ZERO_K + topC) / (ZERO_K + footC);
  const timeOfT0 =
    Math.abs(lapse) < 1e-9 ? depthM / (1 + footC / ZERO_K) : (ZERO_K / lapse) * Math.log(ratio);
  return GRAVITY_MPS2 * (depthM - timeOfT0);
}

/** Pressures at equal steps of height, by Runge-Kutta from the hydrostatic equation of dry air. */
function pressuresPa(layer: Layer, footPa: number, slices: number): number[] {
  const fall = (state: readonly number[], heightM: number) => [
    (-GRAVITY_MPS2 * state[0]!) / (GAS_CONSTANT * temperatureIn(layer, heightM)),
  ];
  const sliceM = layer.depthM / slices;
  const pressures = [footPa];
  for (let slice = 0; slice < slices; slice += 1) {
    const range = { from: slice * sliceM, to: (slice + 1) * sliceM, steps: 2 };
    pressures.push(integrate(fall, [pressures[slice]!], range)[0]!);
  }
  return pressures;
}

/** The code's sum, each slice at the temperature of its middle. */
function energyOverPressure(layer: Layer, footPa: number, slices: number): number {
  const pressures = pressuresPa(layer, footPa, slices);
  let sum = 0;
  for (let slice = 0; slice < slices; slice += 1) {
    const middleK = temperatureIn(layer, ((slice + 0.5) * layer.depthM) / slices);
    sum += enclosedEnergyJPerKg(middleK, pressures[slice]!, pressures[slice + 1]!);
  }
  return sum;
}

const LAYERS: readonly Layer[] = [
  { footC: 0, topC: 4, depthM: 400 },
  { footC: 4, topC: 0, depthM: 900 },
  { footC: 3, topC: 3, depthM: 800 },
  { footC: -8, topC: 0, depthM: 600 },
  { footC: 0, topC: -12, depthM: 1300 },
  { footC: -2, topC: 5, depthM: 300 },
  { footC: -15, topC: -15, depthM: 500 },
  { footC: 8, topC: -4, depthM: 1800 },
];

test('thin slices of pressure sum to the integral over height to 0.01 J/kg, whatever the pressure at the foot', () => {
  let compared = 0;
  for (const layer of LAYERS) {
    for (const footPa of [100_000, 85_000, 60_000]) {
      assertClose(energyOverPressure(layer, footPa, 400), energyOverHeight(layer), {
        abs: 0.01,
        rel: 1e-4,
        why: 'gas constant typed with five figures, slices of 5 m at most',
      });
      compared += 1;
    }
  }
  expect(compared).toBe(24);
});

test('slices of half a cell to two cells, 250-1000 ft, stay within 0.2 J/kg of it (a warm layer counts from 2 J/kg)', () => {
  const differences = recordDifferences();
  for (const layer of LAYERS) {
    for (const sliceM of [76.2, 152.4, 304.8]) {
      const slices = Math.ceil(layer.depthM / sliceM);
      const found = energyOverPressure(layer, 90_000, slices);
      differences.add(found - energyOverHeight(layer), `${JSON.stringify(layer)}, ${slices} slices`);
    }
  }
  expect(differences.count).toBe(24);
  expect(differences.largest, differences.largestAt).toBeLessThan(0.2);
});

test('any profile of even pieces holds the same energy both ways', () => {
  const celsius = fc.integer({ min: -200, max: 100 }).map((tenths) => tenths / 10);
  const profile = fc.array(fc.record({ celsius, depthM: fc.integer({ min: 50, max: 1500 }) }), {
    minLength: 3,
    maxLength: 8,
  });
  fc.assert(
    fc.property(profile, (knots) => {
      let footPa = 98_000;
      let overHeight = 0;
      let overPressure = 0;
      for (let piece = 0; piece + 1 < knots.length; piece += 1) {
        const layer = {
          footC: knots[piece]!.celsius,
          topC: knots[piece + 1]!.celsius,
          depthM: knots[piece]!.depthM,
        };
        overHeight += energyOverHeight(layer);
        overPressure += energyOverPressure(layer, footPa, 60);
        footPa = pressuresPa(layer, footPa, 60).at(-1)!;
      }
      assertClose(overPressure, overHeight, { abs: 0.05, rel: 1e-3, why: 'slices of 25 m at most' });
    }),
    { seed: 2000, numRuns: 200 },
  );
});

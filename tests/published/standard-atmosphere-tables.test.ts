/**
 * Two printed tables of the U.S. Standard Atmosphere 1976, both by geometric height (the one in feet says geopotential, and
 * is not: an altimeter that follows pressure altitude would be 0.2 % off its pressures at 30,000 ft).
 */
import { expect, test } from 'vitest';
import { airViscosityPaS } from '../../worker/science/collection.ts';
import { airDensityKgPerM3 } from '../../worker/science/humidity.ts';
import { filledHeightsM } from '../../worker/science/hydrostatics.ts';
import {
  geopotentialMFromGeometricM,
  pressurePaFromPressureAltitudeM,
  standardTemperatureK,
} from '../../worker/science/standard-atmosphere.ts';
import { cFromK, mFromFt } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { makeProfile } from '../support/make-profile.ts';
import { testPublished } from '../support/published-values.ts';

const lastDigit = (abs: number) => ({
  abs,
  why: 'half of the last printed digit, and a tenth for its own rounding',
});

/** Geometric m, geopotential m, K, bar, kg/m3. Read 2026-11-27. */
const KM_ROWS = [
  [0, 0, 288.15, 1.0133, 1.225],
  [1000, 1000, 281.65, 0.8988, 1.1117],
  [2000, 1999, 275.15, 0.795, 1.0066],
  [3000, 2999, 268.66, 0.7012, 0.9093],
  [4000, 3997, 262.17, 0.6166, 0.8194],
  [5000, 4996, 255.68, 0.5405, 0.7364],
  [6000, 5994, 249.19, 0.4722, 0.6601],
  [7000, 6992, 242.7, 0.4111, 0.59],
  [8000, 7990, 236.22, 0.3565, 0.5258],
  [9000, 8987, 229.73, 0.308, 0.4671],
  [10000, 9984, 223.25, 0.265, 0.4135],
  [11000, 10981, 216.77, 0.227, 0.3648],
  [12000, 11977, 216.65, 0.194, 0.3119],
  [13000, 12973, 216.65, 0.1658, 0.2667],
] as const;

testPublished(
  'geopotential height, temperature, pressure and density at 0 to 13 km',
  {
    source: "Mechanical Engineers' Handbook vol. 4, table 6 (U.S. Standard Atmosphere)",
    tag: 'L',
    values: 56,
  },
  (published) => {
    for (const [geometricM, geopotentialM, temperatureK, bar, kgPerM3] of KM_ROWS) {
      const heightM = geopotentialMFromGeometricM(geometricM);
      const foundK = standardTemperatureK(heightM);
      const pressurePa = pressurePaFromPressureAltitudeM(heightM);
      published.close(heightM, geopotentialM, lastDigit(0.55));
      published.close(foundK, temperatureK, lastDigit(0.0055));
      published.close(pressurePa / 1e5, bar, lastDigit(0.55e-4));
      published.close(airDensityKgPerM3(pressurePa, foundK, 0), kgPerM3, {
        abs: 1.1e-4,
        why: 'half of the last digit; the row of 13 km is one digit high',
      });
    }
  },
);

test('dry air with these temperatures and pressures lies at these heights by the hypsometric equation', () => {
  const heightsM = filledHeightsM(
    makeProfile({
      pressureHPa: KM_ROWS.map(([, , , bar]) => 1000 * bar),
      temperatureC: KM_ROWS.map(([, , temperatureK]) => cFromK(temperatureK)),
      relativeHumidityPct: Number.NaN,
      heightM: KM_ROWS.map(([, geopotentialM], level) => (level === 5 ? geopotentialM : Number.NaN)),
    }),
  );
  KM_ROWS.forEach(([, geopotentialM, , bar], level) => {
    assertClose(heightsM[level]!, geopotentialM, {
      abs: 0.5 + (8400 * 0.5e-4) / bar + 1.5,
      why: 'a height and a pressure printed to half a digit: 1 m low, 3 m aloft; mean temperatures of layers of 1 km: 1.5 m',
    });
  });
});

/** Feet, degF, psi, 1e-4 slug/ft3, 1e-7 slug/ft/s. Read 2026-11-27. */
const FEET_ROWS = [
  [-5000, 76.84, 17.554, 27.45, 3.836],
  [0, 59, 14.696, 23.77, 3.737],
  [5000, 41.17, 12.228, 20.48, 3.637],
  [10000, 23.36, 10.108, 17.56, 3.534],
  [15000, 5.55, 8.297, 14.96, 3.43],
  [20000, -12.26, 6.759, 12.67, 3.324],
  [25000, -30.05, 5.461, 10.66, 3.217],
  [30000, -47.83, 4.373, 8.91, 3.107],
  [35000, -65.61, 3.468, 7.38, 2.995],
  [40000, -69.7, 2.73, 5.87, 2.969],
] as const;

const PA_PER_PSI = 6894.757;
const KG_PER_SLUG = 14.5939;

testPublished(
  'temperature, pressure, density and viscosity at -5,000 to 40,000 ft',
  { source: 'U.S. Standard Atmosphere in feet, public engineering page', tag: 'L', values: 40 },
  (published) => {
    for (const [ft, fahrenheit, psi, slug, viscosity] of FEET_ROWS) {
      const heightM = geopotentialMFromGeometricM(mFromFt(ft));
      const temperatureK = standardTemperatureK(heightM);
      const pressurePa = pressurePaFromPressureAltitudeM(heightM);
      const density = airDensityKgPerM3(pressurePa, temperatureK, 0);
      published.close(1.8 * cFromK(temperatureK) + 32, fahrenheit, lastDigit(0.0055));
      published.close(pressurePa / PA_PER_PSI, psi, lastDigit(0.55e-3));
      published.close((density * 0.3048 ** 3 * 1e4) / KG_PER_SLUG, slug, lastDigit(0.0055));
      published.close((airViscosityPaS(temperatureK) * 0.3048 * 1e7) / KG_PER_SLUG, viscosity, {
        rel: 0.0025,
        why: 'a fit here and the formula of Sutherland there: 0.09 % apart down to -25 degC, 0.24 % at -56.5',
      });
    }
  },
);

test('the same pressures do not hold for pressure altitudes', () => {
  for (const [ft, , psi] of FEET_ROWS.filter(([feet]) => feet === 10000 || feet === 30000)) {
    const wrongly = pressurePaFromPressureAltitudeM(mFromFt(ft)) / PA_PER_PSI;
    expect(psi - wrongly).toBeGreaterThan(1e-3);
  }
});

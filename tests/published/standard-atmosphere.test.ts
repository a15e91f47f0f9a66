/** The ICAO standard atmosphere: published anchors, and rows computed apart from the published equations. */
import { expect, test } from 'vitest';
import {
  isaDeviationK,
  layerThicknessM,
  trueHeightMFromIndicatedM,
} from '../../worker/science/hydrostatics.ts';
import {
  geometricMFromGeopotentialM,
  geopotentialMFromGeometricM,
  indicatedAltitudeM,
  pressureAltitudeMFromIndicatedM,
  pressureAltitudeMFromPressurePa,
  pressurePaFromPressureAltitudeM,
  standardTemperatureK,
} from '../../worker/science/standard-atmosphere.ts';
import {
  cFromK,
  ftFromM,
  hPaFromPa,
  inHgFromPa,
  kFromC,
  mFromFt,
  paFromHPa,
} from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';

test('temperature and pressure at 13 pressure altitudes equal the computed rows to 1e-4', () => {
  // ft, degC, hPa, inHg.
  const rows = [
    [0, 15.0, 1013.25, 29.921],
    [2000, 11.038, 942.129, 27.821],
    [4000, 7.075, 875.105, 25.842],
    [5000, 5.094, 843.073, 24.896],
    [6000, 3.113, 811.996, 23.978],
    [8000, -0.85, 752.624, 22.225],
    [10000, -4.812, 696.816, 20.577],
    [12000, -8.774, 644.408, 19.029],
    [15000, -14.718, 571.819, 16.886],
    [18000, -20.662, 505.998, 14.942],
    [20000, -24.624, 465.632, 13.75],
    [25000, -34.53, 376.009, 11.104],
    [30000, -44.436, 300.896, 8.885],
  ] as const;
  for (const [ft, celsius, hPa, inHg] of rows) {
    const pressurePa = pressurePaFromPressureAltitudeM(mFromFt(ft));
    assertClose(cFromK(standardTemperatureK(mFromFt(ft))), celsius, { abs: 0.001, why: 'printed to 0.001' });
    assertClose(hPaFromPa(pressurePa), hPa, { rel: 1e-4, why: 'reference tolerance' });
    assertClose(inHgFromPa(pressurePa), inHg, { rel: 1e-4, why: 'reference tolerance' });
  }
  expect(rows.length).toBe(13);
});

test('at 11 km it is 216.65 K and 22632.1 Pa, and 11 km is 36,089 ft (published)', () => {
  assertClose(standardTemperatureK(11000), 216.65, { abs: 1e-9, why: 'by definition' });
  assertClose(pressurePaFromPressureAltitudeM(11000), 22632.1, { abs: 0.1, why: 'printed to 0.1 Pa' });
  assertClose(ftFromM(11000), 36089, { abs: 0.5, why: 'printed to 1 ft' });
});

test('pressure altitudes of seven mandatory levels equal the computed rows to 1 ft', () => {
  const rows = [
    [1000, 364],
    [925, 2500],
    [850, 4781],
    [700, 9882],
    [500, 18289],
    [400, 23574],
    [300, 30066],
  ] as const;
  for (const [hPa, ft] of rows) {
    assertClose(ftFromM(pressureAltitudeMFromPressurePa(paFromHPa(hPa))), ft, {
      abs: 1,
      why: 'reference tolerance',
    });
  }
  expect(rows.length).toBe(7);
});

test('four pressures near the ground equal the computed rows, with 288.15 K at sea level', () => {
  const rows = [
    [975.2, 321.66],
    [987.5, 216.59],
    [956, 487.85],
    [943, 601.91],
  ] as const;
  for (const [hPa, meters] of rows) {
    assertClose(pressureAltitudeMFromPressurePa(paFromHPa(hPa)), meters, {
      abs: 0.05,
      why: 'reference tolerance',
    });
  }
  expect(rows.length).toBe(4);
});

test('geopotential meters of four geometric heights equal the computed rows', () => {
  const rows = [
    [1000, 999.84],
    [3000, 2998.58],
    [5000, 4996.07],
    [10000, 9984.29],
  ] as const;
  for (const [geometricM, geopotentialM] of rows) {
    assertClose(geopotentialMFromGeometricM(geometricM), geopotentialM, {
      abs: 0.01,
      why: 'reference tolerance',
    });
    assertClose(geometricMFromGeopotentialM(geopotentialM), geometricM, { abs: 0.02, why: 'rounded inputs' });
  }
  expect(rows.length).toBe(4);
});

test('published "altitude" tables at 10,000 and 30,000 ft hold for geometric feet, not for pressure altitude', () => {
  // psi as published for geometric altitude; 1 psi = 6894.757 Pa.
  const rows = [
    [10000, 10.1083],
    [30000, 4.3727],
  ] as const;
  for (const [ft, psi] of rows) {
    const geopotentialM = geopotentialMFromGeometricM(mFromFt(ft));
    assertClose(pressurePaFromPressureAltitudeM(geopotentialM) / 6894.757, psi, {
      abs: 1e-4,
      why: 'printed to 1e-4',
    });
    const wrongly = pressurePaFromPressureAltitudeM(mFromFt(ft)) / 6894.757;
    expect(Math.abs(wrongly - psi)).toBeGreaterThan(1e-3);
  }
  expect(rows.length).toBe(2);
});

test('pressure and pressure altitude undo each other from -1 to 20 km', () => {
  for (let meters = -1000; meters <= 20000; meters += 500) {
    assertClose(pressureAltitudeMFromPressurePa(pressurePaFromPressureAltitudeM(meters)), meters, {
      abs: 1e-6,
      why: 'exact inverse on both sides of 11 km',
    });
  }
});

test('an altimeter set to 1013.25 hPa shows pressure altitude, and one set to the field pressure shows 0 there', () => {
  expect(indicatedAltitudeM(3000, 101325)).toBeCloseTo(3000, 9);
  const fieldPa = 98000;
  expect(indicatedAltitudeM(pressureAltitudeMFromPressurePa(fieldPa), fieldPa)).toBeCloseTo(0, 9);
  expect(pressureAltitudeMFromIndicatedM(indicatedAltitudeM(2500, 99000), 99000)).toBeCloseTo(2500, 9);
});

test('a low setting makes the same pressure altitude read lower: 10 hPa are about 83 m', () => {
  // 27 ft a hPa near sea level (rule of thumb, from memory).
  assertClose(3000 - indicatedAltitudeM(3000, 100325), mFromFt(270), { abs: 3, why: 'rule of thumb' });
});

test('at ISA-20 an indicated 9,000 ft is about 8,360 ft true', () => {
  assertClose(ftFromM(trueHeightMFromIndicatedM(mFromFt(9000), -20)), 8360, {
    abs: 10,
    why: 'stated to 10 ft',
  });
  assertClose(isaDeviationK(kFromC(-25), mFromFt(10000)), -20.188, {
    abs: 0.001,
    why: 'row of 10,000 ft above',
  });
});

test('the standard atmosphere from 1013.25 to 696.816 hPa is 10,000 ft thick by the hypsometric equation', () => {
  let thicknessM = 0;
  for (let step = 0; step < 100; step += 1) {
    const lowerPa = 101325 * (69681.6 / 101325) ** (step / 100);
    const upperPa = 101325 * (69681.6 / 101325) ** ((step + 1) / 100);
    const middleM = pressureAltitudeMFromPressurePa(Math.sqrt(lowerPa * upperPa));
    thicknessM += layerThicknessM(lowerPa, upperPa, standardTemperatureK(middleM));
  }
  assertClose(ftFromM(thicknessM), 10000, { abs: 1, why: 'pressure printed to 0.001 hPa' });
});

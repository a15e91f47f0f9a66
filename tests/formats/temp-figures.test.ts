import { describe, expect, test } from 'vitest';
import {
  heightChoices,
  pressurePa,
  temperatureGroup,
  windGroup,
} from '../../worker/formats/temp/code-figures.ts';
import { cFromK } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import {
  depressionFigures,
  heightFigures,
  pressureFigures,
  temperatureFigures,
  windFigures,
} from '../support/sounding-temp-figures.ts';

const ARITHMETIC = { abs: 1e-9, why: 'binary fractions of tenths' };

describe('temperatureGroup', () => {
  // Sign by parity: code table 3931, from memory; a published decoded sounding agrees (tests/data).
  test.each([
    ['02112', -2.1, 1.2],
    ['04905', -4.9, 0.5],
    ['01230', 1.2, 3.0],
    ['08156', -8.1, 6],
    ['24361', -24.3, 11],
    ['00000', 0, 0],
    ['00100', -0.1, 0],
  ])('%s is %f degC with a depression of %f K', (group, temperatureC, depressionK) => {
    const values = temperatureGroup(group)!;
    assertClose(cFromK(values.temperatureK), temperatureC, ARITHMETIC);
    assertClose(values.temperatureK - values.dewPointK, depressionK, ARITHMETIC);
  });

  // Code table 0777, from memory.
  test.each([
    ['00', 0],
    ['05', 0.5],
    ['32', 3.2],
    ['50', 5],
    ['56', 6],
    ['60', 10],
    ['80', 30],
    ['99', 49],
  ])('depression figures %s are %f K', (figures, depressionK) => {
    const values = temperatureGroup(`021${figures}`)!;
    assertClose(values.temperatureK - values.dewPointK, depressionK, ARITHMETIC);
  });

  test.each(['51', '52', '53', '54', '55'])('depression figures %s are not of the code', (figures) => {
    expect(temperatureGroup(`021${figures}`)).toBeUndefined();
  });

  test('slashes for the depression leave the dew point missing', () => {
    const values = temperatureGroup('021//')!;
    assertClose(cFromK(values.temperatureK), -2.1, ARITHMETIC);
    expect(values.dewPointK).toBeNaN();
  });

  test('slashes alone are missing, half slashes are not of the code', () => {
    expect(temperatureGroup('/////')).toEqual({ temperatureK: Number.NaN, dewPointK: Number.NaN });
    expect(temperatureGroup('///12')).toBeUndefined();
    expect(temperatureGroup('0/112')).toBeUndefined();
  });

  test('every tenth of a degree from -99.8 to 99.8 comes back within a tenth, its sign kept', () => {
    let count = 0;
    for (let tenths = -998; tenths <= 998; tenths += 1) {
      const decodedC = cFromK(temperatureGroup(`${temperatureFigures(tenths / 10)}00`)!.temperatureK);
      assertClose(decodedC, tenths / 10, { abs: 0.1 + 1e-9, why: 'one figure stands for two tenths' });
      if (Math.abs(tenths) > 1) expect(Math.sign(decodedC)).toBe(Math.sign(tenths));
      count += 1;
    }
    expect(count).toBe(1997);
  });

  test('every depression from 0 to 49 K comes back within its coding step', () => {
    let count = 0;
    for (let tenths = 0; tenths <= 490; tenths += 1) {
      const values = temperatureGroup(`000${depressionFigures(tenths / 10)}`)!;
      assertClose(values.temperatureK - values.dewPointK, tenths / 10, {
        abs: tenths <= 50 ? 1e-9 : 0.5 + 1e-9,
        why: 'tenths to 5 K, whole degrees above',
      });
      count += 1;
    }
    expect(count).toBe(491);
  });
});

describe('windGroup', () => {
  test.each([
    // Looked up: a public flying-weather page gives these two.
    ['11112', 110, 112],
    ['11612', 115, 112],
    ['06008', 60, 8],
    ['21545', 215, 45],
    ['25111', 250, 111],
    ['36005', 360, 5],
    ['00000', 0, 0],
    ['36426', 360, 426],
  ])('%s is %i deg at %i', (group, directionDeg, speed) => {
    expect(windGroup(group)).toEqual({ directionDeg, speed });
  });

  test.each(['36510', '99999', '27///', '///12', '2701', '2701X'])('%s is not of the code', (group) => {
    expect(windGroup(group)).toBeUndefined();
  });

  test('slashes alone are missing', () => {
    expect(windGroup('/////')).toEqual({ directionDeg: Number.NaN, speed: Number.NaN });
  });

  test('every fifth degree and every speed to 499 comes back unchanged', () => {
    let count = 0;
    for (let directionDeg = 5; directionDeg <= 360; directionDeg += 5) {
      for (let speed = 1; speed <= 499; speed += 1) {
        const decoded = windGroup(windFigures(directionDeg, speed));
        if (decoded?.directionDeg !== directionDeg || decoded.speed !== speed) {
          expect.unreachable(`${directionDeg} deg at ${speed} came back as ${JSON.stringify(decoded)}`);
        }
        count += 1;
      }
    }
    expect(count).toBe(72 * 499);
  });

  test('every whole degree comes back within half a step, around north too', () => {
    for (let degree = 0; degree <= 360; degree += 1) {
      const { directionDeg } = windGroup(windFigures(degree, 20))!;
      const offDeg = Math.abs(((directionDeg - degree + 540) % 360) - 180);
      expect(offDeg).toBeLessThanOrEqual(2.5);
    }
  });
});

describe('pressurePa', () => {
  test.each([
    // 030 = 1030 is looked up, the others follow from the rule (from memory).
    ['030', false, 103_000],
    ['000', false, 100_000],
    ['099', false, 109_900],
    ['100', false, 10_000],
    ['987', false, 98_700],
    ['686', true, 6_860],
    ['032', true, 320],
  ])('%s, above 100 hPa %s, is %i Pa', (figures, isAbove100HPa, expectedPa) => {
    expect(pressurePa(figures, isAbove100HPa)).toBe(expectedPa);
  });

  test('slashes are missing, anything else is not of the code', () => {
    expect(pressurePa('///', false)).toBeNaN();
    expect(pressurePa('9/7', false)).toBeUndefined();
  });

  test('every pressure from 100 to 1099 hPa and from 0.1 to 99.9 hPa comes back unchanged', () => {
    for (let hPa = 100; hPa <= 1099; hPa += 1) {
      expect(pressurePa(pressureFigures(hPa, false), false)).toBe(hPa * 100);
    }
    for (let tenths = 1; tenths <= 999; tenths += 1) {
      expect(pressurePa(pressureFigures(tenths / 10, true), true)).toBe(tenths * 10);
    }
  });
});

describe('heightChoices', () => {
  test.each([
    ['531', 1000, -31], // from memory
    ['038', 1000, 38],
    ['722', 925, 722],
    ['457', 850, 1457], // looked up
    ['012', 700, 3012], // from memory
    ['942', 700, 2942],
    ['550', 500, 5500],
    ['740', 400, 7400],
    ['940', 300, 9400],
    ['036', 250, 10_360],
    ['985', 250, 9_850],
    ['178', 200, 11_780],
    ['320', 150, 13_200],
    ['620', 100, 16_200],
    ['711', 100, 17_110], // looked up
    ['814', 70, 18_140], // these three agree with a published decoded sounding
    ['032', 50, 20_320],
    ['366', 30, 23_660],
  ])('%s at %i hPa is first of all %i m', (figures, standardHPa, heightM) => {
    expect(heightChoices(figures, standardHPa)![0]).toEqual({ heightM, isByRule: true });
  });

  test('deep lows and warm ridges are offered as neighbors of the rule', () => {
    expect(heightChoices('940', 850)!.map(({ heightM }) => heightM)).toEqual([1940, 940, 2940]);
    expect(heightChoices('012', 500)!.map(({ heightM }) => heightM)).toEqual([120, 10_120]);
  });

  test('slashes are no height, anything else is not of the code', () => {
    expect(heightChoices('///', 850)).toEqual([]);
    expect(heightChoices('3/8', 850)).toBeUndefined();
  });

  // Ranges met in the atmosphere, from memory.
  test.each([
    [1000, -400, 499, 1],
    [925, 300, 999, 1],
    [850, 1000, 1800, 1],
    [700, 2500, 3400, 1],
    [500, 4600, 6100, 10],
    [400, 6200, 7800, 10],
    [300, 8000, 9900, 10],
    [250, 9200, 11_200, 10],
    [200, 10_500, 12_700, 10],
    [150, 12_300, 14_500, 10],
    [100, 14_900, 17_000, 10],
    [70, 17_000, 19_200, 10],
    [50, 19_000, 21_200, 10],
    [30, 22_100, 24_600, 10],
    [20, 24_600, 27_300, 10],
    [10, 28_500, 32_300, 10],
  ])(
    'at %i hPa every height from %i to %i m comes back by the rule',
    (standardHPa, lowestM, highestM, stepM) => {
      for (let heightM = lowestM; heightM <= highestM; heightM += stepM) {
        const [byRule] = heightChoices(heightFigures(standardHPa, heightM), standardHPa)!;
        expect(byRule).toEqual({ heightM, isByRule: true });
      }
    },
  );
});

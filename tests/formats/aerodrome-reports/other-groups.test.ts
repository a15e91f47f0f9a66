import { describe, expect, test } from 'vitest';
import { isBelowZero } from '../../../worker/formats/aerodrome-reports/temperature-pressure-groups.ts';
import { assertClose } from '../../support/assert-close.ts';
import { body, textsOf } from './read-one.ts';

describe('temperature and dew point', () => {
  test.each([
    ['06/M02', 6, -2],
    ['M05/M07', -5, -7],
    ['00/M01', 0, -1],
    ['M41/', -41, null],
    ['17///', 17, null],
    ['24/XX', 24, null],
  ])('%s', (group, temperatureC, dewPointC) => {
    expect(body(`9999 ${group} Q1013`)).toMatchObject({ temperatureC, dewPointC, unread: [] });
  });

  test('M00 is below zero, 00 is not', () => {
    const minus = body('M00/M00').temperatureC!;
    const plus = body('00/00').temperatureC!;
    expect([minus === 0, plus === 0]).toEqual([true, true]);
    expect([isBelowZero(minus), isBelowZero(plus)]).toEqual([true, false]);
    expect([isBelowZero(-1), isBelowZero(1)]).toEqual([true, false]);
  });

  test('what was not observed is said to be so', () => {
    expect(body('9999 ///// Q1013').notObserved).toEqual(['temperature', 'dew-point']);
    expect(body('9999 M41/ Q1013').notObserved).toEqual(['dew-point']);
    expect(body('9999 //05 Q1013').notObserved).toEqual([]);
  });

  test('slashes before a pair stand for something else, and are kept', () => {
    expect(body('07005KT //// ///// 33/26 Q1009')).toMatchObject({
      temperatureC: 33,
      dewPointC: 26,
      notObserved: ['visibility'],
      unread: [{ text: '/////' }],
    });
  });

  test.each(['15/122', '5/3', 'M91/', '66/20', '-05/-06', '03/02/01'])('%s is kept', (group) => {
    expect(body(`9999 ${group}`)).toMatchObject({ temperatureC: null, unread: [{ text: group }] });
  });

  test('a second pair is kept apart', () => {
    expect(body('06/M02 07/M03')).toMatchObject({ temperatureC: 6, unread: [{ text: '07/M03' }] });
  });
});

describe('altimeter setting', () => {
  test('hectopascals, inches, and both', () => {
    expect(body('Q0987')).toMatchObject({ altimeterHPa: 987, altimeterInHg: null });
    const inches = body('A2992');
    expect(inches.altimeterInHg).toBe(29.92);
    // 29.92 inHg is 1013.2 hPa (US Standard Atmosphere: 29.921 inHg is 1013.25 hPa).
    assertClose(inches.altimeterHPa!, 1013.2, { abs: 0.05, why: 'tenth of a hectopascal' });
    expect(body('A3009 Q1019')).toMatchObject({ altimeterHPa: 1019, altimeterInHg: 30.09 });
  });

  test('not observed', () => {
    expect(body('Q////')).toMatchObject({ altimeterHPa: null, notObserved: ['altimeter'], unread: [] });
  });

  test.each(['Q0700', 'Q1200', 'A9999', 'A2000', 'Q1012.0', 'QFF1012'])('%s is kept', (group) => {
    expect(body(group)).toMatchObject({ altimeterHPa: null, unread: [{ text: group }] });
  });
});

describe('runways, sea and colors', () => {
  test.each([
    ['R24/590230', { depositCode: 5, extentCode: 9, depthMm: 2, frictionCoefficient: 0.3, braking: null }],
    ['R06L/4/9391', { depositCode: 4, extentCode: null, depthMm: 150, braking: 'poor' }],
    ['R11//999//', { depositCode: null, extentCode: 9, depthMm: null, isOutOfUse: true }],
    ['R88/CLRD70', { runway: '88', state: 'cleared', frictionCoefficient: 0.7 }],
    ['R16R/CLRD//', { runway: '16R', state: 'cleared', frictionCoefficient: null, braking: null }],
    ['R24///////', { state: 'contaminated', depositCode: null, depthMm: null, isOutOfUse: false }],
    ['R/SNOCLO', { runway: '', state: 'closed-by-snow' }],
    ['R24L/SNOCLO', { runway: '24L', state: 'closed-by-snow' }],
  ])('%s', (group, expected) => {
    const { runwayStates, unread } = body(`9999 Q1013 ${group}`);
    expect(runwayStates).toMatchObject([expected]);
    expect(unread).toEqual([]);
  });

  test.each(['R08/D', 'R24/59023', 'R24/5902300'])('%s is kept', (group) => {
    expect(body(`Q1013 ${group}`)).toMatchObject({ runwayStates: [], unread: [{ text: group }] });
  });

  test.each([
    ['WS R18C', ['18C']],
    ['WS RWY06', ['06']],
    ['WS RWY 06', ['06']],
    ['WS R07 R25', ['07', '25']],
    ['WS ALL RWY', ['ALL']],
  ])('%s', (groups, runways) => {
    expect(body(`Q1013 ${groups} NOSIG`)).toMatchObject({ windShearRunways: runways, unread: [] });
  });

  test('sea surface', () => {
    expect(body('W15/S4').seaSurface).toEqual({
      temperatureC: 15,
      stateCode: 4,
      significantWaveHeightM: null,
    });
    expect(body('WM01/H25').seaSurface).toMatchObject({ temperatureC: -1, significantWaveHeightM: 2.5 });
    expect(body('W///S5').seaSurface).toMatchObject({ temperatureC: null, stateCode: 5 });
  });

  test('color states', () => {
    expect(body('Q1013 BLU WHT BLACKGRN')).toMatchObject({
      colorStates: ['BLU', 'WHT', 'BLACKGRN'],
      unread: [],
    });
  });
});

describe('groups without the blank between them', () => {
  test.each([
    ['3000BR', { visibility: { visibilityM: 3000 }, weather: [{ text: 'BR' }] }],
    ['1200NE+TSRA', { visibility: { directions: [{ visibilityM: 1200 }] }, weather: [{ text: '+TSRA' }] }],
    ['32009KT9000', { wind: { speedKt: 9 }, visibility: { visibilityM: 9000 } }],
    ['SCT045FEW100', { sky: { layers: [{ baseAglFt: 4500 }, { baseAglFt: 10_000 }] } }],
    ['FEW017CBBKN200', { sky: { layers: [{ type: 'CB' }, { baseAglFt: 20_000 }] } }],
  ])('%s is read as two', (group, expected) => {
    const { unread, ...report } = body(group);
    expect(report).toMatchObject(expected);
    expect(unread).toEqual([]);
  });

  test('a group of which one half is no group is kept whole', () => {
    expect(body('3000XX')).toMatchObject({ visibility: null, unread: [{ text: '3000XX' }] });
    expect(body('02012KT 32009KT9000')).toMatchObject({
      visibility: null,
      unread: [{ text: '32009KT9000' }],
    });
  });
});

describe('M in the place of a group', () => {
  test('wind, visibility and weather by their place', () => {
    expect(body('AUTO M 10SM CLR')).toMatchObject({ notObserved: ['wind'], unread: [] });
    expect(body('AUTO 01005KT M M CLR').notObserved).toEqual(['present-weather', 'visibility']);
  });
  test('after the sky it is kept', () => {
    expect(textsOf(body('36015G22KT 9999 OVC055 M M').unread)).toEqual(['M', 'M']);
  });
});

describe('temperatures told twice', () => {
  test.each([
    ['02/M03', 'T10221028', ['temperature']],
    ['M02/03', 'T10221028', ['dew-point']],
    ['M02/M03', 'T10221028', []],
    ['M03/M03', 'T10241026', []],
    ['M00/M01', 'T00021006', []],
    ['M02/M03', 'T1022', []],
  ])('%s and %s', (pair, tenths, doubtful) => {
    const { doubts, temperatureC } = body(`00000KT ${pair} A2990 RMK AO2 ${tenths}`);
    expect(doubts.map(({ element }) => element)).toEqual(doubtful);
    expect(doubts.every(({ reason }) => /: found .* in the body and .* in the remarks/.test(reason))).toBe(
      true,
    );
    expect(temperatureC).not.toBeNull();
  });
});

test('a trend whose word is not one stands apart from the observation', () => {
  expect(body('9999 -RA OVC008 02/01 TEMPO1500 SKC BECMG NSC')).toMatchObject({
    sky: { clear: null },
    unread: [{ element: 'change', text: 'TEMPO1500 SKC' }],
    trends: [{ sky: { clear: 'NSC' } }],
  });
});

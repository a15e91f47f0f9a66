import { describe, expect, test } from 'vitest';
import { isFreezing } from '../../../worker/formats/aerodrome-reports/conditions.ts';
import { isBelowZero } from '../../../worker/formats/aerodrome-reports/temperature-pressure-groups.ts';
import { assertClose } from '../../support/assert-close.ts';
import { body } from './read-one.ts';

describe('wind', () => {
  // 1 m/s is 3600/1852 kt, 1 km/h 1/1.852 kt.
  test.each([
    ['02012KT', { directionDeg: 20, speedKt: 12, gustKt: null, isVariable: false, unit: 'KT' }],
    ['36005G15KT', { directionDeg: 360, speedKt: 5, gustKt: 15 }],
    ['00000KT', { directionDeg: 0, speedKt: 0 }],
    ['VRB03KT', { directionDeg: null, isVariable: true, speedKt: 3 }],
    ['120105G120KT', { directionDeg: 120, speedKt: 105, gustKt: 120, speedBound: 'exact' }],
    ['240P99KT', { speedKt: 99, speedBound: 'above' }],
    ['24080GP99KT', { speedKt: 80, speedBound: 'exact', gustKt: 99, gustBound: 'above' }],
    ['24004MPS', { speedKt: (4 * 3600) / 1852, unit: 'MPS' }],
    ['24018KMH', { speedKt: 18 / 1.852, unit: 'KMH' }],
    ['///25KT', { directionDeg: null, isVariable: false, speedKt: 25 }],
    ['080//KT', { directionDeg: 80, speedKt: null }],
  ])('%s', (group, expected) => {
    const { wind, unread } = body(group);
    const { speedKt, ...exact } = expected as { speedKt?: number | null };
    expect(wind).toMatchObject(exact);
    if (typeof speedKt === 'number') assertClose(wind!.speedKt!, speedKt, { rel: 1e-12, why: 'same factor' });
    else if (speedKt === null) expect(wind!.speedKt).toBeNull();
    expect(unread).toEqual([]);
  });

  test('extreme directions belong to the wind before them, and come once', () => {
    expect(body('09004KT 060V120 9999').wind).toMatchObject({ variableFromDeg: 60, variableToDeg: 120 });
    expect(body('060V120 09004KT 9999')).toMatchObject({
      unread: ['060V120'],
      wind: { variableFromDeg: null },
    });
    expect(body('09004KT 060V120 050V130').unread).toEqual(['050V130']);
  });

  test.each(['37012KT', '020300KT', '3.70833304KT', 'E03010KT', '30004KI', '060V370', '2012KT'])(
    '%s is no wind, and kept',
    (group) => {
      const { unread, wind } = body(`00000KT ${group} 9999`);
      expect(unread).toEqual([group]);
      expect(wind).toMatchObject({ speedKt: 0 });
    },
  );

  test('a second wind is kept apart', () => {
    expect(body('02012KT 03013KT')).toMatchObject({ wind: { directionDeg: 20 }, unread: ['03013KT'] });
  });

  test.each(['/////KT', '/////'])('%s was not observed', (group) => {
    const { wind, notObserved, temperatureC } = body(`${group} 9999 OVC016 25/21 Q1014`);
    expect(wind).toMatchObject({ directionDeg: null, isVariable: false, speedKt: null });
    expect(notObserved).toEqual(['wind']);
    expect(temperatureC).toBe(25);
  });
});

describe('visibility', () => {
  const MILE = 1609.344;
  test.each([
    ['9999', 10_000, 'above'],
    ['CAVOK', 10_000, 'above'],
    ['0800', 800, 'exact'],
    ['0000', 50, 'below'],
    ['M0300', 300, 'below'],
    ['0200M', 200, 'exact'],
    ['10KM', 10_000, 'above'],
    ['7KM', 7000, 'exact'],
    ['10SM', 10 * MILE, 'exact'],
    ['P6SM', 6 * MILE, 'above'],
    ['3/4SM', 0.75 * MILE, 'exact'],
    ['1/16SM', MILE / 16, 'exact'],
    ['M1/4SM', MILE / 4, 'below'],
    ['1 1/2SM', 1.5 * MILE, 'exact'],
    ['2 3/4SM', 2.75 * MILE, 'exact'],
  ])('%s', (groups, meters, bound) => {
    const { visibility, unread } = body(`02012KT ${groups} -SN`);
    assertClose(visibility!.visibilityM!, meters, { rel: 1e-12, why: 'exact factor' });
    expect(visibility!.bound).toBe(bound);
    expect(unread).toEqual([]);
  });

  test('directions, no directions, and a lowest value without one', () => {
    expect(body('0650 0500NE 1200S').visibility).toMatchObject({
      visibilityM: 650,
      directions: [
        { visibilityM: 500, direction: 'NE' },
        { visibilityM: 1200, direction: 'S' },
      ],
    });
    expect(body('8000NW').visibility).toMatchObject({
      visibilityM: null,
      directions: [{ visibilityM: 8000, direction: 'NW' }],
    });
    expect(body('6000NDV').visibility).toMatchObject({ visibilityM: 6000, isWithoutDirections: true });
    expect(body('6000 1500').visibility).toMatchObject({ visibilityM: 6000, minimumM: 1500 });
    expect(body('6000 1500 1400').unread).toEqual(['1400']);
  });

  test.each(['1/0SM', '3/0SM', 'SM', '12345', '400', '9999NNE'])('%s is no visibility, and kept', (group) => {
    expect(body(`00000KT ${group}`)).toMatchObject({ visibility: null, unread: [group] });
  });

  test.each(['////', '////SM'])('%s was not observed', (group) => {
    const { visibility, notObserved } = body(`00000KT ${group} OVC010`);
    expect(visibility).toMatchObject({ visibilityM: null });
    expect(notObserved).toEqual(['visibility']);
  });

  test('a direction alone is an observation', () => {
    expect(body('8000NW').notObserved).toEqual([]);
  });
});

describe('runway visual range', () => {
  test.each([
    ['R24/1100U', { runway: '24', visualRangeM: 1100, bound: 'exact', highestM: null, tendency: 'up' }],
    ['R12L/P1500N', { runway: '12L', visualRangeM: 1500, bound: 'above', tendency: 'none' }],
    ['R30/M0200', { visualRangeM: 200, bound: 'below', tendency: null }],
    ['R27/0600V0800D', { visualRangeM: 600, highestM: 800, tendency: 'down' }],
    ['R06/6000FT', { visualRangeM: 1828.8 }],
    ['R07R/3000VP6000FT', { visualRangeM: 914.4, highestM: 1828.8, bound: 'exact', highestBound: 'above' }],
    ['R11/3000V4500FT/U', { visualRangeM: 914.4, highestM: 1371.6, tendency: 'up' }],
    ['R35/M0600V1000FT/D', { bound: 'below', highestBound: 'exact', tendency: 'down' }],
    ['R20/////', { runway: '20', visualRangeM: null }],
  ])('%s', (group, expected) => {
    const { runwayVisualRanges, unread } = body(`0450 ${group} FG`);
    const { visualRangeM, highestM, ...exact } = expected as { visualRangeM?: number; highestM?: number };
    const range = runwayVisualRanges[0]!;
    expect(range).toMatchObject(exact);
    const why = '0.3048 m a foot';
    if (typeof visualRangeM === 'number') assertClose(range.visualRangeM!, visualRangeM, { abs: 1e-9, why });
    if (typeof highestM === 'number') assertClose(range.highestM!, highestM, { abs: 1e-9, why });
    expect(unread).toEqual([]);
  });

  test('a range that was not observed is said to be so', () => {
    expect(body('0450 R20///// FG').notObserved).toEqual(['runway-visual-range']);
    expect(body('0450 R20/0500 FG').notObserved).toEqual([]);
  });

  test.each(['RMID/0300', 'R33/800V100N', 'R//////', 'R24/'])('%s is kept', (group) => {
    expect(body(`0450 ${group}`)).toMatchObject({ runwayVisualRanges: [], unread: [group] });
  });
});

describe('weather', () => {
  test.each([
    ['-FZDZ', 'light', ['FZ'], ['DZ'], true],
    ['FZRA', 'moderate', ['FZ'], ['RA'], true],
    ['+FZRA', 'heavy', ['FZ'], ['RA'], true],
    ['FZFG', 'moderate', ['FZ'], ['FG'], true],
    ['FZUP', 'moderate', ['FZ'], ['UP'], true],
    ['-FZDZSN', 'light', ['FZ'], ['DZ', 'SN'], true],
    ['-FZRAPL', 'light', ['FZ'], ['RA', 'PL'], true],
    ['-SNFZRA', 'light', ['FZ'], ['SN', 'RA'], true],
    ['UP', 'moderate', [], ['UP'], false],
    ['PL', 'moderate', [], ['PL'], false],
    ['-PE', 'light', [], ['PL'], false],
    ['SG', 'moderate', [], ['SG'], false],
    ['GS', 'moderate', [], ['GS'], false],
    ['-SHGS', 'light', ['SH'], ['GS'], false],
    ['IC', 'moderate', [], ['IC'], false],
    ['+TSGRRA', 'heavy', ['TS'], ['GR', 'RA'], false],
    ['RASN', 'moderate', [], ['RA', 'SN'], false],
    ['TS', 'moderate', ['TS'], [], false],
    ['+BLSN', 'heavy', ['BL'], ['SN'], false],
    ['DRSN', 'moderate', ['DR'], ['SN'], false],
    ['BCFG', 'moderate', ['BC'], ['FG'], false],
    ['+FC', 'heavy', [], ['FC'], false],
  ])('%s', (group, intensity, ...rest) => {
    const [descriptors, phenomena, freezes] = rest;
    const { weather, unread } = body(`3000 ${group} OVC008`);
    expect(weather).toEqual([{ text: group, intensity, isInVicinity: false, descriptors, phenomena }]);
    expect(isFreezing(weather[0]!)).toBe(freezes);
    expect(unread).toEqual([]);
  });

  test('in the vicinity', () => {
    expect(body('VCSH').weather).toMatchObject([{ isInVicinity: true, descriptors: ['SH'], phenomena: [] }]);
    expect(body('VCFG').weather).toMatchObject([{ isInVicinity: true, phenomena: ['FG'] }]);
    expect(body('-VCTSSN').weather).toMatchObject([
      { isInVicinity: true, descriptors: ['TS'], phenomena: ['SN'] },
    ]);
  });

  test('every group of several, in order', () => {
    expect(body('-RA BR FG').weather.map(({ text }) => text)).toEqual(['-RA', 'BR', 'FG']);
  });

  test('recent weather is not present weather', () => {
    const { weather, recentWeather } = body('9999 DZ OVC010 03/01 Q0999 REFZRA RETS');
    expect(weather.map(({ text }) => text)).toEqual(['DZ']);
    expect(recentWeather.map(({ text, phenomena }) => [text, phenomena])).toEqual([
      ['REFZRA', ['RA']],
      ['RETS', []],
    ]);
    expect(isFreezing(recentWeather[0]!)).toBe(true);
  });

  test('slashes are not "no weather"', () => {
    expect(body('00000KT 9999 // OVC010')).toMatchObject({ weather: [], notObserved: ['present-weather'] });
    expect(body('00000KT 9999 OVC010 RE//').notObserved).toEqual(['recent-weather']);
    expect(body('00000KT 9999 OVC010').notObserved).toEqual([]);
  });

  test.each(['FZ', 'MI', '-', '+', 'VC', 'RAX', 'XX', 'RA-', 'SMOKE', 'RECB', `${'RA'.repeat(8)}`])(
    '%s is no weather, and kept',
    (group) => {
      expect(body(`9999 ${group}`)).toMatchObject({ weather: [], recentWeather: [], unread: [group] });
    },
  );
});

describe('sky', () => {
  test.each([
    ['FEW015', { amount: 'FEW', baseAglFt: 1500, type: null }],
    ['SCT000', { amount: 'SCT', baseAglFt: 0 }],
    ['BKN250', { amount: 'BKN', baseAglFt: 25_000 }],
    ['OVC005CB', { amount: 'OVC', baseAglFt: 500, type: 'CB' }],
    ['FEW020TCU', { type: 'TCU' }],
    ['BKN003///', { amount: 'BKN', baseAglFt: 300, type: 'not-observed' }],
    ['OVC///', { amount: 'OVC', baseAglFt: null }],
    ['///008///', { amount: null, baseAglFt: 800, type: 'not-observed' }],
    ['//////', { amount: null, baseAglFt: null, type: null }],
    ['//////CB', { amount: null, baseAglFt: null, type: 'CB' }],
    ['/////////', { amount: null, baseAglFt: null, type: 'not-observed' }],
    ['///TCU', { amount: null, baseAglFt: null, type: 'TCU' }],
  ])('%s', (group, layer) => {
    const { sky, unread } = body(`9999 ${group} 03/01`);
    expect(sky).toMatchObject({ layers: [layer], isObscured: false, clear: null });
    expect(unread).toEqual([]);
  });

  test('layers in their order', () => {
    expect(body('FEW001 BKN020 OVC036').sky!.layers.map(({ baseAglFt }) => baseAglFt)).toEqual([
      100, 2000, 3600,
    ]);
  });

  test.each([
    ['VV004', 400],
    ['VV000', 0],
    ['VV///', null],
  ])('%s: the sky is obscured', (group, verticalVisibilityFt) => {
    expect(body(`0100 FG ${group}`).sky).toMatchObject({
      isObscured: true,
      verticalVisibilityFt,
      layers: [],
    });
  });

  test.each(['SKC', 'CLR', 'NSC', 'NCD', 'CAVOK'])('%s stands apart from nothing said', (word) => {
    expect(body(`00000KT ${word} 03/01`).sky).toMatchObject({ clear: word, layers: [] });
    expect(body('00000KT 03/01').sky).toBeNull();
  });

  test('a layer of which nothing was observed is said to be so', () => {
    expect(body('9999 //////').notObserved).toEqual(['cloud']);
    expect(body('9999 OVC///').notObserved).toEqual([]);
  });

  test.each(['OVC0100', 'KBKN080', 'FEWCB1800FT', 'BKN', 'VV', 'VV12'])('%s is kept', (group) => {
    expect(body(`9999 ${group}`)).toMatchObject({ sky: null, unread: [group] });
  });
});

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
      unread: ['/////'],
    });
  });

  test.each(['15/122', '5/3', 'M91/', '66/20', '-05/-06', '03/02/01'])('%s is kept', (group) => {
    expect(body(`9999 ${group}`)).toMatchObject({ temperatureC: null, unread: [group] });
  });

  test('a second pair is kept apart', () => {
    expect(body('06/M02 07/M03')).toMatchObject({ temperatureC: 6, unread: ['07/M03'] });
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
    expect(body(group)).toMatchObject({ altimeterHPa: null, unread: [group] });
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
    expect(body(`Q1013 ${group}`)).toMatchObject({ runwayStates: [], unread: [group] });
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
    expect(body('3000XX')).toMatchObject({ visibility: null, unread: ['3000XX'] });
    expect(body('02012KT 32009KT9000')).toMatchObject({ visibility: null, unread: ['32009KT9000'] });
  });
});

describe('M in the place of a group', () => {
  test('wind, visibility and weather by their place', () => {
    expect(body('AUTO M 10SM CLR')).toMatchObject({ notObserved: ['wind'], unread: [] });
    expect(body('AUTO 01005KT M M CLR').notObserved).toEqual(['present-weather', 'visibility']);
  });
  test('after the sky it is kept', () => {
    expect(body('36015G22KT 9999 OVC055 M M').unread).toEqual(['M', 'M']);
  });
});

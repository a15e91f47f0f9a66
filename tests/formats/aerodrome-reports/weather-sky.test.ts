import { describe, expect, test } from 'vitest';
import { isFreezing } from '../../../worker/formats/aerodrome-reports/conditions.ts';
import { body, taf } from './read-one.ts';

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
      expect(body(`9999 ${group}`)).toMatchObject({
        weather: [],
        recentWeather: [],
        unread: [{ text: group }],
      });
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
    expect(body(`9999 ${group}`)).toMatchObject({ sky: null, unread: [{ text: group }] });
  });
});

describe('freezing precipitation mistyped', () => {
  test.each([
    ['-FZ RA', 'light', ['RA']],
    ['FZ DZ', 'moderate', ['DZ']],
    ['+FZ RASN', 'heavy', ['RA', 'SN']],
    ['FZRA-', 'light', ['RA']],
    ['FZDZ+', 'heavy', ['DZ']],
  ])('%s is read with a blank inside or its sign behind', (text, intensity, phenomena) => {
    const { weather, unread, notObserved } = body(`3000 ${text} OVC008`);
    expect(weather).toMatchObject([{ text, intensity, descriptors: ['FZ'], phenomena }]);
    expect([unread, notObserved]).toEqual([[], []]);
  });

  test.each(['-ZR', 'ZL', '-FRZA', 'FZ', 'RA-', 'RAX', '-SNX', 'FREEZING'])(
    '%s stays unread with a reason, and present weather is not fully known',
    (text) => {
      expect(body(`3000 ${text} OVC008`)).toMatchObject({
        weather: [],
        hasUnreadWeather: true,
        notObserved: ['present-weather'],
        unread: [
          {
            element: 'report',
            text,
            reason: `report: found "${text}", expected a group of weather, as -FZRA, FZDZ or SN`,
          },
        ],
      });
    },
  );

  test('a word that can be no precipitation leaves the weather as it is', () => {
    expect(body('3000 -SN SMOKE OVC008')).toMatchObject({ hasUnreadWeather: false, notObserved: [] });
  });

  test('in a trend or a forecast the part says so', () => {
    expect(body('9999 TEMPO -ZR').trends).toMatchObject([{ hasUnreadWeather: true }]);
    expect(taf('TAF KZZZ 151130Z 1512/1612 02012KT -ZR TEMPO 1514/1516 FZRA=')).toMatchObject({
      base: { hasUnreadWeather: true },
      changes: [{ hasUnreadWeather: false }],
    });
  });
});

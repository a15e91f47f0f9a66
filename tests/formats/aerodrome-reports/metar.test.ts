import { describe, expect, test } from 'vitest';
import { isFreezing } from '../../../worker/formats/aerodrome-reports/conditions.ts';
import { body, metar, NEAR_MS, read, refusal } from './read-one.ts';

describe('a METAR of each kind that matters on a winter ramp', () => {
  test('freezing drizzle at an automatic station', () => {
    const report = metar('KZZZ 151453Z AUTO 02012KT 3SM -FZDZ BR OVC008 M02/M03 A2990 RMK AO2 T10221028=');
    expect(report).toMatchObject({
      kind: 'metar',
      station: 'KZZZ',
      timeMs: Date.UTC(2026, 0, 15, 14, 53),
      isAutomatic: true,
      isCorrection: false,
      isNil: false,
      wind: { directionDeg: 20, speedKt: 12 },
      temperatureC: -2,
      dewPointC: -3,
      altimeterInHg: 29.9,
      remarks: { stationType: 'AO2', temperatureC: -2.2, dewPointC: -2.8, unread: [] },
      notObserved: [],
      unread: [],
    });
    expect(report.weather.map(isFreezing)).toEqual([true, false]);
    expect(report.sky!.layers).toMatchObject([{ amount: 'OVC', baseAglFt: 800 }]);
  });

  test('snow in freezing fog under an obscured sky', () => {
    const report = metar('KZZZ 151453Z 05008KT 1/2SM SN FZFG VV004 M06/M07 A3001=');
    expect(report.visibility).toMatchObject({ visibilityM: 804.672 });
    expect(report.weather.map(({ text }) => text)).toEqual(['SN', 'FZFG']);
    expect(report.sky).toMatchObject({ isObscured: true, verticalVisibilityFt: 400 });
    expect([report.temperatureC, report.unread]).toEqual([-6, []]);
  });

  test('ice pellets, and unknown precipitation', () => {
    const pellets = metar('KZZZ 151453Z 35015KT 4SM PL OVC025 M03/M05 A2995=');
    expect(pellets.weather).toMatchObject([{ phenomena: ['PL'], descriptors: [] }]);
    const unknown = metar('KZZZ 151453Z 35015KT 2SM UP OVC015 00/M01=');
    expect(unknown).toMatchObject({ weather: [{ phenomena: ['UP'] }], altimeterHPa: null, temperatureC: 0 });
  });

  test('groups in another order are read all the same', () => {
    const report = body('Q0996 M04/M05 OVC006 -FZDZSN 18011KT 9999');
    expect(report).toMatchObject({
      wind: { speedKt: 11 },
      visibility: { visibilityM: 10_000 },
      temperatureC: -4,
      altimeterHPa: 996,
      unread: [],
    });
  });
});

describe('header', () => {
  test.each([
    ['SPECI KZZZ 151453Z 02012KT=', 'speci', false],
    ['METAR COR KZZZ 151453Z 02012KT=', 'metar', true],
    ['METAR KZZZ 151453Z COR 02012KT=', 'metar', true],
    ['METAR CYZZ 151453Z CCA 02012KT=', 'metar', true],
    ['METAR KZZZ 151453Z AUTO COR 02012KT=', 'metar', true],
    ['METAR METAR KZZZ 151453Z 02012KT=', 'metar', false],
    ['*METAR KZZZ 151453Z 02012KT=', 'metar', false],
    ['METAR KZZZ 151453z 02012KT=', 'metar', false],
    ['METAR KZZZ 151453 02012KT=', 'metar', false],
    ['METAR K1V4 151453Z 02012KT=', 'metar', false],
  ])('%s', (text, kind, isCorrection) => {
    const report = metar(text);
    expect(report).toMatchObject({ kind, isCorrection, timeMs: Date.UTC(2026, 0, 15, 14, 53), unread: [] });
    expect(report.wind).toMatchObject({ speedKt: 12 });
  });

  test('NIL with a time is a report without an observation', () => {
    expect(metar('METAR KZZZ 151500Z NIL=')).toMatchObject({ isNil: true, wind: null, unread: [] });
  });

  test('the month and year are those nearest to the instant given', () => {
    const timeOf = (text: string, nearMs: number) => new Date(metar(text, nearMs).timeMs).toISOString();
    const report = 'METAR KZZZ 312350Z 00000KT=';
    expect(timeOf(report, Date.UTC(2026, 0, 1))).toBe('2025-12-31T23:50:00.000Z');
    expect(timeOf(report, Date.UTC(2026, 1, 2))).toBe('2026-01-31T23:50:00.000Z');
    // No 31 February and none in April: the 31 March is nearer than the 31 May.
    expect(timeOf(report, Date.UTC(2026, 3, 20))).toBe('2026-03-31T23:50:00.000Z');
    expect(timeOf('METAR KZZZ 010000Z 00000KT=', Date.UTC(2025, 11, 31, 23))).toBe(
      '2026-01-01T00:00:00.000Z',
    );
    expect(timeOf('METAR KZZZ 152400Z 00000KT=', NEAR_MS)).toBe('2026-01-16T00:00:00.000Z');
    expect(metar(report, Number.NaN).timeMs).toBeNaN();
  });

  test.each([
    [
      'METAR=',
      'station: found the end of the report, expected a location indicator of four letters or figures',
    ],
    [
      'METAR 151453Z 02012KT=',
      'station: found "151453Z", expected a location indicator of four letters or figures',
    ],
    [
      'KZZ 151453Z 02012KT=',
      'station: found "KZZ", expected a location indicator of four letters or figures',
    ],
    [
      'NEXT 151453Z SLP080=',
      'station: found "NEXT", expected a location indicator of four letters or figures',
    ],
    ['METAR KZZZ=', 'KZZZ time: found the end of the report, expected ddhhmmZ'],
    ['METAR KZZZ 02012KT=', 'KZZZ time: found "02012KT", expected ddhhmmZ'],
    ['METAR KZZZ 321453Z 02012KT=', 'KZZZ time: found "321453Z", expected ddhhmmZ with a day to 31'],
    ['METAR KZZZ 152460Z 02012KT=', 'KZZZ time: found "152460Z", expected ddhhmmZ with a day to 31'],
    ['METAR KZZZ NIL=', 'KZZZ time: found "NIL", expected ddhhmmZ; no report was made'],
    ['WPF SA 0015 AUTO8 M M M=', 'code: found SA (surface airways code), expected METAR, SPECI or TAF'],
    ['NIL=', 'bulletin: found NIL, no reports were sent'],
    [
      'hello world this is no report=',
      'station: found "hello", expected a location indicator of four letters or figures',
    ],
  ])('%s is refused', (text, reason) => {
    expect(refusal(text)).toBe(reason);
  });

  test('a refused report does not touch the next, and its line is told', () => {
    const items = read('METAR KZZZ NIL=\nMETAR KYYY 151453Z 02012KT=\n');
    expect(items.map((item) => [item.kind, item.place.line])).toEqual([
      ['refused', 1],
      ['report', 2],
    ]);
  });
});

describe('trends', () => {
  test('none expected', () => {
    expect(body('9999 OVC010 03/02 Q1013 NOSIG')).toMatchObject({
      isNoChangeExpected: true,
      trends: [],
      unread: [],
    });
    expect(body('9999 OVC010 03/02 Q1013').isNoChangeExpected).toBe(false);
  });

  test('BECMG and TEMPO with their times', () => {
    const { trends, unread, weather } = body(
      '9999 OVC010 M01/M02 Q1013 BECMG FM1500 TL1600 0800 FZFG VV001 TEMPO -FZDZ BECMG AT1630 9999 NSW NSC',
    );
    expect(trends).toMatchObject([
      {
        change: 'BECMG',
        fromMs: Date.UTC(2026, 0, 15, 15),
        untilMs: Date.UTC(2026, 0, 15, 16),
        atMs: null,
        visibility: { visibilityM: 800 },
        weather: [{ text: 'FZFG' }],
        sky: { isObscured: true, verticalVisibilityFt: 100 },
      },
      {
        change: 'TEMPO',
        fromMs: null,
        untilMs: null,
        visibility: null,
        weather: [{ text: '-FZDZ' }],
        sky: null,
      },
      { change: 'BECMG', atMs: Date.UTC(2026, 0, 15, 16, 30), isWeatherEnding: true, sky: { clear: 'NSC' } },
    ]);
    expect([unread, weather]).toEqual([[], []]);
  });

  test('a time past midnight is of the next day', () => {
    const { trends } = metar('METAR KZZZ 152350Z 9999 TEMPO FM2355 TL0230 SN=');
    expect(trends).toMatchObject([
      { fromMs: Date.UTC(2026, 0, 15, 23, 55), untilMs: Date.UTC(2026, 0, 16, 2, 30) },
    ]);
  });

  test('FM begins a part of its own, as Australia forecasts landings', () => {
    const { trends } = body(
      '26004KT 2500 Q1019 FM1500 25005KT 3000 -SN FM1630 CAVOK INTER 0800 SN PROB30 TEMPO 0300',
    );
    expect(trends.map(({ change, fromMs, probabilityPct }) => [change, fromMs, probabilityPct])).toEqual([
      ['FM', Date.UTC(2026, 0, 15, 15), null],
      ['FM', Date.UTC(2026, 0, 15, 16, 30), null],
      ['INTER', null, null],
      ['TEMPO', null, 30],
    ]);
  });

  test('a group of the observation after a trend goes to the observation, an unknown one stays with the trend', () => {
    const report = body('9999 M01/M02 Q1013 TEMPO 1000 SHSN R06L/590330 S/VIS BLU');
    expect(report.runwayStates).toMatchObject([{ runway: '06L' }]);
    expect(report).toMatchObject({ colorStates: ['BLU'], unread: [] });
    expect(report.trends).toMatchObject([{ change: 'TEMPO', unread: [{ text: 'S/VIS' }] }]);
  });

  test('a time that comes twice is kept', () => {
    expect(body('9999 TEMPO TL1600 TL1700 SN').trends).toMatchObject([{ unread: [{ text: 'TL1700' }] }]);
    expect(body('9999 TEMPO TL2570 SN').trends).toMatchObject([
      { untilMs: null, unread: [{ text: 'TL2570' }] },
    ]);
  });
});

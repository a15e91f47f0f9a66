import { describe, expect, test } from 'vitest';
import { isFreezing } from '../../../worker/formats/aerodrome-reports/conditions.ts';
import { assertClose } from '../../support/assert-close.ts';
import { read, refusal, taf, textsOf } from './read-one.ts';

const at = (day: number, hour: number, minute = 0) => Date.UTC(2026, 0, day, hour, minute);

describe('a forecast with every kind of change', () => {
  const report = taf(
    `TAF KZZZ 151130Z 1512/1618 02012G20KT P6SM -FZRA BR OVC008 WS020/24045KT
     FM151800 VRB03KT 1/2SM FZFG VV002
     BECMG 1520/1522 36008KT 3SM NSW SKC
     TEMPO 1600/1604 1/4SM +SN
     PROB30 1606/1610 -FZDZ
     PROB40 TEMPO 1610/1612 0800 SG
     FM161330 30010KT 9999 SCT040 RMK NXT FCST BY 151800Z=`,
  );

  test('station, times and base', () => {
    expect(report).toMatchObject({
      station: 'KZZZ',
      issuedMs: at(15, 11, 30),
      validFromMs: at(15, 12),
      validUntilMs: at(16, 18),
      isAmendment: false,
      isCorrection: false,
      isCancellation: false,
      isNil: false,
      remarksText: 'NXT FCST BY 151800Z',
      unread: [],
    });
    expect(report.base).toMatchObject({
      wind: { directionDeg: 20, speedKt: 12, gustKt: 20 },
      visibility: { bound: 'above' },
      sky: { layers: [{ amount: 'OVC', baseAglFt: 800 }] },
      windShear: { heightAglFt: 2000, directionDeg: 240, speedKt: 45 },
    });
    expect(report.base.weather.map(isFreezing)).toEqual([true, false]);
  });

  test('changes with their periods; FM lasts until the next FM or the end', () => {
    expect(
      report.changes.map(({ change, probabilityPct, fromMs, untilMs }) => [
        change,
        probabilityPct,
        fromMs,
        untilMs,
      ]),
    ).toEqual([
      ['FM', null, at(15, 18), at(16, 13, 30)],
      ['BECMG', null, at(15, 20), at(15, 22)],
      ['TEMPO', null, at(16, 0), at(16, 4)],
      ['PROB', 30, at(16, 6), at(16, 10)],
      ['TEMPO', 40, at(16, 10), at(16, 12)],
      ['FM', null, at(16, 13, 30), at(16, 18)],
    ]);
    expect(report.changes.map(({ weather }) => weather.map(({ text }) => text).join(' '))).toEqual([
      'FZFG',
      '',
      '+SN',
      '-FZDZ',
      'SG',
      '',
    ]);
    expect(report.changes[1]).toMatchObject({ isWeatherEnding: true, sky: { clear: 'SKC' } });
    expect(report.changes.flatMap(({ unread }) => unread)).toEqual([]);
  });

  test('what a change does not tell is null: it stays as it was', () => {
    expect(report.changes[3]).toMatchObject({ wind: null, visibility: null, sky: null });
  });
});

describe('header', () => {
  test.each([
    ['TAF AMD KZZZ 151130Z 1512/1612 02012KT=', true, false],
    ['TAF KZZZ AMD 151130Z 1512/1612 02012KT=', true, false],
    ['TAF KZZZ 151130Z 1512/1612 AMD 02012KT=', true, false],
    ['TAF COR KZZZ 151130Z 1512/1612 02012KT=', false, true],
    ['TAF TAF KZZZ 151130Z 1512/1612 02012KT=', false, false],
    ['KZZZ TAF 151130Z 1512/1612 02012KT=', false, false],
  ])('%s', (text, isAmendment, isCorrection) => {
    const named = text.startsWith('TAF') ? text : `FTUS41 KZZZ 151130\n${text}`;
    expect(taf(named)).toMatchObject({ station: 'KZZZ', isAmendment, isCorrection, unread: [] });
    expect(taf(named).base.wind).toMatchObject({ speedKt: 12 });
  });

  test('NIL and CNL', () => {
    expect(taf('TAF KZZZ 151130Z NIL=')).toMatchObject({ isNil: true, validFromMs: null, unread: [] });
    expect(taf('TAF AMD KZZZ 151130Z 1512/1612 CNL=')).toMatchObject({
      isCancellation: true,
      isAmendment: true,
      validFromMs: at(15, 12),
      unread: [],
    });
  });

  test('a validity without a time of issue is time enough', () => {
    expect(taf('TAF KZZZ 1512/1612 02012KT=')).toMatchObject({ issuedMs: null, validFromMs: at(15, 12) });
  });

  test('over the end of a month, with hour 24', () => {
    const { validFromMs, validUntilMs } = taf('TAF KZZZ 312330Z 3124/0106 02012KT=', Date.UTC(2026, 0, 31));
    expect([validFromMs, validUntilMs]).toEqual([Date.UTC(2026, 1, 1), Date.UTC(2026, 1, 1, 6)]);
  });

  test('a nameless forecast outside bulletins is known by its period', () => {
    expect(taf('KZZZ 151130Z 1512/1612 02012KT=').kind).toBe('taf');
  });

  test.each([
    ['TAF KZZZ 151130Z 02012KT=', 'KZZZ validity: found "02012KT", expected ddhh/ddhh'],
    ['TAF KZZZ 151130Z 1512/1512 02012KT=', 'KZZZ validity: found "1512/1512", expected ddhh/ddhh'],
    ['TAF KZZZ 151130Z 1512/1912 02012KT=', 'KZZZ validity: found "1512/1912", expected ddhh/ddhh'],
    ['TAF KZZZ 151130Z 1525/1612 02012KT=', 'KZZZ validity: found "1525/1612", expected ddhh/ddhh'],
    ['TAF KZZZ NIL=', 'KZZZ validity: found "NIL", expected ddhh/ddhh'],
    [
      'TAF=',
      'station: found the end of the report, expected a location indicator of four letters or figures',
    ],
  ])('%s is refused', (text, reason) => {
    expect(refusal(text)).toBe(reason);
  });
});

describe('the figures before November 2008', () => {
  test('validity and changes by hours of the day', () => {
    const report = taf(
      'TAF KZZZ 151909Z 151918 01006KT P6SM SCT020 TEMPO 1904 5SM -SHSN FM0400 VRB03KT BECMG 0608 01012KT PROB30 TEMPO 0616 2SM FZDZ=',
    );
    expect([report.validFromMs, report.validUntilMs]).toEqual([at(15, 19), at(16, 18)]);
    expect(report.changes.map(({ change, fromMs, untilMs }) => [change, fromMs, untilMs])).toEqual([
      ['TEMPO', at(15, 19), at(16, 4)],
      ['FM', at(16, 4), at(16, 18)],
      ['BECMG', at(16, 6), at(16, 8)],
      ['TEMPO', at(16, 6), at(16, 16)],
    ]);
    expect(report.changes.flatMap(({ unread }) => unread)).toEqual([]);
  });

  test('a day from hour to the same hour', () => {
    expect(taf('TAF KZZZ 151212 00000KT=')).toMatchObject({
      validFromMs: at(15, 12),
      validUntilMs: at(16, 12),
    });
  });
});

describe('groups of forecasts alone', () => {
  const base = (groups: string) => taf(`TAF KZZZ 151130Z 1512/1612 02012KT 9999 ${groups}=`);

  test.each([
    ['600001', 'none-or-trace', 'anywhere', 0, 1000],
    ['620304', 'light', 'in-cloud', 3000, 4000],
    ['640159', 'moderate', 'anywhere', 1500, 9000],
    ['660100', 'moderate', 'in-precipitation', 1000, null],
    ['690102', 'severe', 'in-precipitation', 1000, 2000],
  ])('icing %s', (...[group, intensity, where, baseAglFt, thicknessFt]) => {
    expect(base(String(group)).base.icing).toEqual([{ intensity, where, baseAglFt, thicknessFt }]);
  });

  test('turbulence', () => {
    expect(base('520303 5X1505').base.turbulence).toEqual([
      { code: '2', baseAglFt: 3000, thicknessFt: 3000 },
      { code: 'X', baseAglFt: 15_000, thicknessFt: 5000 },
    ]);
  });

  test('lowest altimeter setting', () => {
    const { lowestAltimeterHPa } = base('QNH2992INS').base;
    assertClose(lowestAltimeterHPa!, 1013.2, { abs: 0.05, why: '29.921 inHg is 1013.25 hPa' });
  });

  test('extremes of temperature', () => {
    expect(base('TX05/1514Z TNM12/1606Z TXM00/1618Z').extremes).toEqual([
      { kind: 'maximum', temperatureC: 5, timeMs: at(15, 14) },
      { kind: 'minimum', temperatureC: -12, timeMs: at(16, 6) },
      { kind: 'maximum', temperatureC: -0, timeMs: at(16, 18) },
    ]);
    expect(base('TX05/14Z').extremes).toEqual([{ kind: 'maximum', temperatureC: 5, timeMs: at(15, 14) }]);
  });

  test.each([
    'WS020/40045KT',
    'TX5/1514Z',
    'TX05/3514Z',
    '6X0304',
    'QNH2992',
    'KBKN080',
    '?RA',
    'PROB30',
    'TEMPO',
  ])('%s is kept', (group) => {
    const report = base(group);
    expect(textsOf(report.unread)).toEqual([group]);
    expect(report.changes).toEqual([]);
  });

  test.each([
    'AMD NOT SKED',
    'AMD 0051',
    'LAST NO AMDS AFT 1520 NEXT 1604',
    'LIMITED METWATCH 1520 TIL 1612',
  ])('%s is a note, not groups', (words) => {
    const report = taf(`TAF KZZZ 151130Z 1512/1612 02012KT OVC010 BECMG 1516/1518 03010KT ${words}=`);
    expect(report).toMatchObject({
      remarksText: words,
      isAmendment: false,
      unread: [],
      base: { visibility: null },
    });
    expect(report.changes).toMatchObject([{ visibility: null, unread: [] }]);
  });

  test('an unknown group stands in the part it came in', () => {
    const report = base('XYZ TEMPO 1514/1516 SN ABC FM151800 VRB02KT DEF');
    expect([report.unread, ...report.changes.map(({ unread }) => unread)].map(textsOf)).toEqual([
      ['XYZ'],
      ['ABC'],
      ['DEF'],
    ]);
  });

  test('a change whose period cannot be read is kept with what follows it', () => {
    const report = base('TEMPO 1614/1512 1/4SM +SN');
    expect(report.changes).toEqual([]);
    expect(textsOf(report.unread)).toEqual(['TEMPO 1614/1512 1/4SM +SN']);
    expect(report.base.weather).toEqual([]);
  });
});

describe('bulletins of forecasts', () => {
  test('a code line speaks for all reports below it, until the next', () => {
    const items = read(
      'FTUS41 KZZZ 151130 AAA\nTAF AMD\nKAAA 151130Z 1512/1612 02012KT\n     TEMPO 1514/1516 SN=\nTAF\nKBBB 151130Z NIL=\n',
    );
    expect(items.map((item) => item.kind === 'report' && [item.report.station, item.report.kind])).toEqual([
      ['KAAA', 'taf'],
      ['KBBB', 'taf'],
    ]);
    expect(items).toMatchObject([
      { report: { isAmendment: true, changes: [{ change: 'TEMPO' }] } },
      { report: { isNil: true } },
    ]);
  });
});

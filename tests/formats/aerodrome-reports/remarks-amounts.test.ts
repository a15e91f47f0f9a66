import { describe, expect, test } from 'vitest';
import type { Amount } from '../../../worker/formats/aerodrome-reports/remarks.ts';
import { assertClose } from '../../support/assert-close.ts';
import { body, metar, remarksOf, textsOf } from './read-one.ts';

const INCH = { abs: 1e-9, why: '25.4 mm an inch' };
const at = (hour: number, minute: number, day = 15) => Date.UTC(2026, 0, day, hour, minute);

function assertAmount(amount: Amount | null | undefined, mm: number, isTrace = false): void {
  assertClose(amount?.mm ?? Number.NaN, mm, INCH);
  expect(amount!.isTrace).toBe(isTrace);
}

describe('amounts', () => {
  test('precipitation of one, three, six and twenty-four hours', () => {
    const { precipitation1h, precipitationPeriod, precipitation24h } = remarksOf('P0009 60217 70125');
    assertAmount(precipitation1h, 2.286);
    assertAmount(precipitationPeriod, 55.118);
    assertAmount(precipitation24h, 31.75);
    expect(precipitationPeriod!.hours).toBe(3);
  });

  test.each([
    ['152353', 6],
    ['160553', 6],
    ['150300', 3],
    ['152050', 3],
    ['151053', null],
  ])('the 6 group of a report at %s speaks of %s hours', (time, hours) => {
    expect(metar(`KZZZ ${time}Z 00000KT RMK 60003=`).remarks!.precipitationPeriod!.hours).toBe(hours);
  });

  test('traces, and amounts that could not be determined', () => {
    expect(remarksOf('P0000 60000 7////')).toMatchObject({
      precipitation1h: { mm: 0, isTrace: true },
      precipitationPeriod: { mm: 0, isTrace: true },
      precipitation24h: { mm: null, isTrace: false },
    });
    expect(remarksOf('P////').precipitation1h).toEqual({ mm: null, isTrace: false });
  });

  test('snow on the ground, new snow and its water', () => {
    const remarks = remarksOf('4/021 931011 933036 SNINCR 2/10');
    assertClose(remarks.snowDepthM!, 0.5334, INCH);
    assertClose(remarks.snowfall6hM!, 0.02794, INCH);
    assertClose(remarks.snowWaterEquivalentMm!, 91.44, INCH);
    assertClose(remarks.snowIncrease!.lastHourM, 0.0508, INCH);
    assertClose(remarks.snowIncrease!.depthM, 0.254, INCH);
    expect(remarks.unread).toEqual([]);
  });

  test('Canadian words', () => {
    expect(remarksOf('SOG 22')).toMatchObject({ snowDepthM: 0.22, unread: [] });
    expect(remarksOf('PCPN 4.5MM PAST HR')).toMatchObject({ precipitation1h: { mm: 4.5 }, unread: [] });
    expect(remarksOf('PCPN VRY LGT').unread).toEqual(['PCPN', 'VRY', 'LGT']);
  });

  test('a second group for a place that is filled is kept', () => {
    expect(remarksOf('P0001 P0002 4/001 4/002 SOG 5').unread).toEqual(['P0002', '4/002', 'SOG', '5']);
  });
});

describe('temperature and pressure', () => {
  test('tenths', () => {
    expect(remarksOf('T10221028')).toMatchObject({ temperatureC: -2.2, dewPointC: -2.8 });
    expect(remarksOf('T00061006')).toMatchObject({ temperatureC: 0.6, dewPointC: -0.6 });
    expect(remarksOf('T1428')).toMatchObject({ temperatureC: -42.8, dewPointC: null });
    expect(remarksOf('T1428////')).toMatchObject({ temperatureC: -42.8, dewPointC: null, unread: [] });
    expect(remarksOf('T20221028').unread).toEqual(['T20221028']);
  });

  test('extremes of six and twenty-four hours', () => {
    expect(remarksOf('11021 21035 401001015')).toMatchObject({
      maximumTemperature6hC: -2.1,
      minimumTemperature6hC: -3.5,
      maximumTemperature24hC: 10,
      minimumTemperature24hC: -1.5,
      unread: [],
    });
  });

  test.each([
    ['A2992', 'SLP132', 1013.2],
    ['A2992', 'SLP982', 998.2],
    ['Q1058', 'SLP580', 1058],
    ['A3124', 'SLP550', 1055],
    ['Q0949', 'SLP489', 948.9],
    ['AUTO', 'SLP982', 998.2],
    ['AUTO', 'SLP132', 1013.2],
  ])('%s %s is %s hPa', (setting, slp, expectedHPa) => {
    const { remarks } = body(`00000KT ${setting} RMK ${slp}`);
    assertClose(remarks!.seaLevelPressureHPa!, expectedHPa, { abs: 1e-9, why: 'tenths' });
  });

  test('a sea level pressure far from the altimeter setting is kept', () => {
    const { remarks } = body('00000KT A2995 RMK SLP728');
    expect(remarks).toMatchObject({ seaLevelPressureHPa: null, unread: ['SLP728'] });
  });

  test('tendency and rapid changes', () => {
    expect(remarksOf('52032 PRESFR')).toMatchObject({
      pressureTendency: { code: 2, changeHPa: 3.2 },
      pressureChange: 'falling-rapidly',
    });
    expect(remarksOf('PRESRR 59001')).toMatchObject({ pressureChange: 'rising-rapidly', unread: ['59001'] });
  });

  test('inches in the remarks of a report in hectopascals', () => {
    expect(body('Q1021 RMK 1ST010 A3016')).toMatchObject({
      altimeterHPa: 1021,
      remarks: { altimeterInHg: 30.16, unread: ['1ST010'] },
    });
  });
});

describe('wind, visibility and ceiling', () => {
  test('peak wind and wind shift', () => {
    expect(remarksOf('PK WND 28045/15 WSHFT 1430 FROPA')).toMatchObject({
      peakWinds: [{ directionDeg: 280, speedKt: 45, timeMs: at(14, 15) }],
      windShiftMs: at(14, 30),
      isFrontalPassage: true,
      unread: [],
    });
    expect(remarksOf('PK WND 280105/1355 WSHFT 55')).toMatchObject({
      peakWinds: [{ speedKt: 105, timeMs: at(13, 55) }],
      windShiftMs: at(13, 55),
      isFrontalPassage: false,
    });
    expect(remarksOf('PK WND MM17 2330Z').unread).toEqual(['PK', 'WND', 'MM17', '2330Z']);
    expect(remarksOf('WSHFT AT 0029Z').unread).toEqual(['WSHFT', 'AT', '0029Z']);
  });

  const MILE = 1609.344;
  test.each([
    ['VIS 1/2V2', 'variable', '', 0.5 * MILE, 2 * MILE],
    ['VIS 1 1/4V5', 'variable', '', 1.25 * MILE, 5 * MILE],
    ['VIS M1/4V1 1/2', 'variable', '', 0.25 * MILE, 1.5 * MILE],
    ['VIS 3200V6000', 'variable', '', 3200, 6000],
    ['TWR VIS 1 1/2', 'tower', '', 1.5 * MILE, 1.5 * MILE],
    ['SFC VIS 1', 'surface', '', MILE, MILE],
    ['VIS NE 2 1/2', 'sector', 'NE', 2.5 * MILE, 2.5 * MILE],
    ['VIS NW-N 2', 'sector', 'NW-N', 2 * MILE, 2 * MILE],
    ['VIS 2 RWY11', 'runway', 'RWY11', 2 * MILE, 2 * MILE],
    ['VIS 0600 RWY08/26', 'runway', 'RWY08/26', 600, 600],
    ['VIS MIN 9999', 'minimum', '', 9999, 9999],
  ])('%s', (...[words, kind, where, ...meters]) => {
    const { visibilities, unread } = remarksOf(`${words} SLP132`);
    expect(visibilities).toMatchObject([{ kind, where }]);
    const why = '1609.344 m a mile';
    assertClose(visibilities[0]!.lowestM, meters[0]!, { abs: 1e-9, why });
    assertClose(visibilities[0]!.highestM, meters[1]!, { abs: 1e-9, why });
    expect(unread).toEqual([]);
  });

  test('a visibility in words is kept, and weather among words is told', () => {
    expect(remarksOf('VIS N-S 1/4SM FZFG OCNL BLSN')).toMatchObject({
      visibilities: [],
      weatherMentioned: [{ text: 'FZFG' }, { text: 'BLSN' }],
      unread: ['VIS', 'N-S', '1/4SM', 'OCNL'],
    });
    expect(remarksOf('VIS 1/0V2').visibilities).toEqual([]);
  });

  test('ceilings', () => {
    expect(remarksOf('CIG 003V007 CIG 002 RWY11')).toMatchObject({
      ceilings: [
        { lowestAglFt: 300, highestAglFt: 700, where: '' },
        { lowestAglFt: 200, highestAglFt: 200, where: 'RWY11' },
      ],
      unread: [],
    });
  });
});

describe('the rest', () => {
  test('nothing after RMK is no remarks lost', () => {
    expect(body('00000KT RMK').remarks).toMatchObject({ unread: [] });
    expect(body('00000KT').remarks).toBeNull();
  });

  test('plain language is kept word by word', () => {
    expect(remarksOf('AO2 MTN TOP OBSCD NE').unread).toEqual(['MTN', 'TOP', 'OBSCD', 'NE']);
  });

  test('RMK joined to what follows', () => {
    expect(body('Q1008 RMKS:SH TO E')).toMatchObject({
      unread: [],
      remarks: { weatherMentioned: [{ text: 'SH' }], unread: ['TO', 'E'] },
    });
  });

  test('words that JavaScript knows are words like others', () => {
    const { remarks, unread } = body('constructor toString RMK constructor __proto__ hasOwnProperty MISG');
    expect(textsOf(unread)).toEqual(['constructor', 'toString']);
    expect(remarks!.unread).toEqual(['constructor', '__proto__', 'hasOwnProperty', 'MISG']);
  });
});

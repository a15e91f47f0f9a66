/** What falls on a ramp, as observations tell it in the codes of FM 15. */
import { describe, expect, it } from 'vitest';
import { readAerodromeText } from '../../../worker/formats/aerodrome-reports/read-aerodrome-reports.ts';
import type { MetarReport, TafReport } from '../../../worker/formats/aerodrome-reports/report.ts';
import { fallingInForecast, rampWeatherOf } from '../../../worker/sources/report-facts/ramp-weather.ts';

const NEAR_MS = Date.parse('2026-01-15T15:00:00Z');

function reportOf(text: string): MetarReport | TafReport {
  const [item] = readAerodromeText(text, { nearMs: NEAR_MS });
  if (item?.kind !== 'report') throw new Error(`not read: ${text}`);
  return item.report;
}
const metar = (groups: string, head = 'KZZZ 151453Z') => reportOf(`METAR ${head} ${groups}=`) as MetarReport;
const falling = (groups: string, light: 'day' | 'dark' = 'day') =>
  rampWeatherOf(metar(groups), light).falling;

describe('each code falls as its column', () => {
  it.each<[string, readonly string[]]>([
    ['05008KT 3SM -FZRA OVC008 M02/M03 A2990', ['light-freezing-rain']],
    ['05008KT 3SM FZRA OVC008 M02/M03 A2990', ['freezing-rain']],
    ['05008KT 3SM +FZRA OVC008 M02/M03 A2990', ['freezing-rain']],
    ['05008KT 3SM -FZDZ OVC008 M02/M03 A2990', ['freezing-drizzle']],
    ['05008KT 3SM FZDZ OVC008 M02/M03 A2990', ['freezing-drizzle']],
    ['05008KT 3SM +FZDZ OVC008 M02/M03 A2990', ['light-freezing-rain']],
    ['AUTO 05008KT 3SM -FZDZ OVC008 M02/M03 A2990 RMK AO2', ['light-freezing-rain']],
    ['00000KT 1/4SM FZFG VV001 M05/M05 A3001', ['freezing-fog']],
    ['00000KT 1/4SM FG VV001 M05/M05 A3001', ['freezing-fog']],
    ['00000KT 1/4SM FG VV001 05/05 A3001', []],
    ['35015KT 4SM PL OVC025 M03/M05 A2995', ['ice-pellets']],
    ['35015KT 4SM -SG OVC005 M03/M05 A2995', ['snow-grains', 'light-snow']],
    ['1/4SM SG VV002 M03/M04 A2995', ['snow-grains', 'heavy-snow']],
    ['00000KT 1SM FZBR OVC002 M05/M05 A2995', ['freezing-fog']],
    ['00000KT 5/8SM BR OVC002 M05/M05 A2995', ['freezing-fog']],
    ['00000KT 3SM BR OVC002 05/05 A2995', []],
    ['35015KT 4SM GS OVC025 M03/M05 A2995', ['snow-pellets']],
    ['35015KT 4SM GR OVC025 03/01 A2995', ['hail']],
    ['35015KT 4SM IC SKC M23/M25 A2995', ['ice-crystals']],
    ['35015KT 2SM UP OVC015 00/M01 A2995', ['unknown-precipitation']],
    ['35015KT 2SM FZUP OVC015 M01/M01 A2995', ['unknown-precipitation']],
    ['35015KT 2SM RASN OVC015 01/M01 A2995', ['rain-and-snow']],
    ['35030KT 1SM BLSN BKN015 M11/M13 A2995', ['blowing-snow']],
    ['35005KT 10SM RA OVC015 05/03 A2995', []],
    ['35005KT 10SM -RA OVC015 00/M01 A2995', ['rain-near-freezing']],
    ['35005KT 10SM RA OVC015 M01/M02 A2995', ['rain-near-freezing']],
    ['35005KT 3SM -RA BR OVC006 01/00 A2995', ['rain-near-freezing']],
    // A sign digit of the remark is wrong: it may be either.
    ['35005KT 2SM RA OVC008 M02/M02 A2990 RMK AO2 T00221022', ['rain-near-freezing']],
    ['35005KT 10SM VCSH SKC M01/M12 A2995', []],
    ['35005KT 10SM SKC M01/M12 A2995', []],
    ['05008KT 1/2SM SN FZFG VV004 M06/M07 A3001', ['moderate-snow', 'freezing-fog']],
    ['05008KT 9SM -SN PL OVC010 M03/M04 A3001', ['light-snow', 'ice-pellets']],
  ])('%s', (groups, expected) => {
    expect(falling(groups)).toEqual(expected);
  });
});

describe('snow by visibility, the heavier of both charts', () => {
  it.each([
    ['1SM -SN OVC010 M07/M08 A2990', 'day', 'light-snow'],
    ['1SM -SN OVC010 M07/M08 A2990', 'dark', 'moderate-snow'],
    ['1SM -SN OVC010 00/M01 A2990', 'dark', 'heavy-snow'],
    ['1600 -SN OVC010 M07/M08 Q1012', 'dark', 'moderate-snow'],
    ['M1/4SM SN VV002 M07/M08 A2990', 'day', 'heavy-snow'],
    // Never lighter than the report says.
    ['10SM -SN OVC030 M07/M08 A2990', 'day', 'light-snow'],
    ['3SM SN OVC030 M07/M08 A2990', 'day', 'moderate-snow'],
    ['4000 0800N -SN OVC030 M05/M06 Q1012', 'day', 'moderate-snow'],
    ['1SM R33/1000FT -SN OVC030 M05/M06 A2990', 'day', 'heavy-snow'],
    ['2SM +SN OVC010 M07/M08 A2990', 'day', 'heavy-snow'],
    ['9999 -SN OVC030 M07/M08 Q1012', 'dark', 'light-snow'],
    // Without a temperature nobody can tell how heavily.
    ['1SM -SN OVC010 A2990', 'day', 'unknown-precipitation'],
  ] as const)('%s, %s: %s', (groups, light, expected) => {
    expect(falling(`05008KT ${groups}`, light)).toEqual([expected]);
  });
});

describe('what falls is not known', () => {
  it.each([
    ['present weather not observed', '05008KT 9999 // OVC008 M02/M03 Q1012'],
    ['a station that cannot tell rain from snow', 'AUTO 05008KT 10SM OVC008 M02/M03 A2990 RMK AO1'],
    ['the sensor of weather is out', 'AUTO 05008KT 10SM OVC008 M02/M03 A2990 RMK AO2 PWINO'],
    ['a group that may be precipitation is not read', '05008KT 3SM FRZA OVC008 M02/M03 A2990'],
    ['no observation was made', 'NIL'],
    ['the visibility is not observed', '05008KT //// -SN OVC010 M07/M08 Q1012'],
    ['there is no visibility', 'AUTO 33008KT M02/M10 A2990 RMK AO2'],
    ['freezing rain is not told, in the cold', 'AUTO 05008KT 3SM BR OVC006 M03/M04 A2990 RMK AO2 FZRANO'],
    [
      'a machine tells of nothing under low cloud in the cold',
      'AUTO 05008KT 10SM OVC008 M02/M03 A2990 RMK AO2',
    ],
    ['a machine without remarks may not tell rain from snow', 'AUTO 05008KT 10SM SKC M02/M13 A2990'],
  ])('%s', (_, groups) => {
    expect(falling(groups)).toBeUndefined();
  });
});

describe('temperature', () => {
  it('in whole degrees has half a degree to either side', () => {
    expect(rampWeatherOf(metar('05008KT 10SM SKC M03/M05 A2990'), 'day').temperature).toEqual({
      warmestC: -2.5,
      coldestC: -3.5,
    });
  });
  it('in the tenths of a remark is itself', () => {
    const { temperature, dewPointC } = rampWeatherOf(
      metar('05008KT 10SM SKC M02/M03 A2990 RMK AO2 T10221028'),
      'day',
    );
    expect([temperature, dewPointC]).toEqual([{ warmestC: -2.2, coldestC: -2.2 }, -2.8]);
  });
  it('not told is not known', () => {
    const weather = rampWeatherOf(metar('05008KT 10SM SKC /////// A2990'), 'day');
    expect([weather.temperature, weather.dewPointC]).toEqual([undefined, undefined]);
  });
});

it.each([
  ['SKC', true],
  ['FEW030', true],
  ['BKN030', false],
  // Cloud so high does not keep a wing from cooling.
  ['BKN250', true],
  ['VV002', false],
  ['', undefined],
])('the sky of "%s" is clear: %s', (sky, expected) => {
  expect(rampWeatherOf(metar(`00000KT 10SM ${sky} M02/M03 A2990`), 'day').isSkyClear).toBe(expected);
});

describe('a forecast', () => {
  const taf = (groups: string) => reportOf(`TAF KZZZ 151130Z 1512/1612 ${groups}=`) as TafReport;
  const at = (text: string, from: string, until: string) =>
    fallingInForecast(taf(text), {
      fromMs: Date.parse(`2026-01-15T${from}Z`),
      untilMs: Date.parse(`2026-01-15T${until}Z`),
      temperature: { warmestC: -3, coldestC: -3 },
      light: 'day',
    });
  const TEXT =
    '05008KT P6SM OVC020 TEMPO 1513/1515 2SM -FZRA FM151800 05008KT 1SM -SN OVC010 PROB30 1520/1522 PL';

  it('tells everything that may fall in a period, with any chance', () => {
    expect(at(TEXT, '12:00', '12:30')).toEqual([]);
    expect(at(TEXT, '14:00', '14:30')).toEqual(['light-freezing-rain']);
    expect(at(TEXT, '19:00', '19:30')).toEqual(['light-snow']);
    expect(at(TEXT, '20:30', '21:00')).toEqual(['light-snow', 'ice-pellets']);
  });
  it('tells nothing of a time that it does not cover, and nothing where parts cannot be read', () => {
    expect(at(TEXT, '11:00', '12:30')).toBeUndefined();
    expect(at('05008KT P6SM OVC020 TEMPO 1513/15XX 2SM -FZRA', '19:00', '19:30')).toBeUndefined();
    expect(at('05008KT P6SM FRZA OVC020', '19:00', '19:30')).toBeUndefined();
  });
});

describe('what else speaks against a dry ramp', () => {
  const reasons = (groups: string) =>
    rampWeatherOf(metar(groups), 'day')
      .also.map(({ reason }) => reason)
      .join('; ');
  it.each([
    ['05008KT 9999 OVC010 M01/M05 Q1008 REFZRA', /Recent: .*FZRA/],
    ['05008KT 9999 OVC010 M01/M05 Q1008 TEMPO 3000 PL', /Expected by the trend: PL/],
    ['05008KT 10SM VCSH OVC010 M01/M05 A2990', /In the vicinity: VCSH/],
    ['05008KT 10SM OVC010 M01/M05 A2990 RMK AO2 FZRAE45', /Recent: FZRA/],
    ['AUTO 05008KT 2SM -SN OVC008 M02/M03 A2990 RMK AO2', /does not see freezing drizzle/],
  ])('%s', (groups, words) => {
    expect(reasons(groups)).toMatch(words);
  });
  it('in warm air none of it', () => {
    expect(reasons('05008KT 10SM VCSH OVC010 09/05 A2990')).toBe('');
  });
});

it('rain in a forecast without a temperature is not known, and no freezing rain in July', () => {
  const taf = reportOf('TAF KZZZ 151130Z 1512/1612 05008KT P6SM -RA OVC020=') as TafReport;
  const at = {
    fromMs: Date.parse('2026-01-15T14:00Z'),
    untilMs: Date.parse('2026-01-15T15:00Z'),
    light: 'day',
  } as const;
  expect(fallingInForecast(taf, { ...at, temperature: undefined })).toBeUndefined();
  expect(fallingInForecast(taf, { ...at, temperature: { warmestC: 12, coldestC: 12 } })).toEqual([]);
});

it('snow in a forecast without a temperature is as heavy as warm snow of that visibility', () => {
  const taf = reportOf('TAF KZZZ 151130Z 1512/1612 05008KT 1SM -SN OVC010=') as TafReport;
  const at = {
    fromMs: Date.parse('2026-01-15T14:00Z'),
    untilMs: Date.parse('2026-01-15T15:00Z'),
    light: 'dark',
  } as const;
  // Both charts in the dark at one mile: heavy at 0 °C, moderate at -7 °C (looked up).
  expect(fallingInForecast(taf, { ...at, temperature: undefined })).toEqual(['heavy-snow']);
  const cold = { warmestC: -7, coldestC: -7 };
  expect(fallingInForecast(taf, { ...at, temperature: cold })).toEqual(['moderate-snow']);
});

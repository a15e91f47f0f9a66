import { describe, expect, test } from 'vitest';
import { taf, textsOf } from './read-one.ts';

const at = (day: number, hour: number, minute = 0) => Date.UTC(2026, 0, day, hour, minute);
const ICY = 'TAF KZZZ 151130Z 1512/1612 02012KT P6SM -FZRA OVC008';
const icyThen = (groups: string) => taf(`${ICY} ${groups}=`);

describe('a change that cannot be read', () => {
  test.each([
    ['FM18 VRB03KT P6SM SKC', 'expected a change as FM141800'],
    ['FM152500 VRB03KT P6SM SKC', 'inside the validity'],
    ['FM201800 VRB03KT P6SM SKC', 'inside the validity'],
    ['FROM 151800 VRB03KT P6SM SKC', 'found "FROM 151800", expected a change as FM141800'],
    ['FM 1800 VRB03KT P6SM SKC', 'found "FM 1800", expected a change as FM141800'],
    ['TEMPO1514/1518 SKC', 'expected a change as FM141800'],
    ['TEMPO SKC', 'expected a period behind it'],
    ['TEMPO FM1800 SKC', 'found "TEMPO FM1800", expected a period behind it'],
    ['BECMG 1518 NSW SKC', 'expected a period behind it'],
    ['SKC', 'cannot hold with what stands before'],
    ['CAVOK', 'cannot hold with what stands before'],
    ['36010KT P6SM SKC', 'cannot hold with what stands before'],
  ])('%s stands apart with all that follows it, and the base keeps its freezing rain', (groups, reason) => {
    const report = icyThen(groups);
    expect(report.changes).toEqual([]);
    expect(report.unread).toEqual([
      { element: 'change', text: groups, reason: expect.stringContaining(reason) },
    ]);
    expect(report.base).toMatchObject({
      weather: [{ text: '-FZRA' }],
      isWeatherEnding: false,
      sky: { layers: [{ amount: 'OVC' }], clear: null },
      visibility: { bound: 'above' },
    });
  });

  test('ends where the next begins that can be read, and leaves remarks to the remarks', () => {
    const report = icyThen('FM18 SKC TEMPO1519/1520 SN FM160200 01005KT OVC010 RMK NXT 18Z');
    expect(textsOf(report.unread)).toEqual(['FM18 SKC TEMPO1519/1520 SN']);
    expect(report.changes).toMatchObject([{ change: 'FM', fromMs: at(16, 2), weather: [], unread: [] }]);
    expect(report.remarksText).toBe('NXT 18Z');
  });

  test('a word of no change before a second wind leaves the base as it was', () => {
    const report = icyThen('LATER VRB03KT P6SM NSW SKC');
    expect(textsOf(report.unread)).toEqual(['LATER', 'VRB03KT P6SM NSW SKC']);
    expect(report.base).toMatchObject({ isWeatherEnding: false, sky: { clear: null } });
  });

  test('rain behind a clear sky takes the clear sky back', () => {
    const report = taf('TAF KZZZ 151130Z 1512/1612 02012KT CAVOK -FZRA OVC008=');
    expect(report.base).toMatchObject({ sky: null, visibility: null, weather: [], hasUnreadWeather: true });
    expect(textsOf(report.unread)).toEqual(['CAVOK', '-FZRA OVC008']);
  });

  test('NSC beside rain, and rain in the vicinity of a clear sky, are no contradiction', () => {
    const base = (groups: string) => taf(`TAF KZZZ 151130Z 1512/1612 02012KT 9999 ${groups}=`);
    expect(base('-RA NSC')).toMatchObject({ base: { sky: { clear: 'NSC' } }, unread: [] });
    expect(base('VCRA SKC')).toMatchObject({ base: { sky: { clear: 'SKC' } }, unread: [] });
  });
});

describe('FM', () => {
  test('a blank before exactly six figures is joined', () => {
    expect(icyThen('FM 151800 VRB03KT P6SM SKC')).toMatchObject({
      changes: [{ change: 'FM', fromMs: at(15, 18), sky: { clear: 'SKC' } }],
      unread: [],
    });
  });

  test('four figures that are a day and hour as well as an hour and minute are neither', () => {
    const report = taf('TAF KZZZ 141730Z 1418/1518 02012KT P6SM -FZRA OVC008 FM1503 VRB03KT SKC=');
    expect(report.changes).toEqual([]);
    expect(report.unread).toMatchObject([
      {
        element: 'change',
        text: 'FM1503 VRB03KT SKC',
        reason: expect.stringContaining('15:03, or day 15 at 03 UTC'),
      },
    ]);
    expect(report.base.sky).toMatchObject({ clear: null });
  });

  test('four figures that can be no day are an hour and minute; beside the older validity they always are', () => {
    expect(icyThen('FM1830 VRB03KT').changes).toMatchObject([{ fromMs: at(15, 18, 30) }]);
    expect(taf('TAF KZZZ 151730Z 151818 02012KT FM1603 VRB03KT=').changes).toMatchObject([
      { fromMs: at(16, 16, 3) },
    ]);
  });
});

import { describe, expect, test } from 'vitest';
import { joinedSounding, readTemp, type TempContext } from '../../worker/formats/temp/read-temp.ts';
import { only, row, rows } from '../support/sounding-levels.ts';

/** Groups of the reference profile: a warm nose at 850 hPa over freezing air. */
const PROFILE =
  'TTAA 65123 00901 99987 02112 06008 00091 ///// ///// 92722 04905 08019 85398 01230 15030 70942 08156 21545 50550 24361 25111 88999 77999';
const PLACE = { latDeg: 44.47, lonDeg: -73.15, elevationM: 197 };
const NEAR_MS = Date.UTC(2026, 0, 16);
const CONTEXT: TempContext = {
  nearMs: NEAR_MS,
  stations: (number) => (number === '00901' ? PLACE : undefined),
};

const read = (text: string) => readTemp(text, CONTEXT);

describe('readTemp puts an ascent together', () => {
  const partB =
    'TTBB 6512/ 00901 00987 02112 11968 03506 22850 01230 33500 24361 21212 00987 06008 11951 07014=';

  test('parts of one station and time are one ascent, levels of one pressure one level', () => {
    const sounding = only(read(`${PROFILE}= ${partB}`));
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([987, 968, 951, 925, 850, 700, 500]);
    expect(sounding.rejected).toEqual([]);
  });

  test('the order of the parts changes nothing', () => {
    expect(rows(only(read(`${partB}\n${PROFILE}=`)))).toEqual(rows(only(read(`${PROFILE}=\n${partB}`))));
  });

  test('another station between the parts stays apart', () => {
    const other = PROFILE.replace('00901', '00902');
    const context = { ...CONTEXT, stations: () => PLACE };
    const { soundings } = readTemp(`${PROFILE}=\n${other}=\n${partB}`, context);
    expect(soundings.map(({ stationId, levels }) => [stationId, levels.levelCount])).toEqual([
      ['00901', 7],
      ['00902', 5],
    ]);
  });

  test('another hour is another ascent', () => {
    const later = PROFILE.replace('65123', '66003');
    expect(read(`${PROFILE}=\n${later}=`).soundings.map(({ timeMs }) => timeMs)).toEqual([
      Date.UTC(2026, 0, 15, 12),
      Date.UTC(2026, 0, 16, 0),
    ]);
  });

  test('of two values at one level the first stands and the second is told', () => {
    const sounding = only(read(`${PROFILE}=\n${partB.replace('01230', '01430')}`));
    expect(row(sounding, 850)[2]).toBe(1.2);
    expect(sounding.rejected).toEqual([
      { line: 2, reason: 'temperature at 850 hPa: found 1.4 degC, expected 1.2 degC as line 1 has it' },
      { line: 2, reason: 'dew point at 850 hPa: found -1.6 degC, expected -1.8 degC as line 1 has it' },
    ]);
  });

  test('a second surface pressure is told and not used', () => {
    const sounding = only(read(`${PROFILE}=\n${partB.replaceAll('00987', '00988')}`));
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([987, 968, 951, 925, 850, 700, 500]);
    expect(sounding.rejected.map(({ reason }) => reason)).toEqual([
      'surface level: found 988 hPa, expected 987 hPa as reported before',
      'surface level: found 988 hPa, expected 987 hPa as reported before',
    ]);
  });

  test('a part sent twice is one part', () => {
    const sounding = only(read(`${PROFILE}=\n${PROFILE}=`));
    expect(rows(sounding)).toHaveLength(5);
    expect(sounding.rejected).toEqual([]);
  });

  test('a corrected bulletin replaces the first one', () => {
    const corrected = PROFILE.replace('01230', '03156');
    const text = `USXX01 XXXX 151200\n${PROFILE}=\nNNNN\nUSXX01 XXXX 151200 COR\n${corrected}=\nNNNN`;
    const sounding = only(read(text));
    expect(row(sounding, 850)[2]).toBe(-3.1);
    expect(sounding.rejected).toEqual([{ line: 2, reason: 'part A: replaced by the correction on line 5' }]);
  });
});

describe('readTemp and corrections', () => {
  const heights = { first: '01230', second: '03156', third: '05156' };
  const bulletin = (mark: string, air: string) =>
    `USXX01 XXXX 151200${mark === '' ? '' : ` ${mark}`}\n${PROFILE.replace('01230', air)}=\nNNNN\n`;
  const at850 = (text: string) => row(only(read(text)), 850)[2];

  test.each([
    ['CCB after CCA', ['CCA', 'CCB']],
    ['COR, the first of its kind, before CCB', ['COR', 'CCB']],
  ])('the last correction counts, whatever the order: %s', (_, [earlier, later]) => {
    const texts = [
      bulletin('', heights.first),
      bulletin(earlier!, heights.second),
      bulletin(later!, heights.third),
    ];
    expect(at850(texts.join(''))).toBe(-5.1);
    expect(at850(texts.toReversed().join(''))).toBe(-5.1);
  });

  test('a delayed bulletin corrects nothing', () => {
    const text = bulletin('', heights.first) + bulletin('RRA', heights.second);
    expect(at850(text)).toBe(1.2);
    expect(only(read(text)).rejected.map(({ reason }) => reason)).toContain(
      'temperature at 850 hPa: found -3.1 degC, expected 1.2 degC as line 2 has it',
    );
  });

  test.each([
    ['before the part', (text: string) => `COR ${text}`],
    ['after its name', (text: string) => text.replace('TTAA', 'TTAA COR')],
    ['behind the station', (text: string) => `00901 COR ${text}`],
  ])('the mark %s', (_, mark) => {
    const text = `${PROFILE}=\n${mark(PROFILE.replace('01230', heights.second))}=`;
    expect(at850(text)).toBe(-3.1);
    expect(read(text).rejected).toEqual([]);
    expect(only(read(text)).rejected).toEqual([
      { line: 1, reason: 'part A: replaced by the correction on line 2' },
    ]);
  });

  test('a correction of one part leaves the others', () => {
    const partB =
      'TTBB 6512/ 00901 00987 02112 11968 03506 22850 01230 33500 24361 21212 00987 06008 11951 07014=';
    const corrected = `USXX01 XXXX 151200 CCA\n${PROFILE.replace('92722 04905', '92722 04705')}=`;
    const sounding = only(read(`${PROFILE}=\n${partB}\n${corrected}`));
    expect(row(sounding, 925)[2]).toBe(-4.7);
    expect(row(sounding, 968)[2]).toBe(-3.5);
  });
});

describe('joinedSounding makes one ascent of parts that came at different times', () => {
  const partB =
    'TTBB 6512/ 00901 00987 02112 11968 03506 22850 01230 33500 24361 21212 00987 06008 11951 07014=';
  const a = only(read(`${PROFILE}=`));
  const b = only(read(partB));
  const whole = only(read(`${PROFILE}=\n${partB}`));

  test.each([
    ['A then B', a, b],
    ['B then A', b, a],
  ])('%s are the ascent that both make together', (_, earlier, later) => {
    const joined = joinedSounding([...earlier.reports, ...later.reports], later, CONTEXT);
    expect(rows(joined)).toEqual(rows(whole));
    expect(joined.reports.map(({ part }) => part).toSorted()).toEqual(['A', 'B']);
    expect(joined.timeMs).toBe(whole.timeMs);
  });

  test('a correction sent before the part it corrects stands', () => {
    const corrected = only(read(`COR ${PROFILE.replace('01230', '03156')}=`));
    const parts = [...corrected.reports, ...a.reports];
    expect(row(joinedSounding(parts, a, CONTEXT), 850)[2]).toBe(-3.1);
    expect(row(joinedSounding(parts.toReversed(), corrected, CONTEXT), 850)[2]).toBe(-3.1);
  });

  test('of a part sent twice without a correction the first stands and the second is told, as in one text', () => {
    const again = only(read(`${PROFILE.replace('01230', '03156')}=`));
    const joined = joinedSounding([...a.reports, ...again.reports], again, CONTEXT);
    expect(row(joined, 850)).toEqual(
      row(only(read(`${PROFILE}=\n${PROFILE.replace('01230', '03156')}=`)), 850),
    );
    expect(joined.rejected[0]?.reason).toMatch(
      /^with the parts sent before, temperature at 850 hPa: found -3\.1 degC, expected 1\.2 degC/,
    );
  });

  test('the month is that of the part at hand, whatever instant the context is near', () => {
    const elsewhere = { ...CONTEXT, nearMs: Date.UTC(2031, 5, 1), notAfterMs: Date.UTC(2020, 0, 1) };
    expect(joinedSounding([...a.reports, ...b.reports], b, elsewhere).timeMs).toBe(whole.timeMs);
  });

  test('the place of the part at hand serves where the context knows none', () => {
    const nowhere = { ...CONTEXT, stations: () => undefined };
    expect(joinedSounding([...a.reports, ...b.reports], b, nowhere)).toMatchObject({
      latDeg: 44.47,
      lonDeg: -73.15,
    });
  });
});

describe('readTemp reads bulletins', () => {
  test.each([
    ['a heading and product name', `833\nUSXX17 XXXX 151201 COR\nMANXXX\n00901 ${PROFILE}=\n`],
    [
      'a telex envelope',
      `\u0001\r\r\nZCZC 123\r\r\nUSXX17 XXXX 151201\r\r\n${PROFILE}=\r\r\n\u0003NNNN\r\r\n`,
    ],
    ['no equals sign before the next heading', `${PROFILE}\nUSXX17 XXXX 151201 RRA\n`],
    ['a line break after every group', PROFILE.replaceAll(' ', '\n')],
    ['the equals sign apart', `${PROFILE} =`],
  ])('with %s', (_name, text) => {
    const file = read(text);
    expect(rows(only(file))).toEqual(rows(only(read(PROFILE))));
    expect(only(file).rejected).toEqual([]);
    expect(file.rejected).toEqual([]);
  });

  test('text outside the reports is told by line', () => {
    expect(read(`hello there\n${PROFILE}=\n92722 04905`).rejected).toEqual([
      { line: 1, reason: 'text outside a report: found "hello there", expected a part such as TTAA' },
      { line: 3, reason: 'text outside a report: found "92722 04905", expected a part such as TTAA' },
    ]);
  });

  test('a text of no report holds no ascent and throws nothing', () => {
    expect(read('')).toEqual({ soundings: [], rejected: [] });
  });

  test('NIL is told and is no ascent', () => {
    const file = read(`TTAA 65123 00901 NIL=\n${PROFILE.replace('65123', '66003')}=`);
    expect(file.rejected).toEqual([{ line: 1, reason: 'TTAA: found NIL, no ascent was made or sent' }]);
    expect(file.soundings).toHaveLength(1);
  });

  test.each(['PPBB', 'QQAA', 'EEAA', 'XXAA'])('%s is refused by name', (name) => {
    const file = read(`${name} 65120 00901 90012 27010=\n${PROFILE}=`);
    expect(file.rejected).toHaveLength(1);
    expect(file.rejected[0]!.reason).toContain(`report: found ${name}, `);
    expect(file.soundings).toHaveLength(1);
  });

  test('a station of unknown place is refused by number, the others are read', () => {
    const file = read(`${PROFILE.replace('00901', '99123')}=\n${PROFILE}=`);
    expect(file.rejected).toEqual([
      {
        line: 1,
        reason:
          'station: found 99123, whose position is not known, expected a known station, or its place beside the text: latDeg, lonDeg and elevationM at upload, --lat, --lon and --elevation on the command line',
      },
    ]);
    expect(file.soundings).toHaveLength(1);
  });

  test.each([
    ['a day of 00', '50123', 'YYGGId'],
    ['a day of 82', '82123', 'YYGGId'],
    ['an hour of 24', '65243', 'YYGGId'],
    ['letters', '6512X', 'YYGGId'],
  ])('a header with %s is refused', (_name, figures, expected) => {
    const file = read(PROFILE.replace('65123', figures));
    expect(file.soundings).toEqual([]);
    expect(file.rejected[0]!.reason).toContain(`found "${figures}", expected ${expected}`);
  });

  test('a text that goes on without an end is no report', () => {
    const file = read(`${PROFILE} ${'12345 '.repeat(4000)}`);
    expect(file.soundings).toEqual([]);
    expect(file.rejected[0]).toEqual({
      line: 1,
      reason: 'TTAA: found more than 3000 groups, expected an equals sign or the next part before',
    });
  });

  test('a report that ends in its header is refused', () => {
    expect(read('TTAA 65123=').rejected[0]!.reason).toContain('found the end of the report');
  });
});

describe('readTemp takes month and year from the nearest instant', () => {
  test.each([
    ['the same day', '2026-01-15T18:00:00Z', '65123', '2026-01-15T12:00:00Z'],
    ['the day before, over a new year', '2026-01-01T03:00:00Z', '81123', '2025-12-31T12:00:00Z'],
    ['the day after, over a month’s end', '2026-01-31T23:00:00Z', '51003', '2026-02-01T00:00:00Z'],
    ['a 31st when the month before has none', '2026-03-01T00:00:00Z', '81123', '2026-01-31T12:00:00Z'],
    ['a 29 February in a leap year', '2028-03-03T00:00:00Z', '79123', '2028-02-29T12:00:00Z'],
    ['a 29th near March in a common year', '2026-03-03T00:00:00Z', '79123', '2026-03-29T12:00:00Z'],
  ])('%s', (_name, near, figures, expected) => {
    const context = { ...CONTEXT, nearMs: Date.parse(near) };
    expect(only(readTemp(PROFILE.replace('65123', figures), context)).timeMs).toBe(Date.parse(expected));
  });

  test('an ascent is never later than the upload allows', () => {
    const upload = Date.UTC(2026, 1, 2);
    const after = { ...CONTEXT, nearMs: upload, notAfterMs: upload + 3 * 3_600_000 };
    // Day 15 at 12 UTC lies nearer in February, thirteen days ahead.
    expect(only(readTemp(`${PROFILE}=`, after)).timeMs).toBe(Date.UTC(2026, 0, 15, 12));
  });

  test('without an instant the time is unknown', () => {
    expect(only(readTemp(PROFILE, { ...CONTEXT, nearMs: Number.NaN })).timeMs).toBeNaN();
  });
});

describe('readTemp reads ships', () => {
  const BODY = '99018 09820 27012 00145 09418 27514 92790 05013 28018 88999 77999=';

  test.each([
    ['north and west', '99485 70152 14785', 48.5, -15.2],
    ['north and east', '99485 10152 14785', 48.5, 15.2],
    ['south and east', '99485 30152 14785', -48.5, 15.2],
    ['south and west', '99485 50152 14785', -48.5, -15.2],
    ['north and far east', '99485 11745 14784', 48.5, 174.5],
  ])('the position is in the report: %s', (_name, groups, latDeg, lonDeg) => {
    const sounding = only(read(`UUAA SHIPX 65129 ${groups} ${BODY}`));
    expect([sounding.stationId, sounding.latDeg, sounding.lonDeg]).toEqual(['SHIPX', latDeg, lonDeg]);
    expect(sounding.rejected).toEqual([]);
  });

  test('the surface level is the water’s', () => {
    expect(rows(only(read(`UUAA SHIPX 65129 99485 70152 14785 ${BODY}`)))[0]).toEqual([
      1018, 0, 9.8, 7.8, 270, 12,
    ]);
  });

  test('a ship without a call sign is named by its position groups', () => {
    expect(only(read(`UUAA 65129 99485 70152 14785 ${BODY}`)).stationId).toBe('9948570152');
  });

  test.each([
    ['its check figures disagree', '99485 70152 14775'],
    ['it has no quadrant', '99485 20152 14785'],
    ['the latitude is beyond the pole', '99915 70152 14715'],
  ])('a position is refused when %s', (_name, groups) => {
    const file = read(`UUAA SHIPX 65129 ${groups} ${BODY}`);
    expect(file.soundings).toEqual([]);
    expect(file.rejected[0]!.reason).toContain('expected a position 99LaLaLa');
  });
});

import { describe, expect, test } from 'vitest';
import { readTemp, type TempContext } from '../../worker/formats/temp/read-temp.ts';
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
const reasons = (text: string) => only(read(text)).rejected.map(({ reason }) => reason);

describe('readTemp reads part A', () => {
  const sounding = only(read(`${PROFILE}=`));

  test('surface and standard levels as the code has them', () => {
    expect(rows(sounding)).toEqual([
      [987, 197, -2.1, -3.3, 60, 8],
      [925, 722, -4.9, -5.4, 80, 19],
      [850, 1398, 1.2, -1.8, 150, 30],
      [700, 2942, -8.1, -14.1, 215, 45],
      [500, 5500, -24.3, -35.3, 250, 111],
    ]);
  });

  test('a standard level under the ground, coded with slashes, is no level and no fault', () => {
    expect(rows(sounding).map(([hPa]) => hPa)).not.toContain(1000);
    expect(sounding.rejected).toEqual([]);
  });

  test('station, position and elevation come from the number', () => {
    expect(sounding).toMatchObject({
      format: 'fm-35-temp',
      stationId: '00901',
      latDeg: 44.47,
      lonDeg: -73.15,
    });
    expect(sounding.elevationM).toBe(197);
  });

  test('a surface pressure above 1000 hPa drops its thousand', () => {
    const text = 'TTAA 6512/ 00901 99021 02112 06008 88999 77999=';
    expect(rows(only(read(text)))).toEqual([[1021, 197, -2.1, -3.3, 60, 8]]);
  });

  test('a 1000 hPa height below sea level is negative', () => {
    const text = 'TTAA 65120 00902 99011 02112 06008 00531 02312 06010 88999 77999=';
    const sea = { ...CONTEXT, stations: () => ({ ...PLACE, elevationM: -118 }) };
    expect(row(only(readTemp(text, sea)), 1000)[1]).toBe(-31);
  });

  test('winds are in m/s when 50 is not added to the day', () => {
    const text = PROFILE.replace('65123', '15123');
    // 10 m/s is 19.4 kt; 111 m/s at 500 hPa is 215.8 kt.
    expect(rows(only(read(text))).map((values) => values[5])).toEqual([15.6, 36.9, 58.3, 87.5, 215.8]);
    expect(only(read(text)).timeMs).toBe(Date.UTC(2026, 0, 15, 12));
  });
});

describe('readTemp reads what surrounds the standard levels of part A', () => {
  test('a tropopause is a level and a greatest wind has a wind alone', () => {
    const text = PROFILE.replace('88999 77999', '88247 56164 26531 77231 26650 40512');
    expect(row(only(read(text)), 247)).toEqual([247, null, -56.1, -70.1, 265, 31]);
    expect(row(only(read(text)), 231)).toEqual([231, null, null, null, 265, 150]);
    expect(reasons(text)).toEqual([]);
  });

  test('two tropopauses and a wind at the end of the ascent (66), without shear', () => {
    const text = PROFILE.replace('88999 77999', '88347 40164 26531 88247 56164 26531 66231 26650');
    expect(
      rows(only(read(text)))
        .map(([hPa]) => hPa)
        .slice(-3),
    ).toEqual([347, 247, 231]);
  });

  test('figure Id says up to which level winds are sent', () => {
    // Winds to 700 hPa: the 500 hPa level has two groups.
    const text =
      'TTAA 65127 00901 99987 02112 06008 92722 04905 08019 85398 01230 15030 70942 08156 21545 50550 24361 40711 37763 88999 77999=';
    const sounding = only(read(text));
    expect(row(sounding, 500)).toEqual([500, 5500, -24.3, -35.3, null, null]);
    expect(row(sounding, 400)).toEqual([400, 7110, -37.7, -50.7, null, null]);
  });

  test('no level has a wind but the surface when Id is a slash', () => {
    const text = 'TTAA 6512/ 00901 99987 02112 06008 92722 04905 85398 01230 88999 77999=';
    expect(rows(only(read(text))).map((values) => values[5])).toEqual([8, null, null]);
  });

  test.each([
    ['with', '10599 58372 27052', 270],
    ['without', '10599 58372', null],
  ])('Id 1 means 150 or 100 hPa: the upper level %s its wind', (_with, last, directionDeg) => {
    const upper = '40707 37763 25624 30901 52164 26139 25018 55565 26620 20160 54368 26594 15344 53171 27071';
    const text = PROFILE.replace('65123', '65121').replace('88999', `${upper} ${last} 88999`);
    const sounding = only(read(text));
    expect(row(sounding, 100)).toEqual([
      100,
      15_990,
      -58.3,
      -80.3,
      directionDeg,
      directionDeg === null ? null : 52,
    ]);
    expect(row(sounding, 150)[4]).toBe(270);
    expect(sounding.rejected).toEqual([]);
  });

  test('missing groups are missing values', () => {
    const text = PROFILE.replace('92722 04905 08019', '92/// 049// /////');
    expect(row(only(read(text)), 925)).toEqual([925, null, -4.9, null, null, null]);
    expect(reasons(text)).toEqual([]);
  });

  test('a message without a surface pressure has no surface level', () => {
    const text = PROFILE.replace('99987 02112 06008', '99/// ///// /////');
    expect(rows(only(read(text)))[0]).toEqual([925, 722, -4.9, -5.4, 80, 19]);
    expect(reasons(text)).toEqual([]);
  });

  test('temperature or wind at a level under the ground is told and not used', () => {
    const text = PROFILE.replace('00091 ///// /////', '00091 02212 06008');
    expect(rows(only(read(text))).map(([hPa]) => hPa)).toEqual([987, 925, 850, 700, 500]);
    expect(reasons(text)).toEqual([
      'level 1000 hPa: found temperature or wind under the ground, expected slashes',
    ]);
  });

  test('instrument, regional and national sections are passed over', () => {
    const text = `${PROFILE} 31313 48108 81130 51515 10164 00009 10194 34510 61616 92722=`;
    expect(rows(only(read(text)))).toEqual(rows(only(read(PROFILE))));
    expect(reasons(text)).toEqual([]);
  });
});

describe('readTemp reads part B', () => {
  const text =
    'TTBB 6512/ 00901 00987 02112 11968 03506 22902 00612 33877 02220 21212 00987 06008 11951 07014 22877 12527 33566 23588 41414 ///// 51515 11875 24007=';

  test('significant temperatures and, after 21212, winds', () => {
    expect(rows(only(read(text)))).toEqual([
      [987, 197, -2.1, -3.3, 60, 8],
      [968, null, -3.5, -4.1, null, null],
      [951, null, null, null, 70, 14],
      [902, null, 0.6, -0.6, null, null],
      [877, null, 2.2, 0.2, 125, 27],
      [566, null, null, null, 235, 88],
    ]);
    expect(reasons(text)).toEqual([]);
  });

  test('level counts run on from 99 to 11', () => {
    const pairs = Array.from({ length: 20 }, (_, index) => {
      const figures = String((index % 9) + 1).repeat(2);
      return `${figures}${900 - 10 * index} 10156`;
    });
    const long = `TTBB 6512/ 00901 00987 02112 ${pairs.join(' ')}=`;
    expect(rows(only(read(long)))).toHaveLength(21);
    expect(reasons(long)).toEqual([]);
  });

  test('a level whose figures repeat like a section mark is a level', () => {
    // 55555: fifth significant level at 555 hPa.
    const long =
      'TTBB 6512/ 00901 00987 02112 11900 02156 22800 04156 33700 08156 44600 14156 55555 18156 66500 24156 21212 00987 06008=';
    expect(row(only(read(long)), 555)[2]).toBe(-18.1);
    expect(reasons(long)).toEqual([]);
  });

  test('a pressure that rises is told and not used', () => {
    const risen = text.replace('22902', '22975');
    expect(rows(only(read(risen))).map(([hPa]) => hPa)).toEqual([987, 968, 951, 877, 566]);
    expect(reasons(risen)).toEqual([
      'significant level: found 975 hPa out of order, expected pressures to fall from level to level',
    ]);
  });

  test('a missing pair is told', () => {
    expect(reasons(text.replace('22902 00612 ', ''))).toEqual([
      'significant level 22: found none before "33877", expected every level in turn',
    ]);
  });
});

describe('readTemp reads parts C and D', () => {
  const text =
    'TTCC 65123 00901 70822 57975 27540 50033 59176 28547 30354 56781 29055 88999 77999= TTDD 6512/ 00901 11583 60374 22412 57379 21212 11583 28044=';

  test('pressures are in tenths of hPa and heights above ten or twenty kilometers', () => {
    expect(rows(only(read(text)))).toEqual([
      [70, 18_220, -57.9, -82.9, 275, 40],
      [58.3, null, -60.3, -84.3, 280, 44],
      [50, 20_330, -59.1, -85.1, 285, 47],
      [41.2, null, -57.3, -86.3, null, null],
      [30, 23_540, -56.7, -87.7, 290, 55],
    ]);
    expect(reasons(text)).toEqual([]);
  });

  test('a tropopause in part C is in tenths too', () => {
    expect(row(only(read(text.replace('88999', '88912 61175 28530'))), 91.2)[2]).toBe(-61.1);
  });
});

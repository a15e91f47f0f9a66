import { describe, expect, test } from 'vitest';
import { readTemp, type TempContext } from '../../worker/formats/temp/read-temp.ts';
import { blanks, only, row, rows } from '../support/sounding-levels.ts';

const PLACE = { latDeg: 44.47, lonDeg: -73.15, elevationM: 197 };
const CONTEXT: TempContext = { nearMs: Date.UTC(2026, 0, 16), stations: () => PLACE };
const LEVELS =
  '99987 02112 06008 00091 ///// ///// 92722 04905 08019 85398 01230 15030 70942 08156 21545 50550 24361 25111 88999 77999';
const partA = (station: string, sections: string) => `TTAA 65123 ${station} ${LEVELS} ${sections}=`;
const read = (text: string) => only(readTemp(text, CONTEXT));

describe('the time of release, 8GGgg of section 31313', () => {
  test.each([
    ['before the nominal hour', '31313 48108 81130', Date.UTC(2026, 0, 15, 11, 30)],
    ['after it', '31313 48108 81204', Date.UTC(2026, 0, 15, 12, 4)],
    ['beside the temperature of the sea', '31313 48108 81130 90021', Date.UTC(2026, 0, 15, 11, 30)],
    ['not given', '31313 48108', Number.NaN],
    ['no such time', '31313 48108 82460', Number.NaN],
    ['half a day from the nominal hour', '31313 48108 80030', Number.NaN],
    ['the figures of the radiosonde are no time', '31313 81130', Number.NaN],
  ])('%s', (_, sections, expected) => {
    expect(read(partA('00901', sections)).releaseMs).toBe(expected);
  });

  test('of the midnight ascent it is the evening before', () => {
    const text = partA('00901', '31313 45202 82321').replace('65123', '66003');
    expect(read(text).releaseMs).toBe(Date.UTC(2026, 0, 15, 23, 21));
    expect(read(text).timeMs).toBe(Date.UTC(2026, 0, 16));
  });

  test('part B gives it when part A does not', () => {
    const text = `${partA('00901', '')}\nTTBB 6512/ 00901 00987 02112 11968 03506 31313 48108 81130=`;
    expect(read(text).releaseMs).toBe(Date.UTC(2026, 0, 15, 11, 30));
  });
});

describe('regional notes of Region IV', () => {
  test('levels that the report doubts keep their wind alone, and it is told', () => {
    const sounding = read(partA('72999', '51515 10166 09070 10164 00012'));
    expect(row(sounding, 850)).toEqual([850, null, null, null, 150, 30]);
    expect(row(sounding, 925)[2]).toBe(-4.9);
    expect(row(sounding, 500)[2]).toBe(-24.3);
    expect(sounding.rejected.map(({ reason }) => reason)).toEqual([
      'regional note 10166 09070: read with caution as temperature, dew point and height doubtful or missing from 900 to 700 hPa; the air there is unknown',
    ]);
  });

  test('a range named in part A holds for part B too', () => {
    const partB = 'TTBB 6512/ 72999 00987 02112 11968 03506 22870 01030 33690 08956=';
    const sounding = read(`${partA('72999', '51515 10167 00085')}\n${partB}`);
    expect(rows(sounding).map(([hPa]) => hPa)).not.toContain(968);
    expect(blanks(sounding)).toEqual(expect.arrayContaining([968, 870]));
    expect(row(sounding, 690)[2]).toBe(-8.9);
  });

  test('a range without any level in it, or the second one after a note, is unknown all the same', () => {
    const partB = 'TTBB 6512/ 72999 00987 02112 11968 03506 22830 01030 33760 05556 44690 08956 55500 24361';
    const sounding = read(`${partA('72999', '')}\n${partB} 51515 10168 09590 08176=`);
    // Between 968 and 925, 925 and 850 hPa; from 830 hPa through 760, within the rounding of the second range, to 700 hPa.
    expect(blanks(sounding)).toEqual([946.26, 886.71, 794.23, 760, 729.38]);
    expect(row(sounding, 700)[2]).toBe(-8.1);
  });

  test.each([
    ['a stability index', '51515 10164 00012 10194 00508 01010', '72999'],
    ['the same figures in another region', '51515 10166 09070', '02963'],
    ['a doubt without its range', '51515 10166 10194 34510 32513', '72999'],
  ])('%s doubts nothing', (_, sections, station) => {
    const sounding = read(partA(station, sections));
    expect(sounding.levels.temperatureK.every((value, level) => level === 0 || !Number.isNaN(value))).toBe(
      true,
    );
    expect(sounding.rejected).toEqual([]);
  });

  test('a part without levels says so, and where the reason may stand', () => {
    const sounding = read('TTAA 6512/ 72999 51515 10142=');
    expect(rows(sounding)).toEqual([]);
    expect(sounding.rejected).toEqual([
      {
        line: 1,
        reason: 'part A: found no level; the reason may be in its regional notes 51515 10142',
      },
    ]);
    expect(read('TTAA 6512/ 00901=').rejected).toEqual([{ line: 1, reason: 'part A: found no level' }]);
  });
});

describe('significant levels that went', () => {
  const whole = '11968 03506 22870 01030 33800 07556 44780 08500 55760 09156 66690 08956 77500 24361';
  const partB = (levels: string) => `${partA('00901', '')}\nTTBB 6512/ 00901 00987 02112 ${levels}=`;

  test('none went', () => {
    expect(blanks(read(partB(whole)))).toEqual([]);
  });

  test.each([
    ['a layer that was not measured', '44780 08500', '44/// /////', [779.74]],
    ['a garbled indicator', '44780', '447X0', [779.74]],
    ['a pressure that rises', '44780', '44880', [779.74]],
    ['a pressure that no balloon meets', '66690', '66000', [729.38, 591.61]],
    ['the group of the moist level lost', '44780 08500 ', '44780 ', [779.74]],
  ])('%s leaves the air between its neighbors unknown', (_, written, sent, expected) => {
    expect(blanks(read(partB(whole.replace(written, sent))))).toEqual(expected);
  });

  test('above the last level of a part that was cut the standard levels are bridged no more', () => {
    // 870 to 850, 850 to 700, 700 to 500 hPa.
    expect(blanks(read(partB('11968 03506 22870 01030')))).toEqual([859.94, 771.36, 591.61]);
  });

  test('a part that comes again cut short takes nothing from the whole one', () => {
    const sounding = read(`${partB(whole)}\nTTBB 6512/ 00901 00987 02112 11968 03506=`);
    expect(blanks(sounding)).toEqual([]);
    expect(row(sounding, 780)[2]).toBe(-8.5 - 0);
  });
});

describe('TEMP MOBIL', () => {
  const body = '99987 02112 06008 92722 04905 08019 85398 01230 15030 88999 77999=';
  const header = '65128 99445 70732 00143';

  test.each([
    ['in meters', '01971', 197],
    ['in feet', '06465', 196.9],
    ['not given', '////1', null],
  ])('names itself, gives its place and its elevation %s', (_, group, elevationM) => {
    const sounding = read(`IIAA MOBL1 ${header} ${group} ${body}`);
    expect(sounding).toMatchObject({ stationId: 'MOBL1', latDeg: 44.5, lonDeg: -73.2 });
    expect(Number.isNaN(sounding.elevationM) ? null : Number(sounding.elevationM.toFixed(1))).toBe(
      elevationM,
    );
    expect(row(sounding, 925)).toEqual([925, 722, -4.9, -5.4, 80, 19]);
    expect(sounding.rejected).toEqual([]);
  });

  test('without its elevation group it is refused, and no level takes its place', () => {
    expect(readTemp(`IIAA MOBL1 ${header} ${body}`, CONTEXT)).toEqual({
      soundings: [],
      rejected: [
        {
          line: 1,
          reason: 'IIAA header: found "99987", expected an elevation h0h0h0h0im and then the first level',
        },
      ],
    });
  });
});

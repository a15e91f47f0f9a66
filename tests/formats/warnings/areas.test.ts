import { describe, expect, test } from 'vitest';
import { takeArea } from '../../../worker/formats/warnings/areas.ts';
import { Scanner } from '../../../worker/formats/warnings/scanner.ts';
import { statedIn } from './warning-context.ts';

function area(text: string): { stated: string; rest: string } {
  const scanner = new Scanner(text);
  const statement = takeArea(scanner);
  return {
    stated: statement === undefined ? 'none' : statedIn(statement),
    rest: text.slice(scanner.offset).trim(),
  };
}

describe('takeArea beyond the template', () => {
  test.each([
    ['a circle', 'WI 50NM OF N5030 W00200 FL100', 'circle 92.60 km 50.50 -2.00', 'FL100'],
    ['a circle about a position', 'WI 30 KM OF PSN N4320 E01020', 'circle 30.00 km 43.33 10.33', ''],
    [
      'within of a line',
      'WI 50NM OF LINE N50 W005 - N60 W020 SFC/FL100',
      'line 92.60 km 50.00 -5.00, 60.00 -20.00',
      'SFC/FL100',
    ],
    [
      'within of a line between',
      'WI 30NM OF LINE BTN N50 W005 - N60 W020',
      'line 55.56 km 50.00 -5.00, 60.00 -20.00',
      '',
    ],
    [
      'within of several points',
      'WI 50NM OF N50 W005 - N60 W020',
      'line 92.60 km 50.00 -5.00, 60.00 -20.00',
      '',
    ],
    [
      'a wide line in miles',
      'APRX 40NM WID LINE BTN N50 W005 - N60 W020',
      'line 37.04 km 50.00 -5.00, 60.00 -20.00',
      '',
    ],
    [
      'coordinates without a space',
      'WI N5000W00500 - N5100W00500 - N5100W00400',
      'polygon 50.00 -5.00, 51.00 -5.00, 51.00 -4.00',
      '',
    ],
    [
      'a forgotten hyphen',
      'WI N58 E008 - N58 E006 N59 E007 - N58 E008 FL100',
      'polygon 58.00 8.00, 58.00 6.00, 59.00 7.00, 58.00 8.00',
      'FL100',
    ],
    [
      'sides after figures',
      'WI 42N 89W - 45N 85W - 47N 91W SFC',
      'polygon 42.00 -89.00, 45.00 -85.00, 47.00 -91.00',
      'SFC',
    ],
    ['fixes by TO', 'FROM 40ESE AAA TO BBB TO 30S CCC OCNL SEV', 'polygon AAA, BBB, CCC', 'OCNL SEV'],
    [
      'fixes by hyphens',
      'BOUNDED BY 40S AAA-BBB- 20ESE CCC-40S AAA MOD ICE',
      'polygon AAA, BBB, CCC, AAA',
      'MOD ICE',
    ],
    [
      'an area bounded by fixes',
      'WI AREA BOUNDED BY 40W AAA TO 40N BBB TO 30S CCC BTN',
      'polygon AAA, BBB, CCC',
      'BTN',
    ],
    ['a side figures first', 'S OF 4100N FL310', 'S of 41.00', 'FL310'],
    [
      'a line of three points',
      'E OF LINE S2127 W06840 - S2320 W06803 - S2442 W06846 FL180/280',
      'E of line -21.45 -68.67, -23.33 -68.05, -24.70 -68.77',
      'FL180/280',
    ],
    ['two edges of one band', 'N OF N20 AND S OF N30 STNR', 'N of 20.00 and S of 30.00', 'STNR'],
    ['the whole, in other words', 'OVR THE WHOLE FIR CB TOP', 'whole region', 'CB TOP'],
  ])('%s', (_, text, stated, rest) => {
    expect(area(text)).toEqual({ stated, rest });
  });

  test.each([
    ['several points without a word', 'N50 W005 - N60 W020 FL100', 'unreadable N50 W005 - N60 W020', 'FL100'],
    ['within of nothing', 'WI 50NM OF DONLON', 'unreadable WI 50NM OF', 'DONLON'],
    [
      'a wide line of one point',
      'APRX 40NM WID LINE BTN N50 W005 FL100',
      'unreadable APRX 40NM WID LINE BTN N50 W005',
      'FL100',
    ],
    ['within of no distance', 'WI 0NM OF N50 W005 FL100', 'unreadable WI 0NM OF N50 W005', 'FL100'],
    ['within of half a globe', 'WI 1001NM OF N50 W005', 'unreadable WI 1001NM OF N50 W005', ''],
    [
      'a line of no width',
      'APRX 0KM WID LINE BTN N50 W005 - N60 W020',
      'unreadable APRX 0KM WID LINE BTN N50 W005 - N60 W020',
      '',
    ],
    ['a line of one point', 'WI 50NM OF LINE N50 W005', 'unreadable WI 50NM OF LINE N50 W005', ''],
  ])('%s is kept in its words', (_, text, stated, rest) => {
    expect(area(text)).toEqual({ stated, rest });
  });

  test.each([
    ['words', 'STNR NC'],
    ['north of a meridian', 'N OF W012'],
    ['east of a parallel', 'E OF N54'],
    ['a side of a line of one point', 'N OF LINE N54 W012 FL100'],
    ['minutes beyond 59', 'N OF N5460'],
    ['a polygon of no points', 'WI DONLON AREA'],
    ['north-east of a parallel', 'NE OF N54'],
  ])('%s is no area, and nothing is taken', (_, text) => {
    expect(area(text)).toEqual({ stated: 'none', rest: text });
  });

  test('more points than any office draws are refused', () => {
    const points = Array.from({ length: 201 }, () => 'N50 W005').join(' - ');
    expect(area(`WI ${points}`).stated).toBe('none');
    expect(area(`APRX 40NM WID LINE BTN ${points}`).stated).toContain('unreadable');
  });
});

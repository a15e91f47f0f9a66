import { describe, expect, test } from 'vitest';
import { readIgra } from '../../worker/formats/igra.ts';
import { AT_850, AT_925, at, CLEAN, HEADER, headerFor, withLines } from '../support/sounding-igra-lines.ts';
import { blanks, only, row, rows } from '../support/sounding-levels.ts';

/** A line in place of the 850 hPa record, why it is told, and what is left of the level. */
const BAD_RECORDS: readonly (readonly [name: string, line: string, reason: string, expected: unknown])[] = [
  [
    'letters in the temperature',
    at(AT_850, 23, '  1X3'),
    'temperature: found "  1X3", expected a whole number',
    [850, 1398, null, null, 150, 29.9],
  ],
  [
    'letters in the depression, which the humidity beside it does not replace',
    at(at(AT_850, 29, '  500'), 35, '  3X0'),
    'dew point depression: found "  3X0", expected a whole number',
    [850, 1398, 1.3, null, 150, 29.9],
  ],
  [
    'letters in the pressure',
    at(AT_850, 10, ' 85O00'),
    'pressure: found " 85O00", expected a whole number',
    undefined,
  ],
  [
    'a missing pressure',
    at(AT_850, 10, ' -9999'),
    'pressure: found none, expected a pressure on a level of type 1 or 2',
    undefined,
  ],
  ['an unknown level type', at(AT_850, 1, '4'), 'level type: found "40", expected 1-3 and 0-2', undefined],
  ['a record cut short', AT_850.slice(0, 49), 'data record: found 49 columns, expected 51', undefined],
  ['a record shifted by a column', ` ${AT_850}`, 'data record: found 52 columns, expected 51', undefined],
  [
    'figures in a column that must be blank',
    at(AT_850, 34, '7'),
    'column 34: found "7", expected a blank',
    undefined,
  ],
  ['an unknown flag', at(AT_850, 28, 'Q'), 'column 28: found "Q", expected a blank, A or B', undefined],
  [
    '61 degC',
    at(AT_850, 23, '  610'),
    'temperature: found 61 degC, expected -100 to 60 degC',
    [850, 1398, null, null, 150, 29.9],
  ],
  [
    '-100.1 degC',
    at(AT_850, 23, '-1001'),
    'temperature: found -100.1 degC, expected -100 to 60 degC',
    [850, 1398, null, null, 150, 29.9],
  ],
  ['1101 hPa', at(AT_850, 10, '110100'), 'pressure: found 1101 hPa, expected 1 to 1100 hPa', undefined],
  ['0.99 hPa', at(AT_850, 10, '    99'), 'pressure: found 0.99 hPa, expected 1 to 1100 hPa', undefined],
  [
    'a dew point 0.6 K above the temperature',
    at(AT_850, 35, '   -6'),
    'dew point: found 0.6 K above the temperature, expected at most 0.5 K',
    [850, 1398, 1.3, null, 150, 29.9],
  ],
  [
    '-501 gpm',
    at(AT_850, 17, ' -501'),
    'height: found -501 gpm, expected -500 to 50000 gpm',
    [850, null, 1.3, -1.7, 150, 29.9],
  ],
  [
    '50001 gpm',
    at(AT_850, 17, '50001'),
    'height: found 50001 gpm, expected -500 to 50000 gpm',
    [850, null, 1.3, -1.7, 150, 29.9],
  ],
  [
    '150.1 m/s',
    at(AT_850, 47, ' 1501'),
    'wind speed: found 150.1 m/s, expected 0 to 150 m/s',
    [850, 1398, 1.3, -1.7, 150, null],
  ],
  [
    'a direction of 361',
    at(AT_850, 41, '  361'),
    'wind direction: found 361 deg, expected 0 to 360 deg',
    [850, 1398, 1.3, -1.7, null, 29.9],
  ],
];

describe('readIgra rejects a quantity or a record and reads the others', () => {
  test.each(BAD_RECORDS)('%s', (_name, line, reason, expected) => {
    const sounding = only(readIgra(withLines({ 3: line })));
    expect(sounding.rejected).toEqual([{ line: 4, reason }]);
    expect(rows(sounding).find(([hPa]) => hPa === 850)).toEqual(expected);
    expect(rows(sounding).filter(([hPa]) => hPa !== 850)).toHaveLength(3);
  });

  test('the limits themselves are kept: -100 and 60 degC, 0.5 K, -500 and 50000 gpm, 150 m/s, 360 deg', () => {
    const cold = '20 -9999 110000  -500 -1000 -9999    -5   360  1500';
    const hot = '20 -9999    100 50000   600 -9999 -9999     0     0';
    const sounding = only(readIgra([headerFor(2), cold, hot].join('\n')));
    expect(sounding.rejected).toEqual([]);
    expect(rows(sounding)).toEqual([
      [1100, -500, -100, -99.5, 360, 291.6],
      [1, 50000, 60, null, 0, 0],
    ]);
  });
});

describe('readIgra on records that disagree', () => {
  test('a pressure that rises is rejected and its neighbors are read', () => {
    const text = withLines({ 3: at(AT_850, 10, ' 95000') });
    const sounding = only(readIgra(text));
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([987, 925, 677]);
    expect(sounding.rejected.map(({ line }) => line)).toEqual([4]);
    expect(sounding.rejected[0]!.reason).toContain('found 950 hPa out of order');
  });

  test('one pressure far too low costs its own record alone', () => {
    const text = withLines({ 2: at(AT_925, 10, ' 12500') });
    const sounding = only(readIgra(text));
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([987, 850, 677]);
    expect(sounding.rejected.map(({ line }) => line)).toEqual([3]);
  });

  test('a record below the surface is not used', () => {
    const below = '10 -9999 100000B   91 -9999 -9999 -9999 -9999 -9999';
    const text = [headerFor(5), below, ...CLEAN.slice(1)].join('\n');
    const sounding = only(readIgra(text));
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([987, 925, 850, 677]);
    expect(sounding.rejected).toEqual([
      {
        line: 2,
        reason: 'pressure: found 1000 hPa below the surface, expected at most 987 hPa as line 3 has it',
      },
    ]);
  });

  test('records of one pressure complete each other', () => {
    const wind = '20 -9999  67700 -9999 -9999 -9999 -9999   230   200';
    const sounding = only(readIgra([headerFor(5), ...CLEAN.slice(1), wind].join('\n')));
    expect(row(sounding, 677)).toEqual([677, null, -31.1, -33.3, 230, 38.9]);
    expect(sounding.rejected).toEqual([]);
  });

  test('of two temperatures at one pressure the first stands and the second is told', () => {
    const other = '20 -9999  67700 -9999  -301B-9999    22 -9999 -9999';
    const sounding = only(readIgra([headerFor(5), ...CLEAN.slice(1), other].join('\n')));
    expect(row(sounding, 677)).toEqual([677, null, -31.1, -33.3, null, null]);
    expect(sounding.rejected).toEqual([
      { line: 6, reason: 'temperature at 677 hPa: found -30.1 degC, expected -31.1 degC as line 5 has it' },
      { line: 6, reason: 'dew point at 677 hPa: found -32.3 degC, expected -33.3 degC as line 5 has it' },
    ]);
  });

  test('a contradicted temperature does not borrow the other record’s dew point', () => {
    const dry = '20 -9999  67700 -9999  -311B-9999 -9999 -9999 -9999';
    const other = '20 -9999  67700 -9999  -201B-9999    22 -9999 -9999';
    const text = [headerFor(5), ...CLEAN.slice(1, 4), dry, other].join('\n');
    expect(row(only(readIgra(text)), 677)).toEqual([677, null, -31.1, null, null, null]);
  });

  test('fewer records than announced are read and the shortfall is told', () => {
    const sounding = only(readIgra(CLEAN.slice(0, 3).join('\n')));
    expect(sounding.levels.levelCount).toBe(2);
    expect(sounding.rejected).toEqual([{ line: 1, reason: 'NUMLEV: found 2 data records, expected 4' }]);
  });

  test('records beyond the announced count may be another ascent’s and are not used', () => {
    const sounding = only(readIgra([headerFor(3), ...CLEAN.slice(1)].join('\n')));
    expect(sounding.levels.levelCount).toBe(3);
    expect(sounding.rejected).toEqual([
      { line: 5, reason: 'NUMLEV: found 4 data records, the first too many of them this, expected 3' },
    ]);
  });
});

describe('readIgra and air that went', () => {
  test.each([
    ['a record that is refused', '10 -9999  850X0B 1398B   13B-9999    30   150   154'],
    ['a pressure out of order', at(AT_850, 10, ' 95000')],
    [
      'a temperature that quality control removed, the wind left',
      '20 -9999  85000 -9999 -8888 -9999 -9999   150   154',
    ],
    [
      'a temperature that nobody can read, the wind left',
      '20 -9999  85000 -9999  1X3B-9999    30   150   154',
    ],
  ])('%s: between its neighbors stands a level without values', (_, line) => {
    const sounding = only(readIgra(withLines({ 3: line })));
    expect(blanks(sounding).length).toBeGreaterThan(0);
    for (const hPa of blanks(sounding)) {
      expect(hPa).toBeGreaterThan(677);
      expect(hPa).toBeLessThan(925);
    }
  });

  test('a wind by height, or a level that never had air, is no loss', () => {
    const byHeight = '30 -9999  -9999  1200 -9999 -9999 -9999   150   154';
    const windAlone = '20 -9999  88000 -9999 -9999 -9999 -9999   150   154';
    for (const line of [byHeight, windAlone])
      expect(blanks(only(readIgra(withLines({ 2: line })))), line).toEqual([]);
  });

  test('a million records too many are one rejection', () => {
    const sounding = only(readIgra(`${CLEAN.join('\n')}\n${'1\n'.repeat(1_000_000)}`));
    expect(sounding.rejected).toHaveLength(1);
  });
});

describe('readIgra refuses an ascent whose header is wrong and reads the next', () => {
  const cases: readonly (readonly [name: string, header: string, reason: string])[] = [
    ['cut short', HEADER.slice(0, 60), 'header: found 60 columns, expected 71'],
    ['with letters in the year', at(HEADER, 14, '2O24'), 'year: found "2O24", expected a whole number'],
    [
      'on a day that does not exist',
      at(HEADER, 19, '02 30'),
      'date: found "2024 02 30 12", expected an existing day and hour 00-23 or 99',
    ],
    [
      'at hour 24',
      at(HEADER, 25, '24'),
      'date: found "2024 01 15 24", expected an existing day and hour 00-23 or 99',
    ],
    [
      'without a position',
      at(HEADER, 56, '-999999 -9999999'),
      'position: found -99.9999, -999.9999, expected latitude and longitude in degrees',
    ],
    [
      'without a count of records',
      at(HEADER, 33, '    '),
      'levelCount: found "    ", expected a whole number',
    ],
    [
      'with a blank in its identifier',
      at(HEADER, 5, ' '),
      'station: found "ZZM 0099999", expected 11 characters',
    ],
    [
      'shifted by a column',
      `${HEADER.slice(0, 12)} ${HEADER.slice(12)}`,
      'header column 18: found "4", expected a blank',
    ],
  ];
  test.each(cases)('%s', (_name, header, reason) => {
    const file = readIgra([header, ...CLEAN.slice(1), ...CLEAN].join('\n'));
    expect(file.rejected).toEqual([{ line: 1, reason: `${reason} (4 data records not used)` }]);
    expect(rows(only(file))).toHaveLength(4);
  });

  test('records before any header belong to none', () => {
    const file = readIgra([AT_925, AT_850, ...CLEAN].join('\n'));
    expect(file.rejected).toEqual([
      { line: 1, reason: 'header: found none before this line, expected one (2 data records not used)' },
    ]);
    expect(rows(only(file))).toHaveLength(4);
  });
});

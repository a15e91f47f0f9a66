import { describe, expect, test } from 'vitest';
import { createIgraReader, readIgra } from '../../worker/formats/igra.ts';
import { assertClose } from '../support/assert-close.ts';
import { AT_850, AT_925, at, CLEAN, HEADER, headerFor, withLines } from '../support/sounding-igra-lines.ts';
import { only, row, rows } from '../support/sounding-levels.ts';

describe('readIgra reads by column', () => {
  const sounding = only(readIgra(CLEAN.join('\n')));

  // Reference row, looked up; the others composed from the format description.
  test('a level with removed height and wind keeps temperature and dew point', () => {
    expect(row(sounding, 677)).toEqual([677, null, -31.1, -33.3, null, null]);
  });

  test('a surface level gives pressure, height, temperature, dew point and wind', () => {
    // 4.1 m/s is 7.97 kt.
    expect(row(sounding, 987)).toEqual([987, 197, -2.1, -3.3, 60, 8]);
  });

  test('a standard level gives the same', () => {
    // 15.4 m/s is 29.93 kt.
    expect(row(sounding, 850)).toEqual([850, 1398, 1.3, -1.7, 150, 29.9]);
  });

  test('the header gives station, position and nominal time', () => {
    expect(sounding.stationId).toBe('ZZM00099999');
    expect([sounding.latDeg, sounding.lonDeg]).toEqual([44.75, -85.25]);
    expect(sounding.timeMs).toBe(Date.UTC(2024, 0, 15, 12));
  });

  test('180 degrees east is 180 degrees west', () => {
    const text = withLines({ 0: at(HEADER, 64, ' 1800000') });
    expect(only(readIgra(text)).lonDeg).toBe(-180);
  });

  test('the surface record gives the elevation', () => {
    expect(sounding.elevationM).toBe(197);
  });

  test('nothing is rejected', () => {
    expect(sounding.rejected).toEqual([]);
  });

  test('a number of five figures touches the flag before it', () => {
    const touching = '20  3951  19940B11821B -612B  289    93   233   412';
    const text = [headerFor(1), touching].join('\n');
    expect(rows(only(readIgra(text)))).toEqual([[199.4, 11821, -61.2, -70.5, 233, 80.1]]);
  });

  test('line ends of either kind and blank lines change nothing', () => {
    const text = `\uFEFF${CLEAN.join('\r\n')}\r\n\r\n`;
    expect(rows(only(readIgra(text)))).toEqual(rows(sounding));
  });
});

describe('readIgra on missing values', () => {
  test('-8888, removed by quality control, is missing like -9999', () => {
    const text = withLines({ 3: '10 -9999  85000B 1398B-8888 -8888 -8888 -8888 -8888' });
    const sounding = only(readIgra(text));
    expect(row(sounding, 850)).toEqual([850, 1398, null, null, null, null]);
    expect(sounding.rejected).toEqual([]);
  });

  test('relative humidity serves where the dew point depression is missing', () => {
    // 25 degC and 53.8 % over water: dew point 15 degC (a published worked example, looked up).
    const text = withLines({ 3: '10 -9999  85000B 1398B  250B  538 -9999   150   154' });
    assertClose(row(only(readIgra(text)), 850)[3]!, 15, {
      abs: 0.05,
      why: '0.1 % of humidity is 0.03 K, the saturation formulas differ by 0.01 K',
    });
  });

  test('saturated air has its own temperature as dew point, below freezing too', () => {
    const text = withLines({ 3: '10 -9999  85000B 1398B -100B 1000 -9999   150   154' });
    assertClose(row(only(readIgra(text)), 850)[3]!, -10, { abs: 0.005, why: 'rounding to 0.01' });
  });

  test('the depression goes before the relative humidity when both are there', () => {
    const text = withLines({ 3: '10 -9999  85000B 1398B   13B  100    30   150   154' });
    expect(row(only(readIgra(text)), 850)[3]).toBe(-1.7);
  });

  test('a dew point without a temperature stays missing', () => {
    const text = withLines({ 3: '10 -9999  85000B 1398B-9999   500    30   150   154' });
    expect(row(only(readIgra(text)), 850)[3]).toBeNull();
  });

  test('hour 99 leaves the time unknown and the levels readable', () => {
    const sounding = only(readIgra(withLines({ 0: at(HEADER, 25, '99') })));
    expect(sounding.timeMs).toBeNaN();
    expect(sounding.levels.levelCount).toBe(4);
  });

  test('a record by height is no level and is told', () => {
    const text = withLines({ 2: '30 -9999  -9999 18000 -9999 -9999 -9999   245    98' });
    const sounding = only(readIgra(text));
    expect(sounding.levels.levelCount).toBe(3);
    expect(sounding.rejected).toEqual([
      { line: 3, reason: 'level type: found 3 (wind by height), expected 1 or 2 (a level with a pressure)' },
    ]);
  });

  test('an ascent of wind by height alone is an ascent of no levels', () => {
    const text = [headerFor(1), '30 -9999  -9999 18000 -9999 -9999 -9999   245    98'].join('\n');
    expect(only(readIgra(text)).levels.levelCount).toBe(0);
  });

  test('an ascent of one level is returned', () => {
    expect(rows(only(readIgra([headerFor(1), AT_850].join('\n'))))).toHaveLength(1);
  });

  test('without a surface record the elevation is unknown', () => {
    expect(only(readIgra([headerFor(1), AT_850].join('\n'))).elevationM).toBeNaN();
  });
});

describe('the time of release', () => {
  test.each([
    ['an hour before the nominal time', '12 1105', Date.UTC(2024, 0, 15, 11, 5)],
    ['after it', '12 1230', Date.UTC(2024, 0, 15, 12, 30)],
    ['the evening before midnight', '00 2315', Date.UTC(2024, 0, 14, 23, 15)],
    ['not given', '12 9999', Number.NaN],
    ['given without its minutes', '12 1199', Number.NaN],
    ['half a day from the nominal time', '12 0005', Number.NaN],
    ['with a nominal hour that nobody knows', '99 1105', Number.NaN],
    ['no time at all', '12 11x5', Number.NaN],
  ])('%s', (_, figures, expected) => {
    const text = [HEADER.replace('12 1105', figures), ...CLEAN.slice(1)].join('\n');
    expect(only(readIgra(text)).releaseMs).toBe(expected);
  });
});

describe('createIgraReader streams', () => {
  test('an ascent comes out when the next header goes in, and the last at the end', () => {
    const reader = createIgraReader();
    const given = [...CLEAN, ...CLEAN].map((line) => reader.line(line)?.levels.levelCount);
    expect(given.map((count, index) => [index, count]).filter(([, count]) => count !== undefined)).toEqual([
      [CLEAN.length, 4],
    ]);
    expect(reader.end()?.levels.levelCount).toBe(4);
    expect(reader.end()).toBeUndefined();
  });

  test('lines count from the first of the file in every ascent', () => {
    const second = withLines({ 2: at(AT_925, 23, 'XXXXX') });
    const { soundings } = readIgra([...CLEAN, second].join('\n'));
    expect(soundings[1]!.rejected.map(({ line }) => line)).toEqual([8]);
  });
});

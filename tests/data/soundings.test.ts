import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { readSoundings } from '../../worker/formats/detect-sounding.ts';
import { readIgra } from '../../worker/formats/igra.ts';
import { inspectSounding } from '../../worker/formats/inspect-sounding.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { findStation } from '../../worker/formats/stations.ts';
import { readTemp } from '../../worker/formats/temp/read-temp.ts';
import { only, rows } from '../support/sounding-levels.ts';

const directory = process.env.RIMEWAY_DATA_DIR;
if (directory === undefined) throw new Error('RIMEWAY_DATA_DIR: set it to the folder of real files');
const IGRA_DIR = join(directory, 'soundings/igra2');
const TEMP_DIR = join(directory, 'soundings/fm35');
const text = (folder: string, name: string) => readFileSync(join(folder, name), 'latin1');

const VIENNA = 'AUM00011035-20150123-20150228.txt';
const OMAHA = 'USM00072558-20210101.txt';
const WIND_ONLY = 'CAM00071845-2021041212-wind-only.txt';
const HOUR_99 = 'USM00072266-1935-hour99.txt';
const IGRA_FILES = [VIENNA, WIND_ONLY, HOUR_99, OMAHA];

describe('the folders hold the files that these tests know', () => {
  test('station files', () => {
    expect(readdirSync(IGRA_DIR).sort()).toEqual([...IGRA_FILES].sort());
  });
  test('TEMP messages and the listing of one', () => {
    expect(readdirSync(TEMP_DIR).sort()).toEqual([
      '02963-2006041012-decoded-listing.txt',
      '02963-2006041012-temp.txt',
      '70398-day10-12z-ttaa-bulletin.txt',
    ]);
  });
});

/** A second reading of a data record, straight from the columns of the format's description. */
function slicedRow(line: string): number[] {
  const number = (first: number, last: number, scale: number) => {
    const value = Number(line.slice(first - 1, last));
    return value === -9999 || value === -8888 ? Number.NaN : value * scale;
  };
  const temperatureC = number(23, 27, 0.1);
  return [
    number(10, 15, 0.01),
    number(17, 21, 1),
    temperatureC,
    temperatureC - number(35, 39, 0.1),
    number(41, 45, 1),
    number(47, 51, 0.1) * (3600 / 1852),
  ];
}

/** Header lines with the records under them. */
function slicedAscents(content: string): { header: string; records: string[] }[] {
  const ascents: { header: string; records: string[] }[] = [];
  for (const line of content.split('\n').filter((one) => one.trim() !== '')) {
    if (line.startsWith('#')) ascents.push({ header: line, records: [] });
    else ascents.at(-1)!.records.push(line);
  }
  return ascents;
}

/** Throws at the first number that differs by more than its rounding; gives the counts of numbers and of gaps. */
function compareRows(sounding: Sounding, expected: readonly number[][]): { numbers: number; gaps: number } {
  const actual = rows(sounding);
  if (actual.length !== expected.length)
    throw new Error(`${actual.length} levels, expected ${expected.length}`);
  const counts = { numbers: 0, gaps: 0 };
  expected.forEach((expectedRow, index) => {
    expectedRow.forEach((value, column) => {
      const found = actual[index]![column]!;
      const agrees = Number.isNaN(value) ? found === null : Math.abs(found - value) <= 0.0501;
      if (!agrees || (found === null) !== Number.isNaN(value))
        throw new Error(`level ${index}, column ${column}: found ${found}, expected ${value}`);
      counts[found === null ? 'gaps' : 'numbers'] += 1;
    });
  });
  return counts;
}

describe('readIgra on whole station files, against a second reading of every record', () => {
  // Counts of records by awk over the files: first column 1 or 2, and 3.
  test.each([
    [VIENNA, 76, 7911, 0],
    [OMAHA, 2, 186, 182],
    [WIND_ONLY, 1, 0, 11],
    [HOUR_99, 1, 0, 8],
  ])('%s: %i ascents, %i levels, %i records by height', (name, ascentCount, levelCount, byHeightCount) => {
    const content = text(IGRA_DIR, name);
    const { soundings, rejected } = readIgra(content);
    const ascents = slicedAscents(content);
    expect(rejected).toEqual([]);
    expect(soundings).toHaveLength(ascentCount);
    expect(ascents).toHaveLength(ascentCount);
    let compared = 0;
    soundings.forEach((sounding, index) => {
      const { header, records } = ascents[index]!;
      const levels = records.filter((line) => line[0] !== '3');
      const { numbers, gaps } = compareRows(sounding, levels.map(slicedRow));
      compared += (numbers + gaps) / 6;
      expect(sounding.stationId).toBe(header.slice(1, 12));
      expect(sounding.latDeg).toBe(Number(header.slice(55, 62)) / 10_000);
      expect(sounding.lonDeg).toBe(Number(header.slice(63, 71)) / 10_000);
    });
    expect(compared).toBe(levelCount);
    const told = soundings.flatMap((sounding) => sounding.rejected);
    expect(told).toHaveLength(byHeightCount);
    expect(told.every(({ reason }) => reason.startsWith('level type: found 3 (wind by height)'))).toBe(true);
  });

  test('typed from the files: first and some later levels', () => {
    const vienna = rows(readIgra(text(IGRA_DIR, VIENNA)).soundings[0]!);
    // 21 -9999  99200B-9999    38B-9999    22   300    50: 5.0 m/s is 9.7 kt.
    expect(vienna[0]).toEqual([992, null, 3.8, 1.6, 300, 9.7]);
    // 10 -9999  70000  2961B -103B-9999    27    40    30
    expect(vienna.find(([hPa]) => hPa === 700)).toEqual([700, 2961, -10.3, -13, 40, 5.8]);
    // 22 -9999  25600 -9999  -627B-9999    50   225    60
    expect(vienna.find(([hPa]) => hPa === 256)).toEqual([256, null, -62.7, -67.7, 225, 11.7]);
    const omaha = rows(readIgra(text(IGRA_DIR, OMAHA)).soundings[0]!);
    // 20    37  95762   524B    0B  576    74   228    72
    expect(omaha[3]).toEqual([957.62, 524, 0, -7.4, 228, 14]);
    // 22  3815  20663 11601B -636B  382    71   222   507
    expect(omaha.find(([hPa]) => hPa === 206.63)).toEqual([206.63, 11601, -63.6, -70.7, 222, 98.6]);
  });

  test('times are the nominal ones; hour 99 has none', () => {
    const times = (name: string) =>
      readIgra(text(IGRA_DIR, name)).soundings.map((sounding) => inspectSounding(sounding).timeUtc);
    expect(times(VIENNA)[0]).toBe('2015-01-23T12:00:00Z');
    expect(times(VIENNA).at(-1)!.slice(0, 10)).toBe('2015-02-28');
    expect(times(OMAHA)).toEqual(['2021-01-01T00:00:00Z', '2021-01-01T12:00:00Z']);
    expect(times(WIND_ONLY)).toEqual(['2021-04-12T12:00:00Z']);
    expect(times(HOUR_99)).toEqual([null]);
  });
});

const CONTEXT = { nearMs: Date.UTC(2006, 3, 11), stations: findStation };

/** The listing: `[hPa, gpm, degC, dew point degC, deg, kt]`, NaN where a column is blank. */
function listingRows(): number[][] {
  const lines = text(TEMP_DIR, '02963-2006041012-decoded-listing.txt').split('\n');
  const columns = [
    [0, 7],
    [7, 14],
    [14, 21],
    [21, 28],
    [42, 49],
    [49, 56],
  ] as const;
  return lines
    .filter((line) => /^ +\d+\.\d\b/.test(line))
    .map((line) =>
      columns.map(([first, last]) => {
        const field = line.slice(first, last).trim();
        return field === '' ? Number.NaN : Number(field);
      }),
    );
}

/** Levels whose temperature the listing interpolates: they stand in the message's wind sections alone. */
const WINDS_ALONE_HPA = [
  894, 784, 767, 686, 671, 623, 606, 557, 521, 508, 494, 444, 410, 393, 383, 373, 353, 346, 328, 313, 290,
  277, 260, 256, 242, 227, 215, 172, 165, 160, 145, 134, 130, 114, 108,
];
/** The same above 100 hPa, where the message has tenths and the listing whole hPa. */
const UPPER_WINDS_ALONE = [
  [91.9, 92],
  [88.2, 88],
  [86.8, 87],
  [81.2, 81],
  [72.5, 73],
  [65.1, 65],
  [61.1, 61],
  [53.9, 54],
  [47.2, 47],
  [44.2, 44],
  [41.1, 41],
  [37.5, 38],
  [36.7, 37],
  [35.5, 36],
] as const;
/** Levels whose wind the listing interpolates: they stand in the message's temperature sections alone. */
const TEMPERATURES_ALONE_HPA = [
  954, 803, 788, 735, 648, 605, 527, 487, 384, 249, 163, 68.6, 54.6, 42.1, 36.8,
];
/** Levels with both; heights are coded at the surface and the standard levels of these. */
const COMPLETE_HPA = [992, 925, 850, 712, 700, 500, 411, 400, 300, 250, 210, 200, 150, 100, 70, 50];
const HEIGHTS_HPA = [992, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100, 70, 50];

describe('readTemp on 02963, 2006-04-10 12 UTC, against the listing of another decoder', () => {
  const sounding = only(readTemp(text(TEMP_DIR, '02963-2006041012-temp.txt'), CONTEXT));
  const listing = new Map(listingRows().map((values) => [values[0]!, values]));
  const actual = new Map(rows(sounding).map((values) => [values[0]!, values]));

  test('station, place and time', () => {
    expect(inspectSounding(sounding)).toMatchObject({
      station: '02963',
      latDeg: 60.81,
      lonDeg: 23.5,
      timeUtc: '2006-04-10T12:00:00Z',
    });
  });

  test('the lists above name every level of the message and every row of the listing once', () => {
    const upper = UPPER_WINDS_ALONE.map(([hPa]) => hPa);
    const descending = (values: readonly number[]) => values.toSorted((a, b) => b - a);
    expect([...actual.keys()]).toEqual(
      descending([...WINDS_ALONE_HPA, ...upper, ...TEMPERATURES_ALONE_HPA, ...COMPLETE_HPA, 30.2, 30]),
    );
    const upperListed = UPPER_WINDS_ALONE.map(([, hPa]) => hPa);
    expect(descending([...listing.keys()])).toEqual(
      // 1000 hPa lies under the ground: a height without temperature or wind, not a level of ours.
      descending([
        1000,
        ...WINDS_ALONE_HPA,
        ...upperListed,
        ...TEMPERATURES_ALONE_HPA,
        ...COMPLETE_HPA,
        30.2,
        30,
      ]),
    );
    expect(listing.size).toBe(83);
  });

  test('every temperature and dew point of the message', () => {
    const levels = [...TEMPERATURES_ALONE_HPA, ...COMPLETE_HPA, 30.2];
    for (const hPa of levels) {
      expect([hPa, ...actual.get(hPa)!.slice(2, 4)]).toEqual([hPa, ...listing.get(hPa)!.slice(2, 4)]);
    }
    expect(levels).toHaveLength(32);
    expect([...actual.values()].filter(([, , temperatureC]) => temperatureC !== null)).toHaveLength(32);
    expect([...actual.values()].filter(([, , , dewPointC]) => dewPointC !== null)).toHaveLength(32);
  });

  test('every wind of the message', () => {
    const pairs = [
      ...[...WINDS_ALONE_HPA, ...COMPLETE_HPA].map((hPa) => [hPa, hPa] as const),
      ...UPPER_WINDS_ALONE,
      // The listing's last row is the wind level 30.2 hPa, rounded; its row 30.2 has an interpolated wind.
      [30.2, 30] as const,
    ];
    for (const [hPa, listedHPa] of pairs) {
      expect([hPa, ...actual.get(hPa)!.slice(4)]).toEqual([hPa, ...listing.get(listedHPa)!.slice(4)]);
    }
    expect(pairs).toHaveLength(66);
    expect([...actual.values()].filter((values) => values[4] !== null && values[5] !== null)).toHaveLength(
      66,
    );
  });

  test('every height of the message', () => {
    for (const hPa of HEIGHTS_HPA) expect([hPa, actual.get(hPa)![1]]).toEqual([hPa, listing.get(hPa)![1]]);
    // 30 hPa has a height alone (30366, 23 660 m), and the listing's row has none.
    expect(actual.get(30)).toEqual([30, 23_660, null, null, null, null]);
    expect([...actual.values()].filter(([, heightM]) => heightM !== null)).toHaveLength(
      HEIGHTS_HPA.length + 1,
    );
  });

  test('the one disagreement inside the message is told: the depression at 100 hPa is 33 K in TTAA, 34 K in TTBB', () => {
    expect(sounding.rejected).toEqual([
      { line: 7, reason: 'dew point at 100 hPa: found -85.3 degC, expected -84.3 degC as line 3 has it' },
    ]);
  });
});

describe('readTemp on the Annette Island bulletin', () => {
  // Month and year are not known: any nearby instant serves.
  const context = { nearMs: Date.UTC(2003, 1, 5), stations: findStation };
  const file = readTemp(text(TEMP_DIR, '70398-day10-12z-ttaa-bulletin.txt'), context);

  test('the nearest 10th at 12 UTC', () => {
    expect(inspectSounding(only(file)).timeUtc).toBe('2003-02-10T12:00:00Z');
  });

  test('all levels, decoded by hand from the groups', () => {
    expect(rows(only(file))).toEqual([
      [1018, 37, 12, 10.1, 0, 0],
      [1000, 185, 12.2, 9.6, 335, 15],
      [925, 836, 10, 5.4, 350, 7],
      [850, 1532, 5.2, 2.9, 325, 10],
      [700, 3109, 0.8, -12.2, 320, 15],
      [500, 5730, -14.9, -36.9, 320, 20],
      [400, 7380, -26.3, -58.3, 320, 36],
      [300, 9400, -42.1, -54.1, 315, 48],
      [250, 10_600, -52.1, -63.1, 315, 51],
      [227, null, -57.1, -67.1, 320, 55],
      [200, 12_020, -55.5, -68.5, 310, 45],
      [150, 13_880, -50.5, -71.5, 300, 31],
      [100, 16_500, -51.5, -84.5, 280, 20],
    ]);
  });

  test('nothing is rejected, heading and trailing sections included', () => {
    expect([file.rejected, only(file).rejected]).toEqual([[], []]);
  });
});

describe('readSoundings tells every file of both folders', () => {
  test.each([
    ...IGRA_FILES.map((name) => [IGRA_DIR, name, 'igra-v2'] as const),
    [TEMP_DIR, '02963-2006041012-temp.txt', 'fm-35-temp'] as const,
    [TEMP_DIR, '70398-day10-12z-ttaa-bulletin.txt', 'fm-35-temp'] as const,
  ])('%s %s is %s', (folder, name, format) => {
    const { soundings } = readSoundings(text(folder, name), CONTEXT);
    expect(soundings.length).toBeGreaterThan(0);
    expect(soundings.every((sounding) => sounding.format === format)).toBe(true);
  });
});

/** From the values of a subset to an ascent. */
import { describe, expect, test } from 'vitest';
import { readBufr } from '../../../worker/formats/bufr/read-bufr.ts';
import { extendedFromShort } from '../../../worker/formats/bufr/significance.ts';
import type { Sounding } from '../../../worker/formats/sounding.ts';
import {
  flag,
  STANDARD,
  SURFACE,
  WIND,
  type WrittenAscent,
  type WrittenLevel,
  writeBufrAscent,
} from '../../support/bufr-ascent.ts';
import { type Bits, bufrMessage, missing } from '../../support/bufr-builder.ts';

function only(bytes: Uint8Array) {
  const items = [...readBufr(bytes)];
  const [item] = items;
  if (items.length !== 1 || item?.kind !== 'ascent') throw new Error(JSON.stringify(items));
  return item;
}

const soundingOf = (ascent: WrittenAscent): Sounding => only(writeBufrAscent(ascent)).sounding;
const levelsOf = (...levels: WrittenLevel[]): Sounding => soundingOf({ levels });

function errorOf(bytes: Uint8Array): string {
  const items = [...readBufr(bytes)];
  const [item] = items;
  if (items.length !== 1 || item?.kind !== 'rejected') throw new Error(JSON.stringify(items));
  return item.error.message;
}

const GROUND: WrittenLevel = {
  seconds: 0,
  flags: SURFACE,
  hPa: 961,
  heightM: 397,
  temperatureC: -2.8,
  dewPointC: -3.5,
  windDeg: 160,
  windMps: 5.1,
};
const UP: WrittenLevel = {
  ...GROUND,
  seconds: 60,
  flags: 0,
  hPa: 925,
  heightM: 701,
  temperatureC: -3.3,
  dewPointC: -4.3,
};
const HIGH: WrittenLevel = {
  ...UP,
  seconds: 300,
  hPa: 700,
  heightM: 2915,
  temperatureC: -7.4,
  dewPointC: -8.3,
};

/** Rows of hPa, gpm, degC, dew point degC, deg, m/s to 0.01; null where missing. */
function rows({ levels }: Sounding): (number | null)[][] {
  const shown = (value: number) => (Number.isNaN(value) ? null : Number(value.toFixed(2)) + 0);
  return Array.from(levels.pressurePa, (pressurePa, n) => [
    shown(pressurePa / 100),
    shown(levels.geopotentialHeightM[n]!),
    shown(levels.temperatureK[n]! - 273.15),
    shown(levels.dewPointK[n]! - 273.15),
    shown(levels.windDirectionDeg[n]!),
    shown(levels.windSpeedMps[n]!),
  ]);
}

describe('an ascent of 3 09 052', () => {
  const item = only(writeBufrAscent({ levels: [GROUND, { ...UP, flags: STANDARD }, HIGH] }));

  test('has station, place, time of release and levels in SI units', () => {
    expect(item.sounding).toMatchObject({
      format: 'fm-94-bufr',
      stationId: '72659',
      latDeg: expect.closeTo(45.45, 9),
      lonDeg: expect.closeTo(-98.4, 9),
      elevationM: 397,
      timeMs: Date.UTC(2024, 1, 25, 23, 5, 30),
      rejected: [],
    });
    expect(rows(item.sounding)).toEqual([
      [961, 397, -2.8, -3.5, 160, 5.1],
      [925, 701, -3.3, -4.3, 160, 5.1],
      [700, 2915, -7.4, -8.3, 160, 5.1],
    ]);
  });
});

describe('station, place and time', () => {
  test('the block and station number have leading zeros', () => {
    expect(soundingOf({ block: 1, station: 28, levels: [GROUND] }).stationId).toBe('01028');
  });

  test('without them the WIGOS identifier serves, and without that the call sign', () => {
    const nobody = { block: undefined, station: undefined };
    expect(soundingOf({ ...nobody, callSign: 'SHIP7', levels: [GROUND] }).stationId).toBe('SHIP7');
    const level: Bits[] = [
      [9250, 14],
      [0, 7],
      [700, 17],
      [2730, 12],
      [2720, 12],
      [90, 9],
      [50, 12],
    ];
    const place: Bits[] = [
      [13_500_000, 25],
      [18_500_000, 26],
    ];
    const wigos = bufrMessage({
      descriptors: ['3 01 150', '0 01 011', '3 01 021', '1 01 001', '3 03 014'],
      data: [[0, 4], [20_008, 16], [0, 16], 'ABC-7'.padEnd(16), 'SHIP7    ', ...place, ...level],
    });
    expect(only(wigos).sounding.stationId).toBe('0-20008-0-ABC-7');
  });

  test('is refused without any of them', () => {
    const bytes = writeBufrAscent({ block: undefined, station: undefined, levels: [GROUND] });
    expect(errorOf(bytes)).toContain('station at offset');
    expect(errorOf(bytes)).toContain('expected block and station number, WIGOS identifier or call sign');
  });

  test('is refused without a place on the globe', () => {
    expect(errorOf(writeBufrAscent({ latDeg: undefined, levels: [GROUND] }))).toContain('position of 72659');
    expect(errorOf(writeBufrAscent({ latDeg: 90.1, levels: [GROUND] }))).toContain('found 90.1 -98.4');
    expect(errorOf(writeBufrAscent({ lonDeg: 180.5, levels: [GROUND] }))).toContain('position of 72659');
  });

  test('180 degrees east is -180', () => {
    expect(soundingOf({ lonDeg: 180, levels: [GROUND] }).lonDeg).toBe(-180);
  });

  test('missing minutes and seconds are 0, a missing hour or a day of no calendar leaves no time', () => {
    const timeOf = (...launch: (number | undefined)[]) => soundingOf({ launch, levels: [GROUND] }).timeMs;
    expect(timeOf(2024, 2, 29, 11, undefined, undefined)).toBe(Date.UTC(2024, 1, 29, 11));
    expect(timeOf(2024, 2, 29, undefined, 30, 0)).toBeNaN();
    expect(timeOf(2023, 2, 29, 11, 30, 0)).toBeNaN();
    expect(timeOf(2024, 2, 29, 11, 60, 0)).toBeNaN();
    expect(timeOf(undefined, 2, 29, 11, 0, 0)).toBeNaN();
  });

  test('the launch goes before another time, whichever comes first', () => {
    const time = (year: number, hour: number): Bits[] => [
      [year, 12],
      [12, 4],
      [8, 6],
      [hour, 5],
      [0, 6],
      [0, 6],
    ];
    const level: Bits[] = [
      [9250, 14],
      [0, 7],
      [700, 17],
      [2730, 12],
      [2720, 12],
      [90, 9],
      [50, 12],
    ];
    const bytes = bufrMessage({
      descriptors: ['3 01 001', '3 01 011', '3 01 013', '3 01 113', '3 01 021', '1 01 001', '3 03 014'],
      data: [
        [72, 7],
        [659, 10],
        ...time(2008, 12),
        [18, 5],
        ...time(2008, 11),
        [13_500_000, 25],
        [18_500_000, 26],
        ...level,
      ],
    });
    expect(only(bytes).sounding.timeMs).toBe(Date.UTC(2008, 11, 8, 11));
  });
});

describe('the ground', () => {
  test('levels under the surface are left out, told when they have more than a height', () => {
    const sounding = levelsOf(
      { hPa: 1000, heightM: 70, flags: STANDARD },
      { hPa: 990, heightM: 150, temperatureC: 1 },
      GROUND,
      UP,
    );
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 925]);
    expect(sounding.rejected).toEqual([
      {
        line: 2,
        reason: 'level 990 hPa: found temperature or wind under the ground at 961 hPa, expected none',
      },
    ]);
  });

  test('the elevation is the surface level’s height, else the station’s', () => {
    expect(levelsOf({ ...GROUND, heightM: 401 }, UP).elevationM).toBe(401);
    expect(levelsOf({ ...GROUND, heightM: undefined }, UP).elevationM).toBe(397);
    expect(soundingOf({ groundM: undefined, levels: [UP] }).elevationM).toBeNaN();
  });

  test('of two levels called the surface the lower one is', () => {
    const sounding = levelsOf(GROUND, { ...UP, flags: SURFACE });
    expect(sounding.levels.levelCount).toBe(2);
    expect(sounding.elevationM).toBe(397);
  });
});

describe('levels that cannot be used', () => {
  test('without a pressure, or one that no balloon meets, are told by their number', () => {
    const sounding = levelsOf(GROUND, { ...UP, hPa: undefined }, { ...UP, hPa: 1200 }, HIGH);
    // What the levels held lies somewhere between the others: one without values keeps that air unknown.
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 820.18, 700]);
    expect(rows(sounding)[1]!.slice(1)).toEqual([null, null, null, null, null]);
    expect(sounding.rejected).toEqual([
      { line: 2, reason: 'pressure: found none' },
      { line: 3, reason: 'pressure: found 1200 hPa, expected 1 to 1100 hPa' },
    ]);
  });

  test('many without a pressure are told in one line', () => {
    const empty: WrittenLevel = { flags: 0 };
    const sounding = levelsOf(GROUND, { ...UP, hPa: undefined }, UP, empty, empty);
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 942.83, 925]);
    expect(sounding.rejected).toEqual([
      { line: 2, reason: 'pressure: found none in 3 levels, the first of them this' },
    ]);
  });

  test('values that no balloon meets are left out one by one', () => {
    const sounding = levelsOf(GROUND, { ...UP, temperatureC: 70, windMps: 190 });
    expect(rows(sounding)[1]).toEqual([925, 701, null, null, 160, null]);
    expect(sounding.rejected.map(({ line }) => line)).toEqual([2, 2]);
  });

  test('a level that is there for its wind and has none is told; with a wind it stays', () => {
    const wind: WrittenLevel = { seconds: 100, flags: WIND, hPa: 880, windDeg: 200, windMps: 20 };
    const sounding = levelsOf(
      GROUND,
      wind,
      { seconds: 120, flags: WIND, hPa: 860 },
      { seconds: 130, hPa: 850 },
    );
    expect(rows(sounding).slice(1)).toEqual([
      [880, null, null, null, 200, 20],
      [850, null, null, null, null, null],
    ]);
    expect(sounding.rejected).toEqual([
      { line: 3, reason: 'level: found no value, expected the wind that its flags promise' },
    ]);
  });

  test('an ascent without levels is refused, and one by height by name', () => {
    expect(errorOf(writeBufrAscent({ levels: [] }))).toContain('levels at offset');
    const place: Bits[] = [
      [13_500_000, 25],
      [18_500_000, 26],
    ];
    const byHeight = bufrMessage({
      descriptors: ['3 01 001', '3 01 021', '1 03 002', '0 07 009', '0 11 001', '0 11 002'],
      data: [[72, 7], [659, 10], ...place, [1500, 17], [90, 9], [50, 12], [2500, 17], [95, 9], [60, 12]],
    });
    expect(errorOf(byHeight)).toBe(
      'BUFR ascent without pressures of 2 levels (levels by height, as in 3 09 051) is not supported',
    );
  });
});

describe('the order of levels', () => {
  test('falls in pressure, however the message has them', () => {
    const sounding = levelsOf(HIGH, GROUND, UP);
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 925, 700]);
    expect(sounding.rejected).toEqual([]);
  });

  test('leaves out what was met on the way down, by its time', () => {
    const down = { ...UP, seconds: 900, hPa: 800 };
    const sounding = levelsOf(GROUND, UP, HIGH, { ...HIGH, seconds: 400, hPa: 600 }, down);
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 925, 700, 600]);
    expect(sounding.rejected).toEqual([
      {
        line: 5,
        reason: 'time at 800 hPa: found 900 s, expected one between those of the levels below and above',
      },
    ]);
  });

  test('a sonde dropped from above is turned round', () => {
    const sounding = levelsOf({ ...HIGH, seconds: 0 }, { ...UP, seconds: 200 }, { ...GROUND, seconds: 240 });
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 925, 700]);
    expect(sounding.rejected).toEqual([]);
  });

  test('and so is one whose levels are out of order', () => {
    const low = { ...GROUND, seconds: 250, flags: 0, hPa: 950 };
    const sounding = levelsOf(
      { ...HIGH, seconds: 0 },
      { ...UP, seconds: 200 },
      { ...GROUND, seconds: 260 },
      low,
      { ...HIGH, seconds: 90, hPa: 800 },
    );
    expect(rows(sounding).map(([hPa]) => hPa)).toEqual([961, 950, 925, 800, 700]);
    expect(sounding.rejected).toEqual([]);
  });

  test('of levels at one coded pressure the moistest stands, with the first wind and height', () => {
    const dry = { ...UP, dewPointC: -9, windMps: undefined };
    const moist = { ...UP, seconds: 61, heightM: 703, temperatureC: -3.4, dewPointC: -3.6, windMps: 9 };
    const sounding = levelsOf(GROUND, dry, moist, { ...dry, seconds: 62, windMps: 11 }, HIGH);
    expect(rows(sounding)[1]).toEqual([925, 701, -3.4, -3.6, 160, 9]);
    expect(sounding.rejected).toEqual([
      {
        line: 3,
        reason:
          'levels: found 2 at the pressure of the level before, the first at 925 hPa, expected one a pressure; the moistest of each is used',
      },
    ]);
  });

  test('a level without dew point does not hide one that has it', () => {
    const sounding = levelsOf(
      GROUND,
      { ...UP, dewPointC: undefined, temperatureC: -3 },
      { ...UP, seconds: 61 },
    );
    expect(rows(sounding)[1]!.slice(2, 4)).toEqual([-3.3, -4.3]);
  });
});

describe('gaps that the message tells of', () => {
  test.each([
    ['temperature', flag(8), flag(9)],
    ['humidity', flag(10), flag(11)],
  ])('a level without values keeps the gap in %s open', (_, begins, ends) => {
    const sounding = levelsOf(GROUND, { ...UP, flags: begins }, { ...HIGH, flags: ends });
    expect(rows(sounding)).toEqual([
      [961, 397, -2.8, -3.5, 160, 5.1],
      [925, 701, -3.3, -4.3, 160, 5.1],
      [804.67, null, null, null, null, null],
      [700, 2915, -7.4, -8.3, 160, 5.1],
    ]);
  });

  test('none is made at the top, or for wind alone', () => {
    expect(levelsOf(GROUND, { ...UP, flags: flag(8) }).levels.levelCount).toBe(2);
    expect(levelsOf(GROUND, { ...UP, flags: flag(12) }, HIGH).levels.levelCount).toBe(3);
  });
});

describe('other elements of a level', () => {
  const place: Bits[] = [
    [72, 7],
    [659, 10],
    [13_500_000, 25],
    [18_500_000, 26],
  ];
  const ascentOf = (level: readonly string[], data: readonly Bits[]) =>
    bufrMessage({
      descriptors: ['3 01 001', '3 01 021', `1 0${level.length} 001`, ...level],
      data: [...place, ...data],
    });

  test('geopotential is divided by 9.80665, 0 08 001 means what 0 08 042 means', () => {
    const item = only(
      ascentOf(
        ['0 07 004', '0 08 001', '0 10 003', '0 12 001'],
        // Flags 1 (64), 5 (4) and 6 (2) of 7: surface, temperature or humidity, wind.
        [
          [9250, 14],
          [70, 7],
          [700 + 400, 17],
          [2730, 12],
        ],
      ),
    );
    expect(item.sounding.elevationM).toBeCloseTo(7000 / 9.80665, 9);
    expect(extendedFromShort(70)).toBe(flag(1, 5, 6, 7));
  });

  test('relative humidity over water gives the dew point where there is none', () => {
    const bytes = ascentOf(
      ['0 07 004', '0 12 101', '0 13 003'],
      [
        [9250, 14],
        [26_315, 16],
        [76, 7],
      ],
    );
    // -10 degC and 76 % over water: dew point -13.4 degC (Magnus, worked by hand).
    const vaporHPa = 0.76 * 6.112 * Math.exp((17.62 * -10) / (243.12 - 10));
    const ln = Math.log(vaporHPa / 6.112);
    const magnusC = (243.12 * ln) / (17.62 - ln);
    expect(only(bytes).sounding.levels.dewPointK[0]! - 273.15).toBeCloseTo(magnusC, 1);
  });

  test('wind by components gives direction and speed', () => {
    const bytes = ascentOf(
      ['0 07 004', '0 11 003', '0 11 004'],
      [
        [9250, 14],
        [4096 + 30, 13],
        [4096 - 40, 13],
      ],
    );
    // 3 m/s to the east and 4 to the south: from the northwest, atan(3/4) west of north.
    const { levels } = only(bytes).sounding;
    expect(levels.windSpeedMps[0]).toBeCloseTo(5, 9);
    expect(levels.windDirectionDeg[0]).toBeCloseTo(360 - 36.8699, 3);
  });

  test('of two temperatures in one level the first that has a value stands', () => {
    const bytes = ascentOf(
      ['0 07 004', '0 12 101', '0 12 001', '0 12 101'],
      [[9250, 14], missing(16), [2731, 12], [29_000, 16]],
    );
    expect(only(bytes).sounding.levels.temperatureK[0]).toBeCloseTo(273.1, 9);
  });
});

describe('quality', () => {
  /** Temperature and dew point, then a confidence in per cent for temperature alone. */
  const AIR: readonly Bits[] = [
    [72, 7],
    [659, 10],
    [13_500_000, 25],
    [18_500_000, 26],
    [9250, 14],
    [27_300, 16],
    [27_200, 16],
  ];
  const withConfidence = (confidence: number, quality = '0 33 007', width = 7): Uint8Array =>
    bufrMessage({
      descriptors: [
        ...['3 01 001', '3 01 021', '1 03 001', '0 07 004', '0 12 101', '0 12 103'],
        ...['2 22 000', '1 01 007', '0 31 031', '0 01 031', '0 01 032', quality],
      ],
      data: [
        ...AIR,
        ...[1, 1, 1, 1, 1, 0, 1].map((bit): Bits => [bit, 1]),
        [98, 16],
        [1, 8],
        [confidence, width],
      ],
    });

  test('a value with a confidence of 0 per cent is not used, and takes its dew point along', () => {
    const { sounding } = only(withConfidence(0));
    expect(rows(sounding)).toEqual([[925, null, null, null, null, null]]);
    expect(sounding.rejected).toContainEqual({
      line: 1,
      reason: 'temperature: found a value that the message calls unfit for use',
    });
  });

  test('nor is one that 0 33 003 calls unfit for use; a doubtful one is', () => {
    expect(only(withConfidence(3, '0 33 003', 3)).sounding.levels.temperatureK[0]).toBeNaN();
    expect(only(withConfidence(2, '0 33 003', 3)).sounding.levels.temperatureK[0]).toBe(273);
    expect(only(withConfidence(10)).sounding.levels.temperatureK[0]).toBe(273);
  });
});

describe('quality that stands among the values', () => {
  const HEADER: readonly Bits[] = [
    [72, 7],
    [659, 10],
    [13_500_000, 25],
    [18_500_000, 26],
  ];
  const IDENTIFIED = ['3 01 001', '3 01 021'];
  const level = (hPa: number, quality: number): Bits[] => [
    [hPa * 10, 14],
    [quality, 3],
    [27_300, 16],
    [27_200, 16],
  ];

  test('a level called doubtful or wrong keeps no air, and no line runs over it', () => {
    const bytes = bufrMessage({
      descriptors: [...IDENTIFIED, '1 04 003', '0 07 004', '0 33 020', '0 12 101', '0 12 103'],
      data: [...HEADER, ...level(925, 0), ...level(850, 2), ...level(700, 0)],
    });
    const { sounding } = only(bytes);
    const temperature = (hPa: number) => rows(sounding).find(([each]) => each === hPa)?.[2];
    expect([925, 850, 700].map(temperature)).toEqual([-0.15, null, -0.15]);
    expect(sounding.rejected.map(({ reason }) => reason)).toContain(
      'temperature: found a value that the message calls unfit for use',
    );
  });

  test('in associated fields it is not read, so the ascent is refused', () => {
    const bytes = bufrMessage({
      descriptors: [
        ...[...IDENTIFIED, '0 07 004', '2 04 001', '0 31 021', '0 12 101', '0 12 103', '2 04 000'],
      ],
      data: [...HEADER, [9250, 14], [1, 6], [1, 1], [27_300, 16], [0, 1], [27_200, 16]],
    });
    const [item] = [...readBufr(bytes)];
    expect(item?.kind === 'rejected' && item.error.message).toBe(
      'BUFR ascent with quality in associated fields 1 (0 31 021) is not supported',
    );
  });
});

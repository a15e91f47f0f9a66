import { describe, expect, test } from 'vitest';
import { inspectSounding } from '../../worker/formats/inspect-sounding.ts';
import type { Sounding } from '../../worker/formats/sounding.ts';
import { findStation } from '../../worker/formats/stations.ts';

const SOUNDING: Sounding = {
  format: 'igra-v2',
  stationId: 'ZZM00099999',
  latDeg: 44.75,
  lonDeg: -85.25,
  elevationM: 197,
  timeMs: Date.UTC(2024, 0, 15, 12),
  releaseMs: Date.UTC(2024, 0, 15, 11, 5),
  reports: [],
  levels: {
    levelCount: 2,
    pressurePa: Float64Array.of(98_765, 67_700),
    geopotentialHeightM: Float64Array.of(197, Number.NaN),
    temperatureK: Float64Array.of(271.05, 242.05),
    dewPointK: Float64Array.of(269.8512, Number.NaN),
    windDirectionDeg: Float64Array.of(60, Number.NaN),
    windSpeedMps: Float64Array.of(4.1, Number.NaN),
  },
  rejected: [{ line: 3, reason: 'pressure: found none' }],
};

describe('inspectSounding', () => {
  test('gives the documented members and no others, in hPa, degC and kt, null where missing', () => {
    expect(inspectSounding(SOUNDING)).toEqual({
      kind: 'sounding',
      station: 'ZZM00099999',
      latDeg: 44.75,
      lonDeg: -85.25,
      timeUtc: '2024-01-15T12:00:00Z',
      levels: [
        {
          pressureHPa: 987.65,
          heightM: 197,
          temperatureC: -2.1,
          dewPointC: -3.3,
          windDirectionDeg: 60,
          windSpeedKt: 8,
        },
        {
          pressureHPa: 677,
          heightM: null,
          temperatureC: -31.1,
          dewPointC: null,
          windDirectionDeg: null,
          windSpeedKt: null,
        },
      ],
      rejected: [{ line: 3, reason: 'pressure: found none' }],
    });
  });

  test('an ascent without an hour has no time', () => {
    expect(inspectSounding({ ...SOUNDING, timeMs: Number.NaN }).timeUtc).toBeNull();
  });

  test('is the same after a way through JSON: no NaN, no negative zero', () => {
    const zero = { ...SOUNDING.levels, temperatureK: Float64Array.of(273.149_99, 273.15) };
    const inspected = inspectSounding({ ...SOUNDING, levels: zero });
    expect(JSON.parse(JSON.stringify(inspected))).toEqual(inspected);
    expect(inspected.levels.map(({ temperatureC }) => Object.is(temperatureC, 0))).toEqual([true, true]);
  });
});

describe('findStation', () => {
  test('knows the invented demonstration stations of block 00, which no country uses', () => {
    const numbers = Array.from({ length: 8 }, (_, index) => `0090${index + 1}`);
    const places = numbers.map((number) => findStation(number));
    expect(places.map((place) => place?.wmoNumber)).toEqual(numbers);
    expect(findStation('00902')).toMatchObject({ latDeg: 44.39, lonDeg: -74.2, elevationM: 506 });
  });

  test('knows stations of the world by number', () => {
    // Public station lists, from memory: Aberdeen 45.45 N 98.41 W, 398 m; Albany 42.69 N 73.83 W, 93 m.
    for (const [number, latDeg, lonDeg, elevationM] of [
      ['72659', 45.45, -98.41, 398],
      ['72518', 42.69, -73.83, 93],
    ] as const) {
      const station = findStation(number)!;
      expect(Math.abs(station.latDeg - latDeg)).toBeLessThan(0.05);
      expect(Math.abs(station.lonDeg - lonDeg)).toBeLessThan(0.05);
      expect(Math.abs(station.elevationM - elevationM)).toBeLessThan(5);
    }
  });

  test('knows nothing of other numbers', () => {
    expect(findStation('99999')).toBeUndefined();
    expect(findStation('0901')).toBeUndefined();
  });
});

/** From the fields of a file to a column of air: which field is believed, and what becomes of what is missing. */
import { describe, expect, test } from 'vitest';
import { mixingRatioKgPerKg, specificHumidityKgPerKg } from '../../worker/science/humidity.ts';
import {
  saturationVaporPressureIcePa,
  saturationVaporPressureWaterPa,
} from '../../worker/science/saturation.ts';
import {
  type FieldSpec,
  profileOf,
  refusedMessage,
  type SourceSpec,
  storeFields,
} from '../support/grid-fields.ts';

const NCEP_GLOBAL = { centre: 7, process: 96 } as const;
const T_K = 263.15;
const temperature = (levelPa: number, value = T_K): FieldSpec => ({
  parameter: '0.0.0',
  level: levelPa,
  value,
});
const on = (parameter: string, value: number, level = 70_000): FieldSpec => ({ parameter, value, level });
const atGround = (parameter: string, value: number): FieldSpec => ({ parameter, value, levelType: 1 });
const at2m = (parameter: string, value: number): FieldSpec => ({
  parameter,
  value,
  levelType: 103,
  level: 2,
});

const profile = async (fields: readonly FieldSpec[], source?: SourceSpec) =>
  (await profileOf(await storeFields(fields, source))).profile;

/** Vapor pressure at a humidity over water, and what a file would say of it. */
const vaporPa = (ratio: number, temperatureK = T_K) => ratio * saturationVaporPressureWaterPa(temperatureK);
const specificHumidity = (ratio: number, pressurePa: number, temperatureK = T_K) =>
  specificHumidityKgPerKg(mixingRatioKgPerKg(vaporPa(ratio, temperatureK), pressurePa));

describe('relative humidity over water', () => {
  test('from specific humidity and the pressure of the level', async () => {
    const q = specificHumidity(0.9, 70_000);
    const { relativeHumidityRatio } = await profile([temperature(70_000), on('0.1.0', q)]);
    expect(relativeHumidityRatio[0]).toBeCloseTo(0.9, 6);
  });

  test('from dew point, and from its depression', async () => {
    // 2 K below 263.15 K: 84.96 % over water, by the ratio of the saturation pressures of Sonntag 1990, from memory.
    const byPoint = await profile([temperature(70_000), on('0.0.6', T_K - 2)]);
    const byDepression = await profile([temperature(70_000), on('0.0.7', 2)]);
    expect(byPoint.relativeHumidityRatio[0]).toBeCloseTo(0.85, 2);
    expect(byDepression.relativeHumidityRatio[0]).toBeCloseTo(byPoint.relativeHumidityRatio[0]!, 5);
  });

  test.each([
    ['before', [on('0.1.0', specificHumidity(0.9, 70_000)), on('0.1.1', 50)]],
    ['after', [on('0.1.1', 50), on('0.1.0', specificHumidity(0.9, 70_000))]],
    [
      'before, with a dew point',
      [on('0.0.6', T_K - 2), on('0.1.0', specificHumidity(0.9, 70_000)), on('0.1.1', 50)],
    ],
  ] as const)('specific humidity is believed where it comes %s a relative one', async (_, fields) => {
    const { relativeHumidityRatio } = await profile([temperature(70_000), ...fields]);
    expect(relativeHumidityRatio[0]).toBeCloseTo(0.9, 6);
  });

  test('a dew point is believed before a relative humidity', async () => {
    const { relativeHumidityRatio } = await profile([temperature(70_000), on('0.1.1', 50), on('0.0.6', T_K)]);
    expect(relativeHumidityRatio[0]).toBeCloseTo(1, 6);
  });

  test('a level keeps its own form: one with relative humidity beside one with specific', async () => {
    const q = specificHumidity(0.9, 70_000);
    const fields = [temperature(85_000), on('0.1.1', 60, 85_000), temperature(70_000), on('0.1.0', q)];
    const { relativeHumidityRatio } = await profile(fields);
    expect(relativeHumidityRatio[0]).toBeCloseTo(0.6, 6);
    expect(relativeHumidityRatio[1]).toBeCloseTo(0.9, 6);
  });

  test('a level without temperature has no humidity, whatever the form', async () => {
    const { relativeHumidityRatio, temperatureK } = await profile([
      ...[temperature(85_000), on('0.1.1', 60, 85_000)],
      ...[on('0.1.0', 0.001), on('0.3.5', 3000)],
    ]);
    expect([...temperatureK]).toEqual([expect.closeTo(T_K, 3), Number.NaN]);
    expect(relativeHumidityRatio[1]).toBeNaN();
  });

  test('at screen height, from specific humidity and the pressure at the ground', async () => {
    const q = specificHumidity(0.8, 95_000, 271);
    const ground = [atGround('0.3.0', 95_000), at2m('0.0.0', 271), at2m('0.1.0', q)];
    const { relativeHumidityRatio, pressurePa } = await profile([temperature(70_000), ...ground]);
    expect(pressurePa[0]).toBeCloseTo(95_000, 0);
    expect(relativeHumidityRatio[0]).toBeCloseTo(0.8, 6);
  });

  test('an impossible specific humidity counts as missing, and is told with its form', async () => {
    const stored = await storeFields([temperature(70_000), on('0.1.0', 0.2)]);
    expect(stored.ingested.rejected[0]?.reason).toMatch(
      /^relativeHumidityRatio as specific-humidity: found 16 values/,
    );
    expect((await profileOf(stored)).profile.relativeHumidityRatio[0]).toBeNaN();
  });
});

describe('what a relative humidity is over', () => {
  const iceOverWater = saturationVaporPressureIcePa(T_K) / saturationVaporPressureWaterPa(T_K);
  const fields = [temperature(70_000), on('0.1.1', 100)];

  test.each([
    [
      'NCEP global in 2011: half water, half ice at -10 degC',
      { ...NCEP_GLOBAL, date: [2011, 1, 10] },
      (1 + iceOverWater) / 2,
    ],
    ['NCEP global on 21 March 2021', { ...NCEP_GLOBAL, date: [2021, 3, 21] }, (1 + iceOverWater) / 2],
    ['NCEP global from 22 March 2021, 12 UTC: water', { ...NCEP_GLOBAL, date: [2021, 3, 22] }, 1],
    ['a regional model of NCEP: water', { centre: 7, process: 83 }, 1],
    ['ECMWF: ((T - 250.16) / 23) squared of water', { centre: 98 }, mixedBySquare(iceOverWater)],
    ['DWD: water', { centre: 78 }, 1],
  ] as const)('%s', async (_, source, expected) => {
    const { relativeHumidityRatio } = await profile(fields, source);
    // Half a step of storage.
    expect(relativeHumidityRatio[0]).toBeCloseTo(expected, 3);
  });

  function mixedBySquare(ratio: number): number {
    const water = ((T_K - 250.16) / 23) ** 2;
    return water + (1 - water) * ratio;
  }

  test('specific humidity is over water whatever the source', async () => {
    const q = specificHumidity(0.9, 70_000);
    const { relativeHumidityRatio } = await profile([temperature(70_000), on('0.1.0', q)], {
      ...{ centre: 98, date: [2024, 1, 1] },
    });
    expect(relativeHumidityRatio[0]).toBeCloseTo(0.9, 6);
  });

  test("the physics is told what the model's own clouds are saturated over", async () => {
    const now = await profile(fields, { ...NCEP_GLOBAL, date: [2024, 1, 1] });
    expect(now.cloudSaturation?.basis).toBe('ncep-mixed');
    expect((await profile(fields, { centre: 7, process: 83 })).cloudSaturation?.basis).toBe('water');
  });
});

describe('condensate', () => {
  const air = [temperature(70_000), on('0.1.1', 100)];
  const cloud = (value: number, level = 70_000) => on('0.1.22', value, level);
  const rain = (value: number, level = 70_000) => on('0.1.24', value, level);

  test('of NCEP global is all of it until 2019-06-12, and cloud water from then on', async () => {
    const before = await profile([...air, cloud(2e-4)], { ...NCEP_GLOBAL, date: [2019, 6, 11] });
    const after = await profile([...air, cloud(2e-4)], { ...NCEP_GLOBAL, date: [2019, 6, 12] });
    expect([before.condensateBasis, after.condensateBasis]).toEqual(['total', 'liquid']);
    expect(before.condensateKgPerKg[0]).toBeCloseTo(2e-4, 9);
  });

  test('liquid is cloud water; rain, ice, snow and graupel are kept apart', async () => {
    const stored = await storeFields([
      ...air,
      cloud(2e-4),
      rain(1e-4),
      ...[on('0.1.23', 5e-5), on('0.1.25', 3e-5), on('0.1.32', 1e-5)],
    ]);
    const { profile: column } = await profileOf(stored);
    expect(column.condensateKgPerKg[0]).toBeCloseTo(2e-4, 9);
    expect(column.rainKgPerKg![0]).toBeCloseTo(1e-4, 9);
    expect(stored.manifest.slices.map(({ quantity }) => quantity)).toEqual([
      ...['temperatureK', 'relativeHumidityRatio', 'condensateKgPerKg', 'rainKgPerKg'],
      ...['cloudIceKgPerKg', 'snowKgPerKg', 'graupelKgPerKg'],
    ]);
  });

  test.each(['0.1.22', '0.1.83', '0.1.149'])('cloud water by parameter %s', async (parameter) => {
    const column = await profile([...air, on(parameter, 2e-4)]);
    expect([column.condensateBasis, column.condensateKgPerKg[0]]).toEqual([
      'liquid',
      expect.closeTo(2e-4, 9),
    ]);
  });

  test('all condensate, where there is no cloud water, is the total; rain is not added to it', async () => {
    const column = await profile([...air, on('0.1.21', 2e-4), rain(1e-4)]);
    expect([column.condensateBasis, column.condensateKgPerKg[0]]).toEqual(['total', expect.closeTo(2e-4, 9)]);
  });

  test("NCEP's own number for it counts from NCEP alone", async () => {
    expect((await profile([...air, on('0.6.195', 2e-4)], { centre: 7 })).condensateBasis).toBe('total');
    expect((await profile([...air, on('0.6.195', 2e-4)], { centre: 98 })).condensateBasis).toBe('none');
  });

  test('where a level has cloud water, one that has only the total loses it', async () => {
    const column = await profile([
      ...[...air, cloud(2e-4), on('0.1.21', 9e-4)],
      ...[temperature(50_000), on('0.1.1', 50, 50_000), on('0.1.21', 3e-4, 50_000)],
    ]);
    expect(column.condensateBasis).toBe('liquid');
    expect([...column.condensateKgPerKg]).toEqual([expect.closeTo(2e-4, 9), Number.NaN]);
  });

  test('a source without rain has none to speak of, not none', async () => {
    expect((await profile([...air, cloud(2e-4)])).rainKgPerKg).toBeUndefined();
  });

  test('a level without rain of a whole file has none; of a file with refused messages its rain is unknown', async () => {
    const fields = [
      ...[...air, cloud(2e-4), rain(1e-4)],
      ...[temperature(50_000), on('0.1.1', 50, 50_000), cloud(1e-4, 50_000)],
    ];
    const whole = await profile(fields);
    expect([...whole.rainKgPerKg!]).toEqual([expect.closeTo(1e-4, 9), 0]);
    const damaged = await storeFields(fields, {}, [refusedMessage()]);
    expect(damaged.ingested.rejectedCount).toBe(1);
    const { condensateKgPerKg, rainKgPerKg } = (await profileOf(damaged)).profile;
    expect([...condensateKgPerKg]).toEqual([expect.closeTo(2e-4, 9), expect.closeTo(1e-4, 9)]);
    expect([...rainKgPerKg!]).toEqual([expect.closeTo(1e-4, 9), Number.NaN]);
  });
});

describe('cloud fraction', () => {
  const air = [temperature(70_000), on('0.1.1', 100), temperature(50_000), on('0.1.1', 50, 50_000)];

  test.each([
    ['total cloud cover of a level, %', '0.6.1', 40],
    ['cloud cover, %', '0.6.22', 40],
    ['fraction of cloud cover', '0.6.32', 0.4],
  ])('by %s', async (_, parameter, value) => {
    const { cloudFractionRatio } = await profile([...air, on(parameter, value)]);
    expect([...cloudFractionRatio!]).toEqual([expect.closeTo(0.4, 6), Number.NaN]);
  });

  test('absent where the source has none, and 1 where packing makes it a little more', async () => {
    expect((await profile(air)).cloudFractionRatio).toBeUndefined();
    expect((await profile([...air, on('0.6.1', 100.4)])).cloudFractionRatio![0]).toBe(1);
  });

  test('a percentage under the number of a fraction is refused, not taken for overcast', async () => {
    const stored = await storeFields([...air, on('0.6.32', 40)]);
    expect(stored.ingested.rejected[0]?.reason).toContain('cloudFractionRatio: found 16 values');
    expect((await profileOf(stored)).profile.cloudFractionRatio![0]).toBeNaN();
  });

  test('at screen height it is that of the lowest level when that is near', async () => {
    const ground = [atGround('0.3.0', 72_000), at2m('0.0.0', 265), at2m('0.1.1', 90)];
    const near = await profile([...air, on('0.6.1', 40), ...ground]);
    expect(near.cloudFractionRatio![0]).toBeCloseTo(0.4, 6);
    const far = await profile([...air, on('0.6.1', 40), atGround('0.3.0', 90_000), ...ground.slice(1)]);
    expect(far.cloudFractionRatio![0]).toBeNaN();
  });
});

describe('vertical motion', () => {
  const air = [temperature(70_000), on('0.1.1', 100)];

  test('from the speed of rising air: density of dry air times gravity', async () => {
    const { verticalVelocityPaPerS } = await profile([...air, on('0.2.9', 0.5)]);
    // 70000 / (287.05 x 263.15) = 0.9267 kg/m3; x 9.80665 x 0.5.
    expect(verticalVelocityPaPerS[0]).toBeCloseTo(-4.544, 3);
  });

  test('omega is believed before it', async () => {
    for (const fields of [
      [on('0.2.8', -0.3), on('0.2.9', 0.5)],
      [on('0.2.9', 0.5), on('0.2.8', -0.3)],
    ]) {
      expect((await profile([...air, ...fields])).verticalVelocityPaPerS[0]).toBeCloseTo(-0.3, 6);
    }
  });
});

describe('heights', () => {
  test('from geopotential on a level and at the ground', async () => {
    const ground = [
      atGround('0.3.0', 95_000),
      at2m('0.0.0', 271),
      at2m('0.1.1', 90),
      atGround('0.3.4', 4903.325),
    ];
    const column = await profile([temperature(70_000), on('0.1.1', 50), on('0.3.4', 29_419.95), ...ground]);
    expect([...column.geopotentialHeightM]).toEqual([expect.closeTo(500, 3), expect.closeTo(3000, 2)]);
    expect(column.surfaceHeightM).toBeCloseTo(500, 3);
  });

  test.each([
    ['geometric height at the ground', atGround('0.3.6', 512)],
    ['height of the terrain, discipline 2', atGround('2.0.7', 512)],
  ])('of the ground by %s', async (_, field) => {
    const column = await profile([temperature(70_000), on('0.1.1', 50), field]);
    expect(column.surfaceHeightM).toBeCloseTo(512, 3);
  });
});

describe('kinds of precipitation', () => {
  const kinds = async (fields: readonly FieldSpec[], source?: SourceSpec) => {
    const stored = await storeFields([temperature(70_000), on('0.1.1', 50), ...fields], source);
    return (await profileOf(stored)).precipitation;
  };

  test.each([
    ['the code table', [33, 34, 35, 36], { centre: 98 }],
    ["NCEP's own numbers", [192, 193, 194, 195], { centre: 7 }],
  ] as const)('yes or no for each, by %s', async (_, numbers, source) => {
    const fields = numbers.map((number, n) => atGround(`0.1.${number}`, n % 2));
    expect(await kinds(fields, source)).toEqual({
      ...{ rainRatio: 0, freezingRainRatio: 1, icePelletsRatio: 0, snowRatio: 1 },
    });
  });

  /** Code table 4.201. */
  test.each([
    [0, [0, 0, 0, 0]],
    [1, [1, 0, 0, 0]],
    [3, [0, 1, 0, 0]],
    [5, [0, 0, 0, 1]],
    [6, [0, 0, 0, 1]],
    [7, [1, 0, 0, 1]],
    [8, [0, 0, 1, 0]],
    [11, [1, 0, 0, 0]],
    [12, [0, 1, 0, 0]],
    [4, [Number.NaN, Number.NaN, Number.NaN, Number.NaN]],
    [10, [Number.NaN, Number.NaN, Number.NaN, Number.NaN]],
    [192, [Number.NaN, Number.NaN, Number.NaN, Number.NaN]],
  ])(
    'type %i by code table 4.201',
    async (code, [rainRatio, freezingRainRatio, icePelletsRatio, snowRatio]) => {
      expect(await kinds([atGround('0.1.19', code)])).toEqual({
        ...{ rainRatio, freezingRainRatio, icePelletsRatio, snowRatio },
      });
    },
  );

  test('a source that says nothing leaves them unknown', async () => {
    expect((await kinds([])).freezingRainRatio).toBeNaN();
    expect((await profile([temperature(70_000), on('0.1.1', 50)])).freezingRainRatio).toBeNaN();
  });

  test('freezing rain at the ground goes with the column', async () => {
    const fields = [temperature(70_000), on('0.1.1', 50), atGround('0.1.34', 1)];
    expect((await profile(fields)).freezingRainRatio).toBe(1);
  });
});

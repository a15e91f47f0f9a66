/** Levels of a model's own: kept when they say their pressure and tell more than isobaric ones. */
import { describe, expect, test } from 'vitest';
import { type FieldSpec, profileOf, refusedMessage, storeFields } from '../support/grid-fields.ts';

const HYBRID = 105;
const GENERAL = 150;
/** No weights, no rounding. */
const GRID_POINT = [49, 11] as const;

/** Temperature, humidity and pressure of one level, as the file has them. */
const hybrid = (level: number, pressurePa: number, more: Partial<FieldSpec> = {}): FieldSpec[] => [
  { parameter: '0.3.0', value: pressurePa, levelType: HYBRID, level, ...more },
  { parameter: '0.0.0', value: 260 + level, levelType: HYBRID, level, ...more },
  { parameter: '0.1.1', value: 50 + level, levelType: HYBRID, level, ...more },
];
const isobaric = (levelPa: number): FieldSpec[] => [
  { parameter: '0.0.0', value: 250, level: levelPa },
  { parameter: '0.1.1', value: 80, level: levelPa },
];
const profile = async (fields: readonly FieldSpec[]) =>
  (await profileOf(await storeFields(fields), ...GRID_POINT)).profile;

describe('levels of the model itself', () => {
  test('stand at their own pressure, lowest first, with what lies on them', async () => {
    const column = await profile([...hybrid(3, 70_000), ...hybrid(1, 95_000), ...hybrid(2, 85_000)]);
    expect([...column.pressurePa]).toEqual([95_000, 85_000, 70_000]);
    expect([...column.temperatureK]).toEqual([261, 262, 263]);
    expect([...column.relativeHumidityRatio].map((each) => Math.round(each * 100))).toEqual([51, 52, 53]);
  });

  test('count from the top as well as from the ground', async () => {
    const column = await profile([...hybrid(1, 30_000), ...hybrid(2, 60_000), ...hybrid(3, 90_000)]);
    expect([...column.pressurePa]).toEqual([90_000, 60_000, 30_000]);
  });

  test('layers between two numbered faces are named by the upper one', async () => {
    const layer = (level: number) => ({ levelType: GENERAL, secondLevel: level + 1 });
    const column = await profile([...hybrid(64, 80_000, layer(64)), ...hybrid(65, 90_000, layer(65))]);
    expect([...column.pressurePa]).toEqual([90_000, 80_000]);
  });

  test('faces between layers are not taken for layers', async () => {
    const face = { levelType: GENERAL };
    const stored = await storeFields([
      ...isobaric(85_000),
      ...hybrid(64, 80_000, face),
      ...hybrid(65, 90_000, face),
    ]);
    expect(stored.ingested).toMatchObject({ keptFields: 2, skippedFields: 6 });
  });

  test('without pressure are not kept, however many', async () => {
    const bare = [1, 2, 3].flatMap((level) => hybrid(level, 90_000).slice(1));
    expect([...(await profile([...bare, ...isobaric(85_000), ...isobaric(70_000)])).pressurePa]).toEqual([
      85_000, 70_000,
    ]);
  });

  test('without pressure and alone make no hour, which would hide a good one', async () => {
    const bare = [1, 2, 3].flatMap((level) => hybrid(level, 90_000).slice(1));
    await expect(storeFields(bare)).rejects.toThrow(
      'nothing was stored: {"keptFields":0,"skippedFields":6,"rejectedCount":0,"rejected":[],"hours":[]}',
    );
  });

  test('that are dropped count as skipped', async () => {
    const { ingested } = await storeFields([...hybrid(1, 95_000), ...isobaric(85_000), ...isobaric(70_000)]);
    expect(ingested).toMatchObject({ keptFields: 4, skippedFields: 3 });
  });

  test('give way to isobaric levels that are as many', async () => {
    const two = [...hybrid(1, 95_000), ...hybrid(2, 90_000)];
    const column = await profile([...two, ...isobaric(85_000), ...isobaric(70_000)]);
    expect([...column.pressurePa]).toEqual([85_000, 70_000]);
    const more = await profile([...two, ...hybrid(3, 80_000), ...isobaric(85_000), ...isobaric(70_000)]);
    expect([...more.pressurePa]).toEqual([95_000, 90_000, 80_000]);
  });

  test('above 100 hPa are left out', async () => {
    const column = await profile([...hybrid(1, 95_000), ...hybrid(2, 50_000), ...hybrid(3, 9_000)]);
    expect([...column.pressurePa]).toEqual([95_000, 50_000]);
  });

  test('under the ground pressure are left out', async () => {
    const ground: FieldSpec[] = [
      { parameter: '0.3.0', value: 92_000, levelType: 1 },
      { parameter: '0.0.0', value: 270, levelType: 103, level: 2 },
      { parameter: '0.1.1', value: 70, levelType: 103, level: 2 },
    ];
    const column = await profile([...hybrid(1, 95_000), ...hybrid(2, 85_000), ...ground]);
    expect([...column.pressurePa]).toEqual([92_000, 85_000]);
  });

  test('specific humidity is turned by the pressure of its own level', async () => {
    const wet = (level: number, pressurePa: number): FieldSpec[] => [
      ...hybrid(level, pressurePa).slice(0, 2),
      { parameter: '0.1.0', value: 0.002, levelType: HYBRID, level },
    ];
    const { relativeHumidityRatio } = await profile([...wet(1, 90_000), ...wet(2, 45_000)]);
    // 0.002 x 90000 / (0.62198 + 0.37802 x 0.002) = 289.1 Pa over 241.3 Pa at 261 K; half the pressure, 262 K: 262.2 Pa.
    expect(relativeHumidityRatio[0]).toBeCloseTo(289.05 / 241.3, 2);
    expect(relativeHumidityRatio[1]).toBeCloseTo(144.52 / 262.2, 2);
  });

  test('a number that is missing from a file with refused messages is a level that is lost', async () => {
    const fields = [...hybrid(1, 90_000), ...hybrid(2, 80_000), ...hybrid(4, 64_000)];
    const whole = await profile(fields);
    expect([...whole.pressurePa]).toEqual([90_000, 80_000, 64_000]);
    const damaged = await storeFields(fields, {}, [refusedMessage()]);
    const { pressurePa, temperatureK } = (await profileOf(damaged, ...GRID_POINT)).profile;
    // Between its neighbors: sqrt(80000 x 64000) = 71554.2, stored to a pascal.
    expect([...pressurePa]).toEqual([90_000, 80_000, 71_554, 64_000]);
    expect([...temperatureK]).toEqual([261, 262, Number.NaN, 264]);
  });

  test('two that claim one pressure are one: the second is not kept', async () => {
    const column = await profile([...hybrid(1, 90_000), ...hybrid(2, 90_000), ...hybrid(3, 70_000)]);
    expect([...column.pressurePa]).toEqual([90_000, 70_000]);
    expect(column.temperatureK[0]).toBe(261);
  });
});

import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  blendProfiles,
  hoursAt,
  type Run,
  runsBestFirst,
  servingHours,
} from '../../worker/brief/grid-hours.ts';
import type { Profile } from '../../worker/science/columns.ts';
import type { GridHour } from '../../worker/sources/ports.ts';

const H = 3_600_000;
const hour = (run: number, valid: number, model = 'a'): GridHour => ({
  operator: 'demo',
  model,
  runMs: run * H,
  validMs: valid * H,
  manifestKey: `${model}-${run}-${valid}`,
  ingestedMs: 0,
  spacingM: 3000,
  hasCloudWater: true,
});

const leg = (from: number, to: number) => ({ fromMs: from * H, toMs: to * H });

const runOf = (hours: readonly GridHour[], stepMs = 6 * H): Run => ({ hours, stepMs });

describe('runsBestFirst', () => {
  it('puts the newest run that reaches the window first, with its hours in order', () => {
    const hours = [hour(0, 12), hour(6, 15), hour(6, 12), hour(0, 15)];
    expect(runsBestFirst(hours, leg(12, 15)).map((run) => run.hours.map((each) => each.manifestKey))).toEqual(
      [
        ['a-6-12', 'a-6-15'],
        ['a-0-12', 'a-0-15'],
      ],
    );
  });

  it('leaves the leg to the last run that has all of it while a newer one is still coming in', () => {
    const coming = [hour(6, 12), hour(6, 13)];
    const whole = [12, 13, 14, 15].map((valid) => hour(0, valid));
    const order = (from: number, to: number) =>
      runsBestFirst([...coming, ...whole], leg(from, to)).map((run) => run.hours[0]?.runMs);
    expect(order(12.5, 14.5)).toEqual([0, 6 * H]);
    expect(order(12, 13)).toEqual([6 * H, 0]);
  });

  it('does not take a run with a hole wider than the tolerance for whole', () => {
    const holed = [hour(6, 6), hour(6, 15)];
    const whole = [6, 9, 12, 15].map((valid) => hour(0, valid));
    expect(runsBestFirst([...holed, ...whole], leg(8, 9)).map((run) => run.hours[0]?.runMs)).toEqual([
      0,
      6 * H,
    ]);
  });

  it('takes a run that lacks hours of its model’s own step for a part', () => {
    const sparse = [hour(6, 12), hour(6, 18)];
    const hourly = [12, 13, 14, 15, 16, 17, 18].map((valid) => hour(0, valid));
    expect(runsBestFirst([...sparse, ...hourly], leg(13, 16)).map((run) => run.hours[0]?.runMs)).toEqual([
      0,
      6 * H,
    ]);
    expect(runsBestFirst(sparse, leg(13, 16))).toHaveLength(1);
  });

  it('puts cloud water before a newer run without, and the finer model before a coarse one somewhat newer', () => {
    const order = (...hours: GridHour[]) =>
      runsBestFirst(
        hours.flatMap((each) => [each, { ...each, validMs: each.validMs + H }]),
        leg(12, 13),
      ).map((run) => run.hours[0]!.model);
    const wet = hour(4, 12, 'wet');
    expect(order({ ...hour(6, 12, 'dry'), hasCloudWater: false }, wet)).toEqual(['wet', 'dry']);
    expect(order({ ...hour(11, 12, 'dry'), hasCloudWater: false }, wet)).toEqual(['dry', 'wet']);
    const fine = hour(6, 12, 'fine');
    expect(order({ ...hour(9, 12, 'coarse'), spacingM: 28_000 }, fine)).toEqual(['fine', 'coarse']);
    expect(order({ ...hour(12, 12, 'coarse'), spacingM: 28_000 }, fine)).toEqual(['coarse', 'fine']);
  });

  it('leaves a newer run that does not reach the window', () => {
    const hours = [hour(0, 12), hour(6, 40)];
    expect(runsBestFirst(hours, leg(12, 13)).map((run) => run.hours[0]?.runMs)).toEqual([0]);
  });

  it('finds nothing when every hour is further than the tolerance', () => {
    expect(runsBestFirst([hour(0, 12)], leg(20, 21))).toEqual([]);
  });
});

describe('servingHours', () => {
  it('keeps of an hourly run what the window needs: the hours in it, one before and one after', () => {
    const hourly = Array.from({ length: 24 }, (_, valid) => hour(0, valid));
    const kept = (from: number, to: number) =>
      servingHours(hourly, from * H, to * H).map(({ validMs }) => validMs / H);
    expect(kept(11.5, 13.5)).toEqual([11, 12, 13, 14]);
    expect(kept(12, 13)).toEqual([12, 13]);
    expect(kept(12, 12)).toEqual([12]);
    expect(kept(23.2, 25)).toEqual([23]);
    expect(kept(-3, -2)).toEqual([0]);
  });

  it('leaves out no hour that an instant of the window uses', () => {
    const times = fc.uniqueArray(fc.integer({ min: 0, max: 48 }), { minLength: 1, maxLength: 20 });
    const instants = fc.tuple(
      fc.integer({ min: 0, max: 48 }),
      fc.nat(8),
      fc.float({ min: 0, max: 1, noNaN: true }),
    );
    fc.assert(
      fc.property(times, instants, (valid, [from, length, share]) => {
        const all = valid.sort((a, b) => a - b).map((each) => hour(0, each));
        const kept = servingHours(all, from * H, (from + length) * H);
        const instantMs = (from + share * length) * H;
        const used = (hours: readonly GridHour[]) => {
          const pair = hoursAt(runOf(hours), instantMs);
          return pair && { ...pair, before: hours[pair.before]!.validMs, after: hours[pair.after]!.validMs };
        };
        expect(used(kept)).toEqual(used(all));
      }),
      { numRuns: 500 },
    );
  });
});

describe('hoursAt', () => {
  const hours = [hour(0, 12), hour(0, 15)];

  it('weighs the two hours around an instant by time', () => {
    expect(hoursAt(runOf(hours), 13 * H)).toMatchObject({ before: 0, after: 1, laterShare: 1 / 3 });
  });

  it('uses one hour alone at its own time and beyond the last', () => {
    expect(hoursAt(runOf(hours), 12 * H)).toMatchObject({ before: 0, after: 0, laterShare: 0, offsetMs: 0 });
    expect(hoursAt(runOf(hours), 18 * H)).toMatchObject({ before: 1, after: 1, offsetMs: 3 * H });
  });

  it('gives nothing further than six hours from any hour', () => {
    expect(hoursAt(runOf(hours), 21.1 * H)).toBeUndefined();
    expect(hoursAt(runOf([]), 12 * H)).toBeUndefined();
  });

  it('tells a pair with an hour lost between from one that the model has next to each other', () => {
    expect(hoursAt(runOf(hours, 3 * H), 13 * H)).toMatchObject({ isBracketed: true });
    expect(hoursAt(runOf(hours, H), 13 * H)).toMatchObject({ isBracketed: false, laterShare: 1 / 3 });
    expect(hoursAt(runOf(hours, H), 15 * H)).toMatchObject({ isBracketed: true });
    expect(hoursAt(runOf(hours, H), 16 * H)).toMatchObject({ isBracketed: false });
  });

  it('never bridges a gap wider than the tolerance: a missing hour stays missing', () => {
    const sparse = [hour(0, 0), hour(0, 24)];
    expect(hoursAt(runOf(sparse), 12 * H)).toBeUndefined();
    expect(hoursAt(runOf(sparse), 4 * H)).toMatchObject({ before: 0, after: 0 });
  });
});

describe('blendProfiles', () => {
  const profile = (temperatureK: number, levels = [100_000, 85_000]): Profile => {
    const column = (value: number) => new Float64Array(levels.length).fill(value);
    return {
      levelCount: levels.length,
      pressurePa: Float64Array.from(levels),
      geopotentialHeightM: column(1000),
      temperatureK: column(temperatureK),
      relativeHumidityRatio: column(0.8),
      windEastMps: column(5),
      windNorthMps: column(0),
      verticalVelocityPaPerS: column(Number.NaN),
      condensateKgPerKg: column(0),
      condensateBasis: 'liquid',
      surfaceHeightM: 100,
    };
  };

  it('is linear in time at each level', () => {
    expect(blendProfiles(profile(260), profile(264), 0.25).temperatureK[1]).toBeCloseTo(261, 10);
  });

  it('keeps a value that is missing in one hour missing', () => {
    const missing = profile(Number.NaN);
    expect(blendProfiles(profile(260), missing, 0.25).temperatureK[0]).toBeNaN();
  });

  it('mixes the model’s own levels, whose pressures move with the ground’s, and no others', () => {
    const before = profile(260, [98_000, 84_000]);
    const after = profile(264, [99_000, 84_500]);
    expect(blendProfiles(before, after, 0.25, true).temperatureK[1]).toBeCloseTo(261, 10);
    expect(blendProfiles(before, after, 0.25, true).pressurePa[1]).toBeCloseTo(84_125, 6);
    expect(blendProfiles(before, after, 0.25).temperatureK[1]).toBe(260);
    const shifted = profile(264, [93_000, 79_000]);
    expect(blendProfiles(before, shifted, 0.25, true).temperatureK[1]).toBe(260);
  });

  it('mixes the levels that both hours have when the pressure of the ground has passed one', () => {
    const before = profile(260, [100_050, 100_000, 92_500, 85_000]);
    const after = profile(264, [99_950, 92_500, 85_000]);
    const blended = blendProfiles(before, after, 0.5);
    expect(Array.from(blended.pressurePa)).toEqual([100_000, 92_500, 85_000]);
    expect(Array.from(blended.temperatureK)).toEqual([262, 262, 262]);
    expect(blendProfiles(after, before, 0.5).temperatureK).toEqual(blended.temperatureK);
  });

  it('keeps a level that one hour has lost missing, whichever hour it is: no straight line is drawn across it', () => {
    const levels = [100_050, 97_500, 95_000, 92_500, 90_000, 85_000, 80_000, 70_000, 60_000, 50_000];
    const whole = profile(260, levels);
    const holed = profile(
      264,
      levels.filter((levelPa) => levelPa !== 85_000 && levelPa !== 80_000),
    );
    for (const blended of [blendProfiles(whole, holed, 0.01), blendProfiles(holed, whole, 0.4)]) {
      expect(Array.from(blended.pressurePa)).toEqual(levels);
      const missing = levels.filter((_, level) => Number.isNaN(blended.temperatureK[level]!));
      expect(missing).toEqual([85_000, 80_000]);
      expect(blended.geopotentialHeightM.every(Number.isFinite)).toBe(true);
    }
  });

  it('does not take the level above for the ground’s where the lowest is lost', () => {
    const before = profile(260, [100_000, 92_500, 85_000]);
    expect(blendProfiles(before, profile(264, [92_500, 85_000]), 0.25)).toBe(before);
  });

  it('mixes rain level by level, and freezing rain at the ground', () => {
    const hour = (rain: number[], freezingRainRatio: number): Profile => ({
      ...profile(260),
      rainKgPerKg: Float64Array.from(rain),
      freezingRainRatio,
    });
    const mixed = blendProfiles(hour([0, 4e-4], 0), hour([2e-4, Number.NaN], 1), 0.25);
    expect([...mixed.rainKgPerKg!]).toEqual([expect.closeTo(5e-5, 12), Number.NaN]);
    expect(mixed.freezingRainRatio).toBe(0.25);
  });

  it('keeps the rain of the one hour that gives any, and gives none where neither does', () => {
    const rainy: Profile = { ...profile(260), rainKgPerKg: Float64Array.of(1e-4, 0), freezingRainRatio: 1 };
    for (const [before, after] of [
      [rainy, profile(260)],
      [profile(260), rainy],
    ] as const) {
      const { rainKgPerKg, freezingRainRatio } = blendProfiles(before, after, 0.25);
      expect([[...rainKgPerKg!], freezingRainRatio]).toEqual([[1e-4, 0], 1]);
    }
    const passed = blendProfiles(
      profile(260, [100_050, 100_000, 92_500, 85_000]),
      {
        ...profile(264, [99_950, 92_500, 85_000]),
        rainKgPerKg: Float64Array.of(1e-4, 2e-4, 3e-4),
      },
      0.25,
    );
    expect([...passed.rainKgPerKg!]).toEqual([1e-4, 2e-4, 3e-4]);
    expect(blendProfiles(profile(260), profile(264), 0.25)).not.toHaveProperty('rainKgPerKg');
    expect(blendProfiles(profile(260), profile(264), 0.25).freezingRainRatio).toBeNaN();
  });

  it('does not mix hours of different levels but takes the nearer', () => {
    const other = profile(270, [100_000, 70_000, 60_000, 50_000]);
    expect(blendProfiles(profile(260), other, 0.25).temperatureK[0]).toBe(260);
    expect(blendProfiles(profile(260), other, 0.75).temperatureK[0]).toBe(270);
  });
});

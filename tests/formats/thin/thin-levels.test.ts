/**
 * Thinning loses no layer: on ascents made at random, and through the columns that the physics reads. What is compared is worked
 * out here again: interpolation, humidity by another formula, layers and maxima level by level.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { profileOfSounding } from '../../../worker/brief/sounding-profile.ts';
import type { Sounding, SoundingLevels } from '../../../worker/formats/sounding.ts';
import {
  LEAST_THINNED_LEVELS,
  MOST_KEPT_LEVELS,
  type ThinnedLevels,
  thinnedLevels,
} from '../../../worker/formats/thin/thin-levels.ts';
import { thinnedSounding } from '../../../worker/formats/thin/thin-sounding.ts';
import { dewPointK } from '../../../worker/science/humidity.ts';
import { weatherColumnsFromProfiles } from '../../../worker/science/profile-columns.ts';
import { saturationVaporPressureWaterPa } from '../../../worker/science/saturation.ts';
import { randomFrom } from '../../fuzz/mutate-bytes.ts';
import { BRIEF_AXIS, FINE_AXIS } from '../../support/large-drop-answers.ts';
import { type RandomAscentOptions, randomAscentLevels } from '../../support/random-ascent.ts';

/** What the rule promises, typed here again: K, K, ratio, m/s, gpm. */
const BOUND = { temperature: 0.1, dewPoint: 0.5, humidity: 0.01, wind: 2, height: 10 } as const;
const aloft = (pressurePa: number) => (pressurePa < 20_000 ? 4 : 1);
/** Rounding of the arithmetic, and of the two formulas of saturation. */
const SLACK = 1.0001;

const ascents: fc.Arbitrary<RandomAscentOptions> = fc.record({
  seed: fc.integer({ min: 1, max: 2 ** 31 }),
  levelCount: fc.integer({ min: LEAST_THINNED_LEVELS + 1, max: 2500 }),
  noiseK: fc.constantFrom(0, 0, 0.02, 0.1, 1, 20),
  lossRatio: fc.constantFrom(0, 0, 0.001, 0.01),
  isStandardBelow: fc.boolean(),
});
const RUNS = { numRuns: 80, seed: 20240226 };

/** Murphy and Koop 2005, eq. 10, typed here again: ln Pa. */
function lnSaturation(temperatureK: number): number {
  const t = temperatureK;
  const curve = 53.878 - 1331.22 / t - 9.44523 * Math.log(t) + 0.014025 * t;
  return (
    54.842763 - 6763.22 / t - 4.21 * Math.log(t) + 0.000367 * t + Math.tanh(0.0415 * (t - 218.8)) * curve
  );
}

function humidities({ temperatureK, dewPointK }: SoundingLevels): number[] {
  return Array.from(temperatureK, (levelK, n) =>
    Math.exp(lnSaturation(dewPointK[n]!) - lnSaturation(levelK)),
  );
}

interface Quantity {
  readonly name: keyof typeof BOUND;
  readonly of: (levels: SoundingLevels) => ArrayLike<number>;
}

const wind = (part: (rad: number) => number) => (levels: SoundingLevels) =>
  Array.from(
    levels.windSpeedMps,
    (speedMps, n) => -speedMps * part((levels.windDirectionDeg[n]! * Math.PI) / 180),
  );
const QUANTITIES: readonly Quantity[] = [
  { name: 'humidity', of: humidities },
  { name: 'temperature', of: ({ temperatureK }) => temperatureK },
  { name: 'dewPoint', of: ({ dewPointK }) => dewPointK },
  { name: 'wind', of: wind(Math.sin) },
  { name: 'wind', of: wind(Math.cos) },
  { name: 'height', of: ({ geopotentialHeightM }) => geopotentialHeightM },
];

/** Value between the levels that have one, linear in ln p; NaN outside of them. */
function between(pressuresPa: Float64Array, values: ArrayLike<number>, pressurePa: number): number {
  let below = -1;
  for (let n = 0; n < pressuresPa.length; n += 1) {
    if (Number.isNaN(values[n]!)) continue;
    if (pressuresPa[n]! === pressurePa) return values[n]!;
    if (pressuresPa[n]! > pressurePa) below = n;
    else if (below < 0) return Number.NaN;
    else {
      const share =
        Math.log(pressuresPa[below]! / pressurePa) / Math.log(pressuresPa[below]! / pressuresPa[n]!);
      return values[below]! + share * (values[n]! - values[below]!);
    }
  }
  return Number.NaN;
}

/** The greatest error of a quantity over its bound, with NaN for one that can no longer be had. */
function worstError(levels: SoundingLevels, thinned: SoundingLevels, { name, of }: Quantity): number {
  const values = of(levels);
  const kept = of(thinned);
  let worst = 0;
  for (let n = 0; n < levels.levelCount; n += 1) {
    if (Number.isNaN(values[n]!)) continue;
    const pressurePa = levels.pressurePa[n]!;
    const error = Math.abs(between(thinned.pressurePa, kept, pressurePa) - values[n]!);
    const ratio = error / (BOUND[name] * aloft(pressurePa));
    if (!(ratio <= worst)) worst = ratio;
  }
  return worst;
}

function thinnedOf(options: RandomAscentOptions): { levels: SoundingLevels; thinned: ThinnedLevels } {
  const levels = randomAscentLevels(options);
  const thinned = thinnedLevels(levels);
  if (thinned === undefined) throw new Error('not thinned');
  return { levels, thinned };
}

describe('the levels kept', () => {
  test('reproduce every quantity of every level within its bound', () => {
    fc.assert(
      fc.property(ascents, (options) => {
        const { levels, thinned } = thinnedOf(options);
        for (const quantity of QUANTITIES) {
          const worst = worstError(levels, thinned.levels, quantity);
          expect(worst, quantity.name).toBeLessThanOrEqual(thinned.boundFactor * SLACK);
        }
      }),
      RUNS,
    );
  });

  test('are levels that were measured, the ends among them, and never more than the limit', () => {
    fc.assert(
      fc.property(ascents, (options) => {
        const { levels, thinned } = thinnedOf(options);
        expect(thinned.kept.length).toBeLessThanOrEqual(MOST_KEPT_LEVELS);
        expect([thinned.kept[0], thinned.kept.at(-1)]).toEqual([0, levels.levelCount - 1]);
        for (const name of ['pressurePa', 'temperatureK', 'dewPointK', 'windSpeedMps'] as const) {
          expect([...thinned.levels[name]]).toEqual(Array.from(thinned.kept, (n) => levels[name][n]!));
        }
        const kept = Array.from(thinned.kept);
        expect(kept.every((n, at) => at === 0 || n > kept[at - 1]!)).toBe(true);
      }),
      RUNS,
    );
  });

  test('hold the bounds themselves where noise is that of a sensor', () => {
    const calm = ascents.filter(({ noiseK }) => noiseK < 0.1);
    fc.assert(
      fc.property(calm, (options) => {
        expect(thinnedOf(options).thinned.boundFactor).toBe(1);
      }),
      RUNS,
    );
  });
});

describe('no layer is lost', () => {
  test('every level of 85 % or more is within 1 % of that in the ascent as kept, however thin its layer', () => {
    let moistLevels = 0;
    fc.assert(
      fc.property(ascents, (options) => {
        const { levels, thinned } = thinnedOf(options);
        const kept = humidities(thinned.levels);
        humidities(levels).forEach((humidity, n) => {
          if (!(humidity >= 0.85)) return;
          moistLevels += 1;
          const pressurePa = levels.pressurePa[n]!;
          const least = humidity - 0.01 * aloft(pressurePa) * thinned.boundFactor * SLACK;
          expect(between(thinned.levels.pressurePa, kept, pressurePa)).toBeGreaterThanOrEqual(least);
        });
      }),
      RUNS,
    );
    expect(moistLevels).toBeGreaterThan(10_000);
  });

  test('every moist maximum that stands 1 % above both sides is kept as it is', () => {
    let maxima = 0;
    fc.assert(
      fc.property(ascents, (options) => {
        const { levels, thinned } = thinnedOf(options);
        const humidity = humidities(levels);
        const present = Array.from(humidity.keys()).filter((n) => !Number.isNaN(humidity[n]!));
        const kept = new Set(thinned.kept);
        const step = 0.01 * thinned.boundFactor * SLACK;
        for (const at of prominentMaxima(
          present.map((n) => humidity[n]!),
          step,
        )) {
          maxima += 1;
          expect(kept.has(present[at]!), `level ${present[at]}`).toBe(true);
        }
      }),
      RUNS,
    );
    expect(maxima).toBeGreaterThan(500);
  });

  test('standard levels stay', () => {
    let standard = 0;
    fc.assert(
      fc.property(ascents, (options) => {
        const { levels, thinned } = thinnedOf(options);
        const kept = new Set(thinned.levels.pressurePa);
        for (const hPa of [1000, 925, 850, 700, 500, 400, 300, 250, 200, 150, 100]) {
          if (!levels.pressurePa.includes(100 * hPa)) continue;
          standard += 1;
          expect(kept.has(100 * hPa), `${hPa} hPa`).toBe(true);
        }
      }),
      RUNS,
    );
    expect(standard).toBeGreaterThan(500);
  });
});

/** Of at least 85 %, greater than all on either side until one that is lower by the step (or the end of the ascent). */
function prominentMaxima(values: readonly number[], step: number): number[] {
  return values.flatMap((value, at) => {
    if (value < 0.85) return [];
    const falls = (direction: 1 | -1): boolean => {
      for (let n = at + direction; n >= 0 && n < values.length; n += direction) {
        if (values[n]! >= value) return false;
        if (values[n]! <= value - step) return true;
      }
      return false;
    };
    return falls(1) && falls(-1) ? [at] : [];
  });
}

describe('through the columns that the physics reads', () => {
  const soundingOf = (levels: SoundingLevels): Sounding => ({
    format: 'fm-94-bufr',
    stationId: '72659',
    latDeg: 45,
    lonDeg: -98,
    elevationM: levels.geopotentialHeightM[0]!,
    timeMs: 0,
    releaseMs: Number.NaN,
    reports: [],
    levels,
    rejected: [],
  });

  test.each([
    ['of 500 ft', BRIEF_AXIS],
    ['of 100 ft', FINE_AXIS],
  ])('cells %s are known or unknown as before, and differ by no more than the bounds', (_, axis) => {
    let known = 0;
    let unknown = 0;
    fc.assert(
      fc.property(ascents, (options) => {
        const { levels, thinned } = thinnedOf(options);
        const [before, after] = [levels, thinned.levels].map((each) =>
          weatherColumnsFromProfiles([profileOfSounding(soundingOf(each))], axis),
        );
        expect([...after!.state]).toEqual([...before!.state]);
        for (let cell = 0; cell < axis.cellCount; cell += 1) {
          if (Number.isNaN(before!.temperatureK[cell]!)) {
            unknown += 1;
            continue;
          }
          known += 1;
          // A cell across 200 hPa takes its humidity from either side of it.
          const factor = thinned.boundFactor * aloft(axis.edgePressurePa[cell + 1]!) * 1.001;
          const differenceK = Math.abs(after!.temperatureK[cell]! - before!.temperatureK[cell]!);
          const ratio = Math.abs(after!.relativeHumidityRatio[cell]! - before!.relativeHumidityRatio[cell]!);
          expect(differenceK).toBeLessThanOrEqual(0.1 * factor + 1e-4);
          expect(ratio).toBeLessThanOrEqual(0.01 * factor + 1e-6);
        }
      }),
      RUNS,
    );
    expect(known).toBeGreaterThan(2000);
    expect(unknown).toBeGreaterThan(300);
  });
});

/** Every 5 m to 14 km: noise of 3 % and 0.1 K, a nose of 0.5 °C between 1,850 and 2,150 m, a saturated deck 40 m deep. */
function noisyAscent(seed: number): SoundingLevels {
  const random = randomFrom(seed);
  const uniform = () => (random.below(1_000_000) + 0.5) / 1_000_000;
  const gauss = () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
  const heights = Array.from({ length: 2800 }, (_, level) => 5 * level);
  const temperatures = heights.map((heightM) => {
    const fromNose = Math.abs(heightM - 2000);
    const noseK = fromNose < 150 ? 12.65 * (1 - fromNose / 150) : 0;
    return 271 - 0.005 * heightM + noseK + 0.1 * gauss();
  });
  const dewPoints = heights.map((heightM, level) => {
    const isDeck = Math.abs(heightM - 1000) < 20;
    const ratio = isDeck ? 1 : Math.min(0.97, 0.8 + 0.03 * gauss());
    return dewPointK(ratio * saturationVaporPressureWaterPa(temperatures[level]!));
  });
  return {
    levelCount: heights.length,
    pressurePa: Float64Array.from(heights, (heightM) => 100_000 * Math.exp(-heightM / 8000)),
    geopotentialHeightM: Float64Array.from(heights),
    temperatureK: Float64Array.from(temperatures),
    dewPointK: Float64Array.from(dewPoints),
    windDirectionDeg: new Float64Array(heights.length).fill(250),
    windSpeedMps: new Float64Array(heights.length).fill(10),
  };
}

describe('limits', () => {
  const options = { seed: 7, noiseK: 0.02, lossRatio: 0.01, isStandardBelow: false };

  test(`${LEAST_THINNED_LEVELS} levels stay as they are`, () => {
    const levels = randomAscentLevels({ ...options, levelCount: LEAST_THINNED_LEVELS });
    expect(thinnedLevels(levels)?.levels).toBe(levels);
    const more = randomAscentLevels({ ...options, levelCount: 2 * LEAST_THINNED_LEVELS });
    expect(thinnedLevels(more)!.levels.levelCount).toBeLessThan(2 * LEAST_THINNED_LEVELS);
  });

  test('sensor noise widens the bounds to little more than itself, and no warm nose or saturated deck is lost in it', () => {
    let lost = 0;
    let widest = 0;
    for (let seed = 1; seed <= 20; seed += 1) {
      const levels = noisyAscent(seed);
      const thinned = thinnedLevels(levels)!;
      widest = Math.max(widest, thinned.boundFactor);
      // Kept levels use the room there is.
      expect(thinned.kept.length).toBeGreaterThan(150);
      const warmest = Math.max(
        ...thinned.levels.temperatureK.filter((_, n) => thinned.levels.pressurePa[n]! < 90_000),
      );
      const driest = Math.min(
        ...thinned.levels.temperatureK.map((value, n) => value - thinned.levels.dewPointK[n]!),
      );
      if (!(warmest > 273.15) || !(driest < 0.3)) lost += 1;
    }
    expect(lost).toBe(0);
    expect(widest).toBeLessThan(9);
  });

  test('noise of many degrees at every level is held under the limit by wider bounds, which are told', () => {
    const levels = randomAscentLevels({ ...options, levelCount: 6000, noiseK: 20, lossRatio: 0 });
    const thinned = thinnedLevels(levels)!;
    expect(thinned.boundFactor).toBeGreaterThan(1);
    expect(thinned.kept.length).toBeLessThanOrEqual(MOST_KEPT_LEVELS);
    const sounding: Sounding = {
      format: 'fm-94-bufr',
      stationId: '72659',
      latDeg: 45,
      lonDeg: -98,
      elevationM: 100,
      timeMs: 0,
      releaseMs: Number.NaN,
      reports: [],
      levels,
      rejected: [],
    };
    const kept = thinnedSounding(sounding);
    const { boundFactor } = thinned;
    const reason = kept.kind === 'kept' ? (kept.sounding.rejected[0]?.reason ?? '') : '';
    expect(reason).toContain(
      `levels: ${6000 - thinned.kept.length} of 6000 left out; straight lines in ln p`,
    );
    const told = /within ([\d.]+) K, ([\d.]+) K of dew point, ([\d.]+) % of relative humidity/.exec(reason);
    const bounds = [0.1, 0.5, 1].map((bound) => bound * boundFactor);
    // Rounded up to hundredths: what is told holds.
    told?.slice(1).forEach((text, at) => {
      expect(Number(text)).toBeGreaterThanOrEqual(bounds[at]! - 1e-6);
      expect(Number(text)).toBeLessThan(bounds[at]! + 0.01);
    });
    expect(told).toHaveLength(4);
  });

  test('a level kept for its wind, though it lost its humidity, opens no hole', () => {
    const count = 400;
    const line = (from: number, step: number) =>
      Float64Array.from({ length: count }, (_, n) => from + step * n);
    const levels: SoundingLevels = {
      levelCount: count,
      pressurePa: line(100_000, -100),
      geopotentialHeightM: line(100, 8),
      temperatureK: line(280, -0.05),
      dewPointK: line(275, -0.05),
      windDirectionDeg: line(270, 0),
      windSpeedMps: line(10, 0),
    };
    levels.temperatureK[201] = Number.NaN;
    levels.dewPointK[201] = Number.NaN;
    levels.windSpeedMps.fill(30, 201);
    const { kept } = thinnedLevels(levels)!;
    expect([...kept].filter((level) => level > 197 && level < 205)).toEqual([200, 201, 202]);
  });

  test('an ascent that is more holes than air is refused', () => {
    const levels = randomAscentLevels({ ...options, levelCount: 5000, lossRatio: 0 });
    // Every third level has nothing, and between the others lie 0.02 in ln p or more: each is a hole of its own.
    const count = 900;
    const pressurePa = Float64Array.from({ length: count }, (_, n) => 100_000 * Math.exp(-0.0075 * n));
    const full = levels.temperatureK.subarray(0, count).map((value, n) => (n % 2 === 1 ? Number.NaN : value));
    const holes: SoundingLevels = {
      levelCount: count,
      pressurePa,
      geopotentialHeightM: new Float64Array(count).fill(Number.NaN),
      temperatureK: full,
      dewPointK: full,
      windDirectionDeg: new Float64Array(count).fill(Number.NaN),
      windSpeedMps: new Float64Array(count).fill(Number.NaN),
    };
    expect(thinnedLevels(holes)).toBeUndefined();
  });
});

/**
 * A model's own rain is a presence of its own: below 0 degC it is ice and large drops whatever the cloud is, above it is
 * nothing, and what is lost of it clears no cell.
 */
import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import {
  CELL_STATE,
  type IcingColumns,
  INTENSITY,
  LARGE_DROPS,
  type Profile,
  type WeatherColumns,
} from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { intensityOfMark, MARK } from '../../worker/science/drawn-icing.ts';
import { FREEZING_RAIN_TRUST, forecastErrors, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { accrete, leadingEdge, makeAccretion } from '../../worker/science/growth.ts';
import { makeImpact } from '../../worker/science/impact.ts';
import { largeDropHazard } from '../../worker/science/large-drops.ts';
import { modelRainProbability } from '../../worker/science/model-rain.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { DRIZZLE_DIAMETER_M, mixedDiameterM, RAIN_DIAMETER_M } from '../../worker/science/rain.ts';
import { assertClose } from '../support/assert-close.ts';
import { drawAlong, shareMarked } from '../support/draw-along.ts';
import { even } from '../support/even-numbers.ts';
import { alongPoints, makeProfile, makeSettings } from '../support/make-profile.ts';
import { pooledAtPoint, weighed } from '../support/pool-point.ts';
import { AIR_PRESSURES } from '../support/random-air.ts';
import { profileOfRainyAir, type RainyAir, rainyAir } from '../support/random-grid-air.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 44 });
const settings = makeSettings(axis.cellCount);
const H = 3_600_000;
const ROUNDING = 1 - 1e-6;

const weatherOf = (profile: Profile) => weatherColumnsFromProfiles([profile], axis);
const diagnose = (profile: Profile) => diagnoseColumns(weatherOf(profile), settings);
const cellAt = (hPa: number) => axis.middlePressurePa.findIndex((pressurePa) => pressurePa < hPa * 100);

/** A model's column: so much rain, g/kg, all the way or by pressure. */
function withRain(
  profile: Profile,
  rainGPerKg: number | ((hPa: number) => number),
  more: Partial<Profile> = {},
): Profile {
  const at = typeof rainGPerKg === 'number' ? () => rainGPerKg : rainGPerKg;
  const zeros = new Float64Array(profile.levelCount);
  return {
    ...profile,
    condensateKgPerKg: zeros,
    condensateBasis: 'liquid',
    rainKgPerKg: profile.pressurePa.map((pressurePa) => at(pressurePa / 100) / 1000),
    ...more,
  };
}

/** Everywhere so cold, and too dry for cloud. */
const evenAir = (celsius: number) => makeProfile({ temperatureC: celsius, relativeHumidityPct: 80 });
const clear = (profile: Profile) => ({ cloudFractionRatio: new Float64Array(profile.levelCount) });

/** -4 degC under 3 degC from 880 to 750 hPa, moist or too dry to make rain by itself. */
const warmNose = (relativeHumidityPct: number) =>
  makeProfile({
    temperatureC: alongPoints([
      [1000, -4],
      [920, -4],
      [880, 3],
      [750, 3],
      [700, -1],
      [300, -30],
    ]),
    relativeHumidityPct,
  });

describe('0.2 g/kg of rain at -5 degC below the base of cloud', () => {
  const air = evenAir(-5);
  const cell = cellAt(900);

  test.each([
    ['cloud fraction 0', clear(air)],
    ['no cloud fraction', {}],
  ])('with %s is ice, and named', (_, more) => {
    const icing = diagnose(withRain(air, 0.2, more));
    expect(icing.icingProbability[cell]).toBeGreaterThan(0.95);
    expect(icing.largeDropProbability[cell]).toBeGreaterThan(0.95);
    expect(icing.largeDrops[cell]).toBe(LARGE_DROPS.freezingDrizzle);
    expect(icing.medianVolumeDiameterM[cell]).toBeGreaterThan(DRIZZLE_DIAMETER_M / 2);
    expect(icing.medianVolumeDiameterM[cell]).toBeLessThan(DRIZZLE_DIAMETER_M);
    // 0.2e-3 x 90,000 / (287.05 x 268.15) = 0.234 g/m3, and no less than that.
    expect(icing.liquidWaterKgPerM3[cell]! * 1000).toBeGreaterThan(0.23);
    expect(icing.intensity[cell]).toBeGreaterThanOrEqual(INTENSITY.light);
    expect(icing.cloudProbability[cell]).toBeLessThan(0.1);
  });

  it('of a forecast is ice and named at every lead time, the surer the shorter that is', () => {
    const chances = [6, 24, 48].map((leadH) => {
      const source = {
        profile: withRain(air, 0.2, clear(air)),
        worth: weighed(1, forecastErrors(leadH * H)),
      };
      const { icing } = pooledAtPoint([source], axis);
      expect(icing.largeDrops[cell], `${leadH} h`).toBe(LARGE_DROPS.freezingDrizzle);
      expect(icing.icingProbability[cell]).toBeGreaterThanOrEqual(icing.largeDropProbability[cell]!);
      return icing.largeDropProbability[cell]!;
    });
    expect(chances).toEqual([0.82, 0.62, 0.48].map((each) => expect.closeTo(each, 2)));
  });

  it('is in as many draws as probable, as large drops', () => {
    const { icing, drawn } = drawAlong({
      axis,
      pointCount: 60,
      spacingM: 30_000,
      sources: [
        { profileAt: () => withRain(air, 0.2, clear(air)), errors: { ...NO_ERROR, placeM: 150_000 } },
      ],
    });
    const chance = icing.largeDropProbability[cell]!;
    expect(chance).toBeCloseTo(1 / 1.6, 2);
    expect(Math.abs(shareMarked(drawn, cell, MARK.largeDrops) - chance)).toBeLessThan(0.03);
    expect(Math.abs(shareMarked(drawn, cell, MARK.ice) - icing.icingProbability[cell]!)).toBeLessThan(0.03);
    const marks = Array.from(
      { length: drawn.drawCount },
      (_, draw) => drawn.marks[cell * drawn.drawCount + draw]!,
    );
    for (const mark of marks.filter((each) => (each & MARK.largeDrops) !== 0))
      expect(intensityOfMark(mark)).toBeGreaterThanOrEqual(INTENSITY.light);
  });

  it('at 5 degC is nothing', () => {
    const warm = evenAir(5);
    const icing = diagnose(withRain(warm, 0.2));
    expect(Math.max(...icing.icingProbability.filter(Number.isFinite))).toBe(0);
    expect(Math.max(...icing.largeDropProbability.filter(Number.isFinite))).toBe(0);
  });
});

describe('the kind of drops', () => {
  const wedge = cellAt(950);
  const above = cellAt(650);

  it('is that of freezing rain under air above 0 degC, though nothing moist lies above that', () => {
    const icing = diagnose(withRain(warmNose(60), 0.05));
    expect(diagnose(withRain(warmNose(60), 0)).largeDrops[wedge]).toBe(LARGE_DROPS.none);
    expect([icing.largeDrops[wedge], icing.largeDrops[above]]).toEqual([
      LARGE_DROPS.freezingRain,
      LARGE_DROPS.freezingDrizzle,
    ]);
    expect(icing.medianVolumeDiameterM[wedge]).toBeCloseTo(RAIN_DIAMETER_M, 9);
  });

  it('stays that of cloud where cloud holds most of the water, and large drops are named all the same', () => {
    const cloudy = makeProfile({ temperatureC: -5, relativeHumidityPct: 100 });
    const icing = diagnose(withRain(cloudy, 0.02));
    const cell = cellAt(700);
    expect(icing.largeDrops[cell]).toBe(LARGE_DROPS.freezingDrizzle);
    expect(icing.medianVolumeDiameterM[cell]).toBeLessThan(50e-6);
    const without = diagnose(withRain(cloudy, 0)).liquidWaterKgPerM3[cell]!;
    // 0.02e-3 x 70,000 / (287.05 x 268.15) = 0.0182 g/m3.
    assertClose((icing.liquidWaterKgPerM3[cell]! - without) * 1000, 0.0182, {
      abs: 3e-4,
      why: 'cell of 150 m',
    });
  });
});

describe('cloud and drizzle together', () => {
  const impact = { ...makeImpact(), pressurePa: 85_000, temperatureK: 268, trueAirspeedMps: 77 };
  const wing = leadingEdge(0.02);
  const caught = (liquidWaterKgPerM3: number, diameterM: number) => {
    const accretion = makeAccretion();
    const met = { ...impact, liquidWaterKgPerM3, diameterM };
    accrete({ ...met, dropColdK: 5, airColdK: 5 }, wing, accretion);
    return accretion.catchKgPerM2S;
  };
  const together = (cloud: number, cloudM: number, rain: number) =>
    caught(cloud + rain, mixedDiameterM(cloud, cloudM, rain));

  it('are caught no less than apart, and no less for more of either', () => {
    const water = even(0.001, 1).map((gPerM3) => gPerM3 / 1000);
    const size = even(10, 50).map((micrometers) => micrometers / 1e6);
    fc.assert(
      fc.property(water, size, water, even(1, 3), (cloud, cloudM, rain, more) => {
        const both = together(cloud, cloudM, rain);
        const apart = caught(cloud, cloudM) + caught(rain, DRIZZLE_DIAMETER_M);
        expect(both).toBeGreaterThanOrEqual(apart * ROUNDING);
        expect(together(cloud * more, cloudM, rain)).toBeGreaterThanOrEqual(both * ROUNDING);
        expect(together(cloud, cloudM, rain * more)).toBeGreaterThanOrEqual(both * ROUNDING);
      }),
      { seed: 38, numRuns: 3000 },
    );
  });
});

describe('the probability that rain is there', () => {
  const exact = { lnWater: 0, placeM: 0 };

  it('is a half at 0.003 g/m3, more for drizzle, next to none for what advection leaves', () => {
    const at = (gPerM3: number) => modelRainProbability(gPerM3 / 1000, exact);
    expect([0, -1, Number.NaN].map(at)).toEqual([0, 0, 0]);
    expect(at(0.003)).toBeCloseTo(0.5, 12);
    expect(at(0.01)).toBeGreaterThan(0.9);
    expect(at(0.0001)).toBeLessThan(0.002);
  });

  it('never falls with the rain, nor rises with the error of place', () => {
    const content = even(-9, -2).map((exponent) => 10 ** exponent);
    const contents = fc.tuple(content, content);
    fc.assert(
      fc.property(contents, even(0, 1.5), even(0, 3e5), even(0, 3e5), ([a, b], lnWater, one, other) => {
        const at = (water: number, placeM: number) => modelRainProbability(water, { lnWater, placeM });
        expect(at(Math.max(a, b), one)).toBeGreaterThanOrEqual(at(Math.min(a, b), one));
        expect(at(a, Math.max(one, other))).toBeLessThanOrEqual(at(a, Math.min(one, other)));
      }),
      { seed: 31, numRuns: 2000 },
    );
  });
});

/** What a cell threatens with; drops that are smaller because cloud holds more water do not threaten less. */
const NAMES = [
  'icingProbability',
  'largeDropProbability',
  'liquidWaterKgPerM3',
  'wingCatchKgPerM2S',
  'intensity',
] as const;

/** Asserts that no known cell of `after` is clearer. @returns cells that rose, and icy ones that became unknown. */
function expectNoClearing(before: IcingColumns, after: IcingColumns): { risen: number; lost: number } {
  const counts = { risen: 0, lost: 0 };
  before.state.forEach((state, cell) => {
    if (after.state[cell] !== CELL_STATE.known) {
      if (state === CELL_STATE.known && before.icingProbability[cell]! > 0.1) counts.lost += 1;
      return;
    }
    expect(state, `cell ${cell} became known`).toBe(CELL_STATE.known);
    for (const name of NAMES) {
      const [was, is] = [before[name][cell]!, after[name][cell]!];
      expect(is, `${name} of cell ${cell}`).toBeGreaterThanOrEqual(was * ROUNDING);
    }
    const [was, is] = [before, after].map((icing) => largeDropHazard(icing.largeDrops[cell]!));
    expect(is!, `large drops of cell ${cell}`).toBeGreaterThanOrEqual(was!);
    if (after.largeDropProbability[cell]! > before.largeDropProbability[cell]! + 1e-6) counts.risen += 1;
  });
  return counts;
}

/** Exact, and a forecast of a day. */
const ERRORS = [NO_ERROR, forecastErrors(24 * H)];

describe('in any air', () => {
  const diagnosed = (profile: Profile, errors = NO_ERROR) =>
    pooledAtPoint([{ profile, worth: weighed(1, errors) }], axis).icing;

  test.each(ERRORS)('more rain makes no cell clearer, errors %#', (errors) => {
    let risen = 0;
    const factors = fc.array(even(1, 30), {
      minLength: AIR_PRESSURES.length,
      maxLength: AIR_PRESSURES.length,
    });
    fc.assert(
      fc.property(rainyAir, factors, (air, factor) => {
        const more = { ...air, rainGPerKg: air.rainGPerKg.map((rain, level) => rain * factor[level]!) };
        const [before, after] = [air, more].map((each) => diagnosed(profileOfRainyAir(each), errors));
        expect(after!.state).toEqual(before!.state);
        risen += expectNoClearing(before!, after!).risen;
      }),
      { seed: 32, numRuns: 500 },
    );
    expect(risen).toBeGreaterThan(100);
  });

  it('rain makes no draw clearer', () => {
    fc.assert(
      fc.property(rainyAir, (air) => {
        const along = (each: RainyAir) =>
          drawAlong({
            axis,
            pointCount: 3,
            spacingM: 9000,
            sources: [{ profileAt: () => profileOfRainyAir(each), errors: ERRORS[1]! }],
          }).drawn;
        const dry = along({ ...air, rainGPerKg: air.rainGPerKg.map(() => 0), freezingRainRatio: Number.NaN });
        const rainy = along(air);
        dry.marks.forEach((mark, index) => {
          const is = rainy.marks[index]!;
          if ((mark & MARK.ice) !== 0) expect(is & MARK.ice).not.toBe(0);
          if ((mark & MARK.largeDrops) !== 0) expect(is & MARK.largeDrops).not.toBe(0);
          expect(intensityOfMark(is)).toBeGreaterThanOrEqual(intensityOfMark(mark));
          expect(rainy.catchKgPerM2S[index]!).toBeGreaterThanOrEqual(dry.catchKgPerM2S[index]! * ROUNDING);
        });
      }),
      { seed: 33, numRuns: 60 },
    );
  });

  it('rain above 0 degC changes nothing', () => {
    fc.assert(
      fc.property(rainyAir, even(1, 30), (air, factor) => {
        const profile = profileOfRainyAir(air);
        const weather = weatherOf(profile);
        const more = weatherOf(profile);
        weather.temperatureK.forEach((temperatureK, cell) => {
          if (temperatureK >= FREEZING_K) more.rainKgPerKg[cell] = factor * more.rainKgPerKg[cell]! + 1e-4;
        });
        expect(diagnoseColumns(more, settings)).toEqual(diagnoseColumns(weather, settings));
      }),
      { seed: 34, numRuns: 300 },
    );
  });

  it('no rain given is as none, and no word of freezing rain at the ground as none', () => {
    fc.assert(
      fc.property(rainyAir, (air) => {
        const { rainKgPerKg, freezingRainRatio: _, ...silent } = profileOfRainyAir(air);
        const none = { ...silent, rainKgPerKg: rainKgPerKg!.map(() => 0), freezingRainRatio: 0 };
        for (const errors of ERRORS) {
          expect(diagnosed({ ...silent, freezingRainRatio: Number.NaN }, errors)).toEqual(
            diagnosed(none, errors),
          );
          expect(diagnosed(silent, errors)).toEqual(diagnosed(none, errors));
        }
      }),
      { seed: 35, numRuns: 200 },
    );
  });
});

describe('rain that is lost', () => {
  /** Over air that has rain; asserts that the loss hit ice often enough to mean something. */
  function checkLost(
    spoil: (air: RainyAir, places: readonly number[]) => WeatherColumns,
    most: number,
  ): void {
    let lost = 0;
    const places = fc.array(fc.integer({ min: 0, max: most }), { minLength: 1, maxLength: 6 });
    fc.assert(
      fc.property(rainyAir, places, (air, chosen) => {
        const before = diagnose(profileOfRainyAir(air));
        lost += expectNoClearing(before, diagnoseColumns(spoil(air, chosen), settings)).lost;
      }),
      { seed: 36, numRuns: 1000 },
    );
    expect(lost, 'icy cells that became unknown').toBeGreaterThan(20);
  }
  const spoilt = (air: RainyAir, levels: readonly number[], name: 'rainKgPerKg' | 'temperatureK') => {
    const profile = profileOfRainyAir(air);
    for (const level of levels) profile[name]![level] = Number.NaN;
    return weatherOf(profile);
  };
  const levelCount = AIR_PRESSURES.length;

  it('in single cells', () => {
    checkLost((air, cells) => {
      const weather = weatherOf(profileOfRainyAir(air));
      for (const cell of cells) weather.rainKgPerKg[cell] = Number.NaN;
      return weather;
    }, axis.cellCount - 1);
  });

  it('on levels', () => {
    checkLost((air, levels) => spoilt(air, levels, 'rainKgPerKg'), levelCount - 1);
  });

  it('on all levels at once', () => {
    checkLost((air) => spoilt(air, [...AIR_PRESSURES.keys()], 'rainKgPerKg'), levelCount - 1);
  });

  it('makes no cell clearer either when the warm layer that tells its kind is lost', () => {
    checkLost((air, levels) => spoilt(air, levels, 'temperatureK'), levelCount - 1);
  });
});

describe('a high warm layer over deep dry cold air', () => {
  const high = makeProfile({
    temperatureC: alongPoints([
      [1000, -8],
      [675, -8],
      [650, 2],
      [625, 2],
      [600, -2],
      [300, -45],
    ]),
    relativeHumidityPct: 40,
  });
  const rainy = withRain(high, 0.05, { freezingRainRatio: 1 });
  /** Under 3,000 ft, and above. */
  const cells = [cellAt(960), cellAt(870)];

  it('still counts where it is lost, for the kind of the drops and for the reach of freezing rain at the ground', () => {
    const holed = { ...rainy, temperatureK: rainy.temperatureK.slice() };
    rainy.pressurePa.forEach((pressurePa, level) => {
      if (pressurePa > 60_000 && pressurePa < 67_000) holed.temperatureK[level] = Number.NaN;
    });
    for (const profile of [rainy, holed]) {
      const icing = diagnose({ ...profile, freezingRainRatio: Number.NaN });
      const alone = diagnose({ ...profile, rainKgPerKg: profile.rainKgPerKg!.map(() => 0) });
      for (const cell of cells) {
        expect(icing.state[cell]).toBe(CELL_STATE.known);
        expect(icing.largeDrops[cell]).toBe(LARGE_DROPS.freezingRain);
        expect(alone.largeDropProbability[cell]).toBeCloseTo(FREEZING_RAIN_TRUST, 6);
      }
    }
  });
});

describe('freezing rain that a model has at the ground', () => {
  const given = (profile: Profile, freezingRainRatio: number) => diagnose({ ...profile, freezingRainRatio });

  it('raises large drops and ice below the lowest warm layer to its share times the trust in it', () => {
    const dry = warmNose(60);
    const icing = given(dry, 0.8);
    const chance = 0.8 * FREEZING_RAIN_TRUST;
    for (const [hPa, expected] of [
      [980, chance],
      [925, chance],
      [850, 0],
      [650, 0],
    ] as const) {
      const cell = cellAt(hPa);
      expect(icing.largeDropProbability[cell], `${hPa} hPa`).toBeCloseTo(expected, 6);
      expect(icing.icingProbability[cell]).toBeGreaterThanOrEqual(expected * ROUNDING);
      expect(icing.largeDrops[cell]).toBe(expected > 0 ? LARGE_DROPS.freezingRain : LARGE_DROPS.none);
    }
  });

  it('counts up to 3,000 ft where the column has no warm layer', () => {
    const icing = given(evenAir(-3), 1);
    const reached = Array.from(icing.largeDropProbability, (each) => each > 0.4);
    // Cells of 150 m from sea level at 1013 hPa; the lowest level lies at 1000 hPa, in the first.
    expect(reached.slice(1, 6)).toEqual(new Array(5).fill(true));
    expect(reached.slice(6)).not.toContain(true);
  });

  it('leaves a cell that has more already as it is, and every cell where it is not said', () => {
    const moist = warmNose(97);
    const cell = cellAt(950);
    const before = diagnose(moist);
    expect(before.largeDropProbability[cell]).toBeGreaterThan(FREEZING_RAIN_TRUST);
    expect(given(moist, 1)).toEqual(before);
    expect(given(warmNose(60), Number.NaN)).toEqual(diagnose(warmNose(60)));
  });

  it('never makes a cell clearer by its share', () => {
    let risen = 0;
    fc.assert(
      fc.property(rainyAir, even(0, 1), even(0, 1), (air, one, other) => {
        const [less, more] = [Math.min(one, other), Math.max(one, other)].map((freezingRainRatio) =>
          diagnose(profileOfRainyAir({ ...air, freezingRainRatio })),
        );
        risen += expectNoClearing(less!, more!).risen;
      }),
      { seed: 37, numRuns: 300 },
    );
    expect(risen).toBeGreaterThan(100);
  });
});

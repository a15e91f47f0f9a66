/** Moister air is never less cloudy where it is moister; that it ices more is true of no column as a whole. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CALIBRATION } from '../../worker/science/calibration.ts';
import {
  cloudMargin,
  cloudProbability,
  cloudProbabilityOfCondensate,
  iceCloudMargin,
} from '../../worker/science/cloud-probability.ts';
import {
  CELL_STATE,
  type IcingColumns,
  type Profile,
  type WeatherColumns,
} from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { diagnoseColumns, diagnoseSources } from '../../worker/science/diagnose-columns.ts';
import { type ErrorSpread, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { EXACT, listPointSources } from '../../worker/science/point-sources.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { even } from '../support/even-numbers.ts';
import { alongPoints, makeProfile, makeSettings } from '../support/make-profile.ts';
import { AIR_PRESSURES } from '../support/random-air.ts';
import { gridAir, profileOfGridAir } from '../support/random-grid-air.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 48 });
const settings = makeSettings(axis.cellCount);
const RUNS = { seed: 5, numRuns: 500 };

const columnOf = (profile: Profile) => weatherColumnsFromProfiles([profile], axis);

/** Diagnosed as a source of these errors. */
const diagnosed = (weather: WeatherColumns, errors: ErrorSpread) =>
  diagnoseSources(
    weather,
    listPointSources({ pointCount: 1, sourceCount: 1 }, () => ({ ...EXACT, errors })),
    settings,
  ).icing;

describe('the chance of cloud by itself', () => {
  it('never falls as humidity rises, over water or over ice, however uncertain humidity is', () => {
    const given = fc.record({
      humidityRatio: even(0, 1.5),
      moreRatio: even(0, 0.5),
      temperatureK: even(FREEZING_K - 60, FREEZING_K + 20),
      errorRatio: fc.oneof(fc.constant(0), even(0, 0.3)),
    });
    let rises = 0;
    fc.assert(
      fc.property(given, ({ humidityRatio, moreRatio, temperatureK, errorRatio }) => {
        const width = CALIBRATION.cloudHumidityWidthRatio;
        const margins = [
          (ratio: number) => cloudMargin(ratio, CALIBRATION),
          (ratio: number) => iceCloudMargin(ratio, temperatureK, CALIBRATION),
        ];
        for (const marginAt of margins) {
          const [dry, moist] = [humidityRatio, humidityRatio + moreRatio].map((ratio) =>
            cloudProbability(marginAt(ratio), errorRatio, width),
          );
          expect(moist!).toBeGreaterThanOrEqual(dry!);
          expect(dry!).toBeGreaterThanOrEqual(0);
          expect(moist!).toBeLessThanOrEqual(1);
          if (moist! > dry! + 0.01) rises += 1;
        }
      }),
      { seed: 5, numRuns: 3000 },
    );
    expect(rises).toBeGreaterThan(500);
  });

  it('comes nearer to a half as humidity becomes less certain, and never passes it', () => {
    fc.assert(
      fc.property(even(-20, 20), even(0, 0.3), even(0, 0.3), (margin, errorRatio, moreRatio) => {
        const [sure, unsure] = [errorRatio, errorRatio + moreRatio].map(
          (error) => cloudProbability(margin, error, 0.03) - 0.5,
        );
        expect(Math.abs(unsure!)).toBeLessThanOrEqual(Math.abs(sure!));
        expect(sure! * unsure!).toBeGreaterThanOrEqual(0);
      }),
      RUNS,
    );
  });

  it('by condensate never falls as condensate or cloud fraction rises, and is greatest without a fraction', () => {
    const mixingRatio = fc.oneof(fc.constant(0), even(0, 1e-4));
    fc.assert(
      fc.property(mixingRatio, mixingRatio, even(0, 1), even(0, 1), (less, rise, fraction, other) => {
        const at = cloudProbabilityOfCondensate;
        expect(at(less + rise, fraction)).toBeGreaterThanOrEqual(at(less, fraction));
        expect(at(less, Math.max(fraction, other))).toBeGreaterThanOrEqual(
          at(less, Math.min(fraction, other)),
        );
        expect(at(less)).toBeGreaterThanOrEqual(at(less, fraction));
      }),
      RUNS,
    );
    expect(cloudProbabilityOfCondensate(1e-5)).toBeCloseTo(0.5, 12);
  });
});

describe('the chance of cloud in a column', () => {
  const moister = fc.record({
    at: fc.integer({ min: 0, max: axis.cellCount - 1 }),
    byRatio: even(0, 0.4),
    humidityErrorRatio: fc.oneof(fc.constant(0), even(0, 0.3)),
  });

  it('never falls in a cell made moister, and stays what it was in every other cell', () => {
    let rises = 0;
    fc.assert(
      fc.property(gridAir, moister, (air, { at, byRatio, humidityErrorRatio }) => {
        const errors = { ...NO_ERROR, humidityRatio: humidityErrorRatio };
        const [before, after] = [columnOf(profileOfGridAir(air)), columnOf(profileOfGridAir(air))];
        after.relativeHumidityRatio[at]! += byRatio;
        const [was, is] = [diagnosed(before, errors), diagnosed(after, errors)];
        const others = (icing: IcingColumns) => icing.cloudProbability.filter((_, cell) => cell !== at);
        expect(others(is)).toEqual(others(was));
        if (before.state[at] !== CELL_STATE.known) return;
        expect(is.cloudProbability[at]!).toBeGreaterThanOrEqual(was.cloudProbability[at]!);
        if (is.cloudProbability[at]! > was.cloudProbability[at]! + 0.01) rises += 1;
      }),
      RUNS,
    );
    expect(rises).toBeGreaterThan(100);
  });

  it('never falls anywhere when one level of a profile is made moister', () => {
    const level = fc.integer({ min: 0, max: AIR_PRESSURES.length - 1 });
    fc.assert(
      fc.property(gridAir, level, even(0, 0.4), (air, at, byRatio) => {
        const profile = profileOfGridAir(air);
        const was = diagnoseColumns(columnOf(profile), settings);
        profile.relativeHumidityRatio[at]! += byRatio;
        const is = diagnoseColumns(columnOf(profile), settings);
        const falls = [...was.cloudProbability.keys()].filter(
          (cell) =>
            was.state[cell] === CELL_STATE.known &&
            !(is.cloudProbability[cell]! >= was.cloudProbability[cell]!),
        );
        expect(falls).toEqual([]);
      }),
      RUNS,
    );
  });
});

describe('the chance of ice', () => {
  /** A wet deck from 940 to 800 hPa, -3 to -11 degC; from 790 up to 500 hPa, at -32 degC, as humid as given. */
  const underAir = (humidityPct: number) =>
    makeProfile({
      pressureHPa: AIR_PRESSURES,
      temperatureC: (hPa) => -52 * Math.log(950 / hPa) - 2,
      relativeHumidityPct: alongPoints([
        [1000, 60],
        [940, 99],
        [800, 99],
        [790, humidityPct],
        [500, humidityPct],
        [480, 20],
        [360, 20],
      ]),
    });
  const inDeck = axis.middlePressurePa.findIndex((pressurePa) => pressurePa < 90_000);

  it('may fall in a cell whose own air is the same, when moister air above gives its cloud a colder top', () => {
    const [dry, moist] = [50, 95].map((humidityPct) =>
      diagnoseColumns(columnOf(underAir(humidityPct)), settings),
    );
    expect(moist!.cloudProbability[inDeck]).toBe(dry!.cloudProbability[inDeck]);
    expect(dry!.icingProbability[inDeck]!).toBeGreaterThan(0.5);
    expect(moist!.icingProbability[inDeck]!).toBeLessThan(0.3);
  });

  it('is never above the chance of cloud in a column without a layer that could melt snow', () => {
    let icy = 0;
    fc.assert(
      fc.property(gridAir, (air) => {
        const weather = columnOf(profileOfGridAir(air));
        fc.pre(weather.temperatureK.every((temperatureK) => !(temperatureK >= FREEZING_K)));
        const icing = diagnoseColumns(weather, settings);
        const { icingProbability, cloudProbability: cloudy } = icing;
        icy += icingProbability.filter((probability) => probability > 0.3).length;
        expect(icingProbability.findIndex((probability, cell) => probability > cloudy[cell]!)).toBe(-1);
      }),
      RUNS,
    );
    expect(icy).toBeGreaterThan(1000);
  });
});

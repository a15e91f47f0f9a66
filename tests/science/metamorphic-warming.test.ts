/** Air above 0 degC through and through grows no ice; a single layer that warms may bring freezing rain below it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, type IcingColumns, LARGE_DROPS, type Profile } from '../../worker/science/columns.ts';
import { FREEZING_K } from '../../worker/science/constants.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { type ErrorSpread, NO_ERROR } from '../../worker/science/error-spreads.ts';
import { wetBulbK } from '../../worker/science/humidity.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { drawAlong } from '../support/draw-along.ts';
import { even } from '../support/even-numbers.ts';
import { alongPoints, makeProfile, makeSettings } from '../support/make-profile.ts';
import { type GridAir, gridAir, profileOfGridAir } from '../support/random-grid-air.ts';

const axis = makeAltitudeAxis({ lowestM: 150, cellDepthM: 150, cellCount: 44 });
const settings = makeSettings(axis.cellCount);

const diagnose = (profile: Profile) => diagnoseColumns(weatherColumnsFromProfiles([profile], axis), settings);

/** The same air, each level that is not as much above 0 degC by its wet bulb warmed until it is. */
function warmed(air: GridAir, overK: number): Profile {
  const profile = profileOfGridAir(air);
  for (let level = 0; level < profile.levelCount; level += 1) {
    profile.temperatureK[level] = Math.max(FREEZING_K + overK, profile.temperatureK[level]!);
    while (!(coldestOf(profile, level) >= FREEZING_K + overK)) profile.temperatureK[level]! += 0.5;
  }
  return profile;
}

const coldestOf = ({ temperatureK, relativeHumidityRatio, pressurePa }: Profile, level: number) =>
  Math.min(
    temperatureK[level]!,
    wetBulbK(temperatureK[level]!, relativeHumidityRatio[level]!, pressurePa[level]!),
  );

const ICE = [
  'icingProbability',
  'wingGrowthMps',
  'rodGrowthMps',
  'wingCatchKgPerM2S',
  'intensity',
  'iceKind',
  'largeDrops',
  'largeDropProbability',
] as const;

/** Every cell is known, and there is nothing of ice in any of them. */
function expectNoIce(icing: IcingColumns): void {
  expect(icing.state.every((state) => state === CELL_STATE.known)).toBe(true);
  for (const name of ICE)
    expect(
      icing[name].findIndex((value) => value !== 0),
      name,
    ).toBe(-1);
}

describe('every level warmed until its temperature and its wet bulb are above 0 degC', () => {
  it('grows nothing anywhere, however wet', () => {
    let iced = 0;
    fc.assert(
      fc.property(gridAir, even(0.001, 4), (air, overK) => {
        if (Math.max(...diagnose(profileOfGridAir(air)).icingProbability) > 0.3) iced += 1;
        expectNoIce(diagnose(warmed(air, overK)));
      }),
      { seed: 3, numRuns: 400 },
    );
    expect(iced, 'of the same air before').toBeGreaterThan(150);
  });

  const exactTemperature: ErrorSpread = {
    temperatureK: 0,
    humidityRatio: 0.2,
    lnWater: 1,
    lnDiameter: 0.4,
    heightM: 300,
    placeM: 40_000,
  };
  it.each([
    ['temperature is exact', 0.001, exactTemperature],
    [
      'temperature errs by 0.5 K and all air is over 3 degC',
      3.001,
      { ...exactTemperature, temperatureK: 0.5 },
    ],
  ])('leaves all 64 draws without ice when %s', (_, overK, errors) => {
    fc.assert(
      fc.property(gridAir, gridAir, (air, other) => {
        const [first, second] = [warmed(air, overK), warmed(other, overK)];
        const { drawn, icing } = drawAlong({
          axis,
          pointCount: 3,
          spacingM: 30_000,
          sources: [{ profileAt: (point) => (point === 1 ? second : first), errors }],
        });
        expectNoIce(icing);
        expect(drawn.marks.every((mark) => mark === 0)).toBe(true);
        expect(Math.max(...drawn.growthMps, ...drawn.catchKgPerM2S)).toBe(0);
      }),
      { seed: 4, numRuns: 30 },
    );
  });

  it('leaves a chance of ice in 64 draws while an error of temperature reaches 0 degC', () => {
    const profile = makeProfile({ temperatureC: 0.5, relativeHumidityPct: 100 });
    const errors = { ...NO_ERROR, temperatureK: 1 };
    const { drawn, icing } = drawAlong({
      axis,
      pointCount: 3,
      spacingM: 30_000,
      sources: [{ profileAt: () => profile, errors }],
    });
    expect(Math.min(...icing.icingProbability)).toBeGreaterThan(0.05);
    expect(Math.max(...drawn.probabilityAtLeast.trace)).toBeGreaterThan(0.05);
  });
});

describe('one layer warmed', () => {
  /** Snow cloud, -4 degC and colder all the way; dry below 900 hPa; the layer of 880 to 800 hPa as given. */
  const withLayerAt = (celsius: number) =>
    makeProfile({
      pressureHPa: Array.from({ length: 71 }, (_, level) => 1000 - 10 * level),
      temperatureC: alongPoints([
        [1000, -4],
        [900, -4],
        [880, celsius],
        [800, celsius],
        [780, -5],
        [300, -45],
      ]),
      relativeHumidityPct: alongPoints([
        [1000, 80],
        [900, 80],
        [880, 95],
        [300, 95],
      ]),
    });
  const below = axis.middlePressurePa.findIndex((pressurePa) => pressurePa < 96_000);

  it('may make freezing rain below it, where there was hardly any ice before', () => {
    const [cold, warm] = [diagnose(withLayerAt(-4)), diagnose(withLayerAt(3))];
    expect([cold.largeDrops[below], warm.largeDrops[below]]).toEqual([
      LARGE_DROPS.none,
      LARGE_DROPS.freezingRain,
    ]);
    expect(cold.icingProbability[below]!).toBeLessThan(0.05);
    expect(warm.icingProbability[below]!).toBeGreaterThan(0.5);
    expect(warm.wingGrowthMps[below]!).toBeGreaterThan(cold.wingGrowthMps[below]!);
  });
});

/**
 * Missing is not clear. Any input is taken away, cell by cell or level by level: a cell may become unknown, or hold as much
 * ice as before or more; it may never become known, and never known with less ice.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import {
  CELL_STATE,
  type IcingColumns,
  type Profile,
  type WeatherColumns,
} from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { largeDropHazard } from '../../worker/science/large-drops.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { makeSettings } from '../support/make-profile.ts';
import { AIR_PRESSURES, type DrawnAir, drawnAir, profileOfAir } from '../support/random-air.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 48 });
const settings = makeSettings(axis.cellCount);
const RUNS = { seed: 20, numRuns: 3000 };
const cellIndex = fc.integer({ min: 0, max: axis.cellCount - 1 });
const levelIndex = fc.integer({ min: 0, max: AIR_PRESSURES.length - 1 });

const weatherOf = (profile: Profile) => weatherColumnsFromProfiles([profile], axis);

/** How much a cell threatens, in every way that is judged later. */
function dangerOf(icing: IcingColumns, index: number): Record<string, number> {
  return {
    icingProbability: icing.icingProbability[index]!,
    wingCatch: icing.wingCatchKgPerM2S[index]!,
    liquidWater: icing.liquidWaterKgPerM3[index]!,
    intensity: icing.intensity[index]!,
    largeDrops: largeDropHazard(icing.largeDrops[index]!),
  };
}

/** Asserts the rule over a column. @returns how many cells that had ice became unknown. */
function assertNoClearing(before: IcingColumns, after: IcingColumns): number {
  let lost = 0;
  for (let index = 0; index < before.state.length; index += 1) {
    const wasKnown = before.state[index] === CELL_STATE.known;
    if (after.state[index] !== CELL_STATE.known) {
      if (wasKnown && before.icingProbability[index]! > 0.1) lost += 1;
      continue;
    }
    expect(wasKnown, `cell ${index} became known`).toBe(true);
    const was = dangerOf(before, index);
    const is = dangerOf(after, index);
    for (const [name, value] of Object.entries(was)) {
      const least = value * (1 - 1e-6);
      expect(is[name]!, `${name} of cell ${index}`).toBeGreaterThanOrEqual(least);
    }
  }
  return lost;
}

/** Draws air, spoils it, compares; and asserts that the spoiling did hit ice often enough to mean something. */
function checkSpoiled(
  spoil: (air: DrawnAir, places: readonly number[]) => { before: WeatherColumns; after: WeatherColumns },
  place: fc.Arbitrary<number>,
): void {
  let lost = 0;
  fc.assert(
    fc.property(drawnAir, fc.array(place, { minLength: 1, maxLength: 6 }), (air, places) => {
      const { before, after } = spoil(air, places);
      lost += assertNoClearing(diagnoseColumns(before, settings), diagnoseColumns(after, settings));
    }),
    RUNS,
  );
  expect(lost, 'icy cells that became unknown').toBeGreaterThan(20);
}

/** A copy of columns, its cells spoiled. */
function spoilCells(
  air: DrawnAir,
  places: readonly number[],
  spoilCell: (weather: WeatherColumns, index: number) => void,
): { before: WeatherColumns; after: WeatherColumns } {
  const after = weatherOf(profileOfAir(air));
  for (const place of places) {
    if (after.state[place] === CELL_STATE.known) spoilCell(after, place);
  }
  return { before: weatherOf(profileOfAir(air)), after };
}

describe('cells taken away before the diagnosis', () => {
  test.each([
    ['noData', CELL_STATE.noData],
    ['outsideProfile', CELL_STATE.outsideProfile],
    ['quantityMissing', CELL_STATE.quantityMissing],
    ['decodeFailed', CELL_STATE.decodeFailed],
  ])('state %s, values gone', (_, state) => {
    checkSpoiled(
      (air, places) =>
        spoilCells(air, places, (weather, index) => {
          weather.state[index] = state;
          weather.temperatureK[index] = Number.NaN;
          weather.relativeHumidityRatio[index] = Number.NaN;
          weather.condensateKgPerKg[index] = Number.NaN;
        }),
      cellIndex,
    );
  });

  test('a state that is not known wins over values that are still there, dry and warm', () => {
    checkSpoiled(
      (air, places) =>
        spoilCells(air, places, (weather, index) => {
          weather.state[index] = CELL_STATE.quantityMissing;
          weather.temperatureK[index] = 300;
          weather.relativeHumidityRatio[index] = 0;
          weather.condensateKgPerKg[index] = 0;
        }),
      cellIndex,
    );
  });

  test.each(['temperatureK', 'relativeHumidityRatio'] as const)(
    '%s gone in a cell still called known',
    (quantity) => {
      checkSpoiled(
        (air, places) =>
          spoilCells(air, places, (weather, index) => {
            weather[quantity][index] = Number.NaN;
          }),
        cellIndex,
      );
    },
  );

  test('condensate gone in a cell of a source that gives it', () => {
    checkSpoiled(
      (air, places) =>
        spoilCells({ ...air, condensateBasis: 'liquid' }, places, (weather, index) => {
          weather.condensateKgPerKg[index] = Number.NaN;
        }),
      cellIndex,
    );
  });

  test('everything above a cell gone', () => {
    checkSpoiled((air, places) => {
      const after = weatherOf(profileOfAir(air));
      after.state.fill(CELL_STATE.outsideProfile, Math.min(...places));
      return { before: weatherOf(profileOfAir(air)), after };
    }, cellIndex);
  });

  test('everything below a cell gone', () => {
    checkSpoiled((air, places) => {
      const after = weatherOf(profileOfAir(air));
      after.state.fill(CELL_STATE.outsideProfile, 0, Math.min(...places));
      return { before: weatherOf(profileOfAir(air)), after };
    }, cellIndex);
  });
});

type Lost = 'temperatureK' | 'relativeHumidityRatio' | 'condensateKgPerKg';

/** The same air with quantities missing on the levels. */
function spoilLevels(
  air: DrawnAir,
  levels: readonly number[],
  lost: readonly Lost[],
): { before: WeatherColumns; after: WeatherColumns } {
  const spoiled = profileOfAir(air);
  for (const quantity of lost) {
    for (const level of levels) spoiled[quantity][level] = Number.NaN;
  }
  return { before: weatherOf(profileOfAir(air)), after: weatherOf(spoiled) };
}

describe('values missing on levels', () => {
  test.each<{ lost: Lost[] }>([{ lost: ['temperatureK'] }, { lost: ['relativeHumidityRatio'] }])(
    '$lost',
    ({ lost }) => {
      checkSpoiled((air, levels) => spoilLevels(air, levels, lost), levelIndex);
    },
  );

  test('condensate, of a source that gives it', () => {
    checkSpoiled(
      (air, levels) => spoilLevels({ ...air, condensateBasis: 'total' }, levels, ['condensateKgPerKg']),
      levelIndex,
    );
  });

  test('all condensate at once, of a source that gives it', () => {
    checkSpoiled(
      (air) =>
        spoilLevels({ ...air, condensateBasis: 'total' }, [...AIR_PRESSURES.keys()], ['condensateKgPerKg']),
      levelIndex,
    );
  });

  test('humidity of every level above one', () => {
    checkSpoiled((air, levels) => {
      const above = [...AIR_PRESSURES.keys()].filter((level) => level > Math.min(...levels));
      return spoilLevels(air, above, ['relativeHumidityRatio']);
    }, levelIndex);
  });

  test('every level above one, as of an ascent that ended', () => {
    checkSpoiled((air, levels) => {
      const count = 2 + Math.min(...levels);
      const whole = profileOfAir(air);
      const ended: Profile = {
        ...whole,
        levelCount: count,
        pressurePa: whole.pressurePa.slice(0, count),
        geopotentialHeightM: whole.geopotentialHeightM.slice(0, count),
        temperatureK: whole.temperatureK.slice(0, count),
        relativeHumidityRatio: whole.relativeHumidityRatio.slice(0, count),
        windEastMps: whole.windEastMps.slice(0, count),
        windNorthMps: whole.windNorthMps.slice(0, count),
        verticalVelocityPaPerS: whole.verticalVelocityPaPerS.slice(0, count),
        condensateKgPerKg: whole.condensateKgPerKg.slice(0, count),
      };
      return { before: weatherOf(whole), after: weatherOf(ended) };
    }, levelIndex);
  });

  test('all that is needed and the height too, so that of an ascent it would be a level of wind alone', () => {
    checkSpoiled((air, levels) => {
      const spoiled = profileOfAir(air);
      for (const level of levels) {
        spoiled.temperatureK[level] = Number.NaN;
        spoiled.relativeHumidityRatio[level] = Number.NaN;
        spoiled.geopotentialHeightM[level] = Number.NaN;
      }
      return { before: weatherOf(profileOfAir(air)), after: weatherOf(spoiled) };
    }, levelIndex);
  });
});

test('wind and height that are missing change no icing at all', () => {
  fc.assert(
    fc.property(drawnAir, (air) => {
      const spoiled = profileOfAir(air);
      spoiled.windEastMps.fill(Number.NaN);
      spoiled.geopotentialHeightM.fill(Number.NaN);
      const before = diagnoseColumns(weatherOf(profileOfAir(air)), settings);
      expect(diagnoseColumns(weatherOf(spoiled), settings)).toEqual(before);
    }),
    { seed: 21, numRuns: 50 },
  );
});

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { makeAltitudeAxis } from '../../worker/science/altitude-axis.ts';
import { CELL_STATE, type Profile, type WeatherColumns } from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { weatherColumnsFromProfiles } from '../../worker/science/profile-columns.ts';
import { cFromK, kFromC } from '../../worker/science/units.ts';
import { assertClose } from '../support/assert-close.ts';
import { alongPoints, makeProfile, makeSettings } from '../support/make-profile.ts';

const axis = makeAltitudeAxis({ lowestM: 0, cellDepthM: 150, cellCount: 60 });

function columnOf(profile: Profile): WeatherColumns {
  return weatherColumnsFromProfiles([profile], axis);
}

/** Cell whose middle is nearest to a pressure. */
function cellAt(pressureHPa: number): number {
  let nearest = 0;
  axis.middlePressurePa.forEach((pressurePa, cell) => {
    const isNearer =
      Math.abs(pressurePa - pressureHPa * 100) <
      Math.abs(axis.middlePressurePa[nearest]! - pressureHPa * 100);
    if (isNearer) nearest = cell;
  });
  return nearest;
}

const stateAt = (profile: Profile, pressureHPa: number) => columnOf(profile).state[cellAt(pressureHPa)];

describe('values', () => {
  test('temperature is linear in ln p between levels', () => {
    const columns = columnOf(makeProfile({ pressureHPa: [1000, 850], temperatureC: [4, -6] }));
    const cell = cellAt(920);
    const share = Math.log(100000 / axis.middlePressurePa[cell]!) / Math.log(1000 / 850);
    assertClose(cFromK(columns.temperatureK[cell]!), 4 - 10 * share, { abs: 1e-4, why: 'single precision' });
  });

  test('a moist layer thinner than a cell keeps its full humidity', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 903, 901, 899, 850, 800],
      relativeHumidityPct: [30, 30, 99, 30, 30, 30],
    });
    const columns = columnOf(profile);
    const greatest = Math.max(...columns.relativeHumidityRatio.filter((value) => Number.isFinite(value)));
    expect(greatest).toBeCloseTo(0.99, 6);
  });

  test('condensate is the greatest in the cell, and missing wind leaves the cell known', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 903, 901, 899, 850],
      condensateGPerKg: [0, 0, 0.3, 0, 0],
      condensateBasis: 'total',
      windEastMps: Number.NaN,
    });
    const columns = columnOf(profile);
    expect(Math.max(...columns.condensateKgPerKg.filter((value) => Number.isFinite(value)))).toBeCloseTo(
      3e-4,
      9,
    );
    expect(columns.state[cellAt(901)]).toBe(CELL_STATE.known);
    expect(columns.windEastMps[cellAt(901)]).toBeNaN();
  });

  test('points made by the interpolation itself change nothing', () => {
    const inserted = fc.array(fc.double({ min: 0.02, max: 0.98, noNaN: true }), {
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(inserted, (shares) => {
        const pressures = [1000, 940, 890, 850, 800, 740, 700];
        const temperatures = [2, 1, -4, -1, -8, -9, -12];
        const humidities = [60, 95, 100, 40, 30, 98, 20];
        const temperatureC = alongPoints(pressures.map((hPa, index) => [hPa, temperatures[index]!]));
        const relativeHumidityPct = alongPoints(pressures.map((hPa, index) => [hPa, humidities[index]!]));
        const more = shares.map((share) => 1000 * (700 / 1000) ** share);
        const all = [...new Set([...pressures, ...more])].sort((a, b) => b - a);
        const plain = columnOf(makeProfile({ pressureHPa: pressures, temperatureC, relativeHumidityPct }));
        const denser = columnOf(makeProfile({ pressureHPa: all, temperatureC, relativeHumidityPct }));
        expect(denser.state).toEqual(plain.state);
        plain.state.forEach((state, cell) => {
          if (state !== CELL_STATE.known) return;
          const tolerance = { abs: 1e-5, why: 'rounding' };
          assertClose(denser.temperatureK[cell]!, plain.temperatureK[cell]!, { abs: 1e-4, why: 'rounding' });
          assertClose(denser.relativeHumidityRatio[cell]!, plain.relativeHumidityRatio[cell]!, tolerance);
        });
      }),
      { seed: 7, numRuns: 60 },
    );
  });
});

describe('what is not known', () => {
  test('no level below the lowest is made up', () => {
    expect(stateAt(makeProfile({ pressureHPa: [950, 900, 850] }), 980)).toBe(CELL_STATE.outsideProfile);
  });

  test('a cell that reaches above the highest level is unknown, also when its middle does not', () => {
    const cell = cellAt(800);
    const top = (axis.middlePressurePa[cell]! + axis.edgePressurePa[cell + 1]!) / 2;
    const columns = columnOf(makeProfile({ pressureHPa: [1000, 900, top / 100] }));
    expect(columns.state[cell - 1]).toBe(CELL_STATE.known);
    expect(columns.state[cell]).toBe(CELL_STATE.outsideProfile);
  });

  test('a level that lost humidity leaves a hole up to its neighbors', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 950, 900, 850, 800],
      relativeHumidityPct: [50, 50, Number.NaN, 50, 50],
    });
    expect(stateAt(profile, 920)).toBe(CELL_STATE.quantityMissing);
    expect(stateAt(profile, 870)).toBe(CELL_STATE.quantityMissing);
    expect(stateAt(profile, 970)).toBe(CELL_STATE.known);
    expect(stateAt(profile, 825)).toBe(CELL_STATE.known);
  });

  test('a lost value is bridged over at most about 10 hPa', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 904, 900, 896, 850],
      relativeHumidityPct: [50, 50, Number.NaN, 50, 50],
    });
    expect(stateAt(profile, 900)).toBe(CELL_STATE.known);
  });

  test('an ascent’s level with wind alone is no hole, a mandatory one is, and a model’s always is', () => {
    const withWindLevel = (hPa: number) =>
      makeProfile({
        pressureHPa: [1000, 950, hPa, 800, 750],
        temperatureC: [0, 0, Number.NaN, 0, 0],
        relativeHumidityPct: [50, 50, Number.NaN, 50, 50],
      });
    const ofAscent = (hPa: number) => ({ ...withWindLevel(hPa), mayHaveWindLevels: true });
    expect(stateAt(ofAscent(870), 870)).toBe(CELL_STATE.known);
    expect(stateAt(ofAscent(850), 870)).toBe(CELL_STATE.quantityMissing);
    expect(stateAt(withWindLevel(870), 870)).toBe(CELL_STATE.quantityMissing);
  });

  test('a level without anything is a hole', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 950, 870, 800, 750],
      temperatureC: [0, 0, Number.NaN, 0, 0],
      relativeHumidityPct: [50, 50, Number.NaN, 50, 50],
      windEastMps: [0, 0, Number.NaN, 0, 0],
    });
    expect(stateAt(profile, 870)).toBe(CELL_STATE.quantityMissing);
  });

  test('levels 200 hPa apart at 900 hPa say nothing of the air between', () => {
    expect(stateAt(makeProfile({ pressureHPa: [1000, 900, 700, 650] }), 800)).toBe(CELL_STATE.outsideProfile);
    expect(stateAt(makeProfile({ pressureHPa: [1000, 850, 700, 650] }), 775)).toBe(CELL_STATE.known);
  });

  test('missing humidity at the highest levels is a missing quantity, not the end of the profile', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 950, 900, 850, 800],
      relativeHumidityPct: [50, 50, 50, Number.NaN, Number.NaN],
    });
    expect(stateAt(profile, 830)).toBe(CELL_STATE.quantityMissing);
    expect(stateAt(profile, 700)).toBe(CELL_STATE.outsideProfile);
  });

  test('an empty profile has no data, one of wind alone is outside', () => {
    expect(stateAt(makeProfile({ pressureHPa: [] }), 800)).toBe(CELL_STATE.noData);
    const windOnly = makeProfile({
      pressureHPa: [950, 880, 820],
      temperatureC: Number.NaN,
      relativeHumidityPct: Number.NaN,
    });
    expect(stateAt({ ...windOnly, mayHaveWindLevels: true }, 850)).toBe(CELL_STATE.outsideProfile);
    expect(stateAt(windOnly, 850)).toBe(CELL_STATE.quantityMissing);
  });

  test('taking levels away never makes an unknown cell known, nor the other way a value appear', () => {
    const kept = fc.uniqueArray(fc.integer({ min: 0, max: 28 }), { minLength: 0, maxLength: 29 });
    fc.assert(
      fc.property(kept, (indices) => {
        const all = Array.from({ length: 29 }, (_, index) => 1000 - 25 * index);
        const fewer = all.filter((_, index) => indices.includes(index));
        const full = columnOf(makeProfile({ pressureHPa: all }));
        const thinned = columnOf(makeProfile({ pressureHPa: fewer }));
        thinned.state.forEach((state, cell) => {
          if (state !== CELL_STATE.known) expect(thinned.temperatureK[cell]).toBeNaN();
          else expect(full.state[cell]).toBe(CELL_STATE.known);
        });
      }),
      { seed: 11, numRuns: 100 },
    );
  });
});

describe('the ground', () => {
  const onGround = makeProfile({
    pressureHPa: [980, 950, 900],
    heightM: [280, 540, 990],
    surfaceHeightM: 280,
  });

  test('cells under a lowest level that stands on the ground are below ground, the cut cell is known', () => {
    const columns = columnOf(onGround);
    const known = columns.state.indexOf(CELL_STATE.known);
    expect(known).toBeGreaterThan(0);
    expect([...columns.state.slice(0, known)].every((state) => state === CELL_STATE.belowGround)).toBe(true);
    expect(axis.middlePressurePa[known]!).toBeLessThan(98000);
    expect(axis.middlePressurePa[known - 1]!).toBeGreaterThan(98000);
  });

  test('between the ground and a lowest level well above it nothing is known', () => {
    const profile = makeProfile({
      pressureHPa: [950, 925, 900],
      heightM: [540, 760, 990],
      surfaceHeightM: 20,
    });
    expect(stateAt(profile, 980)).toBe(CELL_STATE.outsideProfile);
    expect(stateAt(profile, 1013)).toBe(CELL_STATE.outsideProfile);
  });

  test('levels of a model under its ground do not make air there', () => {
    const profile = makeProfile({
      pressureHPa: [1000, 950, 900, 850],
      heightM: [110, 540, 990, 1460],
      surfaceHeightM: 900,
    });
    expect(stateAt(profile, 930)).toBe(CELL_STATE.belowGround);
    expect(stateAt(profile, 870)).toBe(CELL_STATE.known);
  });

  test('without the height of the ground no cell is called below it', () => {
    const columns = columnOf(makeProfile({ pressureHPa: [980, 950, 900], heightM: [280, 540, 990] }));
    expect([...columns.state].includes(CELL_STATE.belowGround)).toBe(false);
  });

  test('at screen height the condensate of the lowest model level serves', () => {
    const profile = makeProfile({
      pressureHPa: [983, 975, 950, 925],
      heightM: [250, 320, 540, 760],
      surfaceHeightM: 250,
      condensateGPerKg: [Number.NaN, 0.2, 0.1, 0],
      condensateBasis: 'liquid',
    });
    const columns = columnOf(profile);
    const lowest = columns.state.indexOf(CELL_STATE.known);
    expect(columns.condensateKgPerKg[lowest]).toBeCloseTo(2e-4, 9);
  });

  test('heights a profile lacks follow from temperature, 0 degC being 8 km a factor e', () => {
    const columns = columnOf(
      makeProfile({
        pressureHPa: [1000, 950, 900, 850],
        heightM: [100, Number.NaN, Number.NaN, Number.NaN],
        temperatureC: 0,
        relativeHumidityPct: Number.NaN,
      }),
    );
    expect(columns.state[cellAt(900)]).toBe(CELL_STATE.quantityMissing);
    const dry = columnOf(
      makeProfile({
        pressureHPa: [1000, 950, 900, 850],
        heightM: [100, Number.NaN, Number.NaN, Number.NaN],
        temperatureC: 0,
        relativeHumidityPct: 0,
      }),
    );
    const cell = cellAt(900);
    const expected =
      100 + ((287.05287 * kFromC(0)) / 9.80665) * Math.log(100000 / axis.middlePressurePa[cell]!);
    assertClose(dry.geopotentialHeightM[cell]!, expected, { abs: 0.1, why: 'single precision' });
  });
});

describe('values lost on one level of a source that gives them', () => {
  const losing = (change: (profile: Profile) => void) => {
    const profile: Profile = {
      ...makeProfile({
        pressureHPa: [925, 850, 780, 700],
        temperatureC: -8,
        relativeHumidityPct: 60,
        condensateGPerKg: 0.1,
        condensateBasis: 'liquid',
      }),
      cloudFractionRatio: Float64Array.of(0.1, 1, 0.1, 0.1),
      verticalVelocityPaPerS: Float64Array.of(1.2, -1.2, 1.2, 1.2),
    };
    const thin = makeAltitudeAxis({ lowestM: 1000, cellDepthM: 100, cellCount: 12 });
    const iceIn = () =>
      diagnoseColumns(weatherColumnsFromProfiles([profile], thin), makeSettings(thin.cellCount))
        .icingProbability;
    const before = iceIn();
    change(profile);
    return { before, after: iceIn() };
  };

  test.each(['cloudFractionRatio', 'verticalVelocityPaPerS'] as const)(
    '%s never lowers the chance of ice',
    (name) => {
      const { before, after } = losing((profile) => {
        profile[name]![1] = Number.NaN;
      });
      expect(Math.max(...before)).toBeGreaterThan(0.5);
      before.forEach((probability, cell) => {
        if (!Number.isNaN(probability)) expect(after[cell]!).toBeGreaterThanOrEqual(probability - 1e-6);
      });
    },
  );
});

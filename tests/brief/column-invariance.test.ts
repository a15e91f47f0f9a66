/** POST /api/column: the same air said in another way has the same answer. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { diagnoseColumn } from '../../worker/brief/column-diagnosis.ts';
import { InvalidRequestError } from '../../worker/errors.ts';
import { builtInAircraft } from '../../worker/flight/aircraft-profiles.ts';
import { type ColumnRequest, columnRequestSchema } from '../../worker/schema/column.ts';
import { dewPointK } from '../../worker/science/humidity.ts';
import { saturationVaporPressureWaterPa } from '../../worker/science/saturation.ts';
import { pressurePaFromPressureAltitudeM } from '../../worker/science/standard-atmosphere.ts';
import { cFromK, hPaFromPa, kFromC, mFromFt } from '../../worker/science/units.ts';
import { AIR_PRESSURES } from '../support/random-air.ts';
import { type GridAir, gridAir } from '../support/random-grid-air.ts';

type Level = ColumnRequest['levels'][number];
type Answer = ReturnType<typeof diagnoseColumn>;

const AIRCRAFT = 'generic-fluid-turboprop';

/** Checked as the route checks it. */
const diagnosed = (request: Partial<ColumnRequest> & { readonly levels: readonly Level[] }): Answer =>
  diagnoseColumn(columnRequestSchema.parse({ aircraft: AIRCRAFT, ...request }));

/** A model's column, or, without water and motion, an ascent's; humidity at least 5 %. */
const levelsOf = (air: GridAir, isModel: boolean): Level[] =>
  AIR_PRESSURES.map((pressureHPa, level) => ({
    pressureHPa,
    temperatureC: air.temperatureC[level]!,
    relativeHumidityPct: Math.max(5, air.relativeHumidityPct[level]!),
    ...(isModel && {
      cloudWaterGPerKg: air.condensateGPerKg[level]!,
      cloudFraction: air.cloudFractionRatio[level]!,
      verticalVelocityPaPerS: air.verticalVelocityPaPerS[level]!,
    }),
  }));
const anyLevels = fc
  .record({ air: gridAir, isModel: fc.boolean() })
  .map(({ air, isModel }) => levelsOf(air, isModel));
const shuffled = <T>(items: readonly T[]) =>
  fc.shuffledSubarray([...items], { minLength: items.length, maxLength: items.length });
const check = (seed: number, numRuns: number) => ({ seed, numRuns });

/** Steps that numbers of the answer are rounded to. */
const STEP: Readonly<Record<string, number>> = {
  pressureHPa: 0.01,
  pressureAltitudeFt: 1,
  temperatureC: 0.01,
  relativeHumidityWaterPct: 0.1,
  relativeHumidityIcePct: 0.1,
  frostPointC: 0.01,
  wetBulbC: 0.01,
  iceBulbC: 0.01,
  heightFt: 1,
  trueAirspeedKt: 0.1,
  cloudProbability: 0.001,
  icingProbability: 0.001,
  liquidWaterGPerM3: 0.0001,
  medianVolumeDiameterUm: 0.01,
  collectionEfficiency: 0.0001,
  rodOverallEfficiency: 0.0001,
  freezingFraction: 0.0001,
  growthMmPerMin: 0.0001,
  rodGrowthMmPerMin: 0.0001,
  largeDropProbability: 0.001,
  envelopeRatio: 0.001,
};

/** Members of one level's answer that differ: words by anything, numbers by more than the step they are rounded to. */
function differences(one: object, other: object): string[] {
  const theirs = other as Record<string, unknown>;
  const names = Object.keys(one);
  if (names.join() !== Object.keys(other).join()) return [`members ${names} and ${Object.keys(other)}`];
  return Object.entries(one).flatMap(([name, value]) => {
    const isSame =
      typeof value === 'number'
        ? Math.abs(value - (theirs[name] as number)) <= 1.001 * STEP[name]!
        : value === theirs[name];
    return isSame ? [] : [`${name}: ${value}, ${theirs[name]}`];
  });
}

const allDifferences = (one: Answer, other: Answer) =>
  one.levels.flatMap((level, index) => differences(level, other.levels[index]!));
const icyLevels = ({ levels }: Answer) =>
  levels.filter((level) => 'icingProbability' in level && level.icingProbability > 0.3).length;

describe('POST /api/column gives the same answer', () => {
  it('for levels in any order, highest pressure first', () => {
    let icy = 0;
    const given = anyLevels.chain((levels) => fc.tuple(fc.constant(levels), shuffled(levels)));
    fc.assert(
      fc.property(given, ([levels, mixed]) => {
        const inOrder = diagnosed({ levels });
        expect(diagnosed({ levels: mixed })).toEqual(inOrder);
        expect(inOrder.levels.map(({ pressureHPa }) => pressureHPa)).toEqual(AIR_PRESSURES);
        icy += icyLevels(inOrder);
      }),
      check(32, 100),
    );
    expect(icy).toBeGreaterThan(200);
  });

  it('for a dew point and for the relative humidity it stands for, level by level', () => {
    const asDewPoint = ({ relativeHumidityPct = Number.NaN, ...level }: Level): Level => {
      const vaporPa =
        (relativeHumidityPct / 100) * saturationVaporPressureWaterPa(kFromC(level.temperatureC));
      return { ...level, dewPointC: cFromK(dewPointK(vaporPa)) };
    };
    fc.assert(
      fc.property(anyLevels, fc.array(fc.boolean(), { minLength: 33, maxLength: 33 }), (levels, which) => {
        const some = levels.map((level, index) => (which[index] === true ? asDewPoint(level) : level));
        const [byHumidity, mixed] = [diagnosed({ levels }), diagnosed({ levels: some })];
        expect(allDifferences(byHumidity, mixed)).toEqual([]);
        expect(allDifferences(byHumidity, diagnosed({ levels: levels.map(asDewPoint) }))).toEqual([]);
      }),
      check(33, 60),
    );
  });

  it('but not for a humidity 1 % higher', () => {
    fc.assert(
      fc.property(anyLevels, (levels) => {
        const moister = levels.map((level) => ({
          ...level,
          relativeHumidityPct: level.relativeHumidityPct! + 1,
        }));
        expect(allDifferences(diagnosed({ levels }), diagnosed({ levels: moister })).length).toBeGreaterThan(
          33,
        );
      }),
      check(34, 20),
    );
  });

  it('with heights and winds, with some of them or with none, but for the heights themselves', () => {
    const withoutHeights = ({ levels, ...answer }: Answer) => ({
      ...answer,
      levels: levels.map(({ heightFt, ...level }) => level),
    });
    fc.assert(
      fc.property(anyLevels, fc.integer({ min: 1, max: 32 }), (levels, most) => {
        const placed = (level: Level, index: number): Level => ({
          ...level,
          heightM: 100 + 190 * index,
          windDirectionDeg: 270,
          windSpeedKt: 40,
        });
        const all = diagnosed({ levels: levels.map(placed) });
        const some = diagnosed({
          levels: levels.map((level, index) => (index < most ? placed(level, index) : level)),
        });
        const none = diagnosed({ levels });
        expect(withoutHeights(some)).toEqual(withoutHeights(all));
        expect(withoutHeights(none)).toEqual(withoutHeights(all));
        expect(all.levels.map(({ heightFt }) => heightFt)).toEqual(
          levels.map((_, index) => Math.round((100 + 190 * index) / 0.3048)),
        );
        expect(none.levels.every(({ heightFt }) => heightFt === null)).toBe(true);
        expect(some.levels.every(({ heightFt }) => heightFt !== null)).toBe(true);
      }),
      check(35, 60),
    );
  });

  it('for the speed of a row of the aircraft’s table and for the same speed said outright', () => {
    for (const aircraft of builtInAircraft) {
      const rows = aircraft.trueAirspeedKt;
      const levels = rows.map(({ pressureAltitudeFt }, index) => ({
        pressureHPa: hPaFromPa(pressurePaFromPressureAltitudeM(mFromFt(pressureAltitudeFt))),
        temperatureC: -4 - 3 * index,
        relativeHumidityPct: 99,
      }));
      const byTable = diagnosed({ levels, aircraft: aircraft.id });
      rows.forEach(({ value }, row) => {
        const outright = diagnosed({ levels, aircraft: aircraft.id, trueAirspeedKt: value });
        expect(byTable.levels[row]!.trueAirspeedKt).toBe(value);
        expect(differences(byTable.levels[row]!, outright.levels[row]!)).toEqual([]);
      });
    }
  });

  it('for an aircraft by its name and by its whole profile, and for a table of one speed and that speed', () => {
    fc.assert(
      fc.property(anyLevels, fc.integer({ min: 80, max: 240 }), (levels, speedKt) => {
        const profile = builtInAircraft.find(({ id }) => id === AIRCRAFT)!;
        expect(diagnosed({ levels, aircraft: profile })).toEqual(diagnosed({ levels }));
        const flat = {
          ...profile,
          trueAirspeedKt: [0, 25_000].map((pressureAltitudeFt) => ({ pressureAltitudeFt, value: speedKt })),
        };
        expect(diagnosed({ levels, aircraft: flat })).toEqual(diagnosed({ levels, trueAirspeedKt: speedKt }));
      }),
      check(36, 40),
    );
  });
});

it('two levels of one pressure are refused wherever they stand', () => {
  const levels = [900, 850, 800, 850].map((pressureHPa) => ({
    pressureHPa,
    temperatureC: -5,
    relativeHumidityPct: 90,
  }));
  fc.assert(
    fc.property(shuffled(levels), (mixed) => {
      const refusal = captured(() => diagnosed({ levels: mixed }));
      expect(refusal).toBeInstanceOf(InvalidRequestError);
      expect(refusal).toMatchObject({ field: 'levels', found: 'two levels at 850 hPa' });
    }),
    check(37, 24),
  );
});

function captured(act: () => unknown): unknown {
  try {
    return act();
  } catch (error) {
    return error;
  }
}

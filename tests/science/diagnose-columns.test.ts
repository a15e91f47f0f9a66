/** Whole columns that a forecaster would know by sight, and properties that hold for any air. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  CELL_STATE,
  type DiagnosisSettings,
  type IcingColumns,
  INTENSITY,
  LARGE_DROPS,
  type Profile,
} from '../../worker/science/columns.ts';
import { diagnoseColumns } from '../../worker/science/diagnose-columns.ts';
import { columnFromLevels } from '../../worker/science/level-column.ts';
import { kFromC, mpsFromKt } from '../../worker/science/units.ts';

const SEED = 20260114;

/** hPa, degrees C, relative humidity over water in percent, gpm. */
type Row = readonly [pressureHPa: number, temperatureC: number, humidityPct: number, heightM: number];

function profileOf(rows: readonly Row[]): Profile {
  const column = (at: (row: Row) => number) => Float64Array.from(rows, at);
  const missing = () => new Float64Array(rows.length).fill(Number.NaN);
  return {
    levelCount: rows.length,
    pressurePa: column(([hPa]) => hPa * 100),
    geopotentialHeightM: column(([, , , heightM]) => heightM),
    temperatureK: column(([, celsius]) => kFromC(celsius)),
    relativeHumidityRatio: column(([, , percent]) => percent / 100),
    windEastMps: missing(),
    windNorthMps: missing(),
    verticalVelocityPaPerS: missing(),
    condensateKgPerKg: missing(),
    condensateBasis: 'none',
    surfaceHeightM: Number.NaN,
  };
}

function settingsFor(cellCount: number, change: Partial<DiagnosisSettings> = {}): DiagnosisSettings {
  return {
    trueAirspeedMps: new Float64Array(cellCount).fill(mpsFromKt(160)),
    wingNoseRadiusM: 0.02,
    rodRadiusM: 0.006,
    dropletNumberPerM3: 150e6,
    ...change,
  };
}

const diagnose = (rows: readonly Row[], change: Partial<DiagnosisSettings> = {}): IcingColumns =>
  diagnoseColumns(columnFromLevels(profileOf(rows)), settingsFor(rows.length, change));

/** Every 150 m from 1000 hPa; temperature and humidity by height. */
function column(
  temperatureC: (heightM: number) => number,
  humidityPct: (heightM: number) => number,
  topM = 9000,
): Row[] {
  const rows: Row[] = [];
  for (let heightM = 100; heightM <= topM; heightM += 150) {
    rows.push([1013 * (1 - heightM / 44331) ** 5.256, temperatureC(heightM), humidityPct(heightM), heightM]);
  }
  return rows;
}
const cellsWhere = (rows: readonly Row[], holds: (row: Row) => boolean) =>
  rows.flatMap((row, cell) => (holds(row) ? [cell] : []));
const between = (low: number, high: number) => (row: Row) => row[3] >= low && row[3] < high;

describe('columns known by sight', () => {
  it('a shallow deck at -8 degrees ices, and the dry air above does not', () => {
    const rows = column(
      (z) => (z < 2400 ? -4 - z / 400 : -7 - (z - 2400) / 200),
      (z) => (z > 900 && z < 2400 ? 100 : 40),
    );
    const icing = diagnose(rows);
    for (const cell of cellsWhere(rows, between(1000, 2300))) {
      expect(icing.icingProbability[cell]).toBeGreaterThan(0.6);
      expect(icing.intensity[cell]).toBeGreaterThanOrEqual(INTENSITY.trace);
      expect(icing.liquidWaterKgPerM3[cell]! * 1000).toBeLessThan(0.5);
    }
    for (const cell of cellsWhere(rows, between(2700, 9000)))
      expect(icing.icingProbability[cell]).toBeLessThan(0.01);
  });

  it('the same deck warmer than freezing does not ice', () => {
    const rows = column(
      () => 4,
      (z) => (z > 900 && z < 2400 ? 100 : 40),
      3000,
    );
    const icing = diagnose(rows);
    expect(Math.max(...icing.icingProbability)).toBe(0);
    expect(Math.max(...icing.wingGrowthMps)).toBe(0);
    expect(
      Math.min(...icing.cloudProbability.filter((_, cell) => between(1000, 2300)(rows[cell]!))),
    ).toBeGreaterThan(0.5);
  });

  it('a deep cloud with a top near -50 degrees keeps little liquid, one with a top at -10 most of it', () => {
    const cold = diagnose(
      column(
        (z) => -5 - z / 180,
        () => 99,
      ),
    );
    const middling = diagnose(
      column(
        (z) => -5 - z / 180,
        (z) => (z < 4000 ? 99 : 30),
      ),
    );
    expect(middling.icingProbability[2]).toBeLessThan(0.25);
    const warm = diagnose(
      column(
        (z) => -5 - z / 180,
        (z) => (z < 900 ? 99 : 30),
      ),
    );
    expect(cold.icingProbability[2]).toBeLessThan(0.15);
    expect(cold.icingProbability[2]).toBeGreaterThan(0.02);
    expect(warm.icingProbability[2]).toBeGreaterThan(0.5);
  });

  it('rain from a warm layer through freezing air below it is freezing rain, and ices', () => {
    const rows = column(
      (z) => (z < 1200 ? -3 : z < 2600 ? 4 : 4 - (z - 2600) / 150),
      (z) => (z < 1200 ? 90 : 99),
    );
    const icing = diagnose(rows);
    for (const cell of cellsWhere(rows, between(100, 1000))) {
      expect(icing.largeDrops[cell]).toBe(LARGE_DROPS.freezingRain);
      expect(icing.intensity[cell]).toBeGreaterThanOrEqual(INTENSITY.light);
    }
    expect(icing.largeDrops[cellsWhere(rows, between(1700, 2200))[0]!]).toBe(LARGE_DROPS.none);
  });

  it('the same layers under dry air have no rain to freeze', () => {
    const rows = column(
      (z) => (z < 1200 ? -3 : z < 2600 ? 4 : 4 - (z - 2600) / 150),
      (z) => (z < 1200 ? 60 : 30),
    );
    expect(Math.max(...diagnose(rows).largeDrops)).toBe(LARGE_DROPS.none);
  });

  it('a deep cold layer below the warm one turns rain to ice pellets', () => {
    const rows = column(
      (z) => (z < 1500 ? -11 : z < 2200 ? 1.5 : 1.5 - (z - 2200) / 150),
      (z) => (z < 1500 ? 90 : 99),
    );
    expect(diagnose(rows).largeDrops[1]).toBe(LARGE_DROPS.icePellets);
  });

  it('a deep warm-topped cloud with few droplets holds freezing drizzle, with many it is not judged to', () => {
    const rows = column(
      (z) => -3 - z / 500,
      (z) => (z > 500 && z < 3200 ? 100 : 40),
    );
    const few = diagnose(rows, { dropletNumberPerM3: 60e6 });
    const many = diagnose(rows, { dropletNumberPerM3: 150e6 });
    expect(few.largeDrops[cellsWhere(rows, between(1500, 1700))[0]!]).toBe(LARGE_DROPS.freezingDrizzle);
    expect(Math.max(...many.largeDrops)).toBe(LARGE_DROPS.none);
  });

  it('a level without humidity is unknown, and so is nothing else made of it', () => {
    const rows = column(
      (z) => -4 - z / 400,
      () => 100,
      3000,
    ).map((row, cell): Row => (cell === 5 ? [row[0], row[1], Number.NaN, row[3]] : row));
    expect(diagnose(rows).state[5]).toBe(CELL_STATE.quantityMissing);
  });

  it('refuses settings that are no numbers', () => {
    const weather = columnFromLevels(
      profileOf(
        column(
          () => -5,
          () => 90,
          1000,
        ),
      ),
    );
    expect(() =>
      diagnoseColumns(weather, settingsFor(weather.axis.cellCount, { wingNoseRadiusM: Number.NaN })),
    ).toThrow(RangeError);
    expect(() => diagnoseColumns(weather, settingsFor(1))).toThrow(RangeError);
  });
});

describe('any air', () => {
  const air = fc.record({
    surfaceC: fc.integer({ min: -30, max: 15 }),
    lapse: fc.integer({ min: -2, max: 9 }),
    humidity: fc.array(fc.integer({ min: 5, max: 104 }), { minLength: 30, maxLength: 30 }),
  });
  const rowsOf = ({ surfaceC, lapse, humidity }: { surfaceC: number; lapse: number; humidity: number[] }) =>
    column(
      (z) => surfaceC - (lapse * z) / 1000,
      (z) => humidity[Math.floor((z - 100) / 150)]!,
      4400,
    );
  const check = (holds: (rows: Row[]) => void) =>
    fc.assert(
      fc.property(air, (given) => holds(rowsOf(given))),
      { seed: SEED, numRuns: 200 },
    );

  it('keeps probabilities within 0 and 1, amounts at or above 0, and every cell known', () => {
    check((rows) => {
      const icing = diagnose(rows);
      for (let cell = 0; cell < rows.length; cell += 1) {
        expect(icing.state[cell]).toBe(CELL_STATE.known);
        expect(icing.icingProbability[cell]).toBeGreaterThanOrEqual(0);
        expect(icing.icingProbability[cell]).toBeLessThanOrEqual(1);
        expect(icing.wingGrowthMps[cell]).toBeGreaterThanOrEqual(0);
        expect(icing.freezingFraction[cell]).toBeLessThanOrEqual(1);
      }
    });
  });

  it('never loses cloud probability where humidity rises', () => {
    check((rows) => {
      const moister = rows.map(
        ([hPa, celsius, percent, heightM]): Row => [hPa, celsius, percent + 3, heightM],
      );
      const [before, after] = [diagnose(rows), diagnose(moister)];
      before.cloudProbability.forEach((probability, cell) => {
        expect(after.cloudProbability[cell]).toBeGreaterThanOrEqual(probability);
      });
    });
  });

  it('grows nothing where every level is well above freezing', () => {
    check((rows) => {
      const warm = rows.map(([hPa, , percent, heightM]): Row => [hPa, 12, percent, heightM]);
      const icing = diagnose(warm);
      expect(Math.max(...icing.wingGrowthMps)).toBe(0);
      expect(Math.max(...icing.icingProbability)).toBe(0);
    });
  });
});

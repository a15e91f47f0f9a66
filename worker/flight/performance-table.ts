/** Performance by altitude and weight, brought to one weight. */
import { InvalidRequestError } from '../errors.ts';
import type { AircraftProfile } from '../schema/aircraft.ts';
import { mFromFt } from '../science/units.ts';
import type { AltitudeTable } from './types.ts';

type Row = AircraftProfile['trueAirspeedKt'][number];

export interface PerformanceReading {
  readonly toSi: (value: number) => number;
  /** Path of the table in the request. */
  readonly field: string;
  /** undefined: as at the heaviest weight of the table, where an aeroplane does least. */
  readonly weightKg: number | undefined;
}

/**
 * Linear between the two nearest weights, as at the lightest below it.
 *
 * @throws InvalidRequestError when rows are out of order, some have a weight and some none, or the weight is more than the heaviest.
 */
export function readPerformance(rows: readonly Row[], reading: PerformanceReading): AltitudeTable {
  rows.forEach((row, index) => {
    refuseDisorder(row, rows[index - 1], `${reading.field}[${index}]`);
  });
  const weightsKg = [...new Set(rows.map((row) => row.weightKg))];
  const tables = weightsKg.map((weightKg) =>
    tableOf(
      rows.filter((row) => row.weightKg === weightKg),
      reading.toSi,
    ),
  );
  const heaviestKg = weightsKg.at(-1);
  if (heaviestKg === undefined || tables.length === 1) return tables[0]!;
  const weightKg = reading.weightKg ?? heaviestKg;
  if (weightKg > heaviestKg) {
    throw new InvalidRequestError({
      field: reading.field,
      found: `no rows for ${weightKg} kg`,
      expected: `rows up to the take-off weight (they end at ${heaviestKg} kg)`,
    });
  }
  return atWeight(weightsKg as number[], tables, weightKg);
}

function refuseDisorder(row: Row, before: Row | undefined, field: string): void {
  if (before === undefined) return;
  if ((row.weightKg === undefined) !== (before.weightKg === undefined)) {
    throw new InvalidRequestError({
      field: `${field}.weightKg`,
      found: row.weightKg === undefined ? 'no weight' : `${row.weightKg}`,
      expected: 'a weight in every row, or in none',
    });
  }
  const [weightKg, beforeKg] = [row.weightKg ?? 0, before.weightKg ?? 0];
  if (weightKg < beforeKg) {
    throw new InvalidRequestError({
      field: `${field}.weightKg`,
      found: `${weightKg}`,
      expected: `at least the row before (${beforeKg})`,
    });
  }
  if (weightKg === beforeKg && row.pressureAltitudeFt <= before.pressureAltitudeFt) {
    throw new InvalidRequestError({
      field: `${field}.pressureAltitudeFt`,
      found: `${row.pressureAltitudeFt}`,
      expected: `more than the row before (${before.pressureAltitudeFt})`,
    });
  }
}

function tableOf(rows: readonly Row[], toSi: (value: number) => number): AltitudeTable {
  return {
    pressureAltitudeM: rows.map((row) => mFromFt(row.pressureAltitudeFt)),
    value: rows.map((row) => toSi(row.value)),
  };
}

function atWeight(
  weightsKg: readonly number[],
  tables: readonly AltitudeTable[],
  weightKg: number,
): AltitudeTable {
  const heavier = weightsKg.findIndex((each) => each >= weightKg);
  if (heavier === -1) return tables.at(-1)!;
  if (heavier === 0) return tables[0]!;
  const [lightKg, heavyKg] = [weightsKg[heavier - 1]!, weightsKg[heavier]!];
  const part = (weightKg - lightKg) / (heavyKg - lightKg);
  const [light, heavy] = [tables[heavier - 1]!, tables[heavier]!];
  const altitudesM = [...new Set([...light.pressureAltitudeM, ...heavy.pressureAltitudeM])].sort(
    (a, b) => a - b,
  );
  return {
    pressureAltitudeM: altitudesM,
    value: altitudesM.map(
      (altitudeM) => (1 - part) * tableValue(light, altitudeM) + part * tableValue(heavy, altitudeM),
    ),
  };
}

/** Value of a performance table: linear between its rows, the end value outside; NaN altitude gives NaN. */
export function tableValue(table: AltitudeTable, pressureAltitudeM: number): number {
  const { pressureAltitudeM: at, value } = table;
  if (Number.isNaN(pressureAltitudeM)) return Number.NaN;
  let above = 0;
  while (above < at.length && at[above]! < pressureAltitudeM) above += 1;
  if (above === at.length) return value.at(-1)!;
  if (above === 0) return value[0]!;
  const lowM = at[above - 1]!;
  const part = (pressureAltitudeM - lowM) / (at[above]! - lowM);
  return value[above - 1]! + part * (value[above]! - value[above - 1]!);
}

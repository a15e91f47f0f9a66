/** Holdover tables as their issuers print them: rows of temperature, columns of what falls, minutes in the cells. */

import type { FluidType, Mix, RampCondition, WingSkin } from '../schema/ground-words.ts';
import type { HoldoverTableText } from '../schema/holdover.ts';

export interface HoldoverCell {
  readonly minimumMinutes: number;
  readonly maximumMinutes: number;
  /** Coldest air that the cell holds for, where the row goes further; °C. */
  readonly coldestC: number | null;
}

export interface HoldoverRow {
  readonly mix: Mix;
  /** Coldest air of the row; its warmest is where the row before it of the same mix ends. */
  readonly coldestC: number;
  /** "Above 0" ends without 0, "0 to -3" with -3. */
  readonly includesColdest: boolean;
  /** One a column; null where the issuer gives no time. */
  readonly cells: readonly (HoldoverCell | null)[];
}

export interface HoldoverTable {
  readonly issuer: string;
  /** "2026-2027". */
  readonly season: string;
  /** "2026-08-01", UTC, as all its dates. */
  readonly issuedOn: string;
  /** Last day of its validity. */
  readonly expiresOn: string;
  /** Never to be flown by: made for trying and tests, or of a season long past. */
  readonly standing: 'in-force' | 'invented' | 'historic';
  readonly fluidType: FluidType;
  readonly fluidName: string;
  /** Of the wing's skin. */
  readonly surface: 'any' | WingSkin;
  readonly columns: readonly (readonly RampCondition[])[];
  /** Warmest first within a mix. */
  readonly rows: readonly HoldoverRow[];
}

/** @param text  As it was loaded and checked. */
export function holdoverTable({ columns, rows, ...rest }: HoldoverTableText): HoldoverTable {
  return {
    ...rest,
    columns: columns.map(({ covers }) => covers),
    rows: rows.map((row) => ({ ...row, cells: row.cells.map(cellOf) })),
  };
}

export function cellOf(cell: HoldoverTableText['rows'][number]['cells'][number]): HoldoverCell | null {
  if (cell === null) return null;
  const [minutes, coldestC] = 'minutes' in cell ? [cell.minutes, cell.coldestC] : [cell, null];
  return { minimumMinutes: minutes[0], maximumMinutes: minutes[1], coldestC };
}

export function rowFor(table: HoldoverTable, mix: Mix, temperatureC: number): HoldoverRow | undefined {
  return table.rows.find(
    (row) =>
      row.mix === mix &&
      (temperatureC > row.coldestC || (row.includesColdest && temperatureC === row.coldestC)),
  );
}

/** undefined where no row or column is for this; null where the issuer gives no time. */
export function cellFor(
  table: HoldoverTable,
  mix: Mix,
  temperatureC: number,
  condition: RampCondition,
): HoldoverCell | null | undefined {
  const column = table.columns.findIndex((covers) => covers.includes(condition));
  const row = rowFor(table, mix, temperatureC);
  if (row === undefined || column === -1) return undefined;
  const cell = row.cells[column] ?? null;
  return cell !== null && cell.coldestC !== null && temperatureC < cell.coldestC ? null : cell;
}

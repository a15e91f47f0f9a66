/** Holdover tables as they are loaded and kept: the checked text, and what the ground folder reads of it. */
import type { HoldoverCell, HoldoverTable } from '../ground/holdover-table.ts';
import type { HoldoverTableText } from '../schema/holdover.ts';

const DAY_MS = 86_400_000;

/** @param text  As it was loaded and checked. */
export function holdoverTable({
  issuedOn,
  expiresOn,
  columns,
  rows,
  ...rest
}: HoldoverTableText): HoldoverTable {
  return {
    issuer: rest.issuer,
    season: rest.season,
    standing: rest.standing,
    fluidType: rest.fluidType,
    surface: rest.surface,
    issuedMs: Date.parse(`${issuedOn}T00:00:00Z`),
    expiresMs: Date.parse(`${expiresOn}T00:00:00Z`) + DAY_MS - 1,
    columns: columns.map(({ covers }) => covers),
    rows: rows.map((row) => ({ ...row, cells: row.cells.map(cellOf) })),
  };
}

function cellOf(cell: HoldoverTableText['rows'][number]['cells'][number]): HoldoverCell | null {
  if (cell === null) return null;
  const [minutes, coldestC] = 'minutes' in cell ? [cell.minutes, cell.coldestC] : [cell, null];
  return { minimumMinutes: minutes[0], maximumMinutes: minutes[1], coldestC };
}

/** Holdover tables as they are loaded and kept, and what one changes of the one before it. */
import { cellOf } from '../ground/holdover-table.ts';
import type { HoldoverTableText } from '../schema/holdover.ts';

/** One of an issuer, a fluid and a surface is in use at a time. */
export function holdoverTableId({ issuer, fluidType, fluidName, surface }: HoldoverTableText): string {
  return `${issuer} / Type ${fluidType} / ${fluidName} / ${surface}`;
}

export interface StoredHoldoverTable {
  readonly operator: string;
  readonly id: string;
  readonly table: HoldoverTableText;
  /** When it was loaded, epoch ms. */
  readonly ingestedMs: number;
}

export interface HoldoverRepository {
  /** In the place of the one with its identifier; gives that one. */
  put(operator: string, table: HoldoverTableText, nowMs: number): Promise<HoldoverTableText | undefined>;
  /** In the order of their identifiers. */
  list(operators: readonly string[]): Promise<readonly StoredHoldoverTable[]>;
}

/** One cell that is another than it was; null for no time, undefined where there was or is no such cell. */
export interface CellChange {
  readonly mix: string;
  readonly coldestC: number;
  readonly heading: string;
  readonly before: string;
  readonly now: string;
}

/** What a table changes of the one before it, cell by cell, by the mix, the cold end of the row and the heading of the column. */
export function changesOfTable(before: HoldoverTableText, now: HoldoverTableText): CellChange[] {
  const [old, fresh] = [cellsOf(before), cellsOf(now)];
  const keys = [...new Set([...old.keys(), ...fresh.keys()])];
  return keys.flatMap((key) => {
    const [was, is] = [old.get(key), fresh.get(key)];
    if (was?.text === is?.text) return [];
    const { mix, coldestC, heading } = (is ?? was)!;
    return {
      mix,
      coldestC,
      heading,
      before: was?.text ?? 'not in the table',
      now: is?.text ?? 'not in the table',
    };
  });
}

function cellsOf({ columns, rows }: HoldoverTableText) {
  const cells = new Map<string, { mix: string; coldestC: number; heading: string; text: string }>();
  for (const { mix, coldestC, cells: printed } of rows)
    for (const [at, cell] of printed.entries()) {
      const { heading } = columns[at]!;
      cells.set(`${mix} ${coldestC} ${heading}`, { mix, coldestC, heading, text: cellText(cell) });
    }
  return cells;
}

function cellText(cell: HoldoverTableText['rows'][number]['cells'][number]): string {
  if (cell === null) return 'no time';
  const { minimumMinutes, maximumMinutes, coldestC } = cellOf(cell)!;
  return `${minimumMinutes}-${maximumMinutes} min${coldestC === null ? '' : `, down to ${coldestC} °C`}`;
}

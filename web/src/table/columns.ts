/** Which columns the altitude table has: few of them level with the axis where there is little room, all where there is much. */

import { SIDE_BY_SIDE_PX, WIDE_TABLE_PX, WIDEST_TABLE_PX } from '../section/layout.ts';
import { type TradeUnit, unitText } from '../units.ts';

/** Head with its unit. */
export function headText({ head, unit }: Column): string {
  return unit === undefined ? head : `${head} ${unitText(unit)}`;
}

export type ColumnId =
  | 'path'
  | 'ice'
  | 'unknown'
  | 'built'
  | 'fluid'
  | 'time'
  | 'fuel'
  | 'temperature'
  | 'wind'
  | 'out'
  | 'why';

export interface Column {
  readonly id: ColumnId;
  readonly head: string;
  /** Of the quantities that are read in a unit of the reader's choice. */
  readonly unit?: TradeUnit;
  /** Share of the table's width. */
  readonly share: number;
  /** The same in a unit whose figures are longer. */
  readonly longShare?: number;
}

const COLUMNS: readonly Column[] = [
  { id: 'path', head: 'along the leg', share: 62 },
  { id: 'ice', head: 'ice min', share: 50 },
  { id: 'unknown', head: 'unknown min', share: 52 },
  { id: 'built', head: 'built', unit: 'mm', share: 42, longShare: 64 },
  { id: 'fluid', head: 'fluid', unit: 'L', share: 52, longShare: 76 },
  { id: 'time', head: 'time h:min', share: 40 },
  { id: 'fuel', head: 'fuel kg', share: 35 },
  { id: 'temperature', head: 'static/ gauge °C', share: 60 },
  { id: 'wind', head: 'wind kt', share: 42 },
  { id: 'out', head: 'way out, mostly', share: 100 },
  { id: 'why', head: 'why', share: 225 },
];

/** plain: rows one under the other, of two lines. The others stand level with the axis. */
export type TableReach = 'plain' | 'narrow' | 'wide' | 'widest';

const REACHES: Readonly<Record<TableReach, readonly ColumnId[]>> = {
  plain: ['path', 'ice', 'unknown', 'built', 'fluid', 'time', 'out'],
  narrow: ['ice', 'unknown', 'built', 'fluid', 'time'],
  wide: ['path', 'ice', 'unknown', 'built', 'fluid', 'time', 'fuel', 'temperature', 'wind', 'out'],
  widest: COLUMNS.map(({ id }) => id),
};

export function columnsOf(reach: TableReach): readonly Column[] {
  return COLUMNS.filter(({ id }) => REACHES[reach].includes(id)).map((column) => {
    const isLong = column.unit !== undefined && unitText(column.unit) !== column.unit;
    return isLong ? { ...column, share: column.longShare ?? column.share } : column;
  });
}

/** What is said of the considered altitude elsewhere, because its row has no room for it. */
export function isInTable(reach: TableReach, id: ColumnId): boolean {
  return REACHES[reach].includes(id);
}

export interface TablePlace {
  readonly reach: TableReach;
  readonly widthPx: number;
}

/** @param isSideBySide  The table stands beside the section, level with its axis. */
export function tablePlace(sheetWidthPx: number, isSideBySide: boolean): TablePlace {
  if (!isSideBySide) return { reach: 'plain', widthPx: sheetWidthPx };
  if (sheetWidthPx < WIDE_TABLE_PX) return { reach: 'narrow', widthPx: narrowPx(sheetWidthPx) };
  if (sheetWidthPx < WIDEST_TABLE_PX) return { reach: 'wide', widthPx: Math.max(612, sheetWidthPx * 0.46) };
  return { reach: 'widest', widthPx: Math.min(1050, sheetWidthPx * 0.56) };
}

const narrowPx = (sheetWidthPx: number) => (sheetWidthPx < SIDE_BY_SIDE_PX + 180 ? 352 : 440);

/** Of the altitude itself, with its shape and its tag. */
const ALTITUDE_SHARE = 104;

/** Column template of a level table, and the width that it leaves one column. */
export function gridColumns(columns: readonly Column[]): string {
  return [ALTITUDE_SHARE, ...columns.map(({ share }) => share)]
    .map((share) => `minmax(0, ${share}fr)`)
    .join(' ');
}

export function columnPx(id: ColumnId, columns: readonly Column[], tablePx: number): number {
  const wholeShare = columns.reduce((sum, { share }) => sum + share, ALTITUDE_SHARE);
  const share = columns.find((column) => column.id === id)?.share ?? 0;
  return (share / wholeShare) * tablePx;
}

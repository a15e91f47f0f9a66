/** Sizes of the sheet for the width there is. The table's rows need the height of the altitude axis, so the axis grows. */
import type { SheetInput } from './scales.ts';

export interface SheetLayout {
  /** Section and table side by side on one altitude axis. */
  readonly isSideBySide: boolean;
  readonly rowPx: number;
  /** Of the letters in the drawing. */
  readonly textScale: number;
  readonly margins: SheetInput['margins'];
}

/** Least width of the whole sheet for a table beside the section, for one with more columns, and for one with all. */
export const SIDE_BY_SIDE_PX = 720;
export const WIDE_TABLE_PX = 1150;
export const WIDEST_TABLE_PX = 1700;
/** Taller than this the table would leave the screen far behind; it then stands below as plain rows. */
const TALLEST_PLOT_PX = 2240;

const WIDE_MARGINS = { left: 64, right: 44, top: 40, bottom: 46 } as const;
const NARROW_MARGINS = { left: 52, right: 34, top: 26, bottom: 46 } as const;
/** The print is laid out for one A4 or letter page, whatever the screen was. */
export const PRINT_WIDTH_PX = 1000;

/** The least letters of the print need as much. */
const LEAST_PRINT_ROW_PX = 13;

/** Least height of a row that a finger is to hit. */
const TOUCHED_ROW_PX = 36;

/** @param isTouched  By fingers: the rows of the table, and the axis with them, are higher. */
export function sheetLayout(sheetWidthPx: number, rowCount: number, isTouched: boolean): SheetLayout {
  const { rowPx, textScale } = sideBySide(sheetWidthPx);
  const beside = { rowPx: isTouched ? Math.max(rowPx, TOUCHED_ROW_PX) : rowPx, textScale };
  if (sheetWidthPx < SIDE_BY_SIDE_PX || beside.rowPx * rowCount > TALLEST_PLOT_PX)
    return { isSideBySide: false, rowPx: 440 / rowCount, textScale: 1, margins: NARROW_MARGINS };
  return { isSideBySide: true, ...beside, margins: WIDE_MARGINS };
}

function sideBySide(sheetWidthPx: number): Pick<SheetLayout, 'rowPx' | 'textScale'> {
  if (sheetWidthPx < WIDE_TABLE_PX) return { rowPx: 28, textScale: 1 };
  if (sheetWidthPx < 1400) return { rowPx: 24, textScale: 1 };
  if (sheetWidthPx < WIDEST_TABLE_PX) return { rowPx: 28, textScale: 1.1 };
  return { rowPx: 36, textScale: 1.2 };
}

export function printLayout(rowCount: number): SheetLayout {
  const rowPx = Math.max(LEAST_PRINT_ROW_PX, Math.min(14.5, 400 / rowCount));
  return { isSideBySide: true, rowPx, textScale: 1, margins: WIDE_MARGINS };
}

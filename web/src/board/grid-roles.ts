/**
 * Roles of the list: a table's own elements cannot stand where each row is placed by itself and only some are drawn. How many there are,
 * and which one this is, is said to ears all the same.
 */
export const CELL = 'gridcell';
export const COLUMN_HEADER = 'columnheader';

export const gridOf = (label: string, rowCount: number, columnCount: number) =>
  ({ role: 'grid', 'aria-label': label, 'aria-rowcount': rowCount, 'aria-colcount': columnCount }) as const;

/** @param index  Counts from 1, the row of heads. */
export const rowAt = (index: number) => ({ role: 'row', 'aria-rowindex': index }) as const;

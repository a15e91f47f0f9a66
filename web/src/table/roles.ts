/** The table's own roles, said again: some browsers forget them of a table that is laid out as blocks and grids. */
export const ROLE = {
  table: 'table',
  group: 'rowgroup',
  row: 'row',
  columnHeader: 'columnheader',
  rowHeader: 'rowheader',
  cell: 'cell',
} as const;

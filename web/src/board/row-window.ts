/** Which rows of a long list are drawn: those on the screen and a few on either side, plus the one that has the focus. */

export interface RowWindow {
  readonly first: number;
  /** After the last. */
  readonly end: number;
}

interface Measures {
  /** Of the list's first row below the top of the screen, px; negative once it is scrolled away. */
  readonly topPx: number;
  readonly screenPx: number;
  readonly rowPx: number;
  readonly count: number;
}

/** Rows on either side: a fast finger sees no empty paper. */
const SPARE_ROWS = 5;
/** The window moves by so many rows at once, so that not every picture draws another. */
const STEP_ROWS = 3;

export function rowWindow({ topPx, screenPx, rowPx, count }: Measures): RowWindow {
  if (rowPx <= 0) return { first: 0, end: Math.min(count, 1) };
  const top = Math.floor(Math.max(0, -topPx) / rowPx);
  const first = Math.max(0, Math.floor((top - SPARE_ROWS) / STEP_ROWS) * STEP_ROWS);
  const onScreen = Math.ceil(screenPx / rowPx) + 1;
  const end = Math.min(count, first + onScreen + 2 * SPARE_ROWS + STEP_ROWS);
  return { first: Math.min(first, Math.max(0, count - 1)), end };
}

/** Indices of the rows to draw, ascending. */
export function drawnRows({ first, end }: RowWindow, focused: number): number[] {
  const rows = Array.from({ length: Math.max(0, end - first) }, (_, at) => first + at);
  if (focused >= 0 && focused < first) rows.unshift(focused);
  if (focused >= end) rows.push(focused);
  return rows;
}

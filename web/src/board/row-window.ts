/** Which rows of a long list are drawn: those on the screen and a few on either side, plus the one that has the focus. */

export interface RowWindow {
  readonly first: number;
  /** After the last. */
  readonly end: number;
  /** The first that is on the screen. */
  readonly seen: number;
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

export function rowWindow({ topPx, screenPx, rowPx, count }: Measures): RowWindow {
  if (rowPx <= 0) return { first: 0, end: Math.min(count, 1), seen: 0 };
  const last = Math.max(0, count - 1);
  const seen = Math.min(last, Math.floor(Math.max(0, -topPx) / rowPx));
  const onScreen = Math.ceil(screenPx / rowPx) + 1;
  return {
    first: Math.max(0, seen - SPARE_ROWS),
    end: Math.min(count, seen + onScreen + SPARE_ROWS),
    seen,
  };
}

/**
 * The next window on the way to another: a picture draws only so many new rows, or a slow device would hold the finger up. What is on
 * the screen comes before the spare.
 */
export function towards(now: RowWindow, target: RowWindow, mostNew: number): RowWindow {
  const first = Math.max(now.first, target.first);
  const end = Math.min(now.end, target.end);
  if (end <= first)
    return { first: target.seen, end: Math.min(target.end, target.seen + mostNew), seen: target.seen };
  const seenAbove = Math.min(mostNew, Math.max(0, first - target.seen));
  const below = Math.min(mostNew - seenAbove, target.end - end);
  const spareAbove = Math.min(mostNew - seenAbove - below, first - seenAbove - target.first);
  return { first: first - seenAbove - spareAbove, end: end + below, seen: target.seen };
}

/** Indices of the rows to draw, ascending. */
export function drawnRows({ first, end }: Pick<RowWindow, 'first' | 'end'>, focused: number): number[] {
  const rows = Array.from({ length: Math.max(0, end - first) }, (_, at) => first + at);
  if (focused >= 0 && focused < first) rows.unshift(focused);
  if (focused >= end) rows.push(focused);
  return rows;
}

/**
 * Undoes what PNG does to rows before it compresses them.
 *
 * @source  W3C Portable Network Graphics (third edition), clause 9.
 */

interface RowForm {
  readonly rowOctets: number;
  readonly height: number;
  /** Distance to the octet of the pixel on the left that corresponds. */
  readonly pixelOctets: number;
}

/**
 * @param filtered  Rows, each after the octet that names its filter type.
 * @returns         the rows without those octets; undefined for a filter type that is not there.
 */
export function unfilterRows(
  filtered: Uint8Array,
  { rowOctets, height, pixelOctets }: RowForm,
): Uint8Array | undefined {
  const rows = new Uint8Array(rowOctets * height);
  let above = new Uint8Array(rowOctets);
  for (let y = 0; y < height; y += 1) {
    const from = y * (rowOctets + 1);
    const undo = FILTERS[filtered[from]!];
    if (undo === undefined) return undefined;
    const row = rows.subarray(y * rowOctets, (y + 1) * rowOctets);
    row.set(filtered.subarray(from + 1, from + 1 + rowOctets));
    undo(row, above, pixelOctets);
    above = row;
  }
  return rows;
}

/** Mends a row in place; an octet left of the first pixel counts as 0. */
type Undo = (row: Uint8Array, above: Uint8Array, pixelOctets: number) => void;

const none: Undo = () => {};

const sub: Undo = (row, _, back) => {
  for (let x = back; x < row.length; x += 1) row[x]! += row[x - back]!;
};

const up: Undo = (row, above) => {
  for (let x = 0; x < row.length; x += 1) row[x]! += above[x]!;
};

const average: Undo = (row, above, back) => {
  for (let x = 0; x < row.length; x += 1) {
    row[x]! += ((x < back ? 0 : row[x - back]!) + above[x]!) >>> 1;
  }
};

/** Chooses with masks (-1 for yes): which octet is nearest is noise, and no processor foresees the branches. */
const paeth: Undo = (row, above, back) => {
  const length = row.length;
  for (let x = 0; x < Math.min(back, length); x += 1) row[x]! += above[x]!;
  for (let x = back; x < length; x += 1) {
    const left = row[x - back]!;
    const over = above[x]!;
    const corner = above[x - back]!;
    const fromLeft = Math.abs(over - corner);
    const fromOver = Math.abs(left - corner);
    const fromCorner = Math.abs(left + over - 2 * corner);
    const isOver = (fromOver - fromCorner - 1) >> 31;
    const isLeft = (fromLeft - Math.min(fromOver, fromCorner) - 1) >> 31;
    const near = (over & isOver) | (corner & ~isOver);
    row[x]! += (left & isLeft) | (near & ~isLeft);
  }
};

const FILTERS: readonly Undo[] = [none, sub, up, average, paeth];

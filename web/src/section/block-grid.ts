/** Rectangles in distance and altitude laid on their own grid lines: outlines of their union, and room for a label. */

export interface Block {
  readonly fromNm: number;
  readonly toNm: number;
  readonly lowerFt: number;
  readonly upperFt: number;
}

/** A grid of cells between sorted lines; `filled[row * columns + column]` names what is there, '' for nothing. */
export interface BlockGrid {
  readonly nm: readonly number[];
  readonly ft: readonly number[];
  readonly filled: readonly string[];
}

export function gridOfBlocks<B extends Block>(blocks: readonly B[], nameOf: (block: B) => string): BlockGrid {
  const nm = sortedUnique(blocks.flatMap((block) => [block.fromNm, block.toNm]));
  const ft = sortedUnique(blocks.flatMap((block) => [block.lowerFt, block.upperFt]));
  const columns = Math.max(0, nm.length - 1);
  const filled = new Array<string>(columns * Math.max(0, ft.length - 1)).fill('');
  for (const block of blocks) {
    const name = nameOf(block);
    for (let row = ft.indexOf(block.lowerFt); row < ft.indexOf(block.upperFt); row += 1) {
      filled.fill(name, row * columns + nm.indexOf(block.fromNm), row * columns + nm.indexOf(block.toNm));
    }
  }
  return { nm, ft, filled };
}

function sortedUnique(values: readonly number[]): number[] {
  return [...new Set(values)].sort((a, b) => a - b);
}

/** A straight piece of outline, from one grid corner to the next. */
export interface Edge {
  readonly fromNm: number;
  readonly fromFt: number;
  readonly toNm: number;
  readonly toFt: number;
}

/** Edges between a filled cell and one that is not, the rim of the grid included. */
export function outlineEdges(grid: BlockGrid): Edge[] {
  const { nm, ft, filled } = grid;
  const columns = nm.length - 1;
  const rows = ft.length - 1;
  const isFilled = (row: number, column: number) =>
    row >= 0 && row < rows && column >= 0 && column < columns && filled[row * columns + column] !== '';
  const edges: Edge[] = [];
  for (let row = 0; row <= rows; row += 1) {
    for (let column = 0; column <= columns; column += 1) {
      const here = isFilled(row, column);
      if (column < columns && here !== isFilled(row - 1, column)) {
        edges.push({ fromNm: nm[column]!, fromFt: ft[row]!, toNm: nm[column + 1]!, toFt: ft[row]! });
      }
      if (row < rows && here !== isFilled(row, column - 1)) {
        edges.push({ fromNm: nm[column]!, fromFt: ft[row]!, toNm: nm[column]!, toFt: ft[row + 1]! });
      }
    }
  }
  return edges;
}

export interface LabelRoom {
  readonly name: string;
  readonly block: Block;
}

/** Largest rectangle, by the given measure, of each connected region of one name. */
export function labelRooms(grid: BlockGrid, areaOf: (block: Block) => number): LabelRoom[] {
  return connectedRegions(grid).map((region) => {
    const inside = new Set(region);
    let best: Block | undefined;
    for (const cell of region) {
      const candidate = largestFrom(grid, inside, cell, areaOf);
      if (best === undefined || areaOf(candidate) > areaOf(best)) best = candidate;
    }
    return { name: grid.filled[region[0]!]!, block: best! };
  });
}

function connectedRegions({ nm, filled }: BlockGrid): number[][] {
  const columns = nm.length - 1;
  const seen = new Set<number>();
  const regions: number[][] = [];
  for (let start = 0; start < filled.length; start += 1) {
    if (filled[start] === '' || seen.has(start)) continue;
    const region = [start];
    seen.add(start);
    for (const cell of region) {
      for (const next of neighborsOf(cell, columns)) {
        if (seen.has(next) || filled[next] !== filled[start]) continue;
        seen.add(next);
        region.push(next);
      }
    }
    regions.push(region);
  }
  return regions;
}

function neighborsOf(cell: number, columns: number): number[] {
  const column = cell % columns;
  const sides = [cell - columns, cell + columns];
  if (column > 0) sides.push(cell - 1);
  if (column < columns - 1) sides.push(cell + 1);
  return sides;
}

/** Grows to the right and up from a cell that is the rectangle's lower left corner. */
function largestFrom(
  grid: BlockGrid,
  inside: ReadonlySet<number>,
  cell: number,
  areaOf: (block: Block) => number,
): Block {
  const columns = grid.nm.length - 1;
  const column = cell % columns;
  const row = Math.floor(cell / columns);
  let widest = columns - column;
  let best: Block | undefined;
  for (let upper = row; upper < grid.ft.length - 1; upper += 1) {
    let width = 0;
    while (width < widest && inside.has(upper * columns + column + width)) width += 1;
    if (width === 0) break;
    widest = width;
    const block = {
      fromNm: grid.nm[column]!,
      toNm: grid.nm[column + widest]!,
      lowerFt: grid.ft[row]!,
      upperFt: grid.ft[upper + 1]!,
    };
    if (best === undefined || areaOf(block) > areaOf(best)) best = block;
  }
  return best!;
}

/** Cells of equal kind gathered into rectangles that tile the curtain: no gap, no overlap, unknown included. */
import { CELL_STATE, type IcingColumns } from '../science/columns.ts';

/** A rectangle of cells: points fromPoint..toPoint and cells lowerCell..upperCell, both ends included. */
export interface CellBlock {
  readonly fromPoint: number;
  toPoint: number;
  readonly lowerCell: number;
  readonly upperCell: number;
  readonly category: number;
}

/**
 * Runs of equal category in each column, joined with the same run of the column before.
 *
 * @param category  [point][cell], any whole number; equal numbers belong together.
 */
export function tileBlocks(category: Int32Array, pointCount: number, cellCount: number): CellBlock[] {
  const blocks: CellBlock[] = [];
  let open = new Map<string, CellBlock>();
  for (let point = 0; point < pointCount; point += 1) {
    const stillOpen = new Map<string, CellBlock>();
    for (const run of columnRuns(category, point * cellCount, cellCount)) {
      const key = `${run.lowerCell}:${run.upperCell}:${run.category}`;
      const before = open.get(key);
      if (before !== undefined) before.toPoint = point;
      const block = before ?? { fromPoint: point, toPoint: point, ...run };
      if (before === undefined) blocks.push(block);
      stillOpen.set(key, block);
    }
    open = stillOpen;
  }
  return blocks;
}

function columnRuns(
  category: Int32Array,
  offset: number,
  cellCount: number,
): { lowerCell: number; upperCell: number; category: number }[] {
  const runs = [];
  let lowerCell = 0;
  for (let cell = 1; cell <= cellCount; cell += 1) {
    const current = category[offset + lowerCell]!;
    if (cell < cellCount && category[offset + cell] === current) continue;
    runs.push({ lowerCell, upperCell: cell - 1, category: current });
    lowerCell = cell;
  }
  return runs;
}

/** Probabilities at which bands of equal ice are told apart; below the first a band is drawn as no ice found. */
export const PROBABILITY_STEPS = [0.05, 0.4, 0.7] as const;

/** Category of each cell: its state when unknown, else probability step, intensity, kind and large drops together. */
export function icingCategories(icing: IcingColumns): Int32Array {
  const category = new Int32Array(icing.state.length);
  for (let index = 0; index < category.length; index += 1) {
    const state = icing.state[index]!;
    category[index] = state === CELL_STATE.known ? knownCategory(icing, index) : -state;
  }
  return category;
}

/** 0 is reserved for "known, no ice found". */
function knownCategory(icing: IcingColumns, index: number): number {
  const step = PROBABILITY_STEPS.filter((limit) => icing.icingProbability[index]! >= limit).length;
  const drops = icing.largeDrops[index]!;
  if (step === 0 && drops === 0) return 0;
  return 1 + step + 4 * (icing.intensity[index]! + 5 * (icing.iceKind[index]! + 4 * drops));
}

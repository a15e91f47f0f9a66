/** Cells of the considered altitude in order along the leg, each with its stretch. */
import type { CurtainAnswer } from '../contract.ts';
import { type Cell, cellAt, stretchOfPoint } from '../curtain.ts';

export interface StretchOfCell {
  readonly fromNm: number;
  readonly toNm: number;
  readonly middleNm: number;
  readonly cell: Cell;
}

export interface CellStripProps {
  readonly curtain: CurtainAnswer;
  /** The altitude considered, over each place. */
  readonly altitudeAtFt: (distanceNm: number) => number;
  readonly sheet: import('../section/scales.ts').Sheet;
  readonly heightPx: number;
}

export function cellsAlong(
  curtain: CurtainAnswer,
  altitudeAtFt: (distanceNm: number) => number,
): StretchOfCell[] {
  return curtain.distanceNm.map((middleNm, index) => ({
    ...stretchOfPoint(curtain.distanceNm, index),
    middleNm,
    cell: cellAt(curtain, index, altitudeAtFt(middleNm)),
  }));
}

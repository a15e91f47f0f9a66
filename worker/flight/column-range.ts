/** What lies in the column over a route point between two pressure altitudes. */
import { type CellFacts, FACT } from './cell-facts.ts';
import { cellNumber } from './cells.ts';

/** A range that ends on the edge of a cell, give or take this, does not reach into the next, m. */
export const END_M = 0.01;

/** All answers met between two altitudes over a point. Ground is no air; outside the axis, or ground alone, is unknown. */
export function answersBetween(
  facts: CellFacts,
  point: number,
  lowM: number,
  highM: number,
): { readonly any: number; readonly hasUnknown: boolean } {
  const first = cellNumber(facts, lowM);
  const last = cellNumber(facts, highM - END_M);
  const offset = point * facts.cellCount;
  let any = 0;
  let hasUnknown = first < 0 || last >= facts.cellCount;
  let airCells = 0;
  for (let cell = Math.max(0, first); cell <= Math.min(last, facts.cellCount - 1); cell += 1) {
    const answers = facts.answers[offset + cell]!;
    if ((answers & FACT.ground) !== 0) continue;
    airCells += 1;
    any |= answers;
    hasUnknown ||= (answers & FACT.known) === 0;
  }
  return { any, hasUnknown: hasUnknown || airCells === 0 };
}

/** Known, with no ice to speak of and no danger. */
export function isFree(facts: CellFacts, point: number, [lowM, highM]: readonly [number, number]): boolean {
  const { any, hasUnknown } = answersBetween(facts, point, lowM, highM);
  return !hasUnknown && (any & (FACT.hasIce | FACT.danger)) === 0;
}

/** Expected growth on the unprotected wing, m/s; 0 outside the axis and where unknown. */
export function growthAt(facts: CellFacts, point: number, altitudeM: number): number {
  const cell = cellNumber(facts, altitudeM);
  return cell >= 0 && cell < facts.cellCount ? facts.growthMps[point * facts.cellCount + cell]! : 0;
}

/** The same, mean over the cells of a range. */
export function meanGrowth(facts: CellFacts, point: number, lowM: number, highM: number): number {
  const first = Math.max(0, cellNumber(facts, lowM));
  const last = Math.min(facts.cellCount - 1, cellNumber(facts, highM - END_M));
  let sum = 0;
  for (let cell = first; cell <= last; cell += 1) sum += facts.growthMps[point * facts.cellCount + cell]!;
  return last < first ? 0 : sum / (last - first + 1);
}

/** What lies in the column over a route point between two pressure altitudes. */
import { type CellFacts, FACT, flownIndex } from './cell-facts.ts';
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

/** Expected growth on the unprotected wing, m/s; that of the lowest air in the ground, 0 where unknown. */
export function growthAt(facts: CellFacts, point: number, altitudeM: number): number {
  const index = flownIndex(facts, point, cellNumber(facts, altitudeM));
  return index < 0 ? 0 : facts.growthMps[index]!;
}

/** The same, mean over the air of a range; 0 of ground alone. */
export function meanGrowth(facts: CellFacts, point: number, lowM: number, highM: number): number {
  const first = Math.max(0, cellNumber(facts, lowM));
  const last = Math.min(facts.cellCount - 1, cellNumber(facts, highM - END_M));
  let sumMps = 0;
  let airCells = 0;
  for (let cell = first; cell <= last; cell += 1) {
    const index = point * facts.cellCount + cell;
    if ((facts.answers[index]! & FACT.ground) !== 0) continue;
    sumMps += facts.growthMps[index]!;
    airCells += 1;
  }
  return airCells === 0 ? 0 : sumMps / airCells;
}

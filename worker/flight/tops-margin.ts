/** How far a level flight passes above the expected top of the ice. */
import { CELL_STATE, type IcingColumns, LARGE_DROPS } from '../science/columns.ts';
import { mFromFt } from '../science/units.ts';
import { type CellFacts, FACT } from './cell-facts.ts';
import { cellAt, cellLowerEdgeM, cellNumber } from './cells.ts';
import { ICE_EXPECTED } from './estimates.ts';

/** "On top" means at least this far above the expected top. */
export const ON_TOP_MARGIN_M = mFromFt(1500);

/** Ice at least as probable as in the middle estimate has its top here. */
const TOP_THRESHOLD = ICE_EXPECTED;
/** Heights nearer to each other than this are equal, m. */
const EQUAL_M = 1e-6;

/**
 * Height above the highest icy cell within the margin below an altitude, m: zero or less inside one, Infinity when there
 * is none; and whether some of the air looked at is unknown. Nothing below the ground counts.
 */
export function topsBelow(
  icing: IcingColumns,
  pointIndex: number,
  pressureAltitudeM: number,
): { readonly marginM: number; readonly isUnknown: boolean } {
  const { axis } = icing;
  let isUnknown = false;
  const from = cellAt(axis, pressureAltitudeM) ?? axis.cellCount - 1;
  for (let cell = from; cell >= 0; cell -= 1) {
    const marginM = pressureAltitudeM - cellLowerEdgeM(axis, cell + 1);
    if (marginM >= ON_TOP_MARGIN_M - EQUAL_M) break;
    const index = pointIndex * axis.cellCount + cell;
    if (icing.state[index] === CELL_STATE.belowGround) break;
    const probability = icing.icingProbability[index]!;
    if (icing.state[index] !== CELL_STATE.known || Number.isNaN(probability)) isUnknown = true;
    else if (probability >= TOP_THRESHOLD || icing.largeDrops[index] !== LARGE_DROPS.none) {
      return { marginM, isUnknown };
    }
  }
  return { marginM: Number.POSITIVE_INFINITY, isUnknown };
}

/** How far under the top of the ice a level flight is close to it: the water of a layer is greatest there. */
const UNDER_TOP_M = mFromFt(1000);

/** In expected ice whose top, known and without such ice, lies at most 1,000 ft higher. */
export function isCloseUnderTops(facts: CellFacts, pointIndex: number, pressureAltitudeM: number): boolean {
  const first = cellNumber(facts, pressureAltitudeM);
  for (let cell = first + 1; cell < facts.cellCount; cell += 1) {
    if (cellLowerEdgeM(facts, cell) - pressureAltitudeM > UNDER_TOP_M + EQUAL_M) return false;
    const answers = facts.answers[pointIndex * facts.cellCount + cell]!;
    if ((answers & FACT.known) === 0) return false;
    if ((answers & FACT.expectsIce) === 0) return true;
  }
  return false;
}

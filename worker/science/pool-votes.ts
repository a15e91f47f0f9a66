/** Which sources speak at a route point, and whether enough of their weight knows a cell. */
import { CELL_STATE } from './columns.ts';

/** The sources of one route point: entries first to last, the last not included; moved from point to point. */
export interface Ballot {
  first: number;
  last: number;
  readonly source: Int32Array;
  readonly humidity: Float64Array;
  readonly temperature: Float64Array;
}

/** Outcome of one vote; filled anew for each cell. */
export interface Vote {
  /** Weight of the sources that know the cell. */
  knownWeight: number;
  /** CELL_STATE. */
  state: number;
}

/** A cell is known when sources with at least this part of the voting weight know it. */
const KNOWN_SHARE = 0.5;

/** States of all sources' columns, [source][cell], and the cell that is voted on; moved from cell to cell. */
export interface CellStates {
  readonly state: Uint8Array;
  readonly cellCount: number;
  cell: number;
}

/**
 * Lets the sources vote whether a cell is known. Those for which it lies below ground abstain.
 *
 * @param ballot  Sources with weight here.
 * @param weight  The ballot's humidity or temperature weights.
 * @param cells   States, and which cell.
 * @param vote    Filled: known when at least half the voting weight knows it and no single voter that does not outweighs
 *                each that does (many far sources may not outvote the near one that lost its value); else the state of
 *                the heaviest voter that does not (the first of equals); belowGround when all abstain; noData when none has
 *                weight.
 * @throws        never.
 */
export function takeVote(ballot: Ballot, weight: Float64Array, cells: CellStates, vote: Vote): void {
  let votingWeight = 0;
  let heaviestUnknown = 0;
  let heaviestKnown = 0;
  let unknownState: number = CELL_STATE.noData;
  vote.knownWeight = 0;
  for (let entry = ballot.first; entry < ballot.last; entry += 1) {
    const entryWeight = weight[entry]!;
    if (!(entryWeight > 0)) continue;
    const state = cells.state[ballot.source[entry]! * cells.cellCount + cells.cell]!;
    if (state === CELL_STATE.belowGround) {
      if (votingWeight === 0) unknownState = CELL_STATE.belowGround;
      continue;
    }
    votingWeight += entryWeight;
    if (state === CELL_STATE.known) {
      vote.knownWeight += entryWeight;
      heaviestKnown = Math.max(heaviestKnown, entryWeight);
    } else if (entryWeight > heaviestUnknown) {
      heaviestUnknown = entryWeight;
      unknownState = state;
    }
  }
  const hasShare = vote.knownWeight > 0 && vote.knownWeight >= KNOWN_SHARE * votingWeight;
  const isKnown = hasShare && heaviestKnown >= heaviestUnknown;
  vote.state = isKnown ? CELL_STATE.known : unknownState;
}

/** Which sources speak at a route point, and whether enough of their weight knows a cell. */
import { CELL_STATE } from './columns.ts';

/** The sources with weight at one route point; made once and loaded for point after point. */
export interface Ballot {
  /** Number of entries in use. */
  count: number;
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

export function makeBallot(sourceCount: number): Ballot {
  return {
    count: 0,
    source: new Int32Array(sourceCount),
    humidity: new Float64Array(sourceCount),
    temperature: new Float64Array(sourceCount),
  };
}

/** Fills the ballot with the sources that have any weight at a point. */
export function loadBallot(
  ballot: Ballot,
  weights: {
    readonly sourceCount: number;
    readonly humidity: Float64Array;
    readonly temperature: Float64Array;
  },
  point: number,
): void {
  ballot.count = 0;
  for (let source = 0; source < weights.sourceCount; source += 1) {
    const humidity = weights.humidity[point * weights.sourceCount + source]!;
    const temperature = weights.temperature[point * weights.sourceCount + source]!;
    if (!(humidity > 0 || temperature > 0)) continue;
    ballot.source[ballot.count] = source;
    ballot.humidity[ballot.count] = humidity;
    ballot.temperature[ballot.count] = temperature;
    ballot.count += 1;
  }
}

/**
 * Lets the sources vote whether a cell is known. Those for which it lies below ground abstain.
 *
 * @param ballot  Sources with weight here.
 * @param weight  The ballot's humidity or temperature weights.
 * @param cells   States of all sources' columns, [source][cell], and the cell.
 * @param vote    Filled: known when at least half the voting weight knows it and no single voter that does not outweighs
 *                each that does (many far sources may not outvote the near one that lost its value); else the state of the heaviest voter that does
 *                not (the first of equals); belowGround when all abstain; noData when none has weight.
 * @throws        never.
 */
export function takeVote(
  ballot: Ballot,
  weight: Float64Array,
  cells: { readonly state: Uint8Array; readonly cellCount: number; readonly cell: number },
  vote: Vote,
): void {
  let votingWeight = 0;
  let heaviestUnknown = 0;
  let heaviestKnown = 0;
  let unknownState: number = CELL_STATE.noData;
  vote.knownWeight = 0;
  for (let entry = 0; entry < ballot.count; entry += 1) {
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

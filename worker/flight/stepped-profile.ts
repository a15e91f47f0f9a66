/**
 * The cheapest profile with at most a few changes of altitude, found exactly on the lattice by dynamic programming: the state is
 * the number of changes made, the level, and the point at which it was reached.
 */
import { FORBIDDEN, type Lattice, levelUntil } from './profile-lattice.ts';

/** Climb from the departure to a level, and descent from it to the destination. */
export interface LevelEnds {
  /** Where the level is reached and left, m along the route. */
  readonly reachedM: number;
  readonly leftM: number;
  readonly climbCost: number;
  readonly descentCost: number;
}

export interface SteppedRequest {
  readonly lattice: Lattice;
  /** One a level; undefined where the leg has no room for it. */
  readonly ends: readonly (LevelEnds | undefined)[];
  readonly mostChanges: number;
  /** Every level is kept at least so long, s. */
  readonly leastStayS: number;
}

export interface LatticeProfile {
  readonly cost: number;
  /** In order: level, and the point over which the change to it begins; 0 for the first. */
  readonly levels: readonly { readonly level: number; readonly fromPoint: number }[];
}

const NONE = -1;

/** Costs of having reached a level, [level][point], with the way there. */
interface Reached {
  readonly cost: Float64Array;
  /** Level before, point over which the change began, and point at which that level had been reached. */
  readonly beforeLevel: Int16Array;
  readonly changePoint: Int16Array;
  readonly beforePoint: Int16Array;
}

/** The cheapest profile with at least one change; undefined when none can be flown. */
export function bestSteppedProfile(request: SteppedRequest): LatticeProfile | undefined {
  const { lattice, mostChanges } = request;
  const layers = [firstLayer(request)];
  let best: { cost: number; layer: number; level: number; point: number } | undefined;
  for (let layer = 1; layer <= mostChanges; layer += 1) {
    layers.push(nextLayer(request, layers[layer - 1]!));
    for (let level = 0; level < lattice.levelCount; level += 1) {
      const end = cheapestEnd(request, layers[layer]!, level);
      if (end !== undefined && end.cost < (best?.cost ?? FORBIDDEN)) best = { ...end, layer, level };
    }
  }
  if (best === undefined) return undefined;
  const levels: { level: number; fromPoint: number }[] = [];
  let { level, point } = best;
  for (let layer = best.layer; layer > 0; layer -= 1) {
    const index = level * lattice.pointCount + point;
    const reached = layers[layer]!;
    levels.unshift({ level, fromPoint: reached.changePoint[index]! });
    point = reached.beforePoint[index]!;
    level = reached.beforeLevel[index]!;
  }
  levels.unshift({ level, fromPoint: 0 });
  return { cost: best.cost, levels };
}

function emptyLayer({ levelCount, pointCount }: Lattice): Reached {
  const size = levelCount * pointCount;
  return {
    cost: new Float64Array(size).fill(FORBIDDEN),
    beforeLevel: new Int16Array(size).fill(NONE),
    changePoint: new Int16Array(size).fill(NONE),
    beforePoint: new Int16Array(size).fill(NONE),
  };
}

/** Levels reached by the climb from the departure, counted from the first point not before that. */
function firstLayer({ lattice, ends }: SteppedRequest): Reached {
  const reached = emptyLayer(lattice);
  const { pointCount, distanceM } = lattice;
  ends.forEach((end, level) => {
    if (end === undefined) return;
    const point = distanceM.findIndex((each) => each >= end.reachedM - 1e-6);
    if (point < 0) return;
    const rest = lattice.cost[level * pointCount + point]! - levelUntil(lattice, level, end.reachedM).cost;
    reached.cost[level * pointCount + point] = end.climbCost + rest;
  });
  return reached;
}

/** One change more: for each level the cheapest stay that is long enough, and from its end every change. */
function nextLayer(request: SteppedRequest, before: Reached): Reached {
  const { lattice, leastStayS } = request;
  const { pointCount, cost, timeS } = lattice;
  const reached = emptyLayer(lattice);
  for (let level = 0; level < lattice.levelCount; level += 1) {
    const offset = level * pointCount;
    let from = NONE;
    let cheapest = FORBIDDEN;
    let ripe = 0;
    for (let point = 0; point < pointCount; point += 1) {
      for (; ripe <= point && timeS[offset + point]! - timeS[offset + ripe]! >= leastStayS; ripe += 1) {
        const since = before.cost[offset + ripe]! - cost[offset + ripe]!;
        if (before.cost[offset + ripe]! >= FORBIDDEN || since >= cheapest) continue;
        cheapest = since;
        from = ripe;
      }
      const here = cheapest + cost[offset + point]!;
      if (from !== NONE && here < FORBIDDEN) change(lattice, reached, { level, point, from, here });
    }
  }
  return reached;
}

/** From a level over a point to every other, kept where it is cheaper than what was known. */
function change(
  { levelCount, pointCount, arrival, changeCost }: Lattice,
  reached: Reached,
  stay: { readonly level: number; readonly point: number; readonly from: number; readonly here: number },
): void {
  const row = (stay.level * pointCount + stay.point) * levelCount;
  for (let to = 0; to < levelCount; to += 1) {
    const at = arrival[row + to]!;
    const index = to * pointCount + at;
    const total = stay.here + changeCost[row + to]!;
    if (at < 0 || total >= reached.cost[index]!) continue;
    reached.cost[index] = total;
    reached.beforeLevel[index] = stay.level;
    reached.changePoint[index] = stay.point;
    reached.beforePoint[index] = stay.from;
  }
}

/** The cheapest way to end on a level, which was reached early enough for its stay. */
function cheapestEnd(
  { lattice, ends, leastStayS }: SteppedRequest,
  reached: Reached,
  level: number,
): { readonly cost: number; readonly point: number } | undefined {
  const end = ends[level];
  if (end === undefined) return undefined;
  const { pointCount, cost, timeS } = lattice;
  const left = levelUntil(lattice, level, end.leftM);
  let best: { cost: number; point: number } | undefined;
  for (let point = 0; point < pointCount; point += 1) {
    const index = level * pointCount + point;
    if (left.timeS - timeS[index]! < leastStayS) break;
    const total = reached.cost[index]! + left.cost - cost[index]! + end.descentCost;
    if (total < (best?.cost ?? FORBIDDEN)) best = { cost: total, point };
  }
  return best;
}

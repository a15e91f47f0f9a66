/**
 * Distance by altitude as a lattice for the search of a stepped profile: what each level costs over each stretch, where it may
 * not be flown, and what each change from one level to another costs and how far it reaches.
 */
import { type CellFacts, FACT, flownIndex, knownIndex } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import { SLOWEST_CLIMB_MPS, SLOWEST_GROUND_SPEED_MPS } from './flight-path.ts';
import { airspeedLeft, climbRateMps } from './ice-effects.ts';
import { tableValue } from './performance-table.ts';
import type { Aircraft, MinimumCrossing, RoutePoints, WindAt } from './types.ts';
import { groundSpeedMps, windComponents } from './wind.ts';

/** Costs are seconds of expected ice, or what is as bad (judgement; in step with the order of the altitudes). */
export const COST = {
  /** Unknown air: any known ice within limits is better. */
  unknownPerS: 50,
  /** Severe icing and large drops: anything else is better. */
  dangerPerS: 1000,
  /** Two millimeters weigh as much as five minutes. */
  perBuiltM: 300 / 0.002,
  timePerS: 0.02,
  /** A change must gain more than this. */
  perChange: 300,
  /** A level that does not suit the direction of flight and must be asked for. */
  perAskedLevel: 30,
} as const;

/** More than any flight costs: not to be flown. */
export const FORBIDDEN = 1e12;
/** A change that no aeroplane makes. */
const NOWHERE = -1;

export interface LatticeRequest {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly facts: CellFacts;
  readonly windAt: WindAt;
  /** Pressure altitudes, m, ascending. */
  readonly levelsM: readonly number[];
  /** Of flying at each at all, whatever the distance. */
  readonly levelCost: readonly number[];
  /** By point, pressure altitude, m; NaN where unknown, which forbids nothing. */
  readonly minimumM: Float64Array;
  /** Altitudes as pressure altitudes, m. */
  readonly crossings: readonly MinimumCrossing[];
  /** Ice on unprotected parts that changes are flown with, m. */
  readonly iceM: number;
}

/** Arrays are [level][point], flat, or [level][point][level to]. */
export interface Lattice {
  readonly pointCount: number;
  readonly levelCount: number;
  readonly distanceM: Float64Array;
  /** Cost and time of the level from the first point to this one. */
  readonly cost: Float64Array;
  readonly timeS: Float64Array;
  /** Point at which a change that begins over a point is surely over, or -1; what it costs until there. */
  readonly arrival: Int16Array;
  readonly changeCost: Float64Array;
}

export function makeLattice(request: LatticeRequest): Lattice {
  const { route, levelsM } = request;
  const { pointCount } = route;
  const levelCount = levelsM.length;
  const lattice = {
    pointCount,
    levelCount,
    distanceM: route.distanceM,
    cost: new Float64Array(levelCount * pointCount),
    timeS: new Float64Array(levelCount * pointCount),
    arrival: new Int16Array(levelCount * pointCount * levelCount).fill(NOWHERE),
    changeCost: new Float64Array(levelCount * pointCount * levelCount),
  };
  for (let level = 0; level < levelCount; level += 1) addLevel(lattice, request, level);
  const cells = { between: costsBetween(request), ...levelCells(request) };
  for (const direction of [1, -1] as const) {
    const change = { ...cells, direction, moves: movesOf(request, direction) };
    for (let level = 0; level < levelCount; level += 1) {
      for (let point = 0; point < pointCount; point += 1) {
        addChanges(lattice, request, change, { level, point });
      }
    }
  }
  return lattice;
}

/** Cost of a second in the cell of a pressure altitude over a point. */
export function costPerS(facts: CellFacts, point: number, altitudeM: number): number {
  const index = knownIndex(facts, point, altitudeM);
  if (index < 0) return COST.unknownPerS + COST.timePerS;
  const danger = (facts.answers[index]! & FACT.danger) !== 0 ? COST.dangerPerS : 0;
  return facts.iceRatio[index]! + facts.growthMps[index]! * COST.perBuiltM + danger + COST.timePerS;
}

/** Each stretch between two points is flown half in the column of either. */
function addLevel(lattice: Lattice, request: LatticeRequest, level: number): void {
  const { route, aircraft, facts } = request;
  const altitudeM = request.levelsM[level]!;
  const tasMps =
    tableValue(aircraft.trueAirspeedMps, altitudeM) *
    airspeedLeft(aircraft, { builtM: request.iceM, isSeparatorOn: false });
  const offset = level * lattice.pointCount;
  for (let point = 1; point < lattice.pointCount; point += 1) {
    const halfM = (route.distanceM[point]! - route.distanceM[point - 1]!) / 2;
    let cost = 0;
    let timeS = 0;
    for (const column of [point - 1, point]) {
      const halfS = halfM / groundMps(request, column, { altitudeM, tasMps, courseOf: point - 1 });
      timeS += halfS;
      cost +=
        costPerS(facts, column, altitudeM) * halfS + (isBarred(request, column, altitudeM) ? FORBIDDEN : 0);
    }
    const isUnderCrossing = request.crossings.some(
      (crossing) =>
        crossing.distanceM > route.distanceM[point - 1]! &&
        crossing.distanceM <= route.distanceM[point]! &&
        altitudeM < crossing.altitudeM - EQUAL_M,
    );
    lattice.cost[offset + point] =
      lattice.cost[offset + point - 1]! + cost + (isUnderCrossing ? FORBIDDEN : 0);
    lattice.timeS[offset + point] = lattice.timeS[offset + point - 1]! + timeS;
  }
}

const EQUAL_M = 0.15;

function isBarred(
  { minimumM, facts }: Pick<LatticeRequest, 'minimumM' | 'facts'>,
  point: number,
  altitudeM: number,
): boolean {
  if (altitudeM < minimumM[point]! - EQUAL_M) return true;
  const cell = cellNumber(facts, altitudeM);
  const index = point * facts.cellCount + cell;
  return cell >= 0 && cell < facts.cellCount && (facts.answers[index]! & FACT.ground) !== 0;
}

function groundMps(
  { route, windAt }: LatticeRequest,
  point: number,
  at: { readonly altitudeM: number; readonly tasMps: number; readonly courseOf: number },
): number {
  const wind = windAt(point, at.altitudeM);
  if (wind === undefined) return Math.max(SLOWEST_GROUND_SPEED_MPS, at.tasMps);
  const speedMps = groundSpeedMps(at.tasMps, windComponents(wind, route.courseRad[at.courseOf]!));
  return Number.isNaN(speedMps) ? SLOWEST_GROUND_SPEED_MPS : Math.max(SLOWEST_GROUND_SPEED_MPS, speedMps);
}

/**
 * Changes between neighboring levels, by the column they are made in: [level below][point], flat. Time in s, NaN where no
 * aeroplane makes it; ground speed in m/s; cost of a second between the levels.
 */
interface Moves {
  readonly durationS: Float64Array;
  readonly groundMps: Float64Array;
}

function movesOf(request: LatticeRequest, direction: 1 | -1): Moves {
  const { levelsM, route } = request;
  const size = (levelsM.length - 1) * route.pointCount;
  const moves = { durationS: new Float64Array(size), groundMps: new Float64Array(size) };
  for (let below = 0; below + 1 < levelsM.length; below += 1) {
    const depthM = levelsM[below + 1]! - levelsM[below]!;
    const middleM = levelsM[below]! + depthM / 2;
    for (let point = 0; point < route.pointCount; point += 1) {
      const move = moveOver(request, point, { middleM, direction });
      moves.durationS[below * route.pointCount + point] =
        move.rateMps < SLOWEST_CLIMB_MPS ? Number.NaN : depthM / move.rateMps;
      moves.groundMps[below * route.pointCount + point] = move.groundMps;
    }
  }
  return moves;
}

function moveOver(
  request: LatticeRequest,
  column: number,
  { middleM, direction }: { readonly middleM: number; readonly direction: 1 | -1 },
): { readonly rateMps: number; readonly groundMps: number } {
  const { aircraft, facts, iceM } = request;
  const index = flownIndex(facts, column, cellNumber(facts, middleM));
  const isSeparatorOn = index >= 0 && (facts.answers[index]! & FACT.separator) !== 0;
  const rateMps =
    direction > 0
      ? climbRateMps(aircraft, middleM, { builtM: iceM, isSeparatorOn })
      : tableValue(aircraft.descentRateMps, middleM);
  const tasMps = direction > 0 ? aircraft.climbTrueAirspeedMps : aircraft.descentTrueAirspeedMps;
  return { rateMps, groundMps: groundMps(request, column, { altitudeM: middleM, tasMps, courseOf: column }) };
}

/** Costs of a second between neighboring levels, [level below][point]. */
function costsBetween({ levelsM, route, facts }: LatticeRequest): Float64Array {
  const costs = new Float64Array((levelsM.length - 1) * route.pointCount);
  for (let below = 0; below + 1 < levelsM.length; below += 1) {
    const middleM = (levelsM[below]! + levelsM[below + 1]!) / 2;
    for (let point = 0; point < route.pointCount; point += 1) {
      costs[below * route.pointCount + point] = costPerS(facts, point, middleM);
    }
  }
  return costs;
}

/** Where each level may not be flown, and what a second there costs, [level][point]. */
function levelCells({ levelsM, route, facts, ...request }: LatticeRequest) {
  const barred = new Uint8Array(levelsM.length * route.pointCount);
  const perS = new Float64Array(levelsM.length * route.pointCount);
  levelsM.forEach((altitudeM, level) => {
    for (let point = 0; point < route.pointCount; point += 1) {
      const index = level * route.pointCount + point;
      barred[index] = isBarred({ minimumM: request.minimumM, facts }, point, altitudeM) ? 1 : 0;
      perS[index] = costPerS(facts, point, altitudeM);
    }
  });
  return { barred, perS };
}

interface ChangeCells {
  readonly moves: Moves;
  readonly direction: 1 | -1;
  readonly between: Float64Array;
  readonly barred: Uint8Array;
  readonly perS: Float64Array;
}

/** From one level over one point to every level above, or below: level by level, each at the worse of its two columns. */
function addChanges(
  lattice: Lattice,
  { route, crossings, levelsM, levelCost }: LatticeRequest,
  { moves, direction, between, barred, perS }: ChangeCells,
  from: { readonly level: number; readonly point: number },
): void {
  const { pointCount, levelCount } = lattice;
  const hasCrossings = crossings.length > 0;
  let distanceM = route.distanceM[from.point]!;
  let column = from.point;
  let cost: number = COST.perChange;
  for (let to = from.level + direction; to >= 0 && to < levelCount; to += direction) {
    const below = Math.min(to, to - direction);
    const row = below * pointCount;
    const durationS = moves.durationS[row + column]!;
    const speedMps = moves.groundMps[row + column]!;
    if (Number.isNaN(durationS) || barred[row + column] === 1) return;
    const before = between[row + column]!;
    distanceM += speedMps * durationS;
    while (column < pointCount - 1 && middleOf(route, column) < distanceM) {
      column += 1;
      if (barred[row + column] === 1) return;
    }
    cost += Math.max(before, between[row + column]!) * durationS;
    const arrival = firstAtOrBeyond(route.distanceM, distanceM, column);
    if (arrival === NOWHERE) return;
    if (hasCrossings) {
      const spanM = [route.distanceM[from.point]!, distanceM] as const;
      if (crossings.some((each) => isCutBy(each, spanM, levelsM[below]!))) return;
    }
    const index = (from.level * pointCount + from.point) * levelCount + to;
    const restS = (route.distanceM[arrival]! - distanceM) / speedMps;
    lattice.arrival[index] = arrival;
    lattice.changeCost[index] = cost + perS[to * pointCount + arrival]! * restS + levelCost[to]!;
  }
}

function isCutBy(
  crossing: MinimumCrossing,
  [fromM, toM]: readonly [number, number],
  lowestM: number,
): boolean {
  return crossing.distanceM > fromM && crossing.distanceM < toM && lowestM < crossing.altitudeM - EQUAL_M;
}

const middleOf = ({ distanceM }: RoutePoints, point: number): number =>
  (distanceM[point]! + distanceM[point + 1]!) / 2;

function firstAtOrBeyond(distancesM: Float64Array, distanceM: number, from: number): number {
  for (let point = from; point < distancesM.length; point += 1) {
    if (distancesM[point]! >= distanceM - 1e-6) return point;
  }
  return NOWHERE;
}

/** Cost and time of a level from the first point to any distance; each stretch between points is even. */
export function levelUntil(
  lattice: Lattice,
  level: number,
  distanceM: number,
): { readonly cost: number; readonly timeS: number } {
  const { distanceM: at, pointCount } = lattice;
  let point = 0;
  while (point < pointCount - 1 && at[point + 1]! <= distanceM) point += 1;
  const index = level * pointCount + point;
  if (point === pointCount - 1) return { cost: lattice.cost[index]!, timeS: lattice.timeS[index]! };
  const part = (distanceM - at[point]!) / (at[point + 1]! - at[point]!);
  const whole = lattice.cost[index + 1]! - lattice.cost[index]!;
  const share = whole >= FORBIDDEN && part > 0 ? whole : whole * part;
  return {
    cost: lattice.cost[index]! + share,
    timeS: lattice.timeS[index]! + (lattice.timeS[index + 1]! - lattice.timeS[index]!) * part,
  };
}

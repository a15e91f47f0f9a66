/**
 * The flight cut into steps, each inside one cell of one route point's column: climb from the departure, level stretches with
 * changes of altitude between them, descent to the destination. A point's column reaches half way to its neighbors. Ice
 * gathered on the way takes from climb and speed.
 */
import { type CellFacts, FACT, flownIndex } from './cell-facts.ts';
import { type CellLayout, cellLowerEdgeM, cellNumber } from './cells.ts';
import { growthAt } from './column-range.ts';
import { airspeedLeft, climbRateMps, fuelFlowKgPerS, type IcedState } from './ice-effects.ts';
import { tableValue } from './performance-table.ts';
import type { Aircraft, FlightPhase, RoutePoints, WindAt } from './types.ts';
import { groundSpeedMps, windComponents } from './wind.ts';

/** One step: everything on it is constant. */
export interface PathStep {
  readonly pointIndex: number;
  /** cruise: everything between the climb to the first level and the last descent, changes of altitude included. */
  readonly phase: FlightPhase;
  readonly isLevel: boolean;
  /** At the middle of the step. */
  readonly pressureAltitudeM: number;
  /** At its end. */
  readonly endAltitudeM: number;
  readonly fromM: number;
  readonly toM: number;
  readonly durationS: number;
  /** NaN where the wind is unknown: flown as in still air. */
  readonly headwindMps: number;
  /** Ice on unprotected parts at its start as it is expected, m. */
  readonly builtM: number;
}

/** From a distance on, climb or descend to an altitude and stay there. */
export interface Level {
  readonly fromM: number;
  readonly pressureAltitudeM: number;
}

export interface PathRequest {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly windAt: WindAt;
  /** Cells the vertical movement is cut at. */
  readonly layout: CellLayout;
  /** In order; the first is climbed to from the departure whatever its distance. */
  readonly levels: readonly Level[];
  readonly departurePressureAltitudeM: number;
  readonly destinationPressureAltitudeM: number;
  /** What the air does to the aeroplane; without it, it stays clean. */
  readonly facts?: CellFacts;
  /** Ice on unprotected parts at lift-off, m. */
  readonly residualIceM?: number;
}

export type FlightPath =
  | {
      readonly kind: 'path';
      readonly steps: readonly PathStep[];
      readonly totalS: number;
      readonly phaseS: Readonly<Record<FlightPhase, number>>;
      readonly fuelKg: number;
      readonly windUnknownS: number;
      /** Ice on unprotected parts at its end as it is expected, m. */
      readonly builtM: number;
    }
  /** Climb and descent meet below the cruise altitude. */
  | { readonly kind: 'leg-too-short' }
  /** Somewhere the climb is slower than the slowest that counts as one. */
  | {
      readonly kind: 'cannot-climb';
      readonly pressureAltitudeM: number;
      readonly distanceM: number;
      /** Ice on unprotected parts there as it is expected, m. */
      readonly builtM: number;
    }
  /** Somewhere the wind leaves less than the slowest ground speed. */
  | { readonly kind: 'wind-too-strong'; readonly pressureAltitudeM: number; readonly distanceM: number };

/** Below this ground speed no time is worked out, m/s (about 20 kt). */
export const SLOWEST_GROUND_SPEED_MPS = 10;
/** What the service ceiling is defined by (common practice: 100 ft/min for propeller aeroplanes), m/s. */
export const SLOWEST_CLIMB_MPS = (100 * 0.3048) / 60;
/** Altitudes and distances nearer than this are equal, m. */
const EQUAL_M = 1e-6;

/** What the walk along the route gathers and where it stands. */
interface Walk {
  readonly request: PathRequest;
  /** Edges of the half stretches, m: route points and the middles between them, 2 * pointCount - 1. */
  readonly edgesM: Float64Array;
  readonly steps: PathStep[];
  half: number;
  distanceM: number;
  altitudeM: number;
  builtM: number;
  fuelKg: number;
  tooStrong: { readonly pressureAltitudeM: number; readonly distanceM: number } | undefined;
  tooSlow: { readonly pressureAltitudeM: number; readonly distanceM: number } | undefined;
}

export function makeFlightPath(request: PathRequest): FlightPath {
  const edgesM = halfStretchEdgesM(request.route);
  const descent = walkDescent(request, edgesM);
  if (descent === undefined) return { kind: 'leg-too-short' };
  const walk: Walk = {
    request,
    edgesM,
    steps: [],
    half: 0,
    distanceM: 0,
    altitudeM: request.departurePressureAltitudeM,
    builtM: request.residualIceM ?? 0,
    fuelKg: 0,
    tooStrong: descent.tooStrong,
    tooSlow: undefined,
  };
  const topOfDescentM = descent.steps.at(-1)?.fromM ?? edgesM.at(-1)!;
  for (const [index, level] of request.levels.entries()) {
    walkToLevel(walk, level.pressureAltitudeM, index > 0);
    const untilM = Math.min(topOfDescentM, request.levels[index + 1]?.fromM ?? topOfDescentM);
    if (walk.tooSlow !== undefined) return { kind: 'cannot-climb', ...walk.tooSlow, builtM: walk.builtM };
    if (isOver(walk) || walk.distanceM > topOfDescentM + EQUAL_M) return { kind: 'leg-too-short' };
    walkLevel(walk, untilM);
  }
  addDescent(walk, descent.steps);
  if (walk.tooStrong !== undefined) return { kind: 'wind-too-strong', ...walk.tooStrong };
  return { kind: 'path', steps: walk.steps, ...summed(walk) };
}

/** Edges of the half stretches of a route, m: even entries are points, odd ones the middles between them. */
function halfStretchEdgesM(route: RoutePoints): Float64Array {
  return Float64Array.from({ length: 2 * route.pointCount - 1 }, (_, edge) => {
    const point = edge >> 1;
    const nextM = route.distanceM[Math.min(point + (edge & 1), route.pointCount - 1)]!;
    return (route.distanceM[point]! + nextM) / 2;
  });
}

const isOver = (walk: Walk): boolean => walk.half > walk.edgesM.length - 2;

/** Climb or descend to an altitude, cell by cell and column by column. */
function walkToLevel(walk: Walk, levelM: number, isOnTheWay: boolean): void {
  const { request, edgesM } = walk;
  const { aircraft, layout } = request;
  const isUp = levelM > walk.altitudeM;
  while (Math.abs(levelM - walk.altitudeM) > EQUAL_M && !isOver(walk)) {
    const endM = isUp
      ? Math.min(levelM, nextEdgeM(layout, walk.altitudeM))
      : Math.max(levelM, edgeBelowM(layout, walk.altitudeM));
    const middleM = (walk.altitudeM + endM) / 2;
    const state = stateAt(walk, middleM);
    const rateMps = isUp
      ? climbRateMps(aircraft, middleM, state)
      : tableValue(aircraft.descentRateMps, middleM);
    if (rateMps < SLOWEST_CLIMB_MPS) {
      walk.tooSlow = { pressureAltitudeM: walk.altitudeM, distanceM: walk.distanceM };
      return;
    }
    const tasMps = isUp ? aircraft.climbTrueAirspeedMps : aircraft.descentTrueAirspeedMps;
    const speed = speedOver(walk, walk.half, { altitudeM: middleM, tasMps });
    const toEndS = Math.abs(endM - walk.altitudeM) / rateMps;
    const toEdgeS = (edgesM[walk.half + 1]! - walk.distanceM) / speed.groundMps;
    const durationS = Math.min(toEndS, toEdgeS);
    const reachedM = toEndS <= toEdgeS ? endM : walk.altitudeM + (isUp ? rateMps : -rateMps) * durationS;
    const nextM = toEdgeS <= toEndS ? edgesM[walk.half + 1]! : walk.distanceM + speed.groundMps * durationS;
    advance(walk, {
      phase: isOnTheWay ? 'cruise' : isUp ? 'climb' : 'descent',
      isLevel: false,
      pressureAltitudeM: (walk.altitudeM + reachedM) / 2,
      endAltitudeM: reachedM,
      toM: nextM,
      durationS,
      headwindMps: speed.headwindMps,
    });
    walk.altitudeM = reachedM;
    if (toEdgeS <= toEndS) walk.half += 1;
  }
}

/** On at the present altitude to a distance. */
function walkLevel(walk: Walk, untilM: number): void {
  const { request, edgesM } = walk;
  const cleanMps = tableValue(request.aircraft.trueAirspeedMps, walk.altitudeM);
  while (walk.distanceM < untilM - EQUAL_M && !isOver(walk)) {
    const endM = Math.min(untilM, edgesM[walk.half + 1]!);
    if (endM - walk.distanceM > EQUAL_M) {
      const tasMps = cleanMps * airspeedLeft(request.aircraft, stateAt(walk, walk.altitudeM));
      const speed = speedOver(walk, walk.half, { altitudeM: walk.altitudeM, tasMps });
      advance(walk, {
        phase: 'cruise',
        isLevel: true,
        pressureAltitudeM: walk.altitudeM,
        endAltitudeM: walk.altitudeM,
        toM: endM,
        durationS: (endM - walk.distanceM) / speed.groundMps,
        headwindMps: speed.headwindMps,
      });
    }
    walk.distanceM = endM;
    if (edgesM[walk.half + 1]! - endM <= EQUAL_M) walk.half += 1;
  }
}

/** Adds a step that begins where the walk stands, with its ice and fuel. */
function advance(walk: Walk, step: Omit<PathStep, 'pointIndex' | 'fromM' | 'builtM'>): void {
  const pointIndex = pointOfHalf(walk.half);
  const state = stateAt(walk, step.pressureAltitudeM);
  // Written out: spreading would be the dearest part of the walk.
  walk.steps.push({
    pointIndex,
    phase: step.phase,
    isLevel: step.isLevel,
    pressureAltitudeM: step.pressureAltitudeM,
    endAltitudeM: step.endAltitudeM,
    fromM: walk.distanceM,
    toM: step.toM,
    durationS: step.durationS,
    headwindMps: step.headwindMps,
    builtM: walk.builtM,
  });
  walk.fuelKg += fuelFlowKgPerS(walk.request.aircraft, step.pressureAltitudeM, state) * step.durationS;
  const { facts } = walk.request;
  if (facts !== undefined)
    walk.builtM += growthAt(facts, pointIndex, step.pressureAltitudeM) * step.durationS;
  walk.distanceM = step.toM;
}

function stateAt(walk: Walk, altitudeM: number): IcedState {
  const { facts } = walk.request;
  if (facts === undefined) return { builtM: walk.builtM, isSeparatorOn: false };
  const index = flownIndex(facts, pointOfHalf(walk.half), cellNumber(facts, altitudeM));
  return { builtM: walk.builtM, isSeparatorOn: index >= 0 && (facts.answers[index]! & FACT.separator) !== 0 };
}

/** From the destination backward up to the last level, in the order walked; undefined when the route ends first. */
function walkDescent(
  request: PathRequest,
  edgesM: Float64Array,
): { readonly steps: PathStep[]; readonly tooStrong: Walk['tooStrong'] } | undefined {
  const { aircraft, layout } = request;
  const levelM = request.levels.at(-1)!.pressureAltitudeM;
  const steps: PathStep[] = [];
  let tooStrong: Walk['tooStrong'];
  let altitudeM = request.destinationPressureAltitudeM;
  let half = edgesM.length - 2;
  let distanceM = edgesM.at(-1)!;
  while (altitudeM < levelM - EQUAL_M) {
    if (half < 0) return undefined;
    const topM = Math.min(levelM, nextEdgeM(layout, altitudeM));
    const middleM = (altitudeM + topM) / 2;
    const rateMps = tableValue(aircraft.descentRateMps, middleM);
    const speed = speedOf(request, half, { altitudeM: middleM, tasMps: aircraft.descentTrueAirspeedMps });
    if (speed.isTooSlow) tooStrong ??= { pressureAltitudeM: middleM, distanceM: edgesM[half]! };
    const roomM = distanceM - edgesM[half]!;
    const toTopS = (topM - altitudeM) / rateMps;
    const toEdgeS = roomM / speed.groundMps;
    const durationS = Math.min(toTopS, toEdgeS);
    const reachedM = toTopS <= toEdgeS ? topM : altitudeM + rateMps * durationS;
    const fromM = toEdgeS <= toTopS ? edgesM[half]! : distanceM - speed.groundMps * durationS;
    steps.push({
      pointIndex: pointOfHalf(half),
      phase: 'descent',
      isLevel: false,
      pressureAltitudeM: (altitudeM + reachedM) / 2,
      endAltitudeM: altitudeM,
      fromM,
      toM: distanceM,
      durationS,
      headwindMps: speed.headwindMps,
      builtM: 0,
    });
    if (toEdgeS <= toTopS) half -= 1;
    altitudeM = reachedM;
    distanceM = fromM;
  }
  return { steps, tooStrong };
}

/** The descent in the order flown, with the ice it finds on the aeroplane and gathers itself. */
function addDescent(walk: Walk, backward: readonly PathStep[]): void {
  for (const step of backward.toReversed()) {
    walk.half = 2 * step.pointIndex;
    advance(walk, step);
  }
}

/** Ground speed in a half stretch; unknown wind is taken as still air and its headwind as NaN. */
function speedOver(walk: Walk, half: number, at: { readonly altitudeM: number; readonly tasMps: number }) {
  const speed = speedOf(walk.request, half, at);
  if (speed.isTooSlow) {
    walk.tooStrong ??= { pressureAltitudeM: at.altitudeM, distanceM: walk.edgesM[half]! };
  }
  return speed;
}

function speedOf(
  { route, windAt }: PathRequest,
  half: number,
  at: { readonly altitudeM: number; readonly tasMps: number },
): { readonly groundMps: number; readonly headwindMps: number; readonly isTooSlow: boolean } {
  const wind = windAt(pointOfHalf(half), at.altitudeM);
  if (wind === undefined) {
    const isTooSlow = at.tasMps < SLOWEST_GROUND_SPEED_MPS;
    return { groundMps: Math.max(SLOWEST_GROUND_SPEED_MPS, at.tasMps), headwindMps: Number.NaN, isTooSlow };
  }
  const components = windComponents(wind, route.courseRad[half >> 1]!);
  const { headwindMps } = components;
  const groundMps = groundSpeedMps(at.tasMps, components);
  if (groundMps >= SLOWEST_GROUND_SPEED_MPS) return { groundMps, headwindMps, isTooSlow: false };
  return { groundMps: SLOWEST_GROUND_SPEED_MPS, headwindMps, isTooSlow: true };
}

function pointOfHalf(half: number): number {
  return (half + 1) >> 1;
}

function nextEdgeM(layout: CellLayout, altitudeM: number): number {
  return cellLowerEdgeM(layout, cellNumber(layout, altitudeM) + 1);
}

function edgeBelowM(layout: CellLayout, altitudeM: number): number {
  const edgeM = cellLowerEdgeM(layout, cellNumber(layout, altitudeM));
  return altitudeM - edgeM > EQUAL_M ? edgeM : edgeM - layout.cellDepthM;
}

function summed({ steps, fuelKg, builtM }: Walk) {
  const phaseS = { climb: 0, cruise: 0, descent: 0 };
  let windUnknownS = 0;
  for (const step of steps) {
    phaseS[step.phase] += step.durationS;
    if (Number.isNaN(step.headwindMps)) windUnknownS += step.durationS;
  }
  return { totalS: phaseS.climb + phaseS.cruise + phaseS.descent, phaseS, fuelKg, windUnknownS, builtM };
}

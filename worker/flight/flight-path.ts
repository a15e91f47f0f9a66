/**
 * The flight cut into steps, each inside one cell of one route point's column: climb from the departure, cruise, descent
 * to the destination. A point's column reaches half way to its neighbors.
 */
import { tableValue } from './aircraft.ts';
import { type CellLayout, cellLowerEdgeM, cellNumber } from './cells.ts';
import type { Aircraft, FlightPhase, RoutePoints, WindAt } from './types.ts';
import { groundSpeedMps, windComponents } from './wind.ts';

/** One step: everything on it is constant. */
export interface PathStep {
  readonly pointIndex: number;
  readonly phase: FlightPhase;
  /** At the middle of the step. */
  readonly pressureAltitudeM: number;
  readonly fromM: number;
  readonly toM: number;
  readonly durationS: number;
  /** NaN where the wind is unknown: flown as in still air. */
  readonly headwindMps: number;
}

export interface PathRequest {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly windAt: WindAt;
  /** Cells the vertical movement is cut at. */
  readonly layout: CellLayout;
  readonly cruisePressureAltitudeM: number;
  readonly departurePressureAltitudeM: number;
  readonly destinationPressureAltitudeM: number;
}

export type FlightPath =
  | {
      readonly kind: 'path';
      readonly steps: readonly PathStep[];
      readonly totalS: number;
      readonly phaseS: Readonly<Record<FlightPhase, number>>;
      readonly fuelKg: number;
      readonly windUnknownS: number;
    }
  /** Climb and descent meet below the cruise altitude. */
  | { readonly kind: 'leg-too-short' }
  /** Somewhere the wind leaves less than the slowest ground speed. */
  | { readonly kind: 'wind-too-strong'; readonly pressureAltitudeM: number; readonly distanceM: number };

/** Below this ground speed no time is worked out, m/s (about 20 kt). */
export const SLOWEST_GROUND_SPEED_MPS = 10;
/** Altitudes and distances nearer than this are equal, m. */
const EQUAL_M = 1e-6;

/** What the walk along the route gathers. */
interface Walk {
  readonly request: PathRequest;
  /** Edges of the half stretches, m: route points and the middles between them, 2 * pointCount - 1. */
  readonly edgesM: Float64Array;
  tooStrong: { readonly pressureAltitudeM: number; readonly distanceM: number } | undefined;
}

/** A climb seen from its low end: forward from the departure, or backward from the destination. */
interface Slope {
  readonly phase: 'climb' | 'descent';
  readonly lowM: number;
  readonly trueAirspeedMps: number;
  readonly rateMpsAt: (pressureAltitudeM: number) => number;
}

export function makeFlightPath(request: PathRequest): FlightPath {
  const walk: Walk = { request, edgesM: halfStretchEdgesM(request.route), tooStrong: undefined };
  const { aircraft } = request;
  const climb = walkSlope(walk, {
    phase: 'climb',
    lowM: request.departurePressureAltitudeM,
    trueAirspeedMps: aircraft.climbTrueAirspeedMps,
    rateMpsAt: (altitudeM) => tableValue(aircraft.climbRateMps, altitudeM),
  });
  const descent = walkSlope(walk, {
    phase: 'descent',
    lowM: request.destinationPressureAltitudeM,
    trueAirspeedMps: aircraft.descentTrueAirspeedMps,
    rateMpsAt: () => aircraft.descentRateMps,
  });
  if (climb === undefined || descent === undefined) return { kind: 'leg-too-short' };
  const fromM = climb.at(-1)?.toM ?? 0;
  const toM = descent.at(-1)?.fromM ?? walk.edgesM.at(-1)!;
  if (fromM > toM) return { kind: 'leg-too-short' };
  const steps = [...climb, ...walkCruise(walk, fromM, toM), ...descent.reverse()];
  if (walk.tooStrong !== undefined) return { kind: 'wind-too-strong', ...walk.tooStrong };
  return { kind: 'path', steps, ...summed(aircraft, steps) };
}

/** Edges of the half stretches of a route, m: even entries are points, odd ones the middles between them. */
function halfStretchEdgesM(route: RoutePoints): Float64Array {
  return Float64Array.from({ length: 2 * route.pointCount - 1 }, (_, edge) => {
    const point = edge >> 1;
    const nextM = route.distanceM[Math.min(point + (edge & 1), route.pointCount - 1)]!;
    return (route.distanceM[point]! + nextM) / 2;
  });
}

/** Steps from the low end up to the cruise altitude, in the order walked; undefined when the route ends first. */
function walkSlope(walk: Walk, slope: Slope): PathStep[] | undefined {
  const { request, edgesM } = walk;
  const isForward = slope.phase === 'climb';
  const steps: PathStep[] = [];
  let altitudeM = slope.lowM;
  let half = isForward ? 0 : edgesM.length - 2;
  let distanceM = isForward ? 0 : edgesM.at(-1)!;
  while (altitudeM < request.cruisePressureAltitudeM - EQUAL_M) {
    if (half < 0 || half > edgesM.length - 2) return undefined;
    const topM = Math.min(request.cruisePressureAltitudeM, nextEdgeM(request.layout, altitudeM));
    const rateMps = slope.rateMpsAt((altitudeM + topM) / 2);
    const speed = speedOver(walk, half, { altitudeM: (altitudeM + topM) / 2, tasMps: slope.trueAirspeedMps });
    const roomM = isForward ? edgesM[half + 1]! - distanceM : distanceM - edgesM[half]!;
    const toTopS = (topM - altitudeM) / rateMps;
    const toEdgeS = roomM / speed.groundMps;
    const durationS = Math.min(toTopS, toEdgeS);
    const reachedM = toTopS <= toEdgeS ? topM : altitudeM + rateMps * durationS;
    const movedM = toEdgeS <= toTopS ? roomM : speed.groundMps * durationS;
    const nextM = isForward ? distanceM + movedM : distanceM - movedM;
    steps.push({
      pointIndex: pointOfHalf(half),
      phase: slope.phase,
      pressureAltitudeM: (altitudeM + reachedM) / 2,
      fromM: Math.min(distanceM, nextM),
      toM: Math.max(distanceM, nextM),
      durationS,
      headwindMps: speed.headwindMps,
    });
    if (toEdgeS <= toTopS) half += isForward ? 1 : -1;
    altitudeM = reachedM;
    distanceM = nextM;
  }
  return steps;
}

function walkCruise(walk: Walk, fromM: number, toM: number): PathStep[] {
  const { request, edgesM } = walk;
  const pressureAltitudeM = request.cruisePressureAltitudeM;
  const tasMps = tableValue(request.aircraft.trueAirspeedMps, pressureAltitudeM);
  const steps: PathStep[] = [];
  for (let half = 0; half + 1 < edgesM.length; half += 1) {
    const startM = Math.max(fromM, edgesM[half]!);
    const endM = Math.min(toM, edgesM[half + 1]!);
    if (endM - startM <= EQUAL_M) continue;
    const speed = speedOver(walk, half, { altitudeM: pressureAltitudeM, tasMps });
    steps.push({
      pointIndex: pointOfHalf(half),
      phase: 'cruise',
      pressureAltitudeM,
      fromM: startM,
      toM: endM,
      durationS: (endM - startM) / speed.groundMps,
      headwindMps: speed.headwindMps,
    });
  }
  return steps;
}

/** Ground speed in a half stretch; unknown wind is taken as still air and its headwind as NaN. */
function speedOver(
  walk: Walk,
  half: number,
  at: { readonly altitudeM: number; readonly tasMps: number },
): { groundMps: number; headwindMps: number } {
  const { route, windAt } = walk.request;
  const wind = windAt(pointOfHalf(half), at.altitudeM);
  if (wind === undefined) return { groundMps: at.tasMps, headwindMps: Number.NaN };
  const components = windComponents(wind, route.courseRad[half >> 1]!);
  const groundMps = groundSpeedMps(at.tasMps, components);
  if (groundMps >= SLOWEST_GROUND_SPEED_MPS) return { groundMps, headwindMps: components.headwindMps };
  walk.tooStrong ??= { pressureAltitudeM: at.altitudeM, distanceM: walk.edgesM[half]! };
  return { groundMps: SLOWEST_GROUND_SPEED_MPS, headwindMps: components.headwindMps };
}

function pointOfHalf(half: number): number {
  return (half + 1) >> 1;
}

function nextEdgeM(layout: CellLayout, altitudeM: number): number {
  return cellLowerEdgeM(layout, cellNumber(layout, altitudeM) + 1);
}

function summed(aircraft: Aircraft, steps: readonly PathStep[]) {
  const phaseS = { climb: 0, cruise: 0, descent: 0 };
  let fuelKg = 0;
  let windUnknownS = 0;
  for (const step of steps) {
    phaseS[step.phase] += step.durationS;
    fuelKg += tableValue(aircraft.fuelFlowKgPerS, step.pressureAltitudeM) * step.durationS;
    if (Number.isNaN(step.headwindMps)) windUnknownS += step.durationS;
  }
  return { totalS: phaseS.climb + phaseS.cruise + phaseS.descent, phaseS, fuelKg, windUnknownS };
}

/** Seconds from the start of a path until it is over each route point. */
export function secondsOverPoints(
  route: RoutePoints,
  path: { readonly steps: readonly PathStep[] },
): Float64Array {
  const secondsS = new Float64Array(route.pointCount);
  let elapsedS = 0;
  let point = 1;
  for (const step of path.steps) {
    while (point < route.pointCount && route.distanceM[point]! <= step.toM) {
      const part = (route.distanceM[point]! - step.fromM) / (step.toM - step.fromM);
      secondsS[point] = elapsedS + Math.max(0, part) * step.durationS;
      point += 1;
    }
    elapsedS += step.durationS;
  }
  secondsS.fill(elapsedS, point);
  return secondsS;
}

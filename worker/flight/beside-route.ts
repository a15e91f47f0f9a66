/** How far beside a route a reported place is, and beside which part of it. */
import {
  alongStretchM,
  distanceToStretchM,
  greatCircleDistanceM,
  type Position,
  positionsBetween,
} from '../science/great-circle.ts';
import { mFromNm } from '../science/units.ts';
import type { HazardArea } from './hazard-areas.ts';
import type { RoutePoints } from './types.ts';

export interface BesideRoute {
  /** Least distance from the route, m; of a line within half a mile. */
  readonly distanceM: number;
  /** Of the places of the route that it is abeam of, m from its start; equal for a single place. */
  readonly fromM: number;
  readonly toM: number;
}

/** A line is followed in steps of so much, a long one in as many. */
const STEP_M = mFromNm(1);
const MOST_STEPS = 200;

/**
 * @returns  undefined where the place is not known: for an area, an open side, and anywhere around a station.
 * @checked  tests/flight/beside-route.test.ts
 */
export function besideRoute(areas: readonly HazardArea[], route: RoutePoints): BesideRoute | undefined {
  const [area, ...others] = areas;
  const places = area === undefined || others.length > 0 ? [] : placesOf(area);
  if (places.length === 0) return undefined;
  const nearest = places.map((place) => nearestOnRoute(place, route));
  const alongM = nearest.map((each) => each.alongM);
  return {
    distanceM: Math.min(...nearest.map((each) => each.distanceM)),
    fromM: Math.min(...alongM),
    toM: Math.max(...alongM),
  };
}

function placesOf(area: HazardArea): readonly Position[] {
  if (area.kind === 'circle') return area.radiusM === 0 ? [area.center] : [];
  if (area.kind !== 'line') return [];
  const stepM = Math.max(STEP_M, lengthM(area.points) / MOST_STEPS);
  return area.points.flatMap((place, index) => {
    const next = area.points[index + 1];
    return next === undefined ? [place] : [place, ...positionsBetween(place, next, stepM)];
  });
}

function lengthM(points: readonly Position[]): number {
  return points.slice(1).reduce((sum, to, index) => sum + greatCircleDistanceM(points[index]!, to), 0);
}

function nearestOnRoute(place: Position, route: RoutePoints) {
  const at = (point: number): Position => ({
    latDeg: route.latDeg[point]!,
    lonDeg: route.lonDeg[point]!,
  });
  let best = { distanceM: greatCircleDistanceM(at(0), place), alongM: 0 };
  for (let point = 0; point + 1 < route.pointCount; point += 1) {
    const distanceM = distanceToStretchM(place, at(point), at(point + 1));
    if (distanceM >= best.distanceM) continue;
    const alongM = route.distanceM[point]! + alongStretchM(place, at(point), at(point + 1));
    best = { distanceM, alongM };
  }
  return best;
}

/** What features share: stretches of the route, and rounding that gives equal bytes for equal inputs. */
import type { RoutePoints } from '../flight/types.ts';
import { nmFromM } from '../science/units.ts';
import { roundTo } from './round-to.ts';

/** About a meter, degrees. */
const COORDINATE_STEP = 1e-5;

/** Edges of each point's stretch of the route, m: halfway to its neighbors; length pointCount + 1. */
export function stretchEdgesM(route: RoutePoints): Float64Array {
  const edges = new Float64Array(route.pointCount + 1);
  for (let point = 1; point < route.pointCount; point += 1) {
    edges[point] = (route.distanceM[point - 1]! + route.distanceM[point]!) / 2;
  }
  edges[route.pointCount] = route.distanceM[route.pointCount - 1]!;
  return edges;
}

export const roundedNm = (distanceM: number) => roundTo(nmFromM(distanceM), 0.01);

/** The same geometry with coordinates rounded to about a meter, so that equal inputs give equal bytes. */
export function rounded<Geometry extends { readonly coordinates: unknown }>(geometry: Geometry): Geometry {
  const round = (value: unknown): unknown =>
    typeof value === 'number' ? roundTo(value, COORDINATE_STEP) : (value as unknown[]).map(round);
  return { ...geometry, coordinates: round(geometry.coordinates) };
}

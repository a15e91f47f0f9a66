/** Where and when a path is: over route points, and over any distance. */
import type { PathStep } from './flight-path.ts';
import type { RoutePoints } from './types.ts';

/** Distances nearer than this are equal, m. */
const EQUAL_M = 1e-6;

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

/** Pressure altitude over each route point along a path, m. */
export function altitudesOverPoints(
  { distanceM, pointCount }: RoutePoints,
  steps: readonly PathStep[],
  departureAltitudeM: number,
): Float64Array {
  return Float64Array.from({ length: pointCount }, (_, point) =>
    altitudeAt(steps, departureAltitudeM, distanceM[point]!),
  );
}

/** Pressure altitude over a distance along a path, m: straight between the ends of its steps. */
export function altitudeAt(
  steps: readonly PathStep[],
  departureAltitudeM: number,
  distanceM: number,
): number {
  let startM = departureAltitudeM;
  for (const step of steps) {
    if (distanceM <= step.toM) {
      const part = (distanceM - step.fromM) / Math.max(EQUAL_M, step.toM - step.fromM);
      return startM + Math.min(1, Math.max(0, part)) * (step.endAltitudeM - startM);
    }
    startM = step.endAltitudeM;
  }
  return startM;
}

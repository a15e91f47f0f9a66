/** Route points along the great circles between fixes. */
import { InvalidRequestError } from '../errors.ts';
import {
  finalCourseRad,
  greatCircleDistanceM,
  initialCourseRad,
  interpolate,
} from '../science/great-circle.ts';
import { mFromNm, nmFromM } from '../science/units.ts';
import type { Fix, RoutePoints } from './types.ts';

export const DEFAULT_SPACING_M = mFromNm(5);
const LONGEST_ROUTE_M = mFromNm(1500);
/** Fixes nearer to each other than this are one place, m. */
const SAME_PLACE_M = 50;
/** Beyond, longitudes close in on each other and a corridor may hold the pole. */
const FURTHEST_LAT_DEG = 85;

/**
 * Points at most `maxSpacingM` apart, equally spaced between one fix and the next; every fix is a point.
 *
 * @throws InvalidRequestError, field route: fewer than two fixes, the same place twice running, a latitude beyond 85
 * degrees, or more than 1,500 NM in all.
 */
export function makeRoutePoints(fixes: readonly Fix[], maxSpacingM: number = DEFAULT_SPACING_M): RoutePoints {
  checkFixes(fixes);
  const points: {
    latDeg: number;
    lonDeg: number;
    distanceM: number;
    courseRad: number;
    fix: number;
  }[] = [];
  let flownM = 0;
  for (let leg = 0; leg + 1 < fixes.length; leg += 1) {
    const from = fixes[leg]!;
    const to = fixes[leg + 1]!;
    const legM = legLengthM(from, to);
    refuseLongRoute(flownM + legM);
    const parts = Math.max(1, Math.ceil(legM / maxSpacingM - 1e-9));
    for (let part = 0; part < parts; part += 1) {
      const place = part === 0 ? from : interpolate(from, to, part / parts);
      points.push({
        latDeg: place.latDeg,
        lonDeg: place.lonDeg,
        distanceM: flownM + (legM * part) / parts,
        courseRad: initialCourseRad(place, to),
        fix: part === 0 ? leg : -1,
      });
    }
    flownM += legM;
  }
  const last = fixes.at(-1)!;
  points.push({
    latDeg: last.latDeg,
    lonDeg: last.lonDeg,
    distanceM: flownM,
    courseRad: finalCourseRad(points.at(-1)!, last),
    fix: fixes.length - 1,
  });
  return {
    pointCount: points.length,
    latDeg: Float64Array.from(points, (point) => point.latDeg),
    lonDeg: Float64Array.from(points, (point) => point.lonDeg),
    distanceM: Float64Array.from(points, (point) => point.distanceM),
    courseRad: Float64Array.from(points, (point) => point.courseRad),
    fixIndex: Int16Array.from(points, (point) => point.fix),
    fixes,
  };
}

function checkFixes(fixes: readonly Fix[]): void {
  if (fixes.length < 2) refuseRoute(`${fixes.length} places`, 'at least a departure and a destination');
  for (const fix of fixes) {
    if (!(Math.abs(fix.latDeg) <= FURTHEST_LAT_DEG)) {
      refuseRoute(`${fix.name} at latitude ${fix.latDeg}`, `latitudes between 85S and 85N`);
    }
    if (!Number.isFinite(fix.lonDeg)) refuseRoute(`${fix.name} at longitude ${fix.lonDeg}`, 'a longitude');
  }
}

function legLengthM(from: Fix, to: Fix): number {
  const legM = greatCircleDistanceM(from, to);
  if (legM < SAME_PLACE_M)
    refuseRoute(`${from.name} then ${to.name}, one place`, 'two different places running');
  return legM;
}

function refuseLongRoute(flownM: number): void {
  if (flownM <= LONGEST_ROUTE_M) return;
  refuseRoute(`${Math.ceil(nmFromM(flownM))} NM or more`, 'a route of at most 1500 NM');
}

function refuseRoute(found: string, expected: string): never {
  throw new InvalidRequestError({ field: 'route', found, expected });
}

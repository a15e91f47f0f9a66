/** The minimum altitude along a leg, from what was entered and from known ground heights. Unknown stays unknown. */
import { InvalidRequestError } from '../errors.ts';
import { distanceToStretchM } from '../science/great-circle.ts';
import { mFromFt, mFromNm } from '../science/units.ts';
import { MINIMUM_SOURCES, type MinimumAltitudes, type MinimumSource, type RoutePoints } from './types.ts';

/** A published minimum between two distances along the route; indicated, m. */
export interface EnteredMinimum {
  readonly fromM: number;
  readonly toM: number;
  readonly altitudeM: number;
}

export interface SpotHeightPlace {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** True height of the ground or obstacle, m. */
  readonly heightM: number;
}

/**
 * Above the highest known ground everywhere: what 14 CFR 91.177(a) asks for in mountainous areas, elsewhere 1,000 ft.
 */
export const ABOVE_GROUND_M = mFromFt(2000);
/** An entered minimum less than this above known ground is a slip: 14 CFR 91.177(a) asks for it everywhere. */
const LEAST_ABOVE_GROUND_M = mFromFt(1000);
/** Feet turned into meters leave this much dust, m. */
const DUST_M = 1e-6;
/** For a quick look only: a degree of latitude on the sphere is 111.19 km. */
const LEAST_M_PER_DEG_LAT = 111_000;
/** Entered ends are written in round miles, m. */
const ENTERED_TOLERANCE_M = mFromNm(0.5);

/**
 * Entered minima hold at the points they cover, but never within 1,000 ft of known ground; elsewhere the highest spot within the half-width of the point's stretch
 * (half way to its neighbors) plus 2,000 ft; elsewhere unknown. Spots say nothing of the ground between them.
 *
 * @throws InvalidRequestError when an entered minimum ends before it starts.
 */
export function minimumAltitudes(request: {
  readonly route: RoutePoints;
  readonly entered: readonly EnteredMinimum[];
  readonly spotHeights: readonly SpotHeightPlace[];
  readonly corridorHalfWidthM: number;
}): MinimumAltitudes {
  const { route, entered } = request;
  entered.forEach(refuseBackward);
  const altitudeM = new Float64Array(route.pointCount).fill(Number.NaN);
  const terrainM = new Float64Array(route.pointCount).fill(Number.NaN);
  const overruledM = new Float64Array(route.pointCount).fill(Number.NaN);
  const source = new Uint8Array(route.pointCount).fill(codeOf('unknown'));
  const applied = entered.map((minimum) => withCoveredPoint(route, minimum));
  for (let point = 0; point < route.pointCount; point += 1) {
    terrainM[point] = highestSpotM(request, point);
    const enteredM = enteredAtM(route, applied, point);
    const isTooLow = enteredM !== undefined && enteredM < terrainM[point]! + LEAST_ABOVE_GROUND_M - DUST_M;
    if (isTooLow) overruledM[point] = enteredM;
    if (enteredM !== undefined && !isTooLow) {
      altitudeM[point] = enteredM;
      source[point] = codeOf('entered');
    } else if (Number.isFinite(terrainM[point]!)) {
      altitudeM[point] = terrainM[point]! + ABOVE_GROUND_M;
      source[point] = codeOf('spot-heights');
    }
  }
  return { altitudeM, source, terrainM, overruledM, legSource: legSourceOf(source) };
}

function codeOf(source: MinimumSource): number {
  return MINIMUM_SOURCES.indexOf(source);
}

function legSourceOf(source: Uint8Array): MinimumAltitudes['legSource'] {
  if (source.every((code) => code === codeOf('unknown'))) return 'unknown';
  if (source.includes(codeOf('unknown'))) return 'partly-unknown';
  return source.every((code) => code === codeOf('entered')) ? 'entered' : 'spot-heights';
}

function refuseBackward(minimum: EnteredMinimum, index: number): void {
  if (minimum.toM > minimum.fromM) return;
  throw new InvalidRequestError({
    field: `options.minimumAltitudes[${index}].toNm`,
    found: 'an end at or before fromNm',
    expected: 'more than fromNm',
  });
}

interface AppliedMinimum extends EnteredMinimum {
  /** A point that counts as covered although it lies outside: the only one near a short stretch. */
  readonly nearestPoint: number;
}

function withCoveredPoint(route: RoutePoints, minimum: EnteredMinimum): AppliedMinimum {
  const middleM = (minimum.fromM + minimum.toM) / 2;
  let nearestPoint = 0;
  route.distanceM.forEach((distanceM, point) => {
    if (Math.abs(distanceM - middleM) < Math.abs(route.distanceM[nearestPoint]! - middleM))
      nearestPoint = point;
  });
  const isOnRoute = minimum.fromM <= route.distanceM.at(-1)! && minimum.toM >= 0;
  return { ...minimum, nearestPoint: isOnRoute ? nearestPoint : -1 };
}

/** The greatest minimum that touches the point's stretch, if the point itself is covered by one. */
function enteredAtM(
  route: RoutePoints,
  applied: readonly AppliedMinimum[],
  point: number,
): number | undefined {
  const distanceM = route.distanceM[point]!;
  const isCovered = applied.some(
    (minimum) =>
      minimum.nearestPoint === point ||
      (minimum.fromM - ENTERED_TOLERANCE_M <= distanceM && minimum.toM + ENTERED_TOLERANCE_M >= distanceM),
  );
  if (!isCovered) return undefined;
  const fromM = (distanceM + route.distanceM[Math.max(0, point - 1)]!) / 2;
  const toM = (distanceM + route.distanceM[Math.min(route.pointCount - 1, point + 1)]!) / 2;
  const touching = applied.filter(
    (minimum) =>
      minimum.nearestPoint === point ||
      (minimum.fromM <= toM + ENTERED_TOLERANCE_M && minimum.toM >= fromM - ENTERED_TOLERANCE_M),
  );
  return Math.max(...touching.map((minimum) => minimum.altitudeM));
}

/** Highest spot within the half-width of a point's stretch, m; NaN when there is none. */
function highestSpotM(request: Parameters<typeof minimumAltitudes>[0], point: number): number {
  const { route, corridorHalfWidthM } = request;
  const place = (at: number) => ({ latDeg: route.latDeg[at]!, lonDeg: route.lonDeg[at]! });
  const middle = (other: number) => ({
    latDeg: (route.latDeg[point]! + route.latDeg[other]!) / 2,
    lonDeg: middleLonDeg(route.lonDeg[point]!, route.lonDeg[other]!),
  });
  const before = middle(Math.max(0, point - 1));
  const after = middle(Math.min(route.pointCount - 1, point + 1));
  const reachM = corridorHalfWidthM + stretchLengthM(route, point);
  let highestM = Number.NaN;
  for (const spot of request.spotHeights) {
    if (!Number.isFinite(spot.heightM) || spot.heightM <= highestM) continue;
    if (Math.abs(spot.latDeg - route.latDeg[point]!) * LEAST_M_PER_DEG_LAT > reachM) continue;
    const awayM = Math.min(
      distanceToStretchM(spot, before, place(point)),
      distanceToStretchM(spot, place(point), after),
    );
    if (awayM <= corridorHalfWidthM) highestM = spot.heightM;
  }
  return highestM;
}

function stretchLengthM(route: RoutePoints, point: number): number {
  const last = route.pointCount - 1;
  return route.distanceM[Math.min(last, point + 1)]! - route.distanceM[Math.max(0, point - 1)]!;
}

/** Of two longitudes less than half the globe apart. */
function middleLonDeg(aDeg: number, bDeg: number): number {
  const differenceDeg = bDeg - aDeg - 360 * Math.round((bDeg - aDeg) / 360);
  return aDeg + differenceDeg / 2;
}

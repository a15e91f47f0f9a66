/** Footprints of a route on the ground: the whole corridor, and the stretch of it under a band. */
import { buffer } from '@turf/buffer';
import { lineString } from '@turf/helpers';
import type { MultiPolygon, Polygon, Position } from 'geojson';
import { AppBug } from '../errors.ts';
import {
  destination,
  finalCourseRad,
  initialCourseRad,
  interpolate,
  type Position as Place,
  turnRad,
} from '../science/great-circle.ts';
import { ringPolygon, unwrapLongitudes } from './antimeridian.ts';
import type { RoutePoints } from './types.ts';

const BUFFER_STEPS = 8;
/** Outer corners of sharp bends are cut off at this many half-widths. */
const LONGEST_MITER = 1.5;

/**
 * Everything within the half-width of the route, with round ends. The width is true to 1 % on a route of 1,500 NM (the
 * buffer is drawn on an azimuthal equidistant plane about the route's middle). Ground that a route flies around
 * counts as inside.
 */
export function corridorPolygon(route: RoutePoints, halfWidthM: number): Polygon | MultiPolygon {
  return bufferPolygon(positionsOf(route), halfWidthM);
}

/** Everything within the half-width of a line of at least two positions; the rules are those of the corridor. */
export function bufferPolygon(positions: readonly Position[], halfWidthM: number): Polygon | MultiPolygon {
  const line = lineString(unwrapLongitudes(positions));
  const buffered = buffer(line, halfWidthM / 1000, { units: 'kilometers', steps: BUFFER_STEPS });
  const ring = buffered?.geometry.type === 'Polygon' ? buffered.geometry.coordinates[0] : undefined;
  if (ring === undefined) throw new AppBug(`corridor of ${positions.length} points: found no polygon`);
  return ringPolygon(ring);
}

/** Route positions in GeoJSON order. */
export function positionsOf(route: RoutePoints): Position[] {
  return Array.from(route.latDeg, (latDeg, point) => [route.lonDeg[point]!, latDeg]);
}

/**
 * The corridor between two distances along the route, with square ends: neighboring strips share their edge exactly.
 * On the inside of a bend the edge turns about the corner, so strips of ordinary bends (up to about 90 degrees, legs
 * longer than the corridor is wide) do not cross themselves.
 */
export function corridorStrip(
  route: RoutePoints,
  strip: { readonly fromM: number; readonly toM: number; readonly halfWidthM: number },
): Polygon | MultiPolygon {
  const bends = bendsOf(route, strip.halfWidthM);
  const fromM = snapped(route, strip.fromM);
  const toM = snapped(route, strip.toM);
  const between = route.distanceM.filter((distanceM) => distanceM > fromM && distanceM < toM);
  const pairs = [fromM, ...between, toM].map((distanceM) =>
    edgesAt(route, bends, { distanceM, halfWidthM: strip.halfWidthM }),
  );
  const ring = [...pairs.map((pair) => pair.left), ...pairs.map((pair) => pair.right).reverse()];
  return ringPolygon(ring.map((place) => [place.lonDeg, place.latDeg]));
}

/** The distance, or that of a route point within half a meter of it. */
function snapped(route: RoutePoints, distanceM: number): number {
  return route.distanceM.find((pointM) => Math.abs(pointM - distanceM) < 0.5) ?? distanceM;
}

interface Bend {
  readonly distanceM: number;
  /** Inside of the bend: within this distance the edge stands at the corner. */
  readonly reachM: number;
  readonly inner: 'left' | 'right';
  readonly innerCorner: Place;
  readonly outerCorner: Place;
}

function bendsOf(route: RoutePoints, halfWidthM: number): Bend[] {
  const fixPoints = Array.from(route.fixIndex.keys()).filter((point) => route.fixIndex[point]! >= 0);
  return fixPoints.slice(1, -1).map((point, index) => {
    const place = placeAt(route, point);
    const arrivalRad = finalCourseRad(placeAt(route, point - 1), place);
    const turn = turnRad(arrivalRad, route.courseRad[point]!);
    const distanceM = route.distanceM[point]!;
    const shorterLegM = Math.min(
      distanceM - route.distanceM[fixPoints[index]!]!,
      route.distanceM[fixPoints[index + 2]!]! - distanceM,
    );
    const reachM = Math.min(halfWidthM * Math.tan(Math.abs(turn) / 2), shorterLegM);
    const innerRad = arrivalRad + turn / 2 + (turn > 0 ? Math.PI / 2 : -Math.PI / 2);
    const cornerM = Math.hypot(halfWidthM, reachM);
    return {
      distanceM,
      reachM,
      inner: turn > 0 ? 'right' : 'left',
      innerCorner: destination(place, innerRad, cornerM),
      outerCorner: destination(place, innerRad + Math.PI, Math.min(cornerM, LONGEST_MITER * halfWidthM)),
    };
  });
}

function edgesAt(
  route: RoutePoints,
  bends: readonly Bend[],
  at: { readonly distanceM: number; readonly halfWidthM: number },
): { left: Place; right: Place } {
  const { place, courseRad } = placeAtDistance(route, at.distanceM);
  const edges = {
    left: destination(place, courseRad - Math.PI / 2, at.halfWidthM),
    right: destination(place, courseRad + Math.PI / 2, at.halfWidthM),
  };
  for (const bend of bends) {
    const awayM = Math.abs(at.distanceM - bend.distanceM);
    if (awayM > 0 && awayM >= bend.reachM) continue;
    edges[bend.inner] = bend.innerCorner;
    if (awayM === 0) edges[bend.inner === 'left' ? 'right' : 'left'] = bend.outerCorner;
  }
  return edges;
}

/** Position and course at a distance along the route; beyond the ends, the ends. */
export function placeAtDistance(route: RoutePoints, distanceM: number): { place: Place; courseRad: number } {
  const next = route.distanceM.findIndex((pointM) => pointM > distanceM);
  if (next === -1) {
    const last = route.pointCount - 1;
    return { place: placeAt(route, last), courseRad: route.courseRad[last]! };
  }
  const before = Math.max(0, next - 1);
  const startM = route.distanceM[before]!;
  const part = Math.max(0, (distanceM - startM) / (route.distanceM[before + 1]! - startM));
  if (part === 0) return { place: placeAt(route, before), courseRad: route.courseRad[before]! };
  const to = placeAt(route, before + 1);
  const place = interpolate(placeAt(route, before), to, part);
  return { place, courseRad: initialCourseRad(place, to) };
}

function placeAt(route: RoutePoints, point: number): Place {
  return { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! };
}

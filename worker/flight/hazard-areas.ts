/** Where reports and warnings hold on the earth, and how far a place is from there. */
import {
  destination,
  distanceToStretchM,
  greatCircleDistanceM,
  initialCourseRad,
  type Position,
  positionsBetween,
  RAD_PER_DEG,
  turnRad,
} from '../science/great-circle.ts';

/** One edge of an area that is open to that side. */
export type OpenSide =
  | { readonly kind: 'parallel'; readonly side: 'N' | 'S'; readonly latDeg: number }
  | { readonly kind: 'meridian'; readonly side: 'E' | 'W'; readonly lonDeg: number }
  | { readonly kind: 'line'; readonly bearingDeg: number; readonly points: readonly Position[] };

export type HazardArea =
  /** Edges are great circles; the first place is also the last. */
  | { readonly kind: 'polygon'; readonly ring: readonly Position[] }
  | { readonly kind: 'line'; readonly points: readonly Position[]; readonly halfWidthM: number }
  | { readonly kind: 'circle'; readonly center: Position; readonly radiusM: number }
  /** On all of the sides, and inside the box; a box that is not known leaves nothing out. */
  | { readonly kind: 'sides'; readonly sides: readonly OpenSide[]; readonly box: Box | undefined }
  /** Nobody can tell where: anywhere inside the box, anywhere at all without one. */
  | { readonly kind: 'unknown'; readonly box: Box | undefined };

/** Degrees; west may exceed east where it holds the antimeridian. */
export interface Box {
  readonly southDeg: number;
  readonly northDeg: number;
  readonly westDeg: number;
  readonly eastDeg: number;
}

/** Straight on the plane of longitude and latitude a shorter edge is off its great circle by less than 0.5 km. */
const LONGEST_EDGE_M = 100_000;
/** Beyond a quarter of the globe a place is outside, whatever turns about it. */
const QUARTER_GLOBE_M = 10_000_000;
/** A ring turns about a place that it holds by 2 pi, about another by nothing. */
const LEAST_TURN_RAD = Math.PI;

/**
 * Distance from a place to an area.
 *
 * @returns  m; 0 inside. Beside an open side it is 0 or Infinity: how far such an area goes is not told.
 * @checked  tests/flight/hazard-areas.test.ts
 */
export function distanceToAreaM(area: HazardArea, place: Position): number {
  switch (area.kind) {
    case 'polygon':
      return isInRing(area.ring, place) ? 0 : distanceToLineM(area.ring, place);
    case 'line':
      return Math.max(0, distanceToLineM(area.points, place) - area.halfWidthM);
    case 'circle':
      return Math.max(0, greatCircleDistanceM(area.center, place) - area.radiusM);
    case 'sides':
      return isInBox(area.box, place) && area.sides.every((side) => isOnSide(side, place)) ? 0 : Infinity;
    case 'unknown':
      return isInBox(area.box, place) ? 0 : Infinity;
  }
}

/** The same line with places in between, so that none is further from the next than a short edge. */
export function alongGreatCircles(places: readonly Position[]): Position[] {
  return places.flatMap((place, index) => {
    const next = places[index + 1];
    return next === undefined ? [place] : [place, ...positionsBetween(place, next, LONGEST_EDGE_M)];
  });
}

/** True without a box. */
export function isInBox(box: Box | undefined, { latDeg, lonDeg }: Position): boolean {
  if (box === undefined) return true;
  if (latDeg < box.southDeg || latDeg > box.northDeg) return false;
  const isEastOfWest = lonDeg >= box.westDeg;
  const isWestOfEast = lonDeg <= box.eastDeg;
  return box.westDeg <= box.eastDeg ? isEastOfWest && isWestOfEast : isEastOfWest || isWestOfEast;
}

function distanceToLineM(points: readonly Position[], place: Position): number {
  if (points.length === 1) return greatCircleDistanceM(points[0]!, place);
  return points
    .slice(1)
    .reduce((least, to, index) => Math.min(least, distanceToStretchM(place, points[index]!, to)), Infinity);
}

/** By the turn of the view from the place around the ring: no edge of a map can cut it. */
function isInRing(ring: readonly Position[], place: Position): boolean {
  if (ring.every((each) => greatCircleDistanceM(each, place) > QUARTER_GLOBE_M)) return false;
  const courses = ring.map((each) => initialCourseRad(place, each));
  const turned = courses.slice(1).reduce((sum, course, index) => sum + turnRad(courses[index]!, course), 0);
  return Math.abs(turned) > LEAST_TURN_RAD;
}

function isOnSide(side: OpenSide, place: Position): boolean {
  if (side.kind === 'parallel')
    return side.side === 'N' ? place.latDeg >= side.latDeg : place.latDeg <= side.latDeg;
  if (side.kind === 'meridian') {
    const eastDeg = eastward(place.lonDeg - side.lonDeg);
    return side.side === 'E' ? eastDeg >= 0 : eastDeg <= 0;
  }
  return isBesideLine(side, place);
}

/** Degrees east, in [-180, 180). */
const eastward = (deg: number) => deg - 360 * Math.floor((deg + 180) / 360);

/** A line ends nowhere: beyond its ends its first and last edge go on. */
function isBesideLine(
  { points, bearingDeg }: Extract<OpenSide, { readonly kind: 'line' }>,
  place: Position,
): boolean {
  let nearest = { index: 0, distanceM: Infinity };
  for (let index = 0; index + 1 < points.length; index += 1) {
    const distanceM = distanceToStretchM(place, points[index]!, points[index + 1]!);
    if (distanceM < nearest.distanceM) nearest = { index, distanceM };
  }
  const from = points[nearest.index]!;
  const courseRad = initialCourseRad(from, points[nearest.index + 1]!);
  const placeSide = Math.sin(turnRad(courseRad, initialCourseRad(from, place)));
  const askedSide = Math.sin(turnRad(courseRad, bearingDeg * RAD_PER_DEG));
  // A side that runs along the edge tells nothing of it: the place may be inside.
  return Math.abs(askedSide) < LEAST_SINE || Math.abs(placeSide) < LEAST_SINE || placeSide * askedSide > 0;
}

const LEAST_SINE = 1e-3;

/** Box around all of an area with a margin, or undefined where it has no end. */
export function boxOfArea(area: HazardArea, marginM: number): Box | undefined {
  if (area.kind === 'unknown' || area.kind === 'sides') return area.box;
  if (area.kind === 'circle') return boxAroundPlaces([area.center], area.radiusM + marginM);
  const halfWidthM = area.kind === 'line' ? area.halfWidthM : 0;
  return boxAroundPlaces(
    alongGreatCircles(area.kind === 'line' ? area.points : area.ring),
    halfWidthM + marginM,
  );
}

const POLAR_LAT_DEG = 85;
/** Nothing but a box around all longitudes holds more. */
const WIDEST_DEG = 350;

/** @param places  in order: neighbors are the short way apart. */
function boxAroundPlaces(places: readonly Position[], reachM: number): Box {
  const reachDeg = greatCircleDegrees(reachM);
  const southDeg = Math.max(-90, Math.min(...places.map(({ latDeg }) => latDeg)) - reachDeg);
  const northDeg = Math.min(90, Math.max(...places.map(({ latDeg }) => latDeg)) + reachDeg);
  const widestLatDeg = Math.max(Math.abs(southDeg), Math.abs(northDeg));
  const around = { southDeg, northDeg, westDeg: -180, eastDeg: 180 };
  if (widestLatDeg > POLAR_LAT_DEG) return around;
  const lonReachDeg = reachDeg / Math.cos(widestLatDeg * RAD_PER_DEG);
  let beforeDeg = places[0]!.lonDeg;
  const lonsDeg = places.map(({ lonDeg }) => {
    beforeDeg = lonDeg - 360 * Math.round((lonDeg - beforeDeg) / 360);
    return beforeDeg;
  });
  const westDeg = Math.min(...lonsDeg) - lonReachDeg;
  const eastDeg = Math.max(...lonsDeg) + lonReachDeg;
  if (eastDeg - westDeg > WIDEST_DEG) return around;
  return { southDeg, northDeg, westDeg: eastward(westDeg), eastDeg: eastward(eastDeg) };
}

/** Degrees of latitude that a distance is, a little more than less. */
function greatCircleDegrees(distanceM: number): number {
  return destination({ latDeg: 0, lonDeg: 0 }, 0, distanceM).latDeg + 0.01;
}

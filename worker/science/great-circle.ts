/** Great circles on a sphere. Positions in degrees, courses in radians clockwise from true north, distances in m. */

export const DEG_PER_RAD = 180 / Math.PI;
export const RAD_PER_DEG = Math.PI / 180;

export interface Position {
  readonly latDeg: number;
  readonly lonDeg: number;
}

/**
 * Mean radius R1 = (2a + b) / 3 of the WGS 84 ellipsoid, m.
 * @source Moritz 1980, Geodetic Reference System; IUGG mean radius. Chosen over the sphere of one minute of arc to the
 * nautical mile (6,366,707 m) because the corridor's buffer library uses it too; distances differ by 0.07 %.
 */
export const MEAN_EARTH_RADIUS_M = 6_371_008.8;

/** Shortest distance over the sphere, by the haversine formula (stable for short distances). */
export function greatCircleDistanceM(from: Position, to: Position): number {
  return MEAN_EARTH_RADIUS_M * centralAngleRad(from, to);
}

function centralAngleRad(from: Position, to: Position): number {
  const lat1 = from.latDeg * RAD_PER_DEG;
  const lat2 = to.latDeg * RAD_PER_DEG;
  const sinLat = Math.sin((lat2 - lat1) / 2);
  const sinLon = Math.sin(((to.lonDeg - from.lonDeg) * RAD_PER_DEG) / 2);
  const h = sinLat * sinLat + Math.cos(lat1) * Math.cos(lat2) * sinLon * sinLon;
  return 2 * Math.atan2(Math.sqrt(h), Math.sqrt(Math.max(0, 1 - h)));
}

/** Course at `from` of the great circle to `to`, in [0, 2 pi). Zero for equal positions. */
export function initialCourseRad(from: Position, to: Position): number {
  const lat1 = from.latDeg * RAD_PER_DEG;
  const lat2 = to.latDeg * RAD_PER_DEG;
  const dLon = (to.lonDeg - from.lonDeg) * RAD_PER_DEG;
  const y = Math.sin(dLon) * Math.cos(lat2);
  const x = Math.cos(lat1) * Math.sin(lat2) - Math.sin(lat1) * Math.cos(lat2) * Math.cos(dLon);
  return wrapCourseRad(Math.atan2(y, x));
}

/** Course on arrival at `to` of the great circle from `from`, in [0, 2 pi). */
export function finalCourseRad(from: Position, to: Position): number {
  return wrapCourseRad(initialCourseRad(to, from) + Math.PI);
}

/** The position reached by flying a distance from `from` on a great circle that starts with the given course. */
export function destination(from: Position, courseRad: number, distanceM: number): Position {
  const angle = distanceM / MEAN_EARTH_RADIUS_M;
  const lat1 = from.latDeg * RAD_PER_DEG;
  const sinLat2 = Math.sin(lat1) * Math.cos(angle) + Math.cos(lat1) * Math.sin(angle) * Math.cos(courseRad);
  const y = Math.sin(courseRad) * Math.sin(angle) * Math.cos(lat1);
  const x = Math.cos(angle) - Math.sin(lat1) * sinLat2;
  return {
    latDeg: Math.asin(Math.max(-1, Math.min(1, sinLat2))) * DEG_PER_RAD,
    lonDeg: wrapLonDeg(from.lonDeg + Math.atan2(y, x) * DEG_PER_RAD),
  };
}

/** The position at a part (0-1) of the way along the great circle; antipodal ends have no single one and give NaN. */
export function interpolate(from: Position, to: Position, part: number): Position {
  const angle = centralAngleRad(from, to);
  if (angle === 0) return { latDeg: from.latDeg, lonDeg: wrapLonDeg(from.lonDeg) };
  const a = Math.sin((1 - part) * angle) / Math.sin(angle);
  const b = Math.sin(part * angle) / Math.sin(angle);
  const start = unitVector(from);
  const end = unitVector(to);
  const x = a * start.x + b * end.x;
  const y = a * start.y + b * end.y;
  const z = a * start.z + b * end.z;
  return {
    latDeg: Math.atan2(z, Math.hypot(x, y)) * DEG_PER_RAD,
    lonDeg: wrapLonDeg(Math.atan2(y, x) * DEG_PER_RAD),
  };
}

/**
 * Positions at equal steps no longer than `stepM` between two, both left out; none for antipodes, which have no one way.
 */
export function positionsBetween(from: Position, to: Position, stepM: number): Position[] {
  const angle = centralAngleRad(from, to);
  const count = Math.ceil((MEAN_EARTH_RADIUS_M * angle) / stepM) - 1;
  if (count < 1 || Math.sin(angle) < 1e-9) return [];
  return Array.from({ length: count }, (_, index) => interpolate(from, to, (index + 1) / (count + 1)));
}

function unitVector(position: Position): { x: number; y: number; z: number } {
  const lat = position.latDeg * RAD_PER_DEG;
  const lon = position.lonDeg * RAD_PER_DEG;
  return {
    x: Math.cos(lat) * Math.cos(lon),
    y: Math.cos(lat) * Math.sin(lon),
    z: Math.sin(lat),
  };
}

/** Least distance from a place to the stretch of great circle between two positions less than a quarter globe apart. */
export function distanceToStretchM(place: Position, from: Position, to: Position): number {
  const lengthRad = centralAngleRad(from, to);
  const toPlaceRad = centralAngleRad(from, place);
  const turnRad = initialCourseRad(from, place) - initialCourseRad(from, to);
  const alongRad = Math.atan2(Math.sin(toPlaceRad) * Math.cos(turnRad), Math.cos(toPlaceRad));
  if (lengthRad === 0 || alongRad <= 0) return MEAN_EARTH_RADIUS_M * toPlaceRad;
  if (alongRad >= lengthRad) return greatCircleDistanceM(to, place);
  return MEAN_EARTH_RADIUS_M * Math.abs(Math.asin(Math.sin(toPlaceRad) * Math.sin(turnRad)));
}

/** How far along that stretch its place nearest to another one is, m from `from`. */
export function alongStretchM(place: Position, from: Position, to: Position): number {
  const toPlaceRad = centralAngleRad(from, place);
  const turnRad = initialCourseRad(from, place) - initialCourseRad(from, to);
  const alongRad = Math.atan2(Math.sin(toPlaceRad) * Math.cos(turnRad), Math.cos(toPlaceRad));
  return MEAN_EARTH_RADIUS_M * Math.min(centralAngleRad(from, to), Math.max(0, alongRad));
}

/** Longitude in [-180, 180). */
export function wrapLonDeg(lonDeg: number): number {
  if (lonDeg >= -180 && lonDeg < 180) return lonDeg;
  return lonDeg - 360 * Math.floor((lonDeg + 180) / 360);
}

/** Course in [0, 2 pi). */
export function wrapCourseRad(courseRad: number): number {
  const turn = 2 * Math.PI;
  const wrapped = courseRad - turn * Math.floor(courseRad / turn);
  return wrapped >= turn ? 0 : wrapped;
}

/** Smallest turn from one course to another, rad, positive to the right, in [-pi, pi). */
export function turnRad(fromCourseRad: number, toCourseRad: number): number {
  return wrapCourseRad(toCourseRad - fromCourseRad + Math.PI) - Math.PI;
}

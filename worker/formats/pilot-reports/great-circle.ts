/** The few great-circle rules that texts of places need. Degrees and m; courses in degrees from true north. */

export interface Position {
  readonly latDeg: number;
  readonly lonDeg: number;
}

/** Mean radius of the WGS 84 ellipsoid, m: (2a + b) / 3. @source Moritz 1980. */
const MEAN_EARTH_RADIUS_M = 6_371_008.8;
const RAD_PER_DEG = Math.PI / 180;

/** Shortest distance over the sphere, m, by the haversine formula. */
export function distanceM(from: Position, to: Position): number {
  const sinLat = Math.sin(((to.latDeg - from.latDeg) * RAD_PER_DEG) / 2);
  const sinLon = Math.sin(((to.lonDeg - from.lonDeg) * RAD_PER_DEG) / 2);
  const cosines = Math.cos(from.latDeg * RAD_PER_DEG) * Math.cos(to.latDeg * RAD_PER_DEG);
  const h = Math.min(1, sinLat * sinLat + cosines * sinLon * sinLon);
  return 2 * MEAN_EARTH_RADIUS_M * Math.atan2(Math.sqrt(h), Math.sqrt(1 - h));
}

/** The place at a distance on the great circle that leaves with a true course. */
export function placeAt(from: Position, courseDeg: number, awayM: number): Position {
  const angle = awayM / MEAN_EARTH_RADIUS_M;
  const course = courseDeg * RAD_PER_DEG;
  const lat = from.latDeg * RAD_PER_DEG;
  const sinLat = Math.sin(lat) * Math.cos(angle) + Math.cos(lat) * Math.sin(angle) * Math.cos(course);
  const east = Math.sin(course) * Math.sin(angle) * Math.cos(lat);
  const north = Math.cos(angle) - Math.sin(lat) * sinLat;
  return {
    latDeg: Math.asin(Math.max(-1, Math.min(1, sinLat))) / RAD_PER_DEG,
    lonDeg: wrapped(from.lonDeg + Math.atan2(east, north) / RAD_PER_DEG),
  };
}

/** Places at equal steps no longer than `stepM` between two, both left out; none for antipodes, which have no one way. */
export function placesBetween(from: Position, to: Position, stepM: number): Position[] {
  const lengthM = distanceM(from, to);
  const angle = lengthM / MEAN_EARTH_RADIUS_M;
  const count = Math.ceil(lengthM / stepM) - 1;
  if (count < 1 || Math.sin(angle) < 1e-9) return [];
  const [a, b] = [unitVector(from), unitVector(to)];
  return Array.from({ length: count }, (_, index) => {
    const part = (index + 1) / (count + 1);
    const wa = Math.sin((1 - part) * angle) / Math.sin(angle);
    const wb = Math.sin(part * angle) / Math.sin(angle);
    const [x, y, z] = [0, 1, 2].map((axis) => wa * a[axis]! + wb * b[axis]!) as [number, number, number];
    return {
      latDeg: Math.atan2(z, Math.hypot(x, y)) / RAD_PER_DEG,
      lonDeg: wrapped(Math.atan2(y, x) / RAD_PER_DEG),
    };
  });
}

function unitVector({ latDeg, lonDeg }: Position): readonly [number, number, number] {
  const [lat, lon] = [latDeg * RAD_PER_DEG, lonDeg * RAD_PER_DEG];
  return [Math.cos(lat) * Math.cos(lon), Math.cos(lat) * Math.sin(lon), Math.sin(lat)];
}

/** Longitude in [-180, 180). */
function wrapped(lonDeg: number): number {
  return lonDeg - 360 * Math.floor((lonDeg + 180) / 360);
}

const COMPASS_POINTS = [
  ...['N', 'NNE', 'NE', 'ENE', 'E', 'ESE', 'SE', 'SSE'],
  ...['S', 'SSW', 'SW', 'WSW', 'W', 'WNW', 'NW', 'NNW'],
] as const;
export type CompassPoint = (typeof COMPASS_POINTS)[number];
/** The sixteen points for a pattern, longest first so that none hides another. */
export const COMPASS_PATTERN = [...COMPASS_POINTS].sort((a, b) => b.length - a.length).join('|');

/** Degrees clockwise from north of one of the sixteen points; undefined for another word. */
export function compassDeg(point: string): number | undefined {
  const index = COMPASS_POINTS.indexOf(point as CompassPoint);
  return index === -1 ? undefined : index * 22.5;
}

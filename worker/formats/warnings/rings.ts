/** Rings and lines on the plane of longitude and latitude. Points are [lonDeg, latDeg]. */
import type { Position } from '../../science/great-circle.ts';

export type PlanePoint = readonly [lonDeg: number, latDeg: number];

/** The same places with longitudes that never jump by more than 180 degrees; they may leave [-180, 180]. */
export function unwrapped(places: readonly Position[]): PlanePoint[] {
  let beforeDeg = places[0]?.lonDeg ?? 0;
  return places.map(({ latDeg, lonDeg }) => {
    beforeDeg = lonDeg - 360 * Math.round((lonDeg - beforeDeg) / 360);
    return [beforeDeg, latDeg];
  });
}

/** True when two edges of a closed ring cross; edges that touch at an end do not. */
export function hasCrossing(ring: readonly PlanePoint[]): boolean {
  for (let first = 0; first + 1 < ring.length; first += 1) {
    for (let second = first + 2; second + 1 < ring.length; second += 1) {
      if (areCrossing(ring[first]!, ring[first + 1]!, ring[second]!, ring[second + 1]!)) return true;
    }
  }
  return false;
}

function areCrossing(a: PlanePoint, b: PlanePoint, c: PlanePoint, d: PlanePoint): boolean {
  return sideOf(a, b, c) * sideOf(a, b, d) < 0 && sideOf(c, d, a) * sideOf(c, d, b) < 0;
}

/** Positive when c lies left of the line from a to b. */
function sideOf(a: PlanePoint, b: PlanePoint, c: PlanePoint): number {
  return Math.sign((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]));
}

/**
 * The part of an open ring between two meridians, by Sutherland and Hodgman's rule. Pieces of a dented ring stay joined
 * along the meridian.
 */
export function clippedRing(ring: readonly PlanePoint[], westDeg: number, eastDeg: number): PlanePoint[] {
  return clippedAt(clippedAt(ring, westDeg, 1), eastDeg, -1);
}

function clippedAt(ring: readonly PlanePoint[], meridianDeg: number, side: 1 | -1): PlanePoint[] {
  const isInside = ([lonDeg]: PlanePoint) => side * (lonDeg - meridianDeg) >= 0;
  return ring.flatMap((point, index) => {
    const next = ring[(index + 1) % ring.length]!;
    const kept = isInside(point) ? [point] : [];
    return isInside(point) === isInside(next) ? kept : [...kept, crossing(point, next, meridianDeg)];
  });
}

/** Where the edge between two points meets a meridian between them. */
export function crossing(from: PlanePoint, to: PlanePoint, meridianDeg: number): PlanePoint {
  const part = (meridianDeg - from[0]) / (to[0] - from[0]);
  return [meridianDeg, from[1] + part * (to[1] - from[1])];
}

/** The cursor's place on the earth, and the place on the leg nearest to a tap on the map. */
import type { RoutePoint } from '../contract.ts';
import { lonOffsetDeg } from './mercator.ts';

/** [lonDeg, latDeg] between the points on either side; undefined without points. */
export function positionAt(
  points: readonly RoutePoint[],
  distanceNm: number,
): readonly [number, number] | undefined {
  const after = points.findIndex((point) => point.distanceNm >= distanceNm);
  const next = points[after === -1 ? points.length - 1 : after];
  if (next === undefined) return undefined;
  const before = points[after - 1] ?? next;
  const spanNm = next.distanceNm - before.distanceNm;
  const share = spanNm > 0 ? (distanceNm - before.distanceNm) / spanNm : 0;
  const lonDeg = before.lonDeg + share * lonOffsetDeg(next.lonDeg, before.lonDeg);
  return [lonDeg, before.latDeg + share * (next.latDeg - before.latDeg)];
}

export function nearestDistanceNm(points: readonly RoutePoint[], lonDeg: number, latDeg: number): number {
  const shrink = Math.cos((latDeg * Math.PI) / 180);
  let best = { distanceNm: 0, squareDeg: Infinity };
  for (const point of points) {
    const squareDeg = (lonOffsetDeg(point.lonDeg, lonDeg) * shrink) ** 2 + (point.latDeg - latDeg) ** 2;
    if (squareDeg < best.squareDeg) best = { distanceNm: point.distanceNm, squareDeg };
  }
  return best.distanceNm;
}

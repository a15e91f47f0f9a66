/** Places along the leg and beside it, as the plan view draws them; good for drawing, not for judging. */
import type { Brief, RoutePoint } from '../contract.ts';
import { positionAt } from './cursor-position.ts';
import { lonOffsetDeg } from './mercator.ts';

export type Position = readonly [number, number];

export interface Stretch {
  readonly fromNm: number;
  readonly toNm: number;
}

const NM_PER_DEG = 60;
const RAD_PER_DEG = Math.PI / 180;

/** The line of the leg between two distances, the points between them included. */
export function lineAlong(points: readonly RoutePoint[], { fromNm, toNm }: Stretch): Position[] {
  return distancesAlong(points, { fromNm, toNm })
    .map((nm) => positionAt(points, nm))
    .filter((place) => place !== undefined);
}

/** The same line moved sideways, NM: to the right of the course, to the left where negative. */
export function lineBeside(points: readonly RoutePoint[], stretch: Stretch, offsetNm: number): Position[] {
  return distancesAlong(points, stretch).flatMap((nm) => {
    const place = positionAt(points, nm);
    return place === undefined ? [] : [moved(place, courseRadAt(points, nm) + Math.PI / 2, offsetNm)];
  });
}

/** The ground within the half-width of a stretch of the leg, with square ends. */
export function stripAlong(
  points: readonly RoutePoint[],
  stretch: Stretch,
  halfWidthNm: number,
): { type: 'Polygon'; coordinates: [number, number][][] } {
  const right = lineBeside(points, stretch, halfWidthNm);
  const left = lineBeside(points, stretch, -halfWidthNm);
  const ring = [...right, ...left.reverse(), ...right.slice(0, 1)];
  return { type: 'Polygon', coordinates: [ring.map(([lonDeg, latDeg]) => [lonDeg, latDeg])] };
}

/** Course of the leg over a place, from north to the right, rad. */
export function courseRadAt(points: readonly RoutePoint[], distanceNm: number): number {
  const found = points.findIndex((point) => point.distanceNm > distanceNm);
  const next = found === -1 ? points.length - 1 : Math.max(1, found);
  const [from, to] = [points[next - 1], points[next]];
  return from === undefined || to === undefined ? 0 : courseRad(from, to);
}

function courseRad(
  from: Pick<RoutePoint, 'lonDeg' | 'latDeg'>,
  to: Pick<RoutePoint, 'lonDeg' | 'latDeg'>,
): number {
  const shrink = Math.cos(((from.latDeg + to.latDeg) / 2) * RAD_PER_DEG);
  return Math.atan2(lonOffsetDeg(to.lonDeg, from.lonDeg) * shrink, to.latDeg - from.latDeg);
}

/** Course from end to end, rad. */
export function wholeCourseRad(points: readonly RoutePoint[]): number {
  const [first, last] = [points[0], points.at(-1)];
  return first === undefined || last === undefined ? 0 : courseRad(first, last);
}

function distancesAlong(points: readonly RoutePoint[], { fromNm, toNm }: Stretch): number[] {
  const between = points.filter(({ distanceNm }) => distanceNm > fromNm && distanceNm < toNm);
  return [fromNm, ...between.map(({ distanceNm }) => distanceNm), toNm];
}

function moved([lonDeg, latDeg]: Position, directionRad: number, awayNm: number): Position {
  const awayDeg = awayNm / NM_PER_DEG;
  const shrink = Math.max(0.01, Math.cos(latDeg * RAD_PER_DEG));
  return [lonDeg + (awayDeg * Math.sin(directionRad)) / shrink, latDeg + awayDeg * Math.cos(directionRad)];
}

/** The corridor's air from end to end of the leg, without the round ends of its outline. */
export function airAlong({ brief: { leg, limits } }: Brief): ReturnType<typeof stripAlong> {
  return stripAlong(leg.points, { fromNm: 0, toNm: leg.distanceNm }, limits.corridorHalfWidthNm);
}

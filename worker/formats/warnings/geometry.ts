/** From an area in words to places: fixes looked up, rings closed and put in order, or the reason why not. */

import { destination, type Position, RAD_PER_DEG } from '../../science/great-circle.ts';
import { type FixContext, findFixes } from '../pilot-reports/fix-places.ts';
import type { LocatedPoint } from '../pilot-reports/report.ts';
import { hasCrossing, unwrapped } from './rings.ts';
import type { AreaStatement, Boundary, PlacedBoundary, WarningGeometry } from './warning.ts';

export interface AreaContext extends FixContext {
  /**
   * Border of a region by its location indicator, as a ring; undefined for an unknown one. Without it a warning for the
   * whole of a region has no geometry.
   */
  readonly regions?: ((indicator: string) => readonly Position[] | undefined) | undefined;
}

/**
 * @param indicator  location indicator of the region that the warning is for; undefined when it names none.
 * @returns          `unknown` with the reason for unknown fixes, fewer than three corners, edges that cross, and rings
 *                   about a pole. Never throws.
 * @checked          tests/formats/warnings/geometry.test.ts
 */
export function geometryOf(
  statement: AreaStatement,
  indicator: string | undefined,
  context: AreaContext,
): WarningGeometry {
  switch (statement.kind) {
    case 'polygon':
      return placed(statement.points, context, polygonOf);
    case 'line':
      return placed(statement.points, context, (points) => lineOf(points, statement.halfWidthM));
    case 'circle':
      return placed([statement.center], context, ([center]) => ({
        kind: 'circle',
        center: center!,
        radiusM: statement.radiusM,
      }));
    case 'point':
      return placed([statement.point], context, ([point]) => ({ kind: 'point', point: point! }));
    case 'sides':
      return sidesOf(statement.boundaries, context);
    case 'whole-region':
      return regionOf(indicator, context);
    case 'unreadable':
      return unknown(JSON.stringify(statement.text.slice(0, 60)), 'points, a line, a circle or a side');
  }
}

function unknown(found: string, expected: string): WarningGeometry {
  return { kind: 'unknown', reason: `area: found ${found}, expected ${expected}` };
}

function placed(
  points: readonly LocatedPoint[],
  context: FixContext,
  build: (positions: readonly Position[]) => WarningGeometry,
): WarningGeometry {
  const positions = positionsOf(points, context);
  return typeof positions === 'string' ? { kind: 'unknown', reason: positions } : build(positions);
}

/** Places of points; the reason when one of their fixes has none. */
function positionsOf(points: readonly LocatedPoint[], context: FixContext): Position[] | string {
  const names = points.flatMap((point) => (point.kind === 'coordinates' ? [] : [point.identifier]));
  const fixes = findFixes([...new Set(names)], context);
  if (typeof fixes === 'string') return fixes;
  return points.map((point) => {
    if (point.kind === 'coordinates') return { latDeg: point.latDeg, lonDeg: point.lonDeg };
    const { latDeg, lonDeg } = fixes.get(point.identifier)!;
    const fix = { latDeg, lonDeg };
    if (point.kind === 'direction') return destination(fix, point.bearingDeg * RAD_PER_DEG, point.distanceM);
    return point.kind === 'radial' ? destination(fix, point.radialDeg * RAD_PER_DEG, point.distanceM) : fix;
  });
}

/** A ring is closed where the text leaves its last corner out. */
function polygonOf(points: readonly Position[]): WarningGeometry {
  const corners = points.filter((point, index) => !isSame(point, points[(index + 1) % points.length]!));
  const distinct = corners.filter(
    (corner, index) => corners.findIndex((each) => isSame(each, corner)) === index,
  );
  if (distinct.length < 3) return unknown(`${distinct.length} different points`, 'at least 3 corners');
  const ring = unwrapped([...corners, corners[0]!]);
  if (Math.abs(ring.at(-1)![0] - ring[0]![0]) > 180)
    return unknown('a ring about a pole', 'a ring that holds no pole');
  if (hasCrossing(ring)) return unknown('edges that cross each other', 'a simple ring');
  const inOrder = signedArea(ring) < 0 ? [...corners].reverse() : corners;
  return { kind: 'polygon', ring: [...inOrder, inOrder[0]!] };
}

function lineOf(points: readonly Position[], halfWidthM: number): WarningGeometry {
  if (points.every((point) => isSame(point, points[0]!)))
    return unknown('one point', 'a line of at least 2 points');
  return { kind: 'line', points, halfWidthM };
}

function sidesOf(boundaries: readonly Boundary[], context: FixContext): WarningGeometry {
  const sides: PlacedBoundary[] = [];
  for (const boundary of boundaries) {
    if (boundary.kind !== 'line') {
      sides.push(boundary);
      continue;
    }
    const points = positionsOf(boundary.points, context);
    if (typeof points === 'string') return { kind: 'unknown', reason: points };
    sides.push({ kind: 'line', side: boundary.side, points });
  }
  return { kind: 'sides', boundaries: sides };
}

function regionOf(indicator: string | undefined, context: AreaContext): WarningGeometry {
  const border = indicator === undefined ? undefined : context.regions?.(indicator);
  if (border === undefined) {
    return unknown(`the whole of ${indicator ?? 'a region'}, whose border is not known`, 'a known region');
  }
  return polygonOf(border);
}

function isSame(a: Position, b: Position): boolean {
  return a.latDeg === b.latDeg && a.lonDeg === b.lonDeg;
}

/** Twice the area in square degrees, positive counter-clockwise. */
function signedArea(ring: readonly (readonly [number, number])[]): number {
  let sum = 0;
  for (let index = 0; index + 1 < ring.length; index += 1) {
    const [x1, y1] = ring[index]!;
    const [x2, y2] = ring[index + 1]!;
    sum += x1 * y2 - x2 * y1;
  }
  return sum;
}

/**
 * Lines and polygons as GeoJSON wants them: cut where they cross the 180th meridian, exterior rings counter-clockwise.
 * Positions are [lonDeg, latDeg]; neighbors are taken to be less than half the globe apart in longitude.
 */
import type { LineString, MultiLineString, MultiPolygon, Polygon, Position } from 'geojson';

/** A line of at least two positions, cut at the antimeridian (RFC 7946 section 3.1.9). */
export function routeLine(positions: readonly Position[]): LineString | MultiLineString {
  const unwrapped = unwrapLongitudes(positions);
  const pieces: { readonly world: number; readonly line: Position[] }[] = [];
  for (let index = 0; index + 1 < unwrapped.length; index += 1) {
    for (const [from, to] of cutAtAntimeridian(unwrapped[index]!, unwrapped[index + 1]!)) {
      const world = worldOf((from[0]! + to[0]!) / 2);
      const last = pieces.at(-1);
      if (last?.world === world) last.line.push(inWorld(to, world));
      else pieces.push({ world, line: [inWorld(from, world), inWorld(to, world)] });
    }
  }
  if (pieces.length > 1) return { type: 'MultiLineString', coordinates: pieces.map((piece) => piece.line) };
  return { type: 'LineString', coordinates: pieces[0]?.line ?? [] };
}

/**
 * A polygon without holes, cut at the antimeridian. The ring need not be closed and must not hold a pole. Where a ring
 * dents across the meridian several times, the pieces on one side stay joined along the meridian.
 */
export function ringPolygon(ring: readonly Position[]): Polygon | MultiPolygon {
  const unwrapped = withoutRepeats(unwrapLongitudes(ring));
  const lonsDeg = unwrapped.map((position) => position[0]!);
  const pieces: Position[][] = [];
  for (let world = worldOf(Math.min(...lonsDeg)); world <= worldOf(Math.max(...lonsDeg)); world += 1) {
    const west = world * 360 - 180;
    const piece = withoutRepeats(clipRing(clipRing(unwrapped, west, 1), west + 360, -1));
    if (signedAreaDeg2(piece) === 0) continue;
    pieces.push(closeCounterClockwise(piece.map((position) => inWorld(position, world))));
  }
  if (pieces.length > 1) return { type: 'MultiPolygon', coordinates: pieces.map((piece) => [piece]) };
  return { type: 'Polygon', coordinates: pieces };
}

/**
 * The box around positions taken in order, as along a route or ring: [west, south, east, north]. West is greater than
 * east when it crosses the antimeridian (RFC 7946 section 5.2).
 */
export function bboxOf(positions: readonly Position[]): [number, number, number, number] {
  const unwrapped = unwrapLongitudes(positions);
  const lonsDeg = unwrapped.map((position) => position[0]!);
  const latsDeg = unwrapped.map((position) => position[1]!);
  const west = Math.min(...lonsDeg);
  const east = Math.max(...lonsDeg);
  const south = Math.min(...latsDeg);
  const north = Math.max(...latsDeg);
  if (east - west >= 360) return [-180, south, 180, north];
  return [west - 360 * worldOf(west), south, east + 360 * worldOf(-east), north];
}

/** The same places with longitudes that never jump by more than 180 degrees; they may leave [-180, 180]. */
export function unwrapLongitudes(positions: readonly Position[]): Position[] {
  let beforeDeg = positions[0]?.[0] ?? 0;
  return positions.map((position) => {
    const lonDeg = position[0]! - 360 * Math.round((position[0]! - beforeDeg) / 360);
    beforeDeg = lonDeg;
    return [lonDeg, position[1]!];
  });
}

/** Area by the shoelace rule in square degrees, positive counter-clockwise. */
export function signedAreaDeg2(ring: readonly Position[]): number {
  let sum = 0;
  ring.forEach(([x1, y1], index) => {
    const [x2, y2] = ring[(index + 1) % ring.length]!;
    sum += x1! * y2! - x2! * y1!;
  });
  return sum / 2;
}

/** Which turn of the globe an unwrapped longitude is in: 0 for [-180, 180). */
function worldOf(lonDeg: number): number {
  return Math.floor((lonDeg + 180) / 360);
}

function inWorld(position: Position, world: number): Position {
  return [position[0]! - 360 * world, position[1]!];
}

function cutAtAntimeridian(from: Position, to: Position): [Position, Position][] {
  const meridianDeg = 360 * worldOf(Math.max(from[0]!, to[0]!)) - 180;
  if (meridianDeg <= Math.min(from[0]!, to[0]!) || meridianDeg >= Math.max(from[0]!, to[0]!)) {
    return [[from, to]];
  }
  const cut = crossing(from, to, meridianDeg);
  return [
    [from, cut],
    [cut, to],
  ];
}

function crossing(from: Position, to: Position, meridianDeg: number): Position {
  const part = (meridianDeg - from[0]!) / (to[0]! - from[0]!);
  return [meridianDeg, from[1]! + part * (to[1]! - from[1]!)];
}

/** The part of an open ring east (side 1) or west (side -1) of a meridian, by Sutherland and Hodgman's rule. */
function clipRing(ring: readonly Position[], meridianDeg: number, side: 1 | -1): Position[] {
  const isInside = (position: Position) => side * (position[0]! - meridianDeg) >= 0;
  return ring.flatMap((position, index) => {
    const next = ring[(index + 1) % ring.length]!;
    const kept = isInside(position) ? [position] : [];
    return isInside(position) === isInside(next) ? kept : [...kept, crossing(position, next, meridianDeg)];
  });
}

/** The open ring without positions that repeat the one before. */
function withoutRepeats(ring: readonly Position[]): Position[] {
  return ring.filter((position, index) => {
    const before = ring.at(index - 1)!;
    return position[0] !== before[0] || position[1] !== before[1];
  });
}

function closeCounterClockwise(open: readonly Position[]): Position[] {
  const ring = signedAreaDeg2(open) < 0 ? [...open].reverse() : [...open];
  return [...ring, ring[0]!];
}

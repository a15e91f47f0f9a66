/**
 * Geometry as GeoJSON draws it: edges along great circles by points in between, cut at the 180th meridian, exterior
 * rings counter-clockwise (RFC 7946, sections 3.1.6 and 3.1.9).
 */
import type { LineString, MultiLineString, MultiPolygon, Point, Polygon } from 'geojson';
import { destination, type Position, positionsBetween, RAD_PER_DEG } from '../../science/great-circle.ts';
import { clippedRing, crossing, type PlanePoint, unwrapped } from './rings.ts';
import type { PlacedBoundary, WarningGeometry } from './warning.ts';

export type DrawnGeometry = Point | LineString | MultiLineString | Polygon | MultiPolygon;

/**
 * A straight line between two points of the plane is off the great circle by about L² tan(lat) / 8R: 0.4 km for this
 * length at 65 degrees.
 */
const LONGEST_EDGE_M = 100_000;
const CIRCLE_POINTS = 72;

/**
 * @returns  undefined for geometry that is not known. A line comes without its width, and the lines that an area lies
 *           beside without the side, which stand in the geometry; parallels and meridians have no ends to draw.
 * @checked  tests/formats/warnings/geojson.test.ts
 */
export function geoJsonOf(geometry: WarningGeometry): DrawnGeometry | undefined {
  switch (geometry.kind) {
    case 'polygon':
      return polygonOf(alongGreatCircles(geometry.ring));
    case 'circle':
      return polygonOf(circleOf(geometry.center, geometry.radiusM));
    case 'line':
      return lineOf(alongGreatCircles(geometry.points));
    case 'point':
      return { type: 'Point', coordinates: [geometry.point.lonDeg, geometry.point.latDeg] };
    case 'sides':
      return sidesOf(geometry.boundaries);
    case 'unknown':
      return undefined;
  }
}

function sidesOf(boundaries: readonly PlacedBoundary[]): MultiLineString | undefined {
  const lines = boundaries.flatMap((each) =>
    each.kind === 'line' ? [lineOf(alongGreatCircles(each.points))] : [],
  );
  if (lines.length < boundaries.length) return undefined;
  const coordinates = lines.flatMap((line) =>
    line.type === 'LineString' ? [line.coordinates] : line.coordinates,
  );
  return { type: 'MultiLineString', coordinates };
}

function alongGreatCircles(places: readonly Position[]): Position[] {
  return places.flatMap((place, index) => {
    const next = places[index + 1];
    return next === undefined ? [place] : [place, ...positionsBetween(place, next, LONGEST_EDGE_M)];
  });
}

/** Closed, counter-clockwise. */
function circleOf(center: Position, radiusM: number): Position[] {
  const step = 360 / CIRCLE_POINTS;
  return Array.from({ length: CIRCLE_POINTS + 1 }, (_, index) =>
    destination(center, (360 - (index % CIRCLE_POINTS) * step) * RAD_PER_DEG, radiusM),
  );
}

/** Which turn of the globe an unwrapped longitude is in: 0 for [-180, 180). */
const turnOf = (lonDeg: number) => Math.floor((lonDeg + 180) / 360);

function polygonOf(closed: readonly Position[]): Polygon | MultiPolygon | undefined {
  const plane = unwrapped(closed);
  if (Math.abs(plane.at(-1)![0] - plane[0]![0]) > 180) return undefined;
  const open = plane.slice(0, -1);
  const lonsDeg = open.map(([lonDeg]) => lonDeg);
  const pieces: number[][][] = [];
  for (let turn = turnOf(Math.min(...lonsDeg)); turn <= turnOf(Math.max(...lonsDeg)); turn += 1) {
    const west = turn * 360 - 180;
    const piece = clippedRing(open, west, west + 360);
    if (piece.every(([lonDeg]) => lonDeg === piece[0]![0])) continue;
    const ring = piece.map(([lonDeg, latDeg]) => [lonDeg - 360 * turn, latDeg]);
    pieces.push([...ring, ring[0]!]);
  }
  if (pieces.length > 1) return { type: 'MultiPolygon', coordinates: pieces.map((piece) => [piece]) };
  return { type: 'Polygon', coordinates: pieces };
}

function lineOf(places: readonly Position[]): LineString | MultiLineString {
  const lines: { readonly turn: number; readonly points: PlanePoint[] }[] = [];
  const add = (turn: number, ...points: PlanePoint[]) => {
    const last = lines.at(-1);
    if (last?.turn === turn) last.points.push(...points.slice(1));
    else lines.push({ turn, points });
  };
  const plane = unwrapped(places);
  plane.slice(1).forEach((to, index) => {
    const from = plane[index]!;
    const meridianDeg = 360 * turnOf(Math.max(from[0], to[0])) - 180;
    const isCut = meridianDeg > Math.min(from[0], to[0]) && meridianDeg < Math.max(from[0], to[0]);
    const at = isCut ? crossing(from, to, meridianDeg) : undefined;
    const ends =
      at === undefined
        ? [[from, to]]
        : [
            [from, at],
            [at, to],
          ];
    for (const [start, end] of ends) add(turnOf((start![0] + end![0]) / 2), start!, end!);
  });
  const coordinates = lines.map(({ turn, points }) =>
    points.map(([lonDeg, latDeg]) => [lonDeg - 360 * turn, latDeg]),
  );
  if (coordinates.length > 1) return { type: 'MultiLineString', coordinates };
  return { type: 'LineString', coordinates: coordinates[0] ?? [] };
}

/** A line to fly along, out of the shapes that files and requests give it in. */
import { InvalidRequestError } from '../errors.ts';
import type { GpxFile, GpxPath, GpxPoint, RefusedGpxPart } from './gpx.ts';

/** RFC 7946 section 3.1.4; positions are longitude, latitude and, where known, height. */
export interface LineString {
  readonly type: 'LineString';
  readonly coordinates: readonly (readonly [number, number] | readonly [number, number, number])[];
}

export type GeoJsonLine =
  | LineString
  | { readonly type: 'Feature'; readonly geometry: LineString }
  | {
      readonly type: 'FeatureCollection';
      readonly features: readonly { readonly geometry: { readonly type: string } | null }[];
    };

/** @throws InvalidRequestError, field route, for a collection with no line, or more than one. */
export function lineOfGeoJson(shape: GeoJsonLine): LineString {
  if (shape.type === 'LineString') return shape;
  if (shape.type === 'Feature') return shape.geometry;
  const lines = shape.features
    .map(({ geometry }) => geometry)
    .filter((geometry): geometry is LineString => geometry?.type === 'LineString');
  return onlyOf(lines, 'LineStrings', 'a FeatureCollection with one LineString');
}

/**
 * The points to fly along: of the file's one route; else of its one track, segment after segment; else its waypoints in the
 * order written. A point that repeats the one before it is left out.
 *
 * @throws  InvalidRequestError, field route, for several routes, or several tracks and no route, fewer than two points, more
 *          points than allowed, and where a refused part would have been chosen: nothing is chosen or thinned out silently.
 */
export function pointsOfGpx(file: GpxFile, mostPoints: number): readonly GpxPoint[] {
  const points = chosenPoints(file).filter((point, index, all) => !isSamePlace(point, all[index - 1]));
  if (points.length < 2) refuse(`GPX with ${points.length} points to fly along`, 'at least 2');
  if (points.length > mostPoints)
    refuse(`GPX with ${points.length} points to fly along`, `at most ${mostPoints}`);
  return points;
}

export function lineOfPoints(points: readonly GpxPoint[]): LineString {
  return {
    type: 'LineString',
    coordinates: points.map(({ lonDeg, latDeg, elevationM }) =>
      Number.isFinite(elevationM) ? [lonDeg, latDeg, elevationM] : [lonDeg, latDeg],
    ),
  };
}

function chosenPoints({ routes, tracks, waypoints, refused }: GpxFile): readonly GpxPoint[] {
  const refuseBroken = (kind: RefusedGpxPart['kind']) => {
    const error = refused.find((part) => part.kind === kind)?.error;
    if (error === undefined) return;
    const line = error.place.unit === 'line' ? ` (GPX line ${error.place.line})` : '';
    throw new InvalidRequestError(
      { field: 'route', found: `${error.found}${line}`, expected: error.expected },
      { cause: error },
    );
  };

  const withPoints = (paths: readonly GpxPath[]) =>
    paths.map(({ segments }) => segments.flat()).filter((points) => points.length > 0);
  refuseBroken('route');
  const routePoints = withPoints(routes);
  if (routePoints.length > 0) return onlyOf(routePoints, 'routes', 'GPX with one route');
  refuseBroken('track');
  const trackPoints = withPoints(tracks);
  if (trackPoints.length > 0) return onlyOf(trackPoints, 'tracks', 'GPX with one route or one track');
  refuseBroken('waypoint');
  return waypoints;
}

function isSamePlace(point: GpxPoint, before: GpxPoint | undefined): boolean {
  return point.latDeg === before?.latDeg && point.lonDeg === before.lonDeg;
}

function onlyOf<T>(items: readonly T[], what: string, expected: string): T {
  if (items.length !== 1) refuse(`${items.length} ${what}`, expected);
  return items[0]!;
}

function refuse(found: string, expected: string): never {
  throw new InvalidRequestError({ field: 'route', found, expected });
}

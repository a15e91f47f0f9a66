/** A GPX file as JSON for people: one object a waypoint, route and track. */
import { type GpxPath, type GpxPoint, parseGpx, type RefusedGpxPart } from './gpx.ts';

export interface InspectedGpxPoint {
  readonly name: string | null;
  readonly latDeg: number;
  readonly lonDeg: number;
  readonly elevationM: number | null;
}

export type InspectedGpx =
  | ({ readonly kind: 'gpx-waypoint' } & InspectedGpxPoint)
  | {
      readonly kind: 'gpx-route' | 'gpx-track';
      readonly name: string | null;
      readonly segments: readonly (readonly InspectedGpxPoint[])[];
    }
  | { readonly kind: 'refused'; readonly part: RefusedGpxPart['kind']; readonly reason: string };

/**
 * @returns  waypoints, then routes, then tracks, each in the order of the file; degrees to 0.000001, elevation to 0.1 m, null
 *           where the file gives none; then what is refused, each with its reason and line.
 * @throws   what parseGpx throws.
 */
export function inspectGpx(text: string): InspectedGpx[] {
  const { waypoints, routes, tracks, refused } = parseGpx(text);
  return [
    ...waypoints.map((point) => ({ kind: 'gpx-waypoint', ...inspectPoint(point) }) as const),
    ...routes.map((path) => inspectPath('gpx-route', path)),
    ...tracks.map((path) => inspectPath('gpx-track', path)),
    ...refused.map(({ kind, error }) => ({ kind: 'refused', part: kind, reason: error.message }) as const),
  ];
}

function inspectPath(kind: 'gpx-route' | 'gpx-track', { name, segments }: GpxPath): InspectedGpx {
  return { kind, name: name ?? null, segments: segments.map((points) => points.map(inspectPoint)) };
}

function inspectPoint({ name, latDeg, lonDeg, elevationM }: GpxPoint): InspectedGpxPoint {
  return {
    name: name ?? null,
    latDeg: rounded(latDeg, 6),
    lonDeg: rounded(lonDeg, 6),
    elevationM: Number.isFinite(elevationM) ? rounded(elevationM, 1) : null,
  };
}

function rounded(value: number, decimals: number): number {
  return Number(value.toFixed(decimals)) + 0;
}

/** A route text as JSON for people: positions in degrees, distances in NM, speeds and levels as written. */
import { isAppError } from '../../errors.ts';
import { nmFromM } from '../../science/units.ts';
import { type RouteItem, readRoute } from './read-route.ts';
import type { RoutePoint } from './route-points.ts';

export interface InspectedRouteItem {
  readonly kind: RouteItem['kind'] | 'route' | 'refused';
  readonly [member: string]: unknown;
}

/**
 * One object for the whole route, then one an item, in the order written; a route that is not read is one object with
 * its reason. Positions to 0.0001 deg. Never throws on text.
 */
export function inspectRoute(text: string): InspectedRouteItem[] {
  try {
    const { initial, items, isTruncated } = readRoute(text);
    const whole = { kind: 'route', speedLevel: initial?.text ?? null, isTruncated } as const;
    return [whole, ...items.map(inspectItem)];
  } catch (error) {
    if (!isAppError(error)) throw error;
    return [{ kind: 'refused', reason: error.message }];
  }
}

function inspectItem(item: RouteItem): InspectedRouteItem {
  const { kind, word, offset } = item;
  if (kind !== 'point') return { kind, word, offset };
  return {
    kind,
    word,
    offset,
    ...inspectPoint(item.point),
    speedLevel: item.change?.text ?? null,
    cruiseClimb: item.cruiseClimb?.text ?? null,
    rulesAfter: item.rulesAfter ?? null,
  };
}

function inspectPoint(point: RoutePoint): Readonly<Record<string, unknown>> {
  switch (point.kind) {
    case 'identifier':
      return { identifier: point.identifier };
    case 'coordinates':
      return { latDeg: rounded(point.latDeg), lonDeg: rounded(point.lonDeg) };
    default:
      return {
        identifier: point.identifier,
        bearingMagneticDeg: point.bearingMagneticDeg,
        distanceNm: Math.round(nmFromM(point.distanceM)),
      };
  }
}

function rounded(degrees: number): number {
  return Number(degrees.toFixed(4)) + 0;
}

/** The places of a route text, for those who fly along them: see route/read-route.ts for the text in full. */
import { type RouteLookup, type RoutePointItem, readRoute } from './route/read-route.ts';
import { refuseRoute } from './route/refuse-route.ts';
import type { RoutePoint } from './route/route-points.ts';

/** One place of a route, in the order written; `text` is its word in upper case, without its speed and level. */
export type RouteElement = RoutePoint & {
  /** Speed and level group written at this place (`N0160A110`); read past, never used. undefined when there is none. */
  readonly speedLevel: string | undefined;
};

/**
 * Reads the places of a route. `DCT` between two places and changes of flight rules leave no element.
 *
 * @param text    At most 2,000 characters and 100 places.
 * @param lookup  Says of a word in the form of an airway that it is a place.
 * @returns     At least two elements, in order; bearing distances in m, everything else as written.
 * @throws      InvalidRequestError, field route, for whatever readRoute refuses, every airway designator, and T: the rest
 *              of a truncated route is not known.
 */
export function parseRouteText(text: string, lookup?: RouteLookup): RouteElement[] {
  const { initial, items, isTruncated } = readRoute(text, lookup);
  if (isTruncated) refuseRoute('"T" at the end: a truncated route', 'the whole route up to its last place');
  const points = items.filter((item): item is RoutePointItem => item.kind === 'point');
  return points.map(({ point, change, cruiseClimb }, index) => ({
    ...point,
    speedLevel: change?.text ?? cruiseClimb?.text ?? (index === 0 ? initial?.text : undefined),
  }));
}

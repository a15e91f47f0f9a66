/** A leg picked on the map: the first place is the departure, the second the destination, a third begins anew. */
import type { Place } from '../api.ts';
import { lonOffsetDeg } from './mercator.ts';

export interface PickedLeg {
  readonly from?: Place;
  readonly to?: Place;
}

export function pick({ from, to }: PickedLeg, place: Place): PickedLeg {
  if (from === undefined || to !== undefined) return { from: place };
  return from.ident === place.ident ? { from } : { from, to: place };
}

/** undefined until both ends are picked. */
export function routeText({ from, to }: PickedLeg): string | undefined {
  return from === undefined || to === undefined ? undefined : `${from.ident} DCT ${to.ident}`;
}

/** What is asked for next. */
export function pickWords({ from, to }: PickedLeg): string {
  if (from === undefined) return 'Departure: tap an aerodrome';
  if (to === undefined) return `From ${from.ident}, ${from.name}. Destination: tap an aerodrome`;
  return `${from.ident} to ${to.ident}, ${to.name}. Tap another one to begin anew`;
}

/** A finger is this wide, px. */
const REACH_PX = 26;

/** The place nearest to a tap, where one is within reach. */
export function placeNear(
  places: readonly Place[],
  project: (place: readonly [number, number]) => readonly [number, number],
  [tapX, tapY]: readonly [number, number],
): Place | undefined {
  let nearest: Place | undefined;
  let nearestPx = REACH_PX;
  for (const place of places) {
    const [x, y] = project([place.lonDeg, place.latDeg]);
    const awayPx = Math.hypot(x - tapX, y - tapY);
    if (awayPx <= nearestPx) [nearest, nearestPx] = [place, awayPx];
  }
  return nearest;
}

export type Box = readonly [west: number, south: number, east: number, north: number];

const MARGIN_DEG = 0.5;

/** Around places, the short way round; undefined without any. */
export function boxAround(
  places: readonly { readonly lonDeg: number; readonly latDeg: number }[],
): Box | undefined {
  const first = places[0];
  if (first === undefined) return undefined;
  const offsets = places.map(({ lonDeg }) => lonOffsetDeg(lonDeg, first.lonDeg));
  const lats = places.map(({ latDeg }) => latDeg);
  return [
    first.lonDeg + Math.min(...offsets) - MARGIN_DEG,
    Math.max(-85, Math.min(...lats) - MARGIN_DEG),
    first.lonDeg + Math.max(...offsets) + MARGIN_DEG,
    Math.min(85, Math.max(...lats) + MARGIN_DEG),
  ];
}

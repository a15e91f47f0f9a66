/** Aerodromes beside a route where a flight may end, for the ways out. */
import type { NearAerodrome, RoutePoints } from '../flight/types.ts';
import { greatCircleDistanceM } from '../science/great-circle.ts';
import { mFromNm } from '../science/units.ts';
import type { PlaceRepository } from '../sources/ports.ts';
import { boxAround } from './leg-data.ts';

/** The column of a route point speaks for the air over an aerodrome no further off (judgement: about the corridor's width). */
const SPEAKS_FOR_M = mFromNm(12);
const MOST = 60;

/** Nearest to the route first; the route's own ends are left out, since the ways out know them. */
export function aerodromesAlong(
  places: Pick<PlaceRepository, 'aerodromesIn'>,
  route: RoutePoints,
): NearAerodrome[] {
  const ends = new Set([route.fixes[0]!.name, route.fixes.at(-1)!.name]);
  return places
    .aerodromesIn(boxAround(route, SPEAKS_FOR_M))
    .filter(({ ident }) => !ends.has(ident))
    .map((place) => ({ name: place.ident, elevationM: place.elevationM, ...nearestPoint(route, place) }))
    .filter(({ offsetM }) => offsetM <= SPEAKS_FOR_M)
    .sort((a, b) => a.offsetM - b.offsetM)
    .slice(0, MOST);
}

function nearestPoint(
  route: RoutePoints,
  place: { readonly latDeg: number; readonly lonDeg: number },
): Pick<NearAerodrome, 'pointIndex' | 'offsetM'> {
  let pointIndex = 0;
  let offsetM = Number.POSITIVE_INFINITY;
  for (let point = 0; point < route.pointCount; point += 1) {
    const here = { latDeg: route.latDeg[point]!, lonDeg: route.lonDeg[point]! };
    const awayM = greatCircleDistanceM(here, place);
    if (awayM < offsetM) [pointIndex, offsetM] = [point, awayM];
  }
  return { pointIndex, offsetM };
}

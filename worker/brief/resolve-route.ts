/** Route text, GPX or line to fixes with positions. */
import { FormatError, InvalidRequestError, UnsupportedError } from '../errors.ts';
import { makeMagneticModel, resolveBearingDistance } from '../flight/magnetic.ts';
import type { Fix } from '../flight/types.ts';
import { type GpxFile, parseGpx } from '../formats/gpx.ts';
import { type LineString, lineOfGeoJson, lineOfPoints, pointsOfGpx } from '../formats/line-string.ts';
import { airwayLikeWords, type RouteLookup } from '../formats/route/read-route.ts';
import { parseRouteText, type RouteElement } from '../formats/route-text.ts';
import { type BriefRequest, isGpx } from '../schema/request.ts';
import type { PlaceRepository } from '../sources/ports.ts';

export interface ResolvedRoute {
  readonly text: string;
  readonly fixes: readonly Fix[];
  /** Name of each fix in words for people, where it is a known place. */
  readonly placeNames: ReadonlyMap<string, string>;
}

export interface RouteContext {
  readonly places: Pick<PlaceRepository, 'byIdent'>;
  readonly operators: readonly string[];
  readonly departureMs: number;
}

/** As many as a line of a request may have. */
const MOST_POINTS = 200;

/** @throws InvalidRequestError with field `route` when an element is not known, or a GPX text has no one line to fly. */
export async function resolveRoute(
  route: BriefRequest['route'],
  context: RouteContext,
): Promise<ResolvedRoute> {
  if (typeof route !== 'string') return alongLine(lineOfGeoJson(route));
  if (isGpx(route)) return alongLine(lineOfPoints(pointsOfGpx(readGpx(route), MOST_POINTS)));
  const fixes: Fix[] = [];
  const placeNames = new Map<string, string>();
  for (const element of parseRouteText(route, await placesAmong(airwayLikeWords(route), context))) {
    fixes.push(await resolveElement(element, context, placeNames));
  }
  return { text: route.trim().replace(/\s+/g, ' '), fixes, placeNames };
}

/** Many aerodromes have an identifier in the form of an airway, as B21. More words than places are refused anyway. */
async function placesAmong(words: readonly string[], context: RouteContext): Promise<RouteLookup> {
  const known = new Set<string>();
  for (const word of words.slice(0, MOST_POINTS)) {
    if ((await context.places.byIdent(context.operators, word)) !== undefined) known.add(word);
  }
  return { kindOf: (word) => (known.has(word) ? 'place' : undefined) };
}

function alongLine(line: LineString): ResolvedRoute {
  const fixes = line.coordinates.map(([lonDeg, latDeg], index) => ({
    name: `P${index + 1}`,
    latDeg,
    lonDeg,
    elevationM: Number.NaN,
  }));
  return { text: 'line', fixes, placeNames: new Map() };
}

/** What is wrong with the file is wrong with the request's route. */
function readGpx(text: string): GpxFile {
  try {
    return parseGpx(text);
  } catch (error) {
    if (error instanceof FormatError) {
      const line = error.place.unit === 'line' ? ` (GPX line ${error.place.line})` : '';
      throw gpxRefusal(`${error.found}${line}`, error.expected, error);
    }
    if (error instanceof UnsupportedError)
      throw gpxRefusal(`GPX version ${error.value}`, 'version 1.0 or 1.1', error);
    throw error;
  }
}

function gpxRefusal(found: string, expected: string, cause: Error): InvalidRequestError {
  return new InvalidRequestError({ field: 'route', found, expected }, { cause });
}

async function resolveElement(
  element: RouteElement,
  context: RouteContext,
  placeNames: Map<string, string>,
): Promise<Fix> {
  if (element.kind === 'coordinates') {
    return { name: element.text, latDeg: element.latDeg, lonDeg: element.lonDeg, elevationM: Number.NaN };
  }
  const place = await knownPlace(element.identifier, context, placeNames);
  if (element.kind === 'identifier') return place;
  const model = makeMagneticModel(context.departureMs);
  const at = resolveBearingDistance(place, element.bearingMagneticDeg, element.distanceM, model);
  return { name: element.text, ...at, elevationM: Number.NaN };
}

async function knownPlace(
  ident: string,
  context: RouteContext,
  placeNames: Map<string, string>,
): Promise<Fix> {
  const place = await context.places.byIdent(context.operators, ident);
  if (place === undefined) {
    throw new InvalidRequestError({
      field: 'route',
      found: ident,
      expected: 'an aerodrome or fix of this instance, a position as 4420N07130W, or a bearing and distance',
    });
  }
  placeNames.set(ident, place.name);
  return { name: ident, latDeg: place.latDeg, lonDeg: place.lonDeg, elevationM: place.elevationM };
}

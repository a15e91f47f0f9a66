/** Route text in the manner of item 15 of the ICAO flight plan: places, DCT, speed and level groups. */
import { InvalidRequestError } from '../errors.ts';
import { mFromNm } from '../science/units.ts';

/** One place of a route, in the order written. */
export type RouteElement = {
  /** The word as written, upper case, without its speed and level. */
  readonly text: string;
  /** Speed and level group written at this place (`N0160A110`); read past, never used. undefined when there is none. */
  readonly speedLevel: string | undefined;
} & (
  | { readonly kind: 'identifier'; readonly identifier: string }
  | {
      readonly kind: 'coordinates';
      readonly latDeg: number;
      readonly lonDeg: number;
    }
  | {
      readonly kind: 'bearing-distance';
      readonly identifier: string;
      /** From the place named, magnetic, 0-360. */
      readonly bearingMagneticDeg: number;
      readonly distanceM: number;
    }
);

const LONGEST_TEXT = 2000;
const MOST_ELEMENTS = 100;

const SEPARATORS = /(?:\s|\.\.|-|>)+/;
const SPEED_LEVEL = /^(?:N\d{4}|K\d{4}|M\d{3})(?:F\d{3}|A\d{3}|S\d{4}|M\d{4}|VFR)$/;
const COORDINATES = /^(\d{2})(\d{2})?([NS])(\d{3})(\d{2})?([EW])$/;
const BEARING_DISTANCE = /^([A-Z0-9]{2,5})(\d{3})(\d{3})$/;
const IDENTIFIER = /^(?=.*[A-Z])[A-Z0-9]{2,5}$/;
/** Letters of ATS route designators, with the prefix of upper routes; ICAO Annex 11 appendix 1. */
const AIRWAY = /^(?:[ABGHJLMNPQRTVWYZ]\d{1,3}[FG]?|U[ABGHJLMNPQRTVWYZ]\d(?:\d\d)?[FG]?)$/;
const RULE_CHANGE = /^(?:VFR|IFR|GAT|OAT)$/;

/**
 * Reads the places of a route. Words are parted by blanks, `..`, `-` or `>`; case does not matter. `DCT` must stand
 * between two places and leaves no element.
 *
 * @param text  At most 2,000 characters and 100 places.
 * @returns     At least two elements, in order; bearing distances in m, everything else as written.
 * @throws      InvalidRequestError, field route, naming the word and its number, for anything else: airway designators
 *              (give the fixes instead), latitudes beyond 90, longitudes beyond 180, minutes beyond 59, bearings
 *              beyond 360, one place alone.
 * @source      ICAO Doc 4444 appendix 2, item 15 (from memory).
 */
export function parseRouteText(text: string): RouteElement[] {
  if (text.length > LONGEST_TEXT) refuse(`${text.length} characters`, `at most ${LONGEST_TEXT}`);
  const words = text
    .toUpperCase()
    .split(SEPARATORS)
    .filter((word) => word !== '');
  const elements: RouteElement[] = [];
  let pendingSpeedLevel: string | undefined;
  let afterDirect = false;
  words.forEach((word, index) => {
    const where = `"${shortened(word)}" (word ${index + 1})`;
    if (word === 'DCT') {
      if (elements.length === 0 || afterDirect) refuse(where, 'DCT between two places');
      afterDirect = true;
      return;
    }
    if (SPEED_LEVEL.test(word)) {
      pendingSpeedLevel = keepSpeedLevel(elements, word);
      return;
    }
    elements.push(readPlace(word, where, pendingSpeedLevel));
    if (elements.length > MOST_ELEMENTS) refuse(where, `at most ${MOST_ELEMENTS} places`);
    pendingSpeedLevel = undefined;
    afterDirect = false;
  });
  if (afterDirect) refuse('the end of the route after DCT', 'a place');
  if (elements.length < 2) refuse(elements.length === 0 ? 'no place' : 'one place', 'at least two places');
  return elements;
}

/** A group on its own belongs to the place before it, or to the first place when none is before it. */
function keepSpeedLevel(elements: RouteElement[], group: string): string | undefined {
  const before = elements.pop();
  if (before === undefined) return group;
  elements.push({ ...before, speedLevel: group });
  return undefined;
}

function readPlace(word: string, where: string, pendingSpeedLevel: string | undefined): RouteElement {
  const [text = '', group, ...more] = word.split('/');
  if (group !== undefined && (more.length > 0 || !SPEED_LEVEL.test(group))) {
    refuse(where, 'a place with one speed and level group, as KBTV/N0160A110');
  }
  const speedLevel = group ?? pendingSpeedLevel;
  if (AIRWAY.test(text))
    refuse(where, 'fixes: airway designators are not supported, give the places along it');
  if (RULE_CHANGE.test(text)) refuse(where, 'places only: changes of flight rules are not supported');
  const coordinates = COORDINATES.exec(text);
  if (coordinates !== null) {
    return {
      kind: 'coordinates',
      text,
      speedLevel,
      ...readCoordinates(coordinates, where),
    };
  }
  const bearing = BEARING_DISTANCE.exec(text);
  if (bearing !== null && IDENTIFIER.test(bearing[1]!)) {
    return {
      kind: 'bearing-distance',
      text,
      speedLevel,
      ...readBearing(bearing, where),
    };
  }
  if (IDENTIFIER.test(text)) return { kind: 'identifier', text, speedLevel, identifier: text };
  return refuse(
    where,
    'an identifier of 2-5 letters and digits, 44N073W, 4420N07130W, or an identifier with bearing and distance as KBTV090020',
  );
}

function readCoordinates(match: RegExpExecArray, where: string): { latDeg: number; lonDeg: number } {
  const [, latDegrees, latMinutes, northSouth, lonDegrees, lonMinutes, eastWest] = match;
  if ((latMinutes === undefined) !== (lonMinutes === undefined)) {
    refuse(where, 'latitude and longitude both in degrees, or both in degrees and minutes');
  }
  if (Number(latMinutes ?? 0) > 59 || Number(lonMinutes ?? 0) > 59) refuse(where, 'minutes of at most 59');
  const latDeg = Number(latDegrees) + Number(latMinutes ?? 0) / 60;
  const lonDeg = Number(lonDegrees) + Number(lonMinutes ?? 0) / 60;
  if (latDeg > 90) refuse(where, 'a latitude of at most 90 degrees');
  if (lonDeg > 180) refuse(where, 'a longitude of at most 180 degrees');
  return {
    latDeg: northSouth === 'S' ? 0 - latDeg : latDeg,
    lonDeg: eastWest === 'W' ? 0 - lonDeg : lonDeg,
  };
}

function readBearing(
  match: RegExpExecArray,
  where: string,
): { identifier: string; bearingMagneticDeg: number; distanceM: number } {
  const bearingMagneticDeg = Number(match[2]);
  const distanceNm = Number(match[3]);
  if (bearingMagneticDeg > 360) refuse(where, 'a bearing of at most 360 degrees');
  if (distanceNm === 0) refuse(where, 'a distance of 001 to 999 NM');
  return {
    identifier: match[1]!,
    bearingMagneticDeg,
    distanceM: mFromNm(distanceNm),
  };
}

function shortened(word: string): string {
  return word.length > 30 ? `${word.slice(0, 30)}…` : word;
}

function refuse(found: string, expected: string): never {
  throw new InvalidRequestError({ field: 'route', found, expected });
}

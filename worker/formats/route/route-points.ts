/** One significant point of item 15: an identifier, coordinates, or a bearing and distance from an identifier. */
import { mFromNm } from '../../science/units.ts';
import { type RouteWord, refuseWord } from './route-words.ts';

export type RoutePoint =
  | { readonly kind: 'identifier'; readonly text: string; readonly identifier: string }
  | {
      readonly kind: 'coordinates';
      readonly text: string;
      readonly latDeg: number;
      readonly lonDeg: number;
    }
  | {
      readonly kind: 'bearing-distance';
      readonly text: string;
      readonly identifier: string;
      /** From the place named, magnetic, 0-360. */
      readonly bearingMagneticDeg: number;
      readonly distanceM: number;
    };

/** 46N078W, 4620N07805W, 462013N0780512W. */
const COORDINATES = /^(\d{2})(\d{2})?(\d{2})?([NS])(\d{3})(\d{2})?(\d{2})?([EW])$/;
/** DUB180040: fix, three figures of magnetic bearing, three of nautical miles. */
const BEARING_DISTANCE = /^([A-Z0-9]{2,5})(\d{3})(\d{3})$/;
const IDENTIFIER = /^(?=.*[A-Z])[A-Z0-9]{2,5}$/;

/**
 * @param text  Of the point alone, upper case.
 * @param word  The word it stands in, for the refusal.
 * @throws      InvalidRequestError for any other form, latitudes beyond 90, longitudes beyond 180, minutes or seconds
 *              beyond 59, bearings beyond 360, a distance of 0.
 */
export function readPoint(text: string, word: RouteWord): RoutePoint {
  const coordinates = COORDINATES.exec(text);
  if (coordinates !== null)
    return { kind: 'coordinates', text, ...readCoordinates(coordinates.slice(1), word) };
  const bearing = BEARING_DISTANCE.exec(text);
  if (bearing !== null && IDENTIFIER.test(bearing[1]!)) {
    return { kind: 'bearing-distance', text, ...readBearing(bearing, word) };
  }
  if (IDENTIFIER.test(text)) return { kind: 'identifier', text, identifier: text };
  return refuseWord(
    word,
    'an identifier of 2-5 letters and digits, 44N073W, 4420N07130W, 442030N0713000W, or an identifier with bearing and distance as KBTV090020',
  );
}

function readCoordinates(
  parts: readonly (string | undefined)[],
  word: RouteWord,
): { latDeg: number; lonDeg: number } {
  const latitude = parts.slice(0, 3);
  const longitude = parts.slice(4, 7);
  if (latitude.some((part, index) => (part === undefined) !== (longitude[index] === undefined))) {
    refuseWord(word, 'latitude and longitude both in degrees, both with minutes, or both with seconds');
  }
  const latDeg = degreesOf(latitude, word);
  const lonDeg = degreesOf(longitude, word);
  if (latDeg > 90) refuseWord(word, 'a latitude of at most 90 degrees');
  if (lonDeg > 180) refuseWord(word, 'a longitude of at most 180 degrees');
  return { latDeg: parts[3] === 'S' ? 0 - latDeg : latDeg, lonDeg: parts[7] === 'W' ? 0 - lonDeg : lonDeg };
}

function degreesOf(parts: readonly (string | undefined)[], word: RouteWord): number {
  const [degrees, minutes, seconds] = parts.map((part) => Number(part ?? 0));
  if (minutes! > 59) refuseWord(word, 'minutes of at most 59');
  if (seconds! > 59) refuseWord(word, 'seconds of at most 59');
  return degrees! + (minutes! + seconds! / 60) / 60;
}

function readBearing(match: RegExpExecArray, word: RouteWord) {
  const bearingMagneticDeg = Number(match[2]);
  const distanceNm = Number(match[3]);
  if (bearingMagneticDeg > 360) refuseWord(word, 'a bearing of at most 360 degrees');
  if (distanceNm === 0) refuseWord(word, 'a distance of 001 to 999 NM');
  return { identifier: match[1]!, bearingMagneticDeg, distanceM: mFromNm(distanceNm) };
}

/**
 * The location element, /OV: a fix, a fix with radial and distance, legs between such points, coordinates, or words
 * about a runway. Miles of any name are nautical miles, KM are kilometers; the points of the compass count from true
 * north.
 */
import { mFromNm } from '../../science/units.ts';
import { COMPASS_PATTERN, compassDeg } from './compass.ts';
import { readCoordinates } from './coordinates.ts';
import type { LocatedPoint, ReportLocation } from './report.ts';

const OVER = /^(?:(?:OVR|OVER|OVHD)(?: +|$)|O\/ ?)/;
const RUNWAY = /^(?:SHORT |LONG )?(?:FINAL|FNL|ILS|LOC|RWY|RY|RUNWAY|DOWNWIND|BASE|APCH|DEP|ARPT|FIELD)\b/;
const IDENTIFIER = '(?=\\d{0,4}[A-Z])[A-Z0-9]{2,5}';
const FIX = new RegExp(`^${IDENTIFIER}$`);
/** `ABC120025`, `ABC 120025`, `ABC 120/25`. */
const RADIAL = new RegExp(`^(${IDENTIFIER}) ?(?:(\\d{3})(\\d{3})|(\\d{3})[/ ](\\d{1,3}))$`);
const AWAY = `(\\d{1,3}) ?(NM|MI|MILES|KM)? ?(${COMPASS_PATTERN})`;
/** `5N OMN`, `10 SW OF RNO`. */
const BEFORE_FIX = new RegExp(`^${AWAY} (?:OF )?(${IDENTIFIER})$`);
/** `RNO 10SW`, and `RNO10SW`. */
const AFTER_FIX = new RegExp(`^([A-Z][A-Z0-9]{2,3}) ?${AWAY}$`);
const MOST_POINTS = 10;
const M_PER_KM = 1000;

/**
 * @returns  `unreadable` when any part is not one of the forms: half of a leg is another place than the leg.
 * @checked  tests/formats/pilot-reports/place.test.ts
 */
export function readLocation(text: string): ReportLocation {
  const place = text.replace(OVER, '').trim();
  if (text === '' || text === 'UNKN') return { kind: 'not-reported' };
  if (place === '' || RUNWAY.test(place)) return { kind: 'at-station', text };
  const pair = readCoordinates(place.replace(/ ?- ?/, ' '));
  if (pair !== undefined) return { kind: 'points', points: [{ kind: 'coordinates', ...pair }] };
  const parts = place.split(/ ?- ?| TO /);
  const points = parts.slice(0, MOST_POINTS).map(readPoint);
  const read = points.filter((point) => point !== undefined);
  if (read.length < parts.length) return { kind: 'unreadable', text };
  return { kind: 'points', points: read };
}

function readPoint(text: string): LocatedPoint | undefined {
  const coordinates = readCoordinates(text);
  if (coordinates !== undefined) return { kind: 'coordinates', ...coordinates };
  const radial = RADIAL.exec(text);
  if (radial !== null) return radialPoint(radial[1]!, radial[2] ?? radial[4]!, radial[3] ?? radial[5]!);
  if (FIX.test(text)) return { kind: 'fix', identifier: text };
  const before = BEFORE_FIX.exec(text);
  if (before !== null) return directionPoint(before[4]!, before.slice(1, 4));
  const after = AFTER_FIX.exec(text);
  return after === null ? undefined : directionPoint(after[1]!, after.slice(2, 5));
}

function radialPoint(identifier: string, radial: string, distance: string): LocatedPoint | undefined {
  const radialDeg = Number(radial);
  if (radialDeg > 360) return undefined;
  if (Number(distance) === 0) return { kind: 'fix', identifier };
  return { kind: 'radial', identifier, radialDeg, distanceM: mFromNm(Number(distance)) };
}

function directionPoint(identifier: string, away: readonly (string | undefined)[]): LocatedPoint {
  const [figures, unit, point] = away;
  const distance = Number(figures);
  return {
    kind: 'direction',
    identifier,
    bearingDeg: compassDeg(point!)!,
    distanceM: unit === 'KM' ? distance * M_PER_KM : mFromNm(distance),
  };
}

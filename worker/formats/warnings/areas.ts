/**
 * Areas in words: `WI …`, `WI 50NM OF …` (WTN in Canada), `APRX 50KM WID LINE BTN …`, `N OF LINE …`, `N OF N54 AND E OF W012`,
 * `ENTIRE FIR`, and `FROM … TO …` or `BOUNDED BY …` of the United States.
 *
 * @source ICAO Annex 3, table A6-1A, location (from memory; the forms as in the annexes of national rules that copy it);
 *         National Weather Service bulletins WAUS4n and WSUSnn.
 */
import { mFromNm } from '../../science/units.ts';
import { COMPASS_PATTERN } from '../pilot-reports/compass.ts';
import { readHalf } from '../pilot-reports/coordinates.ts';
import { isListOpen, MOST_POINTS, takePoints } from './points.ts';
import type { Scanner } from './scanner.ts';
import type { AreaStatement, Boundary } from './warning.ts';

const M_PER_KM = 1000;
/** Wider than any area of ice; a greater figure is a typing fault, and so is none at all. */
const FURTHEST_M = mFromNm(1000);
const WHOLE = /(?:ENTIRE|(?:OVR )?(?:THE )?WHOLE) (?:FIR\/UIR|FIR|UIR|CTA)\b/y;
const WITHIN_OF = /(?:WI|WTN|WITHIN) (\d{1,4}) ?(NM|KM) (?:OF|FROM) (?:(LINE) (?:BTN )?|PSN )?/y;
const CYCLONE = /TC CENTRE/y;
const WIDE_LINE = /(?:APRX )?(\d{1,4}) ?(NM|KM) WID LINE BTN /y;
const WITHIN = /(?:WI|WTN|WITHIN) (?:AREA )?(?:(?:BOUNDED BY|OF|LINE) )?|(?:AREA )?BOUNDED BY |FROM /y;
const SIDE_OF_LINE = new RegExp(`(?:AND )?(${COMPASS_PATTERN}) OF LINE (?:BTN )?`, 'y');
const SIDE_OF_HALF = /(?:AND )?(N|S|E|W) OF ([NSEW]\d{2,5}|\d{2,5}[NSEW])(?![A-Z0-9])/y;
const POSITION = /(?:PSN )?(?=[NS]\d|\d{2,4}[NS])/y;

/** Takes one area; undefined, without moving, when none starts here. @checked tests/formats/warnings/areas.test.ts */
export function takeArea(scanner: Scanner): AreaStatement | undefined {
  if (scanner.take(WHOLE) !== undefined) return { kind: 'whole-region' };
  return (
    takeWithinOf(scanner) ??
    takeWideLine(scanner) ??
    takePolygon(scanner) ??
    takeSides(scanner) ??
    takePosition(scanner)
  );
}

/** Within a distance of a point, or of a line. */
function takeWithinOf(scanner: Scanner): AreaStatement | undefined {
  const start = scanner.offset;
  const match = scanner.take(WITHIN_OF);
  if (match === undefined) return undefined;
  const distanceM = metersOf(match);
  if (scanner.take(CYCLONE) !== undefined)
    return { kind: 'unreadable', text: scanner.text.slice(start, scanner.offset) };
  const points = takePoints(scanner);
  const [first, ...more] = points;
  if (first === undefined || points.length > MOST_POINTS || !isNear(distanceM) || isListOpen(scanner))
    return unreadable(scanner, start);
  if (more.length === 0 && match[3] === undefined)
    return { kind: 'circle', center: first, radiusM: distanceM };
  return more.length === 0 ? unreadable(scanner, start) : { kind: 'line', points, halfWidthM: distanceM };
}

/** A distance with its unit in the first two groups of a match. */
function metersOf(match: RegExpExecArray): number {
  return Number(match[1]) * (match[2] === 'KM' ? M_PER_KM : mFromNm(1));
}

const isNear = (distanceM: number) => distanceM > 0 && distanceM <= FURTHEST_M;

function takeWideLine(scanner: Scanner): AreaStatement | undefined {
  const start = scanner.offset;
  const match = scanner.take(WIDE_LINE);
  if (match === undefined) return undefined;
  const points = takePoints(scanner);
  const widthM = metersOf(match);
  if (points.length < 2 || points.length > MOST_POINTS || !isNear(widthM) || isListOpen(scanner))
    return unreadable(scanner, start);
  return { kind: 'line', points, halfWidthM: widthM / 2 };
}

function takePolygon(scanner: Scanner): AreaStatement | undefined {
  const start = scanner.offset;
  if (scanner.take(WITHIN) === undefined) return undefined;
  const points = takePoints(scanner);
  if (points.length === 0 || points.length > MOST_POINTS) {
    scanner.offset = start;
    return undefined;
  }
  return isListOpen(scanner) ? unreadable(scanner, start) : { kind: 'polygon', points };
}

/** One or more sides, with or without AND between: an area that lies on all of them. */
function takeSides(scanner: Scanner): AreaStatement | undefined {
  const boundaries: Boundary[] = [];
  for (;;) {
    const start = scanner.offset;
    const boundary = takeHalf(scanner) ?? takeLine(scanner);
    if (boundary === undefined) {
      scanner.offset = start;
      return boundaries.length === 0 ? undefined : { kind: 'sides', boundaries };
    }
    boundaries.push(boundary);
  }
}

function takeLine(scanner: Scanner): Boundary | undefined {
  const match = scanner.take(SIDE_OF_LINE);
  if (match === undefined) return undefined;
  const points = takePoints(scanner);
  return points.length < 2 || points.length > MOST_POINTS || isListOpen(scanner)
    ? undefined
    : { kind: 'line', side: match[1]!, points };
}

/** A side must suit the half: north or south of a parallel, east or west of a meridian. */
function takeHalf(scanner: Scanner): Boundary | undefined {
  const match = scanner.take(SIDE_OF_HALF);
  const half = match === undefined ? undefined : readHalf(match[2]!);
  const side = match?.[1];
  if (half?.axis === 'lat' && (side === 'N' || side === 'S'))
    return { kind: 'parallel', side, latDeg: half.deg };
  if (half?.axis === 'lon' && (side === 'E' || side === 'W'))
    return { kind: 'meridian', side, lonDeg: half.deg };
  return undefined;
}

/** A point by itself; several without a word before them may be an area or a line. */
function takePosition(scanner: Scanner): AreaStatement | undefined {
  const start = scanner.offset;
  if (scanner.take(POSITION) === undefined) return undefined;
  const points = takePoints(scanner);
  if (points.length === 0) {
    scanner.offset = start;
    return undefined;
  }
  return points.length === 1 ? { kind: 'point', point: points[0]! } : unreadable(scanner, start);
}

function unreadable(scanner: Scanner, start: number): AreaStatement {
  return { kind: 'unreadable', text: scanner.text.slice(start, scanner.offset).trim() };
}

/** Lists of points: coordinates parted by hyphens, or fixes with distance and compass point parted by hyphens or TO. */
import { mFromNm } from '../../science/units.ts';
import { COMPASS_PATTERN, compassDeg } from '../pilot-reports/compass.ts';
import { coordinatesAt } from '../pilot-reports/coordinates.ts';
import type { LocatedPoint } from '../pilot-reports/report.ts';
import type { Scanner } from './scanner.ts';

/** More vertices than any office draws; a longer list is refused. */
export const MOST_POINTS = 200;
const SEPARATOR = /(?:-|TO\b) ?/y;
const AWAY_FROM_FIX = new RegExp(
  `(\\d{1,3}) ?(?:NM )?(${COMPASS_PATTERN}) (?:OF )?([A-Z][A-Z0-9]{2,3})(?![A-Z0-9])`,
  'y',
);
/** Canada puts coordinates between strokes, and says behind them where that is: `/4630N07300W/25 NE CYQB -`. */
const STROKE = /\//y;
const DESCRIPTION = new RegExp(
  `/(?:\\d{1,3} ?(?:NM )?(?:${COMPASS_PATTERN}) (?:OF )?)?[A-Z]{3,}(?= ?[-.])`,
  'y',
);
/** A further point that is none: a sign between points, and then no level or movement. */
const GOES_ON = /(?=\/|(?:- ?|TO )(?!FL|SFC|TOP|ABV|BLW|BTN|MOV|STNR|NC)[A-Z0-9/])/y;
/** Words of levels and the like stand in its form. */
const FIX = /(?!(?:SFC|TOP|ABV|BLW|BLO|BTN|MOV|OBS|AND)(?![A-Z0-9]))K?[A-Z]{3}(?![A-Z0-9])/y;

/**
 * Takes as many points as follow. Coordinates may stand side by side without a hyphen, as offices at times forget it;
 * fixes may not, since the next word is the text's. Distances are nautical miles, compass points count from true north.
 *
 * @returns  none, without moving, when no point stands here.
 */
export function takePoints(scanner: Scanner): LocatedPoint[] {
  const points: LocatedPoint[] = [];
  for (;;) {
    const before = scanner.offset;
    const isParted = points.length > 0 && scanner.take(SEPARATOR) !== undefined;
    const point =
      takeCoordinates(scanner) ?? (points.length === 0 || isParted ? takeFix(scanner) : undefined);
    if (point === undefined) {
      scanner.offset = before;
      return points;
    }
    points.push(point);
  }
}

/** True behind points after which another should stand that was not read: what they enclose is then not known. */
export function isListOpen(scanner: Scanner): boolean {
  return scanner.take(GOES_ON) !== undefined;
}

function takeCoordinates(scanner: Scanner): LocatedPoint | undefined {
  const start = scanner.offset;
  const isBetweenStrokes = scanner.take(STROKE) !== undefined;
  const found = scanner.isDone ? undefined : coordinatesAt(scanner.text, scanner.offset);
  if (found !== undefined) scanner.offset = found.end;
  if (found === undefined || (isBetweenStrokes && scanner.take(DESCRIPTION) === undefined)) {
    scanner.offset = start;
    return undefined;
  }
  return { kind: 'coordinates', latDeg: found.latDeg, lonDeg: found.lonDeg };
}

/** `40ESE VXV`, `PZD`. */
function takeFix(scanner: Scanner): LocatedPoint | undefined {
  const away = scanner.take(AWAY_FROM_FIX);
  if (away !== undefined) {
    const [, figures, compass, identifier] = away;
    const distanceM = mFromNm(Number(figures));
    return { kind: 'direction', identifier: identifier!, bearingDeg: compassDeg(compass!)!, distanceM };
  }
  const fix = scanner.take(FIX);
  return fix === undefined ? undefined : { kind: 'fix', identifier: fix[0] };
}

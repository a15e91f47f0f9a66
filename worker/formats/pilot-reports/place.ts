/** From a location as reported to places on the earth, by a lookup of fixes. */

import { destination, greatCircleDistanceM, RAD_PER_DEG } from '../../science/great-circle.ts';
import { mFromNm } from '../../science/units.ts';
import { type FixContext, type FixPlace, findFixes } from './fix-places.ts';
import type { LocatedPoint, PlacedPoint, ReportLocation, ReportPlace } from './report.ts';

/** Fixes of one report further apart than this are of another name than meant. */
const LONGEST_LEG_M = mFromNm(1000);

/**
 * Places of a location. A radial counts from the north its fix is set to: it is turned by the fix's variation where the
 * lookup gives one, and otherwise taken as true, which `radialNorth` says.
 *
 * @param station  the report's first word; only words about a runway or the field are placed by it.
 * @checked        tests/formats/pilot-reports/place.test.ts
 */
export function placeOf(
  location: ReportLocation,
  station: string | undefined,
  context: FixContext,
): ReportPlace {
  if (location.kind === 'not-reported')
    return { kind: 'unknown', reason: 'location: found none, expected /OV' };
  if (location.kind === 'unreadable') {
    const found = JSON.stringify(location.text.slice(0, 40));
    return {
      kind: 'unknown',
      reason: `location: found ${found}, expected a fix, a radial, legs or coordinates`,
    };
  }
  if (location.kind === 'at-station' && station === undefined) {
    return {
      kind: 'unknown',
      reason: 'location: found words about a runway, expected an aerodrome before UA',
    };
  }
  const points: readonly LocatedPoint[] =
    location.kind === 'points' ? location.points : [{ kind: 'fix', identifier: station! }];
  const identifiers = points.flatMap((point) => (point.kind === 'coordinates' ? [] : [point.identifier]));
  const fixes = findFixes(identifiers, context);
  if (typeof fixes === 'string') return { kind: 'unknown', reason: fixes };
  const placed = points.map((point) => placedPoint(point, fixes));
  const spreadM = Math.max(
    ...placed.slice(1).map((point, index) => greatCircleDistanceM(placed[index]!, point)),
    0,
  );
  if (spreadM > LONGEST_LEG_M) {
    const found = `a leg of ${Math.round(spreadM / mFromNm(1))} NM`;
    return { kind: 'unknown', reason: `location: found ${found}, expected at most 1000 NM` };
  }
  return { kind: placed.length === 1 ? 'point' : 'legs', points: placed };
}

function placedPoint(point: LocatedPoint, fixes: ReadonlyMap<string, FixPlace>): PlacedPoint {
  if (point.kind === 'coordinates') return positionOf(point, 'no-radial');
  const fix = fixes.get(point.identifier)!;
  if (point.kind === 'fix') return positionOf(fix, 'no-radial');
  if (point.kind === 'direction')
    return positionOf(destination(fix, point.bearingDeg * RAD_PER_DEG, point.distanceM), 'no-radial');
  const { variationEastDeg } = fix;
  const trueDeg = point.radialDeg + (variationEastDeg ?? 0);
  const north = variationEastDeg === undefined ? 'taken-as-true' : 'variation-of-fix';
  return positionOf(destination(fix, trueDeg * RAD_PER_DEG, point.distanceM), north);
}

function positionOf(
  { latDeg, lonDeg }: { readonly latDeg: number; readonly lonDeg: number },
  radialNorth: PlacedPoint['radialNorth'],
): PlacedPoint {
  return { latDeg, lonDeg, radialNorth };
}

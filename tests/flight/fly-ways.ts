/** Ways out of the ice of a level flight, for tests: no climb, no descent, no aerodrome unless a test asks for one. */
import { makeCellFacts } from '../../worker/flight/cell-facts.ts';
import { makeFlightPath } from '../../worker/flight/flight-path.ts';
import { NO_WIND } from '../../worker/flight/timing.ts';
import type { RoutePoints, WaysOut } from '../../worker/flight/types.ts';
import { type WayOutRequest, waysOut } from '../../worker/flight/way-out.ts';
import { ftFromM, mFromFt } from '../../worker/science/units.ts';
import {
  type CellAt,
  flatMinimum,
  makeCurtain,
  makeTestRoute,
  ROUND_AIRCRAFT,
  TEST_AXIS,
} from './make-curtain.ts';

/** 186 NM between places that are no aerodromes. */
export const WAYS_ROUTE: RoutePoints = makeTestRoute(186, Number.NaN);

type Change = Partial<WayOutRequest> & { readonly altitudeFt?: number; readonly minimumFt?: number };

/** At 9,000 ft pressure altitude and 180 kt all along, over a minimum altitude of 3,000 ft: 5 NM take 100 s. */
export function levelWays(cellAt: CellAt, change: Change = {}): WaysOut {
  const { altitudeFt = 9000, minimumFt = 3000, route = WAYS_ROUTE, aircraft = ROUND_AIRCRAFT } = change;
  const facts = makeCellFacts(makeCurtain(route.pointCount, cellAt));
  const levelM = mFromFt(altitudeFt);
  const path = makeFlightPath({
    route,
    aircraft,
    windAt: NO_WIND,
    layout: TEST_AXIS,
    levels: [{ fromM: 0, pressureAltitudeM: levelM }],
    departurePressureAltitudeM: levelM,
    destinationPressureAltitudeM: levelM,
    facts,
  });
  if (path.kind !== 'path') throw new Error(path.kind);
  return waysOut({
    route,
    aircraft,
    facts,
    minimum: flatMinimum(route.pointCount, minimumFt),
    indicatedMinusPressureM: 0,
    path,
    aerodromes: [],
    ...change,
  });
}

/** "up 11500", "back", "aerodrome BBBB". */
export function wayWords({ way, toAltitudeM, aerodrome }: WaysOut, point: number): string {
  const to = toAltitudeM[point]!;
  if (aerodrome[point] !== undefined) return `${way[point]} ${aerodrome[point]}`;
  return Number.isNaN(to) ? way[point]! : `${way[point]} ${Math.round(ftFromM(to))}`;
}

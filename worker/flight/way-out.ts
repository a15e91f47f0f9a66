/** At each route point, for one altitude: is a way out needed, and which is the nearest. Unknown air is never a way out. */
import { CELL_STATE, type IcingColumns, INTENSITY, LARGE_DROPS } from '../science/columns.ts';
import { ftFromM, mFromFt } from '../science/units.ts';
import { tableValue } from './aircraft.ts';
import { cellNumber } from './cells.ts';
import { ICE_POSSIBLE, ICE_UNLIKELY } from './estimates.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { Aircraft, MinimumAltitudes, RoutePoints, Way, WayOut } from './types.ts';

export interface WayOutRequest {
  readonly route: RoutePoints;
  readonly aircraft: Aircraft;
  readonly icing: IcingColumns;
  readonly minimum: MinimumAltitudes;
  readonly indicatedMinusPressureM: number;
  readonly pressureAltitudeM: number;
  /** Seconds from departure over each point. */
  readonly secondsOverPoints: Float64Array;
}

/** Ice this near above or below asks for a way out. */
const NEAR_M = mFromFt(1000);
/** So does ice that will be met within this time. */
const AHEAD_S = 300;
/** Air flown through no longer ago than this may be turned back to. */
const BACK_S = 900;
/** For the turn itself: half a turn at three degrees a second, s. */
const TURN_S = 60;
/** Ways up and down are looked for at these indicated altitudes. */
const TARGET_STEP_FT = 500;
const TARGET_STEP_M = mFromFt(TARGET_STEP_FT);
const EQUAL_M = 1e-6;
/** A range that ends on the edge of a cell, give or take this, does not reach into the next, m. */
const END_M = 0.01;

interface Air {
  /** Possible ice: enough to ask for a way out. Ice: too much to get out to. */
  readonly mayHaveIce: boolean;
  readonly hasIce: boolean;
  /** Severe icing or large drops. */
  readonly hasDanger: boolean;
  readonly hasUnknown: boolean;
}
const isFree = (air: Air): boolean => !air.hasIce && !air.hasUnknown;

/** What looking for one way found. */
interface Found {
  readonly way: Way;
  readonly timeS: number;
  readonly toAltitudeM: number | undefined;
}
type Search = Found | 'none' | 'unknown';

export function waysOut(request: WayOutRequest): WayOut[] {
  return Array.from(request.route.distanceM, (distanceM, pointIndex) => {
    const { way, toAltitudeM } = wayOutAt(request, pointIndex);
    return { pointIndex, distanceM, way, toAltitudeM };
  });
}

function wayOutAt(request: WayOutRequest, point: number): Pick<Found, 'way' | 'toAltitudeM'> {
  if (isNothingNear(request, point)) return { way: 'not-needed', toAltitudeM: undefined };
  const searches = [searchUp(request, point), searchDown(request, point), searchBack(request, point)];
  const found = searches.filter((search): search is Found => typeof search === 'object');
  const nearest = found.sort((a, b) => a.timeS - b.timeS)[0];
  if (nearest !== undefined) return nearest;
  return { way: searches.includes('unknown') ? 'unknown' : 'none', toAltitudeM: undefined };
}

/** Known to hold no ice about the altitude, here and at the points soon ahead. */
function isNothingNear(request: WayOutRequest, point: number): boolean {
  const { secondsOverPoints, route, pressureAltitudeM } = request;
  for (let ahead = point; ahead < route.pointCount; ahead += 1) {
    const isSoon = ahead <= point + 1 || secondsOverPoints[ahead]! - secondsOverPoints[point]! <= AHEAD_S;
    if (!isSoon) break;
    const near = airBetween(request, ahead, [pressureAltitudeM - NEAR_M, pressureAltitudeM + NEAR_M]);
    if (near.mayHaveIce || near.hasUnknown) return false;
  }
  return true;
}

/** Already in severe icing or large drops: then any way through them is better than staying. */
function isInDanger(request: WayOutRequest, point: number): boolean {
  const { pressureAltitudeM } = request;
  return airBetween(request, point, [pressureAltitudeM, pressureAltitudeM + TARGET_STEP_M]).hasDanger;
}

/** Up to an altitude with nothing icy for 1,500 ft below it and 1,000 ft above, through air that is known. */
function searchUp(request: WayOutRequest, point: number): Search {
  const { aircraft, pressureAltitudeM: fromM } = request;
  for (const toM of targetsM(request, 1)) {
    if (toM > aircraft.ceilingM + EQUAL_M) return 'none';
    const passed = airBetween(request, point, [fromM, toM]);
    if (passed.hasUnknown) return 'unknown';
    if (passed.hasDanger && !isInDanger(request, point)) return 'none';
    if (!isFree(airBetween(request, point, [toM - ON_TOP_MARGIN_M, toM + NEAR_M]))) continue;
    const rateMps = tableValue(aircraft.climbRateMps, (fromM + toM) / 2);
    return { way: 'up', timeS: (toM - fromM) / rateMps, toAltitudeM: toM + request.indicatedMinusPressureM };
  }
  return 'none';
}

/** Down to an altitude with nothing icy for 1,000 ft above it, not under the minimum altitude, through known air. */
function searchDown(request: WayOutRequest, point: number): Search {
  const { aircraft, pressureAltitudeM: fromM } = request;
  const lowestM = request.minimum.altitudeM[point]! - request.indicatedMinusPressureM;
  if (Number.isNaN(lowestM)) return 'unknown';
  for (const toM of targetsM(request, -1)) {
    if (toM < lowestM - EQUAL_M) return 'none';
    const passed = airBetween(request, point, [toM, fromM]);
    if (passed.hasUnknown) return 'unknown';
    if (passed.hasDanger && !isInDanger(request, point)) return 'none';
    if (!isFree(airBetween(request, point, [toM, toM + NEAR_M]))) continue;
    const timeS = (fromM - toM) / aircraft.descentRateMps;
    return { way: 'down', timeS, toAltitudeM: toM + request.indicatedMinusPressureM };
  }
  return 'none';
}

/** Back to a point passed a short time ago with nothing icy about the altitude, through air that is known. */
function searchBack(request: WayOutRequest, point: number): Search {
  const { secondsOverPoints, pressureAltitudeM: atM } = request;
  for (let behind = point - 1; behind >= 0; behind -= 1) {
    const awayS = secondsOverPoints[point]! - secondsOverPoints[behind]!;
    if (awayS > BACK_S) return 'none';
    const air = airBetween(request, behind, [atM - NEAR_M, atM + NEAR_M]);
    if (air.hasUnknown) return 'unknown';
    if (!air.hasIce) return { way: 'back', timeS: TURN_S + awayS, toAltitudeM: undefined };
  }
  return 'none';
}

/** Pressure altitudes of whole 500 ft indicated above (1) or below (-1) the present one, nearest first. */
function* targetsM(request: WayOutRequest, direction: 1 | -1): Generator<number> {
  const { pressureAltitudeM, indicatedMinusPressureM, icing, aircraft } = request;
  const presentSteps = ftFromM(pressureAltitudeM + indicatedMinusPressureM) / TARGET_STEP_FT;
  const axisTopM = icing.axis.lowestM + icing.axis.cellCount * icing.axis.cellDepthM;
  const limits = [Math.min(icing.axis.lowestM, 0), Math.max(axisTopM, aircraft.ceilingM)] as const;
  let step = direction > 0 ? Math.floor(presentSteps + 1e-6) : Math.ceil(presentSteps - 1e-6);
  for (;;) {
    step += direction;
    const targetM = mFromFt(step * TARGET_STEP_FT) - indicatedMinusPressureM;
    if (targetM < limits[0] || targetM > limits[1] + mFromFt(TARGET_STEP_FT)) return;
    yield targetM;
  }
}

/** What lies between two altitudes over a point. Ground is no air; outside the axis, or ground alone, is unknown. */
function airBetween({ icing }: WayOutRequest, point: number, [lowM, highM]: readonly [number, number]): Air {
  const { axis } = icing;
  const first = cellNumber(axis, lowM);
  const last = cellNumber(axis, highM - END_M);
  let mayHaveIce = false;
  let hasIce = false;
  let hasDanger = false;
  let hasUnknown = first < 0 || last >= axis.cellCount;
  let airCells = 0;
  for (let cell = Math.max(0, first); cell <= Math.min(last, axis.cellCount - 1); cell += 1) {
    const index = point * axis.cellCount + cell;
    if (icing.state[index] === CELL_STATE.belowGround) continue;
    airCells += 1;
    const probability = icing.icingProbability[index]!;
    if (icing.state[index] !== CELL_STATE.known || Number.isNaN(probability)) hasUnknown = true;
    else if (probability >= ICE_POSSIBLE || icing.largeDrops[index] !== LARGE_DROPS.none) {
      mayHaveIce = true;
      hasIce ||= probability >= ICE_UNLIKELY || icing.largeDrops[index] !== LARGE_DROPS.none;
      hasDanger ||=
        icing.largeDrops[index] !== LARGE_DROPS.none || icing.intensity[index] === INTENSITY.severe;
    }
  }
  return { mayHaveIce, hasIce, hasDanger, hasUnknown: hasUnknown || airCells === 0 };
}

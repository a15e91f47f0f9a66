/** What a request alone decides of one leg, before any weather is read. */
import { InvalidRequestError } from '../errors.ts';
import { aircraftFromProfile } from '../flight/aircraft.ts';
import { findBuiltInAircraft } from '../flight/aircraft-profiles.ts';
import { makeRoutePoints } from '../flight/route.ts';
import { makeTiming } from '../flight/timing.ts';
import type { Aircraft, MinimumCrossing, Planned, RoutePoints, WindAt } from '../flight/types.ts';
import type { BriefRequest } from '../schema/request.ts';
import { makeAltitudeAxis } from '../science/altitude-axis.ts';
import type { AltitudeAxis } from '../science/columns.ts';
import { indicatedAltitudeM } from '../science/standard-atmosphere.ts';
import { mFromFt, mFromNm, paFromHPa } from '../science/units.ts';
import { crossingsOf, plannedOf } from './flight-options.ts';
import type { LegWindow } from './leg-data.ts';
import type { ResolvedRoute } from './resolve-route.ts';
import type { SettledOptions } from './settings.ts';

/** The curtain’s cells: 500 ft deep from 1,250 ft below to 30,750 ft above the altimeter’s zero, so that every whole
 * thousand lies in the middle of a cell and just over a top still counts as ice. */
const CELL_DEPTH_FT = 500;
const LOWEST_FT = -1250;
const CELL_COUNT = 64;
/** Altitude whose wind times the points, ft indicated; a fixed altitude takes its place. */
const TIMING_FT = 9000;

/** A route, an aeroplane and an instant of departure. */
export interface LegPlan {
  readonly options: SettledOptions;
  readonly aircraft: Aircraft;
  readonly departureMs: number;
  readonly resolved: ResolvedRoute;
  readonly route: RoutePoints;
  readonly axis: AltitudeAxis;
  readonly indicatedMinusPressureM: number;
  readonly corridorHalfWidthM: number;
  readonly planned: Planned;
  readonly crossings: readonly MinimumCrossing[];
  readonly stillAirEtaMs: Float64Array;
}

/** @throws InvalidRequestError with field `route` when the fixes make no route. */
export function makeLegPlan(
  given: Pick<LegPlan, 'options' | 'aircraft' | 'departureMs' | 'resolved'>,
): LegPlan {
  const shiftM = indicatedAltitudeM(0, paFromHPa(given.options.altimeterSettingHPa));
  const route = makeRoutePoints(given.resolved.fixes);
  const plan = {
    ...given,
    route,
    planned: plannedOf(given.options, route, given.aircraft.ceilingM),
    crossings: crossingsOf(given.options, route),
    axis: curtainAxis(shiftM),
    indicatedMinusPressureM: shiftM,
    corridorHalfWidthM: mFromNm(given.options.corridorHalfWidthNm),
  };
  return { ...plan, stillAirEtaMs: etasWith(plan, () => undefined) };
}

/** The curtain's cells under an altimeter setting that shows `shiftM` more than the pressure altitude. */
export function curtainAxis(shiftM: number): AltitudeAxis {
  return makeAltitudeAxis({
    lowestM: mFromFt(LOWEST_FT) - shiftM,
    cellDepthM: mFromFt(CELL_DEPTH_FT),
    cellCount: CELL_COUNT,
  });
}

/** The same leg at another instant. */
export function leavingAt(plan: LegPlan, departureMs: number): LegPlan {
  const laterByMs = departureMs - plan.departureMs;
  return { ...plan, departureMs, stillAirEtaMs: plan.stillAirEtaMs.map((etaMs) => etaMs + laterByMs) };
}

/** Times over the points in a wind, epoch ms. */
export function etasWith(plan: Omit<LegPlan, 'stillAirEtaMs'>, windAt: WindAt): Float64Array {
  const cruiseIndicatedM = mFromFt(plan.options.fixedAltitudeFt ?? TIMING_FT);
  const cruisePressureAltitudeM = cruiseIndicatedM - plan.indicatedMinusPressureM;
  return makeTiming({ ...plan, cruisePressureAltitudeM, windAt }).etaMs;
}

/** Nobody is over a point before a tailwind of two thirds of the speed brings him there, or after a headwind of half of it. */
const EARLIEST_RATIO = 0.6;
const LATEST_RATIO = 2;

export function windowOf({ departureMs, stillAirEtaMs }: LegPlan): LegWindow {
  const after = (ratio: number) => stillAirEtaMs.map((etaMs) => departureMs + ratio * (etaMs - departureMs));
  return {
    earliestMs: after(EARLIEST_RATIO),
    latestMs: after(LATEST_RATIO),
    leg: { fromMs: departureMs, toMs: stillAirEtaMs.at(-1)! },
  };
}

/** @throws InvalidRequestError with field `aircraft` for an id that no profile has. */
export function aircraftOf(given: BriefRequest['aircraft'], weightKg?: number): Aircraft {
  if (typeof given !== 'string') return aircraftFromProfile(given, 'aircraft', weightKg);
  const profile = findBuiltInAircraft(given);
  if (profile === undefined) {
    throw new InvalidRequestError({
      field: 'aircraft',
      found: JSON.stringify(given),
      expected: 'an id of GET /api/aircraft, or a profile',
    });
  }
  return aircraftFromProfile(profile, 'aircraft', weightKg);
}

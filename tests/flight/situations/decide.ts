/** Plays one invented situation through the choice. */
import { aircraftFromProfile } from '../../../worker/flight/aircraft.ts';
import { findBuiltInAircraft } from '../../../worker/flight/aircraft-profiles.ts';
import { chooseAltitude } from '../../../worker/flight/choose-altitude.ts';
import type { Hazard } from '../../../worker/flight/hazards.ts';
import { defaultPlanned } from '../../../worker/flight/planned.ts';
import { makeRoutePoints } from '../../../worker/flight/route.ts';
import type { Choice, ChooseInput, MinimumAltitudes, RoutePoints } from '../../../worker/flight/types.ts';
import { mFromFt, mFromNm } from '../../../worker/science/units.ts';
import { flatMinimum, makeCurtain, makeTestRoute } from '../make-curtain.ts';
import type { Situation } from './situation.ts';

const M3_PER_L = 0.001;
const DEFAULT_MINIMUM = [{ fromNm: 0, toNm: 1e9, altitudeFt: 3000 }];

export function decide(situation: Situation): Choice {
  return chooseAltitude(inputOf(situation));
}

function inputOf(situation: Situation): ChooseInput {
  const route = routeOf(situation);
  const profile = findBuiltInAircraft(situation.aircraftId ?? 'generic-fluid-turboprop')!;
  const planned = defaultPlanned(route.fixes.at(-1)!.elevationM);
  const { holdMinutes, residualIceMm = 0, fluidOnBoardL = 80 } = situation;
  return {
    route,
    aircraft: aircraftFromProfile({ ...profile, ...situation.aircraftChange }),
    ...makeCurtain(route.pointCount, situation.air),
    minimum: minimumOf(situation, route),
    indicatedMinusPressureM: 0,
    candidateAltitudesM: Array.from({ length: 23 }, (_, step) => mFromFt(3000 + step * 1000)),
    departureMs: Date.UTC(2026, 0, 14, 11, 30),
    fluidOnBoardM3: fluidOnBoardL === null ? undefined : fluidOnBoardL * M3_PER_L,
    planned: holdMinutes === undefined ? planned : { ...planned, holdS: holdMinutes * 60 },
    crossings: (situation.crossings ?? []).map(({ atNm, altitudeFt }) => ({
      distanceM: mFromNm(atNm),
      altitudeM: mFromFt(altitudeFt),
      name: `${atNm} NM`,
    })),
    hazards: hazardsOf(situation, route),
    residualIceM: residualIceMm / 1000,
  };
}

function routeOf({ lengthNm, departureElevationFt = 0, destinationElevationFt = 0 }: Situation): RoutePoints {
  const [from, to] = makeTestRoute(lengthNm).fixes;
  return makeRoutePoints([
    { ...from!, elevationM: mFromFt(departureElevationFt) },
    { ...to!, elevationM: mFromFt(destinationElevationFt) },
  ]);
}

function minimumOf({ minimumAltitudes = DEFAULT_MINIMUM }: Situation, route: RoutePoints): MinimumAltitudes {
  const altitudeM = route.distanceM.map((distanceM) => {
    const here = minimumAltitudes.filter(
      ({ fromNm, toNm }) => distanceM >= mFromNm(fromNm) - 1 && distanceM <= mFromNm(toNm) + 1,
    );
    return here.length === 0 ? Number.NaN : mFromFt(Math.max(...here.map((each) => each.altitudeFt)));
  });
  return { ...flatMinimum(route.pointCount, Number.NaN), altitudeM };
}

function hazardsOf({ hazards = [] }: Situation, route: RoutePoints): Hazard[] {
  const nearest = (distanceNm: number) =>
    route.distanceM.reduce(
      (best, distanceM, point) =>
        Math.abs(distanceM - mFromNm(distanceNm)) < Math.abs(route.distanceM[best]! - mFromNm(distanceNm))
          ? point
          : best,
      0,
    );
  return hazards.map(({ kind, severity, sentence, fromNm, toNm, lowerFt, upperFt }, number) => ({
    id: `hazard-${number}`,
    kind,
    severity,
    sentence,
    validFromMs: 0,
    validToMs: Number.POSITIVE_INFINITY,
    issuedMs: 0,
    firstPoint: nearest(fromNm),
    lastPoint: nearest(toNm),
    lowerM: lowerFt === undefined ? Number.NEGATIVE_INFINITY : mFromFt(lowerFt),
    upperM: upperFt === undefined ? Number.POSITIVE_INFINITY : mFromFt(upperFt),
  }));
}

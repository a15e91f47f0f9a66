/** The one place where a leg waits for the stores: everything that is read for it, at once, for all its departures. */
import { minimumAltitudes, type SpotHeightPlace } from '../flight/minimum-altitude.ts';
import type { MinimumAltitudes, NearAerodrome } from '../flight/types.ts';
import { mFromFt, mFromNm } from '../science/units.ts';
import type { Dependencies } from '../sources/ports.ts';
import { type ReadLegData, readLegData } from './leg-data.ts';
import { type LegPlan, windowOf } from './leg-plan.ts';
import { aerodromesAlong } from './near-aerodromes.ts';

/** What was read for a route, whatever the departure. */
export interface LegReads {
  readonly weather: ReadLegData;
  readonly minimum: MinimumAltitudes;
  readonly aerodromes: readonly NearAerodrome[];
}

export interface ReadRequest {
  readonly operators: readonly string[];
  /** How much later than the plan the last departure leaves, ms. */
  readonly laterByMs: number;
}

export async function readLeg(
  deps: Dependencies,
  plan: LegPlan,
  { operators, laterByMs }: ReadRequest,
): Promise<LegReads> {
  const [weather, spotHeights] = await Promise.all([
    readLegData(deps, { route: plan.route, operators, laterByMs, ...windowOf(plan) }),
    deps.places.spotHeights(operators),
  ]);
  return {
    weather,
    minimum: legMinimum(plan, spotHeights),
    aerodromes: aerodromesAlong(deps.places, plan.route),
  };
}

function legMinimum(
  { route, options, corridorHalfWidthM }: LegPlan,
  spotHeights: readonly SpotHeightPlace[],
): MinimumAltitudes {
  return minimumAltitudes({
    route,
    entered: options.minimumAltitudes.map((each) => ({
      fromM: mFromNm(each.fromNm),
      toM: mFromNm(each.toNm),
      altitudeM: mFromFt(each.altitudeFt),
    })),
    spotHeights,
    corridorHalfWidthM,
  });
}

/** The one place where a leg waits for the stores: everything that is read for it, at once, for all its departures. */
import type { MinimumAltitudes, NearAerodrome } from '../flight/types.ts';
import type { BriefReads } from '../sources/ports.ts';
import type { FoundReports } from '../sources/reports.ts';
import { type ReadLegData, readLegData } from './leg-data.ts';
import { readLegReports } from './leg-hazards.ts';
import { type LegPlan, windowOf } from './leg-plan.ts';
import { type LegTerrain, minimumOfLeg, readLegTerrain } from './leg-terrain.ts';
import { aerodromesAlong } from './near-aerodromes.ts';

/** What was read for a route, whatever the departure. */
export interface LegReads {
  readonly weather: ReadLegData;
  readonly terrain: LegTerrain;
  readonly reports: FoundReports;
  readonly minimum: MinimumAltitudes;
  readonly aerodromes: readonly NearAerodrome[];
}

export interface ReadRequest {
  readonly operators: readonly string[];
  /** How much later than the plan the last departure leaves, ms. */
  readonly laterByMs: number;
}

export async function readLeg(
  deps: BriefReads,
  plan: LegPlan,
  { operators, laterByMs }: ReadRequest,
): Promise<LegReads> {
  const window = windowOf(plan);
  const [weather, terrain, reports] = await Promise.all([
    readLegData(deps, { route: plan.route, operators, laterByMs, ...window }),
    readLegTerrain(deps, plan, operators),
    readLegReports(deps, { ...plan, ...window, operators, laterByMs }),
  ]);
  return {
    weather,
    terrain,
    reports,
    minimum: minimumOfLeg(plan, terrain, weather),
    aerodromes: aerodromesAlong(deps.places, plan.route),
  };
}

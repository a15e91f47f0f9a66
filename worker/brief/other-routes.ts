/** Other ways round between the places of the filed route, each with its own reads. */
import { InvalidRequestError } from '../errors.ts';
import type { Fix, RoutePoints } from '../flight/types.ts';
import type { BriefRequest } from '../schema/request.ts';
import { greatCircleDistanceM } from '../science/great-circle.ts';
import { mFromNm } from '../science/units.ts';
import type { Dependencies } from '../sources/ports.ts';
import { type Carried, type ChosenLeg, chooseLeg } from './leg-choice.ts';
import { type LegPlan, makeLegPlan } from './leg-plan.ts';
import { readLeg } from './leg-reads.ts';
import { withField } from './named-field.ts';
import { resolveRoute } from './resolve-route.ts';

/** Two positions of one aerodrome, from two lists or clicked on a map, lie within this of each other. */
export const ONE_PLACE_M = mFromNm(2);

/** @throws InvalidRequestError with field `options.otherRoutes[i]` for a route that does not read or leads elsewhere. */
export async function otherPlans(
  deps: Dependencies,
  filed: LegPlan,
  {
    routes,
    operators,
  }: { readonly routes: readonly BriefRequest['route'][]; readonly operators: readonly string[] },
): Promise<LegPlan[]> {
  const plans: LegPlan[] = [];
  for (const [index, route] of routes.entries()) {
    const plan = await withField(
      (field) => field.replace(/^route/, `options.otherRoutes[${index}]`),
      async () => {
        const { departureMs } = filed;
        const resolved = await resolveRoute(route, { places: deps.places, operators, departureMs });
        return makeLegPlan({ ...filed, resolved, options: { ...filed.options, minimumAltitudes: [] } });
      },
    );
    refuseOtherEnds(plan.route, filed.route, index);
    plans.push(plan);
  }
  return plans;
}

/** Each over its own reads. Minimum altitudes that were entered are those of the filed route and hold on no other. */
export async function chooseOthers(
  deps: Dependencies,
  plans: readonly LegPlan[],
  { operators, carried }: { readonly operators: readonly string[]; readonly carried: Carried },
): Promise<ChosenLeg[]> {
  const reads = await Promise.all(plans.map((plan) => readLeg(deps, plan, { operators, laterByMs: 0 })));
  return plans.map((plan, index) => chooseLeg(plan, reads[index]!, carried));
}

function refuseOtherEnds(other: RoutePoints, filed: RoutePoints, index: number): void {
  const ends = [
    [other.fixes[0]!, filed.fixes[0]!],
    [other.fixes.at(-1)!, filed.fixes.at(-1)!],
  ] as const;
  if (ends.every(([one, two]) => isOnePlace(one, two))) return;
  throw new InvalidRequestError({
    field: `options.otherRoutes[${index}]`,
    found: `a route from ${endsOf(other)}`,
    expected: `another way from ${endsOf(filed)}`,
  });
}

export const isOnePlace = (one: Fix, two: Fix): boolean => greatCircleDistanceM(one, two) <= ONE_PLACE_M;

const endsOf = ({ fixes }: RoutePoints): string => `${fixes[0]!.name} to ${fixes.at(-1)!.name}`;

/** Other ways round between the places of the filed route, each with its own reads. */
import { InvalidRequestError } from '../errors.ts';
import type { Fix, RoutePoints } from '../flight/types.ts';
import type { BriefRequest } from '../schema/request.ts';
import { greatCircleDistanceM } from '../science/great-circle.ts';
import { mFromNm } from '../science/units.ts';
import type { BriefReads } from '../sources/ports.ts';
import { type Carried, type ChosenLeg, chooseLeg } from './leg-choice.ts';
import { type LegPlan, makeLegPlan } from './leg-plan.ts';
import { readLeg } from './leg-reads.ts';
import { withField } from './named-field.ts';
import { resolveRoute } from './resolve-route.ts';

/** Two positions of one aerodrome, from two lists or clicked on a map, lie within this of each other. */
const ONE_PLACE_M = mFromNm(2);

type OtherRoute = NonNullable<NonNullable<BriefRequest['options']>['otherRoutes']>[number];
type WithMinima = Extract<OtherRoute, { route: unknown }>;

const isWithMinima = (given: OtherRoute): given is WithMinima =>
  typeof given === 'object' && 'route' in given;

function fieldOf(field: string, index: number, hasMembers: boolean): string {
  const at = `options.otherRoutes[${index}]`;
  if (field.startsWith('options.')) return field.replace('options', at);
  return hasMembers ? `${at}.${field}` : field.replace(/^route/, at);
}

/** @throws InvalidRequestError with field `options.otherRoutes[i]` for a route that does not read or leads elsewhere. */
export async function otherPlans(
  deps: BriefReads,
  filed: LegPlan,
  { routes, operators }: { readonly routes: readonly OtherRoute[]; readonly operators: readonly string[] },
): Promise<LegPlan[]> {
  const plans: LegPlan[] = [];
  for (const [index, given] of routes.entries()) {
    const {
      route,
      minimumAltitudes = [],
      minimumCrossings = [],
    } = isWithMinima(given) ? given : { route: given };
    const plan = await withField(
      (field) => fieldOf(field, index, isWithMinima(given)),
      async () => {
        const { departureMs } = filed;
        const resolved = await resolveRoute(route, { places: deps.places, operators, departureMs });
        const options = { ...filed.options, minimumAltitudes, minimumCrossings };
        return makeLegPlan({ ...filed, resolved, options });
      },
    );
    refuseOtherEnds(plan.route, filed.route, index);
    plans.push(plan);
  }
  return plans;
}

/** Each over its own reads. Minimum altitudes entered for the filed route hold on no other: each has its own, or none. */
export async function chooseOthers(
  deps: BriefReads,
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

/** The legs of a sequence as they are asked for, checked against each other before any weather is read. */
import { InvalidRequestError } from '../errors.ts';
import type { Aircraft } from '../flight/types.ts';
import type { SequenceLeg, SequenceRequest } from '../schema/sequence.ts';
import type { Dependencies } from '../sources/ports.ts';
import { alternatePlan } from './alternate-leg.ts';
import { type LegPlan, makeLegPlan } from './leg-plan.ts';
import { withField } from './named-field.ts';
import { isOnePlace } from './other-routes.ts';
import { refuseOverfull } from './overfull.ts';
import { resolveRoute } from './resolve-route.ts';
import { settled } from './settings.ts';

export interface PlannedLeg {
  readonly asked: SequenceLeg;
  /** Leaves with the first leg until it is known when it does. */
  readonly plan: LegPlan;
  readonly alternate: LegPlan | undefined;
}

/** @throws InvalidRequestError with a field as `legs[2].route`. */
export async function planSequence(
  deps: Dependencies,
  { legs, fluidOnBoardL }: SequenceRequest,
  { operators, aircraft }: { readonly operators: readonly string[]; readonly aircraft: Aircraft },
): Promise<PlannedLeg[]> {
  const departure = legs[0]!.departure;
  if (departure === undefined) {
    throw new InvalidRequestError({
      field: 'legs[0].departure',
      found: 'nothing',
      expected: 'the departure of the first leg',
    });
  }
  refuseOverfull('fluidOnBoardL', fluidOnBoardL, aircraft);
  const departureMs = Date.parse(departure.atUtc);
  const planned: PlannedLeg[] = [];
  for (const [index, asked] of legs.entries()) {
    const leg = await withField(
      (field) => `legs[${index}].${field}`,
      async () => {
        refuseOverfull('refillToL', asked.refillToL, aircraft);
        const resolved = await resolveRoute(asked.route, { places: deps.places, operators, departureMs });
        const plan = makeLegPlan({ options: settled(asked.options), aircraft, departureMs, resolved });
        refuseElsewhere(planned.at(-1)?.plan, plan);
        const ident = asked.options?.alternate;
        const alternate =
          ident === undefined ? undefined : await alternatePlan(deps, plan, { ident, operators });
        return { asked, plan, alternate };
      },
    );
    planned.push(leg);
  }
  return planned;
}

/** A leg leaves where the one before ends: it is one aeroplane. */
function refuseElsewhere(before: LegPlan | undefined, { route }: LegPlan): void {
  const start = route.fixes[0]!;
  const end = before?.route.fixes.at(-1);
  if (end === undefined || isOnePlace(end, start)) return;
  throw new InvalidRequestError({
    field: 'route',
    found: `a departure from ${start.name}`,
    expected: `one from ${end.name}, where the leg before ends`,
  });
}

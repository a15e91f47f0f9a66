/** The leg from the destination to the alternate: read once, its air made for whoever arrives at any of the departures. */
import { InvalidRequestError } from '../errors.ts';
import type { Fix, Planned } from '../flight/types.ts';
import type { BriefReads } from '../sources/ports.ts';
import { legAir } from './leg-air.ts';
import type { AlternateAt } from './leg-choice.ts';
import { legHazards } from './leg-hazards.ts';
import { type LegPlan, leavingAt, makeLegPlan } from './leg-plan.ts';
import { readLeg } from './leg-reads.ts';
import { withField } from './named-field.ts';

/** @throws InvalidRequestError with field `options.alternate` for what is no aerodrome of this instance, or is the destination. */
export async function alternatePlan(
  deps: BriefReads,
  filed: LegPlan,
  { ident, operators }: { readonly ident: string; readonly operators: readonly string[] },
): Promise<LegPlan> {
  const name = ident.trim().toUpperCase();
  const place = await deps.places.byIdent(operators, name);
  if (place === undefined || place.kind !== 'aerodrome') {
    throw new InvalidRequestError({
      field: 'options.alternate',
      found: JSON.stringify(ident),
      expected: 'the identifier of an aerodrome of this instance',
    });
  }
  const alternate: Fix = { name, latDeg: place.latDeg, lonDeg: place.lonDeg, elevationM: place.elevationM };
  const destination = filed.route.fixes.at(-1)!;
  const options = {
    ...filed.options,
    minimumAltitudes: [],
    minimumCrossings: [],
    planned: {},
    fixedAltitudeFt: undefined,
  };
  return withField(
    (field) => field.replace(/^route/, 'options.alternate'),
    () =>
      makeLegPlan({
        options,
        aircraft: filed.aircraft,
        departureMs: filed.stillAirEtaMs.at(-1)! + heldMs(filed.planned),
        resolved: {
          text: `${destination.name} DCT ${name}`,
          fixes: [destination, alternate],
          placeNames: new Map([[name, place.name]]),
        },
      }),
  );
}

/** The window reaches from the earliest arrival of the first departure to the latest one of the last. */
export async function readAlternate(
  deps: BriefReads,
  plan: LegPlan,
  given: {
    readonly operators: readonly string[];
    /** For the destination. */
    readonly planned: Planned;
    readonly earliestArrivalMs: number;
    readonly latestArrivalMs: number;
  },
): Promise<AlternateAt> {
  const first = leavingAt(plan, given.earliestArrivalMs + heldMs(given.planned));
  const laterByMs = given.latestArrivalMs - given.earliestArrivalMs;
  const reads = await readLeg(deps, first, { operators: given.operators, laterByMs });
  return (arrivalMs) => {
    const leaving = leavingAt(plan, arrivalMs + heldMs(given.planned));
    const air = legAir(leaving, reads.weather);
    return {
      name: plan.route.fixes.at(-1)!.name,
      route: plan.route,
      weather: air.weather,
      icing: air.icing,
      drawn: air.drawn,
      used: air.used,
      minimum: reads.minimum,
      hazards: legHazards(reads.reports, { ...leaving, ...air }).map(({ hazard }) => hazard),
    };
  };
}

/** Spent over the destination before leaving it, ms. */
const heldMs = ({ holdS, approachS }: Planned): number => (holdS + approachS) * 1000;

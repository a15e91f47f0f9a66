/** The leg from the destination to the alternate: read once, its air made for whoever arrives at any of the departures. */
import { InvalidRequestError } from '../errors.ts';
import type { Fix } from '../flight/types.ts';
import type { Dependencies } from '../sources/ports.ts';
import { legAir } from './leg-air.ts';
import type { AlternateAt } from './leg-choice.ts';
import { type LegPlan, leavingAt, makeLegPlan } from './leg-plan.ts';
import { readLeg } from './leg-reads.ts';
import { withField } from './named-field.ts';

/** Spent over the destination before leaving it, ms: the hold, 14 CFR 91.151 and 91.167 speak of 30 to 45 min; then a missed approach. */
const HOLD_MS = 30 * 60_000;
const MISSED_APPROACH_MS = 10 * 60_000;

/** @throws InvalidRequestError with field `options.alternate` for what is no aerodrome of this instance, or is the destination. */
export async function alternatePlan(
  deps: Dependencies,
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
  const options = { ...filed.options, minimumAltitudes: [], fixedAltitudeFt: undefined };
  return withField(
    (field) => field.replace(/^route/, 'options.alternate'),
    () =>
      makeLegPlan({
        options,
        aircraft: filed.aircraft,
        departureMs: leavingDestinationMs(filed.stillAirEtaMs.at(-1)!),
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
  deps: Dependencies,
  plan: LegPlan,
  given: {
    readonly operators: readonly string[];
    readonly earliestArrivalMs: number;
    readonly latestArrivalMs: number;
  },
): Promise<AlternateAt> {
  const first = leavingAt(plan, leavingDestinationMs(given.earliestArrivalMs));
  const laterByMs = given.latestArrivalMs - given.earliestArrivalMs;
  const reads = await readLeg(deps, first, { operators: given.operators, laterByMs });
  return (arrivalMs) => {
    const { weather, icing, drawn } = legAir(leavingAt(plan, leavingDestinationMs(arrivalMs)), reads.weather);
    const { route } = plan;
    return { name: route.fixes.at(-1)!.name, route, weather, icing, drawn, minimum: reads.minimum };
  };
}

const leavingDestinationMs = (arrivalMs: number): number => arrivalMs + HOLD_MS + MISSED_APPROACH_MS;

/** What to have on before take-off on this leg, and why: a list beside the flight manual's, never in its place. */
import { ftFromM, ktFromMps } from '../science/units.ts';
import type { ChoiceContext, FlownCandidate } from './candidate.ts';
import { type CellFacts, FACT, knownIndex } from './cell-facts.ts';
import { ICE_POSSIBLE } from './estimates.ts';
import { LEAD_S } from './fluid-plan.ts';
import { rounded } from './rounding.ts';
import type { Aircraft, FlightReason } from './types.ts';
import { apiFeet, apiLiters, litersOf, minutesOf, reason, withThousands } from './words.ts';

/** Entered so soon after lift-off nobody reaches for switches any more (judgement), s. */
const AT_ONCE_S = LEAD_S;

/** The first air on a path of which something holds, or of which nobody can tell. */
interface FirstMet {
  readonly isUnknown: boolean;
  /** Since lift-off. */
  readonly afterS: number;
  /** Pressure altitude, m. */
  readonly altitudeM: number;
}

/** @param flown  The altitude that the list is for; undefined when none could be flown: then all of it is asked for. */
export function beforeTakeOff(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason[] {
  const { aircraft } = context.input;
  return [
    reason('probe-heat', 'Probe heat on, for the whole flight', {}),
    separatorItem(context, flown),
    protectionItem(context, flown),
    firstIceItem(context, flown),
    speedItem(aircraft),
    reason('flight-manual', 'The list of the flight manual comes first', {}),
  ];
}

/** In visible moisture at +5 degrees Celsius or colder (common practice). */
function separatorItem(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason {
  const { separator } = context.input.aircraft;
  const hasOne = separator.airspeedLoss + separator.climbRateLoss + separator.fuelFlowGain > 0;
  const what = hasOne ? 'Inlet separator' : 'Engine inlet protection';
  const met = firstMet(context, flown, (facts, index) => (facts.answers[index]! & FACT.separator) !== 0);
  if (met === undefined)
    return reason('separator', `${what} ready: no moisture at +5 °C or colder is expected`, {});
  const where = placeWords(context, met);
  const why = met.isUnknown ? `the air is unknown ${where}` : `moisture at +5 °C or colder ${where}`;
  return reason('separator', `${what} on before take-off: ${why}`, placeNumbers(context, met));
}

function protectionItem(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason {
  const { protection } = context.input.aircraft;
  const met = firstMet(context, flown, ({ moistRatio }, index) => moistRatio[index]! >= ICE_POSSIBLE);
  const why = met && (met.isUnknown ? 'the air is unknown' : 'moisture below 0 °C is possible');
  const entry = met === undefined ? undefined : `${why} ${placeWords(context, met)}`;
  const numbers = met === undefined ? {} : placeNumbers(context, met);
  if (protection.kind === 'none')
    return reason('no-protection', `No ice protection in the profile${entry ? `: ${entry}` : ''}`, numbers);
  if (protection.kind === 'boots')
    return reason('boots', `Boots cycled once and seen to work${entry ? `: ${entry}` : ''}`, numbers);
  if (met === undefined)
    return reason('prime', 'Fluid: no moisture below 0 °C is expected; panels checked all the same', numbers);
  const liters = rounded(litersOf(protection.primingM3), 'fluidL', 'api');
  const when = met.afterS < AT_ONCE_S ? 'primed and on before take-off' : 'panels primed before take-off';
  return reason('prime', `Fluid ${when} (${withThousands(liters)} L): ${entry}`, {
    ...numbers,
    primingL: apiLiters(protection.primingM3),
  });
}

/** From where to watch for it, and to note the time. */
function firstIceItem(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason {
  const met = firstMet(context, flown, ({ iceRatio }, index) => iceRatio[index]! >= ICE_POSSIBLE);
  if (met === undefined)
    return reason('first-ice', 'No ice is expected: note the time of any, it is worse than forecast', {});
  const what = met.isUnknown ? 'unknown' : 'possible';
  const sentence = `First ice ${what} ${placeWords(context, met)}: note the time and watch the rod`;
  return reason('first-ice', sentence, placeNumbers(context, met));
}

function speedItem({ minimumIcingAirspeedMps }: Aircraft): FlightReason {
  if (minimumIcingAirspeedMps === undefined || minimumIcingAirspeedMps === 0)
    return reason('icing-speed', 'Minimum speed in ice: not in the profile, look it up', {});
  const knots = rounded(ktFromMps(minimumIcingAirspeedMps), 'indicatedKt', 'api');
  return reason('icing-speed', `Minimum speed in ice ${knots} kt indicated`, { indicatedKt: knots });
}

/** Air that nobody knows counts as met: at once where no path is known at all. */
function firstMet(
  { facts, departureM }: ChoiceContext,
  flown: FlownCandidate | undefined,
  holds: (facts: CellFacts, index: number) => boolean,
): FirstMet | undefined {
  if (flown === undefined) return { isUnknown: true, afterS: 0, altitudeM: departureM };
  let afterS = 0;
  let altitudeM = departureM;
  for (const step of flown.path.steps) {
    const index = knownIndex(facts, step.pointIndex, step.pressureAltitudeM);
    if (index < 0 || holds(facts, index)) return { isUnknown: index < 0, afterS, altitudeM };
    afterS += step.durationS;
    altitudeM = step.endAltitudeM;
  }
  return undefined;
}

function placeWords(context: ChoiceContext, { afterS, altitudeM }: FirstMet): string {
  const minutes = Math.floor(minutesOf(afterS));
  if (minutes === 0) return 'from the ground';
  const altitudeFt = ftFromM(altitudeM + context.input.indicatedMinusPressureM);
  return `from ${withThousands(rounded(altitudeFt, 'marginFt', 'screen'))} ft, ${minutes} min after lift-off`;
}

function placeNumbers({ input }: ChoiceContext, { afterS, altitudeM }: FirstMet) {
  return {
    altitudeFt: apiFeet(altitudeM + input.indicatedMinusPressureM),
    minutes: rounded(minutesOf(afterS), 'timeMinutes', 'api'),
  };
}

/** What to have on before take-off on this leg, and why: a list beside the flight manual's, never in its place. */
import { FREEZING_K } from '../science/constants.ts';
import { ftFromM, ktFromMps } from '../science/units.ts';
import type { ChoiceContext, FlownCandidate } from './candidate.ts';
import { type CellFacts, FACT, knownIndex } from './cell-facts.ts';
import { ICE_POSSIBLE } from './estimates.ts';
import { LEAD_S } from './fluid-plan.ts';
import { isIn } from './hazards.ts';
import { rounded } from './rounding.ts';
import type { Aircraft, ChooseInput, FlightReason, PartExposure } from './types.ts';
import { apiFeet, apiLiters, litersOf, minutesOf, reason, withThousands } from './words.ts';

/** Entered so soon after lift-off nobody reaches for switches any more (judgement), s. */
const AT_ONCE_S = LEAD_S;
/** Inlet protection is on in visible moisture at or below this (common practice: +5 °C), K. */
const INLET_FROM_K = FREEZING_K + 5;

/** The first air on a path of which something holds, of which nobody can tell, or that somebody reported or warned of. */
interface FirstMet {
  readonly because: 'forecast' | 'unknown' | 'reported';
  /** Since lift-off. */
  readonly afterS: number;
  /** Pressure altitude, m. */
  readonly altitudeM: number;
}

/** @param flown  The altitude that the list is for; undefined when none could be flown: then all of it is asked for. */
export function beforeTakeOff(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason[] {
  const { aircraft } = context.input;
  return [
    reason('clean', 'Wings, propeller and tail looked at and felt: clean', {}),
    reason('probe-heat', 'Probe heat on, for the whole flight', {}),
    ...inletItems(context, flown),
    protectionItem(context, flown),
    firstIceItem(context, flown),
    speedItem(aircraft),
    reason('flight-manual', 'The list of the flight manual comes first', {}),
  ];
}

/** Inlet, and the other heats that visible moisture at +5 degrees Celsius or colder asks for (common practice). */
function inletItems(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason[] {
  const { separator } = context.input.aircraft;
  const hasOne = separator.airspeedLoss + separator.climbRateLoss + separator.fuelFlowGain > 0;
  const inlet = hasOne ? 'Inlet separator' : 'Engine inlet protection';
  const { icing, weather } = context.input;
  const met = firstMet(
    context,
    flown,
    (_, index) =>
      icing.cloudProbability[index]! >= ICE_POSSIBLE && weather.temperatureK[index]! <= INLET_FROM_K,
  );
  const others = 'Heat of propeller, windshield and stall warning';
  if (met === undefined) {
    const when = plannedWords(flown, ({ moistureBelowFreezingS }) => moistureBelowFreezingS.high > 0);
    const sentence = `${inlet} ready: no moisture at +5 °C or colder is expected${when}`;
    return [
      reason('separator', sentence, {}),
      reason('other-heat', `${others} ready, as the manual asks`, {}),
    ];
  }
  const why = whyWords(context, met, 'moisture at +5 °C or colder is possible');
  const on = met.afterS < AT_ONCE_S ? 'on before take-off' : `on before ${altitudeWords(context, met)} ft`;
  const numbers = placeNumbers(context, met);
  return [
    reason('separator', `${inlet} ${on}: ${why}`, numbers),
    reason('other-heat', `${others} ${on}, as the manual asks`, numbers),
  ];
}

function protectionItem(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason {
  const { protection } = context.input.aircraft;
  const met = firstMet(context, flown, ({ moistRatio }, index) => moistRatio[index]! >= ICE_POSSIBLE);
  const entry = met && whyWords(context, met, 'moisture below 0 °C is possible');
  const numbers = met === undefined ? {} : placeNumbers(context, met);
  const because = entry === undefined ? '' : `: ${entry}`;
  if (protection.kind === 'none')
    return reason('no-protection', `No ice protection in the profile${because}`, numbers);
  if (protection.kind === 'boots')
    return reason('boots', `Boots cycled once and seen to work${because}`, numbers);
  if (met === undefined) {
    const when = plannedWords(flown, ({ moistureBelowFreezingS }) => moistureBelowFreezingS.high > 0);
    const sentence = `Fluid: no moisture below 0 °C is expected${when}; panels checked all the same`;
    return reason('prime', sentence, numbers);
  }
  const liters = rounded(litersOf(protection.primingM3), 'fluidL', 'api');
  const when = met.afterS < AT_ONCE_S ? 'primed and on before take-off' : 'panels primed before take-off';
  return reason('prime', `Fluid ${when} (${withThousands(liters)} L): ${entry}`, {
    ...numbers,
    primingL: apiLiters(protection.primingM3),
  });
}

/** From where to watch for it, and to note the time. */
function firstIceItem(context: ChoiceContext, flown: FlownCandidate | undefined): FlightReason {
  const { icing } = context.input;
  const met = firstMet(
    context,
    flown,
    ({ iceRatio, answers }, index) =>
      iceRatio[index]! >= ICE_POSSIBLE ||
      (answers[index]! & FACT.danger) !== 0 ||
      icing.largeDrops[index]! > 0,
  );
  if (met === undefined) {
    const when = plannedWords(flown, ({ icingS }) => icingS.high > 0);
    return reason(
      'first-ice',
      `No ice is expected${when}: note the time of any, it is worse than forecast`,
      {},
    );
  }
  const what = { forecast: 'possible', unknown: 'unknown', reported: 'reported' }[met.because];
  const sentence = `First ice ${what} ${placeWords(context, met)}: note the time and watch the rod`;
  return reason('first-ice', sentence, placeNumbers(context, met));
}

function speedItem({ minimumIcingAirspeedMps }: Aircraft): FlightReason {
  if (minimumIcingAirspeedMps === undefined || minimumIcingAirspeedMps === 0)
    return reason('icing-speed', 'Minimum speed in ice: not in the profile, look it up', {});
  const knots = rounded(ktFromMps(minimumIcingAirspeedMps), 'indicatedKt', 'api');
  return reason('icing-speed', `Minimum speed in ice ${knots} kt indicated`, { indicatedKt: knots });
}

/** Air that nobody knows counts as met: at once where no path is known at all. So does what was reported or warned of. */
function firstMet(
  context: ChoiceContext,
  flown: FlownCandidate | undefined,
  holds: (facts: CellFacts, index: number) => boolean,
): FirstMet | undefined {
  const { facts, departureM, input } = context;
  if (flown === undefined) return { because: 'unknown', afterS: 0, altitudeM: departureM };
  let afterS = 0;
  let altitudeM = departureM;
  for (const step of flown.path.steps) {
    const index = knownIndex(facts, step.pointIndex, step.pressureAltitudeM);
    const at = { afterS, altitudeM };
    if (isReportedAt(input, step)) return { because: 'reported', ...at };
    if (index < 0) return { because: 'unknown', ...at };
    if (holds(facts, index)) return { because: 'forecast', ...at };
    afterS += step.durationS;
    altitudeM = step.endAltitudeM;
  }
  return undefined;
}

const isReportedAt = ({ hazards = [] }: ChooseInput, step: Parameters<typeof isIn>[0]): boolean =>
  hazards.some((hazard) => isIn(step, hazard));

/** Nothing on the trip is not nothing at all. */
function plannedWords(flown: FlownCandidate | undefined, holds: (part: PartExposure) => boolean): string {
  const parts = flown?.exposure.planned.parts.filter(
    (part) => part.unknownS > 0 || part.reported.length > 0 || holds(part),
  );
  return parts === undefined || parts.length === 0
    ? ''
    : ' on the trip, but where approach or hold is planned';
}

function whyWords(context: ChoiceContext, met: FirstMet, forecast: string): string {
  const what = { forecast, unknown: 'the air is unknown', reported: 'ice or freezing rain is reported' };
  return `${what[met.because]} ${placeWords(context, met)}`;
}

function placeWords(context: ChoiceContext, met: FirstMet): string {
  const minutes = Math.floor(minutesOf(met.afterS));
  if (minutes === 0) return 'from the ground';
  return `from ${altitudeWords(context, met)} ft, ${minutes} min after lift-off`;
}

function altitudeWords({ input }: ChoiceContext, { altitudeM }: FirstMet): string {
  return withThousands(rounded(ftFromM(altitudeM + input.indicatedMinusPressureM), 'marginFt', 'screen'));
}

function placeNumbers({ input }: ChoiceContext, { afterS, altitudeM }: FirstMet) {
  return {
    altitudeFt: apiFeet(altitudeM + input.indicatedMinusPressureM),
    minutes: rounded(minutesOf(afterS), 'timeMinutes', 'api'),
  };
}

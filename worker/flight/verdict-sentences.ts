/** What each rule of a verdict says of the facts that it holds for, with the numbers beside the sentence. */
import { OUTSIDE_ENVELOPE_RATIO } from '../science/certified-envelope.ts';
import { ftFromM, ktFromMps } from '../science/units.ts';
import type { Hazard } from './hazards.ts';
import { rounded } from './rounding.ts';
import type { Exposure, FlightReason, PlannedPart } from './types.ts';
import { reportedOf, UNKNOWN_TOLERANCE_S, type VerdictFacts } from './verdict-facts.ts';
import {
  apiFeet,
  apiLiters,
  apiMinutes,
  feet,
  hazardMinutes,
  litersOf,
  millimetersOf,
  mostMinutes,
  withThousands,
} from './words.ts';

export type Said = Pick<FlightReason, 'sentence' | 'numbers'>;

/** By the code of the rule. */
export const RULE_SENTENCES = {
  'ice-at-lift-off': ({ exposure: { residualIceM } }) => ({
    sentence: `${mm(residualIceM)} mm of ice left on the aeroplane: remove it before take-off`,
    numbers: { iceMm: apiMm(residualIceM) },
  }),
  'large-drops': ({ exposure }) => ({
    sentence: `${LARGE_DROP_NAMES[exposure.worstLargeDrops]} on the path for ${hazardMinutes(exposure.largeDropS)}`,
    numbers: { minutes: apiMinutes(exposure.largeDropS), kind: exposure.worstLargeDrops },
  }),
  'large-drops-where-planned': ({ exposure: { planned } }) => ({
    sentence: `${LARGE_DROP_NAMES[planned.worstLargeDrops]} ${whereWords(planned.largeDropPart)}`,
    numbers: { minutes: apiMinutes(planned.largeDropS), kind: planned.worstLargeDrops },
  }),
  'reported-large-drops': (facts) => reported(facts, ['large-drops']),
  'severe-icing': ({ exposure: { intensityS } }) => ({
    sentence: `Severe icing for up to ${mostMinutes(intensityS.severe.high)}`,
    numbers: {
      middleMinutes: apiMinutes(intensityS.severe.middle),
      highMinutes: apiMinutes(intensityS.severe.high),
    },
  }),
  'severe-icing-where-planned': ({ exposure: { planned } }) => ({
    sentence: `Severe icing for up to ${mostMinutes(planned.severeHighS)} ${whereWords(planned.severePart)}`,
    numbers: { highMinutes: apiMinutes(planned.severeHighS) },
  }),
  'reported-severe-icing': (facts) => reported(facts, ['severe']),
  'not-certified': ({ exposure: { icingS, planned } }) => ({
    sentence: `${notCertifiedWords(icingS.high, planned.icingHighS)}, and not certified for flight in icing`,
    numbers: { middleMinutes: apiMinutes(icingS.middle), highMinutes: apiMinutes(icingS.high) },
  }),
  'fluid-below-dispatch-minimum': ({ fluid }) => ({
    sentence: `Fluid ${onBoardLiters(carriedM3(fluid))} L is below the dispatch minimum of ${onBoardLiters(fluid?.minimumDispatchM3 ?? 0)} L`,
    numbers: { onBoardL: apiLiters(carriedM3(fluid)), minimumL: apiLiters(fluid?.minimumDispatchM3 ?? 0) },
  }),
  'fluid-short': ({ exposure, fluid }) => fluidShort(exposure, exposure.fluidHighKnownM3, carriedM3(fluid)),
  'icing-speed-not-held': ({
    exposure: { leastIcingAirspeedMps },
    aircraft: { minimumIcingAirspeedMps },
  }) => ({
    sentence: `Only ${kt(leastIcingAirspeedMps)} kt indicated with ice, ${kt(minimumIcingAirspeedMps ?? 0)} kt is the least in icing`,
    numbers: { indicatedKt: apiKt(leastIcingAirspeedMps), minimumKt: apiKt(minimumIcingAirspeedMps ?? 0) },
  }),
  'iced-ceiling': ({ exposure: { builtAloftM, residualIceM }, aircraft: { icedCeilingM } }) => ({
    sentence: `Above ${feet(icedCeilingM)} pressure altitude, the ceiling with ice, and up to ${mm(builtAloftM.high + residualIceM)} mm on the aeroplane`,
    numbers: { icedCeilingFt: apiFeet(icedCeilingM), builtMm: apiMm(builtAloftM.high) },
  }),
  'climb-not-held': ({ exposure: { climbLeftMps, climbedWithM } }) => ({
    sentence: `With up to ${mm(climbedWithM)} mm of ice only ${ftPerMin(climbLeftMps)} ft/min of climb are left at the cruise`,
    numbers: { climbFtPerMin: ftPerMin(climbLeftMps) },
  }),
  'missed-approach-not-climbed': ({ exposure: { missedClimbMps, builtOnApproachM } }) => ({
    sentence: `With up to ${mm(builtOnApproachM.high)} mm of ice only ${ftPerMin(missedClimbMps)} ft/min of climb are left for a missed approach`,
    numbers: { climbFtPerMin: ftPerMin(missedClimbMps), builtMm: apiMm(builtOnApproachM.high) },
  }),
  'no-way-out': ({ waysOut: { longestNoneS } }) => ({
    sentence: `No way out of the ice for ${hazardMinutes(longestNoneS)}: not up, down, back or to an aerodrome`,
    numbers: { minutes: apiMinutes(longestNoneS) },
  }),
  'unknown-air': ({ exposure: { unknownS } }) => ({
    sentence: `No data for ${hazardMinutes(unknownS)} of the path`,
    numbers: { minutes: apiMinutes(unknownS) },
  }),
  'unknown-where-planned': ({ exposure: { planned } }) => ({
    sentence: `No data for ${hazardMinutes(planned.unknownS)} ${whereWords(unknownPart(planned.parts))}`,
    numbers: { minutes: apiMinutes(planned.unknownS) },
  }),
  'ice-beyond-known-loss': ({ exposure: { builtAloftM, builtOnApproachM, residualIceM } }) => ({
    sentence: `Up to ${mm(Math.max(builtAloftM.high + residualIceM, builtOnApproachM.high))} mm of ice: what the aeroplane does with so much is not known`,
    numbers: { builtMm: apiMm(Math.max(builtAloftM.high + residualIceM, builtOnApproachM.high)) },
  }),
  'icing-speed-not-given': ({ exposure: { builtAloftM, residualIceM } }) => ({
    sentence: `Up to ${mm(builtAloftM.high + residualIceM)} mm of ice, and the profile gives no minimum airspeed in icing`,
    numbers: { builtMm: apiMm(builtAloftM.high + residualIceM) },
  }),
  'way-out-unknown': ({ waysOut: { longestNoneKnownS, isMinimumMissing } }) => ({
    sentence: `Way out of the ice unknown for ${hazardMinutes(longestNoneKnownS)}${isMinimumMissing ? ': enter the minimum altitudes' : ''}`,
    numbers: { minutes: apiMinutes(longestNoneKnownS) },
  }),
  'fluid-short-if-unknown-air-is-moist': ({ exposure, fluid }) =>
    fluidShort(exposure, exposure.fluidM3.high, carriedM3(fluid)),
  'fluid-not-given': ({ exposure }) => ({
    sentence: `Up to ${screenLiters(exposure.fluidM3.high)} L of fluid needed and the quantity on board is not given`,
    numbers: { neededL: apiLiters(exposure.fluidM3.high) },
  }),
  'large-drops-not-excluded': ({ exposure: { wholeLargeDropChance } }) => ({
    sentence: `Large drops are not excluded: a chance of ${percent(wholeLargeDropChance)} on the path`,
    numbers: { chancePct: Math.round(wholeLargeDropChance * 100) },
  }),
  'reported-icing': (facts) => reported(facts, ['moderate', 'unstated']),
  icing: ({ exposure }) => ({
    // The words for intensity are not made for large drops.
    sentence: `Up to ${mostMinutes(exposure.icingS.high)} of icing${exposure.largeDropS > 0 ? '' : `, ${exposure.worstIntensity} at worst`}`,
    numbers: {
      lowMinutes: apiMinutes(exposure.icingS.low),
      middleMinutes: apiMinutes(exposure.icingS.middle),
      highMinutes: apiMinutes(exposure.icingS.high),
      worst: exposure.worstIntensity,
    },
  }),
  'icing-where-planned': ({ exposure: { planned } }) => plannedIcing(planned),
  'ice-not-excluded': ({ exposure }) => ({
    sentence: `Ice is not excluded: a chance of ${percent(exposure.iceChance)} on the path`,
    numbers: {
      chancePct: Math.round(exposure.iceChance * 100),
      expectedMinutes: apiMinutes(exposure.expectedIcingS),
    },
  }),
  'above-design-envelope': ({ exposure }) => ({
    sentence: envelopeWords(exposure.greatestEnvelopeRatio),
    numbers: { ratio: rounded(exposure.greatestEnvelopeRatio, 'ratio', 'api') },
  }),
  'close-under-the-tops': ({ exposure: { underTopsS } }) => ({
    sentence: `Close under the tops for ${hazardMinutes(underTopsS)} of the cruise, where the ice is worst`,
    numbers: { minutes: apiMinutes(underTopsS) },
  }),
  'close-over-the-tops': ({ exposure: { topsMarginM } }) => ({
    sentence: `Cruise ${marginWords(topsMarginM)} above the expected top of the ice`,
    numbers: { marginFt: rounded(ftFromM(topsMarginM), 'marginFt', 'api') },
  }),
  'air-below-unknown': ({ exposure: { topsUnknownS, belowUnknownS } }) => ({
    sentence: `Air ${topsUnknownS > 0 ? 'within 1,500 ft ' : ''}below is unknown for ${hazardMinutes(belowUnknownS)} of the cruise`,
    numbers: { minutes: apiMinutes(belowUnknownS) },
  }),
} as const satisfies Record<string, (facts: VerdictFacts) => Said>;

const LARGE_DROP_NAMES: Readonly<Record<Exposure['worstLargeDrops'], string>> = {
  none: 'Large drops',
  'freezing-drizzle': 'Freezing drizzle',
  'freezing-rain': 'Freezing rain',
  'ice-pellets': 'Ice pellets, freezing rain likely above,',
};

/** The rules that speak of it hold only where it is given. */
const carriedM3 = (fluid: VerdictFacts['fluid']): number => fluid?.onBoardM3 ?? 0;

function fluidShort({ planned }: Exposure, neededM3: number, onBoardM3: number): Said {
  const hold = planned.parts.find(({ part }) => part === 'hold');
  const isForHold = hold !== undefined && neededM3 - hold.fluidM3.high <= onBoardM3;
  return {
    sentence: `Fluid short${isForHold ? ' for the hold' : ''}: up to ${screenLiters(neededM3)} L needed, ${onBoardLiters(onBoardM3)} L on board`,
    numbers: {
      neededL: apiLiters(neededM3),
      onBoardL: apiLiters(onBoardM3),
    },
  };
}

/** The first of the hazards met that is so grave, with the longest time in any of them. */
function reported(facts: VerdictFacts, severities: readonly Hazard['severity'][]): Said {
  const grave = reportedOf(facts, severities);
  const { hazard } = grave[0]!;
  const minutes = Math.max(...grave.map(({ metS }) => metS));
  return {
    sentence: hazard.sentence,
    numbers: { reports: grave.length, minutes: apiMinutes(minutes), kind: hazard.kind },
  };
}

function plannedIcing({ parts, icingHighS }: Exposure['planned']): Said {
  const icy = parts.filter(({ icingS }) => icingS.high > 0);
  const part = icy.length === 1 ? (icy[0]!.part as PlannedPart) : undefined;
  return {
    sentence: `Up to ${mostMinutes(icingHighS)} of icing ${whereWords(part)}`,
    numbers: { highMinutes: apiMinutes(icingHighS) },
  };
}

function notCertifiedWords(tripS: number, plannedS: number): string {
  if (tripS > 0) return `Icing for up to ${mostMinutes(tripS)}`;
  return plannedS > 0
    ? `Icing for up to ${mostMinutes(plannedS)} where approach and hold are planned`
    : 'Icing reported or warned of';
}

const PLANNED_WORDS: Readonly<Record<PlannedPart, string>> = {
  'early-descent': 'in an early descent',
  vectors: 'under vectors',
  approach: 'on the approach',
  hold: 'in the hold',
  alternate: 'on the way to the alternate',
};
const whereWords = (part: PlannedPart | undefined): string =>
  part === undefined ? 'where approach and hold are planned' : PLANNED_WORDS[part];

/** The only part with unknown air; undefined for several. */
function unknownPart(parts: Exposure['planned']['parts']): PlannedPart | undefined {
  const unknown = parts.filter(({ unknownS }) => unknownS > UNKNOWN_TOLERANCE_S);
  return unknown.length === 1 ? (unknown[0]!.part as PlannedPart) : undefined;
}

/** Down to tens. */
const ftPerMin = (mps: number): number => 10 * Math.floor((ftFromM(mps) * 60) / 10);
const kt = (mps: number): number => rounded(ktFromMps(mps), 'indicatedKt', 'screen');
const apiKt = (mps: number): number => rounded(ktFromMps(mps), 'indicatedKt', 'api');
const mm = (thicknessM: number): number => rounded(millimetersOf(thicknessM), 'builtMm', 'screen');
const apiMm = (thicknessM: number): number => rounded(millimetersOf(thicknessM), 'builtMm', 'api');

const screenLiters = (volumeM3: number): number => rounded(litersOf(volumeM3), 'fluidL', 'screen');
const onBoardLiters = (volumeM3: number): number => rounded(litersOf(volumeM3), 'fluidOnBoardL', 'screen');

/** Rounded to what is known of a chance. */
const percent = (share: number): string => `${Math.max(5, Math.round(share * 20) * 5)} %`;

function envelopeWords(ratio: number): string {
  if (ratio >= OUTSIDE_ENVELOPE_RATIO) return 'Water outside the ranges of the certification envelope';
  return `Liquid water up to ${rounded(ratio, 'ratio', 'screen')} times the certification envelope`;
}

function marginWords(marginM: number): string {
  const marginFt = rounded(ftFromM(marginM), 'marginFt', 'screen');
  return marginFt === 0 ? 'less than 500 ft' : `only ${withThousands(marginFt)} ft`;
}

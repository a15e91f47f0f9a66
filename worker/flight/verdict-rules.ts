/**
 * The rules that make a verdict of what a flight meets. Every rule that holds gives its reason; the gravest decides. Rules stand
 * in the order in which their reasons are given: beyond limits first, then unknown, then what is within limits and worth saying.
 */
import { OUTSIDE_ENVELOPE_RATIO } from '../science/certified-envelope.ts';
import { ftFromM, ktFromMps } from '../science/units.ts';
import type { Hazard } from './hazards.ts';
import { MOST_ICE_M } from './ice-effects.ts';
import { rounded } from './rounding.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { Aircraft, Exposure, FlightReason, FluidNeed, PlannedPart, Verdict, WaysOut } from './types.ts';
import {
  apiFeet,
  apiLiters,
  apiMinutes,
  feet,
  hazardMinutes,
  litersOf,
  millimetersOf,
  mostMinutes,
  reason,
  withThousands,
} from './words.ts';

export interface VerdictFacts {
  readonly exposure: Exposure;
  readonly aircraft: Aircraft;
  /** undefined without a fluid system. */
  readonly fluid: FluidNeed | undefined;
  readonly waysOut: WaysOut;
  /** Reports and warnings that the path leads through. */
  readonly hazards: readonly { readonly hazard: Hazard; readonly metS: number }[];
}

type Found = Pick<FlightReason, 'sentence' | 'numbers'>;

export interface VerdictRule {
  readonly code: string;
  readonly verdict: Exclude<Verdict, 'no-ice-found'>;
  readonly source: string;
  /** The reason when the rule holds, else undefined. */
  readonly test: (facts: VerdictFacts) => Found | undefined;
}

/** Gravest last. Known to be beyond limits outweighs unknown, and unknown outweighs everything that looks good. */
export const VERDICTS_BY_GRAVITY: readonly Verdict[] = [
  'no-ice-found',
  'within-limits',
  'unknown',
  'outside-limits',
];

/** Unknown time shorter than this is dust of the arithmetic, s. */
const UNKNOWN_TOLERANCE_S = 1e-3;

/**
 * From this part of the draws with ice, and this much of it on average, ice cannot be called not found although the high
 * estimate has none (judgement: a 1 in 20 chance, and more than a few seconds).
 */
const EXCLUDED_BELOW = 0.05;
const EXCLUDED_BELOW_S = 15;

/** Large drops less probable than this on the whole path are not spoken of (judgement). */
const LARGE_DROPS_EXCLUDED_BELOW = 0.1;

/** Nobody stays in ice for longer without knowing a way out of it (judgement), s. */
export const LONGEST_WITHOUT_WAY_S = 300;
/** Ice from which the iced ceiling holds, and from which an aeroplane is not clean (judgement), m. */
const ICED_FROM_M = 0.001;
const CLEAN_BELOW_M = 0.0005;
/** An altitude so little above the iced ceiling is at it, m. */
const EQUAL_M = 0.15;

/** Too few draws meet ice for the high estimate, yet some do. */
export function isIceNotExcluded({
  icingS,
  iceChance,
  expectedIcingS,
}: Pick<Exposure, 'icingS' | 'iceChance' | 'expectedIcingS'>): boolean {
  return !(icingS.high > 0) && iceChance >= EXCLUDED_BELOW && expectedIcingS >= EXCLUDED_BELOW_S;
}

export const VERDICT_RULES: readonly VerdictRule[] = [
  {
    code: 'ice-at-lift-off',
    verdict: 'outside-limits',
    source: '14 CFR 91.527(a), 135.227(a): no take-off with ice adhering to wings, propeller or tail',
    test: ({ exposure: { residualIceM } }) =>
      residualIceM >= CLEAN_BELOW_M
        ? {
            sentence: `${mm(residualIceM)} mm of ice left on the aeroplane: remove it before take-off`,
            numbers: { iceMm: apiMm(residualIceM) },
          }
        : undefined,
  },
  {
    code: 'large-drops',
    verdict: 'outside-limits',
    source:
      '14 CFR 25 Appendix C does not cover them; airworthiness directives of 1996 and 1998 ask to leave',
    test: ({ exposure }) =>
      exposure.largeDropS > 0
        ? {
            sentence: `${LARGE_DROP_NAMES[exposure.worstLargeDrops]} on the path for ${hazardMinutes(exposure.largeDropS)}`,
            numbers: { minutes: apiMinutes(exposure.largeDropS), kind: exposure.worstLargeDrops },
          }
        : undefined,
  },
  {
    code: 'large-drops-where-planned',
    verdict: 'outside-limits',
    source: 'As large-drops: the approach, the hold and the alternate count with the leg',
    test: ({ exposure: { planned } }) =>
      planned.largeDropS > 0
        ? {
            sentence: `${LARGE_DROP_NAMES[planned.worstLargeDrops]} ${whereWords(planned.largeDropPart)}`,
            numbers: { minutes: apiMinutes(planned.largeDropS), kind: planned.worstLargeDrops },
          }
        : undefined,
  },
  {
    code: 'reported-large-drops',
    verdict: 'outside-limits',
    source: 'As large-drops; a report or warning outweighs a model (common practice)',
    test: (facts) => reported(facts, ['large-drops']),
  },
  {
    code: 'severe-icing',
    verdict: 'outside-limits',
    source: '14 CFR 91.527(c), 135.227(e); AIM 7-1-19: immediate exit required',
    test: ({ exposure: { intensityS } }) =>
      intensityS.severe.high > 0
        ? {
            sentence: `Severe icing for up to ${mostMinutes(intensityS.severe.high)}`,
            numbers: {
              middleMinutes: apiMinutes(intensityS.severe.middle),
              highMinutes: apiMinutes(intensityS.severe.high),
            },
          }
        : undefined,
  },
  {
    code: 'severe-icing-where-planned',
    verdict: 'outside-limits',
    source: 'As severe-icing: the approach, the hold and the alternate count with the leg',
    test: ({ exposure: { planned } }) =>
      planned.severeHighS > 0
        ? {
            sentence: `Severe icing for up to ${mostMinutes(planned.severeHighS)} ${whereWords(planned.severePart)}`,
            numbers: { highMinutes: apiMinutes(planned.severeHighS) },
          }
        : undefined,
  },
  {
    code: 'reported-severe-icing',
    verdict: 'outside-limits',
    source: 'As severe-icing; a report or warning outweighs a model (common practice)',
    test: (facts) => reported(facts, ['severe']),
  },
  {
    code: 'not-certified',
    verdict: 'outside-limits',
    source: '14 CFR 91.527(b), 135.227(c); the flight manual of the aeroplane',
    test: ({ exposure: { icingS, planned }, aircraft, hazards }) =>
      !aircraft.certifiedForIcing && (icingS.high > 0 || plannedIcingS(planned) > 0 || hazards.length > 0)
        ? {
            sentence: `${notCertifiedWords(icingS.high, plannedIcingS(planned))}, and not certified for flight in icing`,
            numbers: { middleMinutes: apiMinutes(icingS.middle), highMinutes: apiMinutes(icingS.high) },
          }
        : undefined,
  },
  {
    code: 'fluid-below-dispatch-minimum',
    verdict: 'outside-limits',
    source: 'The flight manual: least quantity on board, whatever the trip needs',
    test: ({ fluid }) =>
      fluid?.onBoardM3 !== undefined && fluid.onBoardM3 < fluid.minimumDispatchM3
        ? {
            sentence: `Fluid ${onBoardLiters(fluid.onBoardM3)} L is below the dispatch minimum of ${onBoardLiters(fluid.minimumDispatchM3)} L`,
            numbers: { onBoardL: apiLiters(fluid.onBoardM3), minimumL: apiLiters(fluid.minimumDispatchM3) },
          }
        : undefined,
  },
  {
    code: 'fluid-short',
    verdict: 'outside-limits',
    source:
      'Common practice: the flight manual flow for the time in moisture, hold and approach included, priming and a reserve',
    test: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined && fluid.onBoardM3 < exposure.fluidHighKnownM3
        ? fluidShort(exposure, exposure.fluidHighKnownM3, fluid.onBoardM3)
        : undefined,
  },
  {
    code: 'icing-speed-not-held',
    verdict: 'outside-limits',
    source: 'The flight manual: minimum airspeed in icing conditions',
    test: ({ exposure: { leastIcingAirspeedMps }, aircraft: { minimumIcingAirspeedMps } }) =>
      leastIcingAirspeedMps < minimumIcingAirspeedMps
        ? {
            sentence: `Only ${kt(leastIcingAirspeedMps)} kt indicated with ice, ${kt(minimumIcingAirspeedMps)} kt is the least in icing`,
            numbers: { indicatedKt: apiKt(leastIcingAirspeedMps), minimumKt: apiKt(minimumIcingAirspeedMps) },
          }
        : undefined,
  },
  {
    code: 'iced-ceiling',
    verdict: 'outside-limits',
    source: 'The flight manual: what the aeroplane holds with ice on the unprotected parts',
    test: ({ exposure: { builtAloftM, residualIceM, highestM }, aircraft: { icedCeilingM } }) =>
      builtAloftM.high + residualIceM >= ICED_FROM_M && highestM > icedCeilingM + EQUAL_M
        ? {
            sentence: `Above ${feet(icedCeilingM)} pressure altitude, the ceiling with ice, and up to ${mm(builtAloftM.high + residualIceM)} mm on the aeroplane`,
            numbers: { icedCeilingFt: apiFeet(icedCeilingM), builtMm: apiMm(builtAloftM.high) },
          }
        : undefined,
  },
  {
    code: 'no-way-out',
    verdict: 'outside-limits',
    source: 'Common practice: never in ice without a way out of it',
    test: ({ waysOut: { longestNoneS } }) =>
      longestNoneS > LONGEST_WITHOUT_WAY_S
        ? {
            sentence: `No way out of the ice for ${hazardMinutes(longestNoneS)}: not up, down, back or to an aerodrome`,
            numbers: { minutes: apiMinutes(longestNoneS) },
          }
        : undefined,
  },
  {
    code: 'unknown-air',
    verdict: 'unknown',
    source: 'Missing data is not evidence of ice-free air',
    test: ({ exposure: { unknownS } }) =>
      unknownS > UNKNOWN_TOLERANCE_S
        ? {
            sentence: `No data for ${hazardMinutes(unknownS)} of the path`,
            numbers: { minutes: apiMinutes(unknownS) },
          }
        : undefined,
  },
  {
    code: 'unknown-where-planned',
    verdict: 'unknown',
    source: 'As unknown-air: the approach, the hold and the alternate count with the leg',
    test: ({ exposure: { planned } }) =>
      planned.unknownS > UNKNOWN_TOLERANCE_S
        ? {
            sentence: `No data for ${hazardMinutes(planned.unknownS)} ${whereWords(unknownPart(planned.parts))}`,
            numbers: { minutes: apiMinutes(planned.unknownS) },
          }
        : undefined,
  },
  {
    code: 'ice-beyond-known-loss',
    verdict: 'unknown',
    source: 'Judgement: what ice takes in proportion is known for small amounts alone',
    test: ({ exposure: { builtAloftM, residualIceM } }) =>
      builtAloftM.high + residualIceM > MOST_ICE_M
        ? {
            sentence: `Up to ${mm(builtAloftM.high + residualIceM)} mm of ice: what the aeroplane does with so much is not known`,
            numbers: { builtMm: apiMm(builtAloftM.high + residualIceM) },
          }
        : undefined,
  },
  {
    code: 'way-out-unknown',
    verdict: 'unknown',
    source: 'As no-way-out: a way that is not known is none',
    test: ({ waysOut: { longestUnknownS, isMinimumMissing } }) =>
      longestUnknownS > LONGEST_WITHOUT_WAY_S
        ? {
            sentence: `Way out of the ice unknown for ${hazardMinutes(longestUnknownS)}${isMinimumMissing ? ': enter the minimum altitudes' : ''}`,
            numbers: { minutes: apiMinutes(longestUnknownS) },
          }
        : undefined,
  },
  {
    code: 'fluid-short-if-unknown-air-is-moist',
    verdict: 'unknown',
    source: 'Common practice, as fluid-short; unknown air is counted as moist',
    test: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined &&
      fluid.onBoardM3 >= exposure.fluidHighKnownM3 &&
      fluid.onBoardM3 < exposure.fluidM3.high
        ? fluidShort(exposure, exposure.fluidM3.high, fluid.onBoardM3)
        : undefined,
  },
  {
    code: 'fluid-not-given',
    verdict: 'unknown',
    source: 'Common practice: at least the dispatch minimum may be taken for granted, no more',
    test: ({ exposure, fluid }) =>
      fluid !== undefined && fluid.onBoardM3 === undefined && exposure.fluidM3.high > fluid.minimumDispatchM3
        ? {
            sentence: `Up to ${screenLiters(exposure.fluidM3.high)} L of fluid needed and the quantity on board is not given`,
            numbers: { neededL: apiLiters(exposure.fluidM3.high) },
          }
        : undefined,
  },
  {
    code: 'large-drops-not-excluded',
    verdict: 'within-limits',
    source:
      'Judgement: large drops are outside certification, and a small chance of them is worth a look outside',
    test: ({ exposure: { largeDropS, largeDropChance } }) =>
      !(largeDropS > 0) && largeDropChance >= LARGE_DROPS_EXCLUDED_BELOW
        ? {
            sentence: `Large drops are not excluded: a chance of ${percent(largeDropChance)} on the path`,
            numbers: { chancePct: Math.round(largeDropChance * 100) },
          }
        : undefined,
  },
  {
    code: 'reported-icing',
    verdict: 'within-limits',
    source: 'A report or warning outweighs a model (common practice)',
    test: (facts) => reported(facts, ['moderate', 'unstated']),
  },
  {
    code: 'icing',
    verdict: 'within-limits',
    source: 'AIM 7-1-19 for the intensity words',
    test: ({ exposure }) =>
      exposure.icingS.high > 0
        ? {
            sentence: `Up to ${mostMinutes(exposure.icingS.high)} of icing, ${exposure.worstIntensity} at worst`,
            numbers: {
              lowMinutes: apiMinutes(exposure.icingS.low),
              middleMinutes: apiMinutes(exposure.icingS.middle),
              highMinutes: apiMinutes(exposure.icingS.high),
              worst: exposure.worstIntensity,
            },
          }
        : undefined,
  },
  {
    code: 'icing-where-planned',
    verdict: 'within-limits',
    source: 'The approach, the hold and the alternate count with the leg',
    test: ({ exposure: { icingS, planned } }) => {
      const highS = plannedIcingS(planned);
      if (highS === 0 || icingS.high > 0) return undefined;
      const most = planned.parts.reduce((one, other) => (other.icingS.high > one.icingS.high ? other : one));
      return {
        sentence: `Up to ${mostMinutes(highS)} of icing ${whereWords(most.part as PlannedPart)}`,
        numbers: { highMinutes: apiMinutes(highS) },
      };
    },
  },
  {
    code: 'ice-not-excluded',
    verdict: 'within-limits',
    source: 'Judgement: fewer than one draw in ten meets ice, but more than one in twenty',
    test: ({ exposure }) =>
      isIceNotExcluded(exposure)
        ? {
            sentence: `Ice is not excluded: a chance of ${percent(exposure.iceChance)} on the path`,
            numbers: {
              chancePct: Math.round(exposure.iceChance * 100),
              expectedMinutes: apiMinutes(exposure.expectedIcingS),
            },
          }
        : undefined,
  },
  {
    code: 'above-design-envelope',
    verdict: 'within-limits',
    source: '14 CFR 25 Appendix C, a design envelope and not an operating limit',
    test: ({ exposure }) =>
      exposure.icingS.high > 0 && exposure.greatestEnvelopeRatio > 1
        ? {
            sentence: envelopeWords(exposure.greatestEnvelopeRatio),
            numbers: { ratio: rounded(exposure.greatestEnvelopeRatio, 'ratio', 'api') },
          }
        : undefined,
  },
  {
    code: 'close-under-the-tops',
    verdict: 'within-limits',
    source: 'Common practice: the water of a layer is greatest in its upper 1,000 ft',
    test: ({ exposure: { underTopsS } }) =>
      underTopsS > 0
        ? {
            sentence: `Close under the tops for ${hazardMinutes(underTopsS)} of the cruise, where the ice is worst`,
            numbers: { minutes: apiMinutes(underTopsS) },
          }
        : undefined,
  },
  {
    code: 'close-over-the-tops',
    verdict: 'within-limits',
    source: 'Common practice: on top means at least 1,500 ft above the expected top',
    test: ({ exposure: { topsMarginM, icingHighByPhaseS } }) =>
      topsMarginM >= 0 && topsMarginM < ON_TOP_MARGIN_M && !(icingHighByPhaseS.cruise > 0)
        ? {
            sentence: `Cruise ${marginWords(topsMarginM)} above the expected top of the ice`,
            numbers: { marginFt: rounded(ftFromM(topsMarginM), 'marginFt', 'api') },
          }
        : undefined,
  },
  {
    code: 'air-below-unknown',
    verdict: 'within-limits',
    source: 'Common practice, as close-over-the-tops: neither the margin nor the way down can be told',
    test: ({ exposure: { topsUnknownS, belowUnknownS } }) =>
      belowUnknownS > UNKNOWN_TOLERANCE_S
        ? {
            sentence: `Air ${topsUnknownS > 0 ? 'within 1,500 ft ' : ''}below is unknown for ${hazardMinutes(belowUnknownS)} of the cruise`,
            numbers: { minutes: apiMinutes(belowUnknownS) },
          }
        : undefined,
  },
];

const LARGE_DROP_NAMES: Readonly<Record<Exposure['worstLargeDrops'], string>> = {
  none: 'Large drops',
  'freezing-drizzle': 'Freezing drizzle',
  'freezing-rain': 'Freezing rain',
  'ice-pellets': 'Ice pellets, freezing rain likely above,',
};

/** The gravest verdict of the rules that hold, and the reason of each of them. */
export function verdictOf(facts: VerdictFacts): {
  readonly code: Verdict;
  readonly reasons: readonly FlightReason[];
} {
  let code: Verdict = 'no-ice-found';
  const reasons: FlightReason[] = [];
  for (const rule of VERDICT_RULES) {
    const found = rule.test(facts);
    if (found === undefined) continue;
    reasons.push(reason(rule.code, found.sentence, found.numbers));
    if (gravityOf(rule.verdict) > gravityOf(code)) code = rule.verdict;
  }
  if (reasons.length > 0) return { code, reasons };
  const minutes = rounded(facts.exposure.totalS / 60, 'timeMinutes', 'api');
  return { code, reasons: [reason('no-ice-found', 'No ice found anywhere on the path', { minutes })] };
}

const BEYOND_LIMITS: ReadonlySet<string> = new Set(
  VERDICT_RULES.filter(({ verdict }) => verdict === 'outside-limits').map(({ code }) => code),
);

/** The rule of this code puts a flight outside limits. */
export function isBeyondLimits(code: string): boolean {
  return BEYOND_LIMITS.has(code);
}

export function gravityOf(verdict: Verdict): number {
  return VERDICTS_BY_GRAVITY.indexOf(verdict);
}

function fluidShort({ planned, fluidTripM3 }: Exposure, neededM3: number, onBoardM3: number): Found {
  const hold = planned.parts.find(({ part }) => part === 'hold');
  const isForHold = hold !== undefined && neededM3 - hold.fluidM3.high <= onBoardM3;
  return {
    sentence: `Fluid short${isForHold ? ' for the hold' : ''}: up to ${screenLiters(neededM3)} L needed, ${onBoardLiters(onBoardM3)} L on board`,
    numbers: {
      neededL: apiLiters(neededM3),
      tripL: apiLiters(fluidTripM3.high),
      onBoardL: apiLiters(onBoardM3),
    },
  };
}

/** The first of the hazards met that is so grave, with the time in all of them. */
function reported({ hazards }: VerdictFacts, severities: readonly Hazard['severity'][]): Found | undefined {
  const grave = hazards.filter(({ hazard }) => severities.includes(hazard.severity));
  const [first] = grave;
  if (first === undefined) return undefined;
  const minutes = Math.max(...grave.map(({ metS }) => metS));
  return {
    sentence: first.hazard.sentence,
    numbers: { reports: grave.length, minutes: apiMinutes(minutes), kind: first.hazard.kind },
  };
}

/** High estimates of icing in all that is planned for, s. */
const plannedIcingS = ({ parts }: Exposure['planned']): number =>
  parts.reduce((sumS, { icingS }) => sumS + icingS.high, 0);

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

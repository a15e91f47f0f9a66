/**
 * The rules that make a verdict of what a flight meets. Every rule that holds gives its reason; the gravest decides. Rules stand
 * in the order in which their reasons are given: beyond limits first, then unknown, then what is within limits and worth saying.
 */
import { SLOWEST_CLIMB_MPS } from './flight-path.ts';
import { ICED_FROM_M, MOST_ICE_M } from './ice-effects.ts';
import { rounded } from './rounding.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { Exposure, FlightReason, Verdict } from './types.ts';
import { reportedOf, UNKNOWN_TOLERANCE_S, type VerdictFacts } from './verdict-facts.ts';
import { RULE_SENTENCES } from './verdict-sentences.ts';
import { reason } from './words.ts';

export type { VerdictFacts } from './verdict-facts.ts';

export interface VerdictRule {
  readonly code: keyof typeof RULE_SENTENCES;
  readonly verdict: Exclude<Verdict, 'no-ice-found'>;
  readonly source: string;
  readonly holds: (facts: VerdictFacts) => boolean;
}

/** Gravest last. Known to be beyond limits outweighs unknown, and unknown outweighs everything that looks good. */
export const VERDICTS_BY_GRAVITY: readonly Verdict[] = [
  'no-ice-found',
  'within-limits',
  'unknown',
  'outside-limits',
];

/**
 * From this part of the draws with ice, and this much of it on average, ice cannot be called not found although the high
 * estimate has none (judgement: a 1 in 20 chance, and more than a few seconds).
 */
const EXCLUDED_BELOW = 0.05;
const EXCLUDED_BELOW_S = 15;

/** Large drops less probable than this on the whole path are not spoken of (judgement). */
const LARGE_DROPS_EXCLUDED_BELOW = 0.1;

/** Nobody stays in ice for longer without knowing a way out of it (judgement), s. */
const LONGEST_WITHOUT_WAY_S = 300;
const CLEAN_BELOW_M = 0.00005;
/** Ice that takes some knots (judgement), m. */
const MUCH_ICE_M = 0.005;
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
    holds: ({ exposure: { residualIceM } }) => residualIceM >= CLEAN_BELOW_M,
  },
  {
    code: 'large-drops',
    verdict: 'outside-limits',
    source:
      '14 CFR 25 Appendix C does not cover them; airworthiness directives of 1996 and 1998 ask to leave',
    holds: ({ exposure }) => exposure.largeDropS > 0,
  },
  {
    code: 'large-drops-where-planned',
    verdict: 'outside-limits',
    source: 'As large-drops: the approach, the hold and the alternate count with the leg',
    holds: ({ exposure: { planned } }) => planned.largeDropS > 0,
  },
  {
    code: 'reported-large-drops',
    verdict: 'outside-limits',
    source: 'As large-drops; a report or warning outweighs a model (common practice)',
    holds: (facts) => reportedOf(facts, ['large-drops']).length > 0,
  },
  {
    code: 'severe-icing',
    verdict: 'outside-limits',
    source: '14 CFR 91.527(c), 135.227(e); AIM 7-1-19: immediate exit required',
    holds: ({ exposure: { intensityS } }) => intensityS.severe.high > 0,
  },
  {
    code: 'severe-icing-where-planned',
    verdict: 'outside-limits',
    source: 'As severe-icing: the approach, the hold and the alternate count with the leg',
    holds: ({ exposure: { planned } }) => planned.severeHighS > 0,
  },
  {
    code: 'reported-severe-icing',
    verdict: 'outside-limits',
    source: 'As severe-icing; a report or warning outweighs a model (common practice)',
    holds: (facts) => reportedOf(facts, ['severe']).length > 0,
  },
  {
    code: 'not-certified',
    verdict: 'outside-limits',
    source: '14 CFR 91.527(b), 135.227(c); the flight manual of the aeroplane',
    holds: ({ exposure: { icingS, planned }, aircraft, hazards }) =>
      !aircraft.certifiedForIcing && (icingS.high > 0 || planned.icingHighS > 0 || hazards.length > 0),
  },
  {
    code: 'fluid-below-dispatch-minimum',
    verdict: 'outside-limits',
    source: 'The flight manual: least quantity on board, whatever the trip needs',
    holds: ({ fluid }) => fluid?.onBoardM3 !== undefined && fluid.onBoardM3 < fluid.minimumDispatchM3,
  },
  {
    code: 'fluid-short',
    verdict: 'outside-limits',
    source:
      'Common practice: the flight manual flow for the time in moisture, hold and approach included, priming and a reserve',
    holds: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined && fluid.onBoardM3 < exposure.fluidHighKnownM3,
  },
  {
    code: 'icing-speed-not-held',
    verdict: 'outside-limits',
    source: 'The flight manual: minimum airspeed in icing conditions',
    holds: ({ exposure: { leastIcingAirspeedMps }, aircraft: { minimumIcingAirspeedMps } }) =>
      leastIcingAirspeedMps < (minimumIcingAirspeedMps ?? 0),
  },
  {
    code: 'iced-ceiling',
    verdict: 'outside-limits',
    source: 'The flight manual: what the aeroplane holds with ice on the unprotected parts',
    holds: ({ exposure: { builtAloftM, residualIceM, highestM }, aircraft: { icedCeilingM } }) =>
      builtAloftM.high + residualIceM >= ICED_FROM_M && highestM > icedCeilingM + EQUAL_M,
  },
  {
    code: 'climb-not-held',
    verdict: 'outside-limits',
    source: 'Common practice: an altitude that ice may keep one from is not filed',
    holds: ({ exposure: { climbLeftMps } }) => climbLeftMps < SLOWEST_CLIMB_MPS,
  },
  {
    code: 'missed-approach-not-climbed',
    verdict: 'outside-limits',
    source: 'Common practice: no approach that cannot be broken off',
    holds: ({ exposure: { missedClimbMps } }) => missedClimbMps < SLOWEST_CLIMB_MPS,
  },
  {
    code: 'no-way-out',
    verdict: 'outside-limits',
    source: 'Common practice: never in ice without a way out of it',
    holds: ({ waysOut: { longestNoneS } }) => longestNoneS > LONGEST_WITHOUT_WAY_S,
  },
  {
    code: 'unknown-air',
    verdict: 'unknown',
    source: 'Missing data is not evidence of ice-free air',
    holds: ({ exposure: { unknownS } }) => unknownS > UNKNOWN_TOLERANCE_S,
  },
  {
    code: 'unknown-where-planned',
    verdict: 'unknown',
    source: 'As unknown-air: the approach, the hold and the alternate count with the leg',
    holds: ({ exposure: { planned } }) => planned.unknownS > UNKNOWN_TOLERANCE_S,
  },
  {
    code: 'ice-beyond-known-loss',
    verdict: 'unknown',
    source: 'Judgement: what ice takes in proportion is known for small amounts alone',
    holds: ({ exposure: { builtAloftM, builtOnApproachM, residualIceM } }) =>
      Math.max(builtAloftM.high + residualIceM, builtOnApproachM.high) > MOST_ICE_M,
  },
  {
    code: 'icing-speed-not-given',
    verdict: 'unknown',
    source: 'As icing-speed-not-held: a limit that is not known is not kept',
    holds: ({ exposure: { builtAloftM, residualIceM }, aircraft: { minimumIcingAirspeedMps } }) =>
      minimumIcingAirspeedMps === undefined && builtAloftM.high + residualIceM >= MUCH_ICE_M,
  },
  {
    code: 'way-out-unknown',
    verdict: 'unknown',
    source: 'As no-way-out: a way that is not known is none',
    holds: ({ waysOut: { longestNoneS, longestNoneKnownS } }) =>
      longestNoneS <= LONGEST_WITHOUT_WAY_S && longestNoneKnownS > LONGEST_WITHOUT_WAY_S,
  },
  {
    code: 'fluid-short-if-unknown-air-is-moist',
    verdict: 'unknown',
    source: 'Common practice, as fluid-short; unknown air is counted as moist',
    holds: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined &&
      fluid.onBoardM3 >= exposure.fluidHighKnownM3 &&
      fluid.onBoardM3 < exposure.fluidM3.high,
  },
  {
    code: 'fluid-not-given',
    verdict: 'unknown',
    source: 'Common practice: at least the dispatch minimum may be taken for granted, no more',
    holds: ({ exposure, fluid }) =>
      fluid !== undefined && fluid.onBoardM3 === undefined && exposure.fluidM3.high > fluid.minimumDispatchM3,
  },
  {
    code: 'large-drops-not-excluded',
    verdict: 'within-limits',
    source:
      'Judgement: large drops are outside certification, and a small chance of them is worth a look outside',
    holds: ({ exposure: { largeDropS, wholeLargeDropChance, planned } }) =>
      !(largeDropS > 0) && !(planned.largeDropS > 0) && wholeLargeDropChance >= LARGE_DROPS_EXCLUDED_BELOW,
  },
  {
    code: 'reported-icing',
    verdict: 'within-limits',
    source: 'A report or warning outweighs a model (common practice)',
    holds: (facts) => reportedOf(facts, ['moderate', 'unstated']).length > 0,
  },
  {
    code: 'icing',
    verdict: 'within-limits',
    source: 'AIM 7-1-19 for the intensity words',
    holds: ({ exposure }) => exposure.icingS.high > 0,
  },
  {
    code: 'icing-where-planned',
    verdict: 'within-limits',
    source: 'The approach, the hold and the alternate count with the leg',
    holds: ({ exposure: { planned } }) => planned.icingHighS > 0,
  },
  {
    code: 'ice-not-excluded',
    verdict: 'within-limits',
    source: 'Judgement: fewer than one draw in ten meets ice, but more than one in twenty',
    holds: ({ exposure }) => isIceNotExcluded(exposure),
  },
  {
    code: 'above-design-envelope',
    verdict: 'within-limits',
    source: '14 CFR 25 Appendix C, a design envelope and not an operating limit',
    holds: ({ exposure }) => exposure.icingS.high > 0 && exposure.greatestEnvelopeRatio > 1,
  },
  {
    code: 'close-under-the-tops',
    verdict: 'within-limits',
    source: 'Common practice: the water of a layer is greatest in its upper 1,000 ft',
    holds: ({ exposure: { underTopsS } }) => underTopsS > 0,
  },
  {
    code: 'close-over-the-tops',
    verdict: 'within-limits',
    source: 'Common practice: on top means at least 1,500 ft above the expected top',
    holds: ({ exposure: { topsMarginM, icingHighByPhaseS } }) =>
      topsMarginM >= 0 && topsMarginM < ON_TOP_MARGIN_M && !(icingHighByPhaseS.cruise > 0),
  },
  {
    code: 'air-below-unknown',
    verdict: 'within-limits',
    source: 'Common practice, as close-over-the-tops: neither the margin nor the way down can be told',
    holds: ({ exposure: { belowUnknownS } }) => belowUnknownS > UNKNOWN_TOLERANCE_S,
  },
];

/** The gravest verdict of the rules that hold, and the reason of each of them. */
export function verdictOf(facts: VerdictFacts): {
  readonly code: Verdict;
  readonly reasons: readonly FlightReason[];
} {
  let code: Verdict = 'no-ice-found';
  const reasons: FlightReason[] = [];
  for (const rule of VERDICT_RULES) {
    if (!rule.holds(facts)) continue;
    const { sentence, numbers } = RULE_SENTENCES[rule.code](facts);
    reasons.push(reason(rule.code, sentence, numbers));
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

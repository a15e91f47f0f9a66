/** The rules that make a verdict of what a path meets. Every rule that holds gives its reason; the gravest decides. */
import { OUTSIDE_ENVELOPE_RATIO } from '../science/certified-envelope.ts';
import { ftFromM } from '../science/units.ts';
import { rounded } from './rounding.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { Aircraft, Exposure, FlightReason, FluidNeed, Verdict } from './types.ts';
import {
  apiLiters,
  apiMinutes,
  hazardMinutes,
  litersOf,
  mostMinutes,
  reason,
  withThousands,
} from './words.ts';

export interface VerdictFacts {
  readonly exposure: Exposure;
  readonly aircraft: Aircraft;
  /** undefined without a fluid system. */
  readonly fluid: FluidNeed | undefined;
}

export interface VerdictRule {
  readonly code: string;
  readonly verdict: Exclude<Verdict, 'no-ice-found'>;
  readonly source: string;
  /** The reason when the rule holds, else undefined. */
  readonly test: (facts: VerdictFacts) => Pick<FlightReason, 'sentence' | 'numbers'> | undefined;
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

/** Too few draws meet ice for the high estimate, yet some do. */
export function isIceNotExcluded({
  icingS,
  iceChance,
  expectedIcingS,
}: Pick<Exposure, 'icingS' | 'iceChance' | 'expectedIcingS'>): boolean {
  return !(icingS.high > 0) && iceChance >= EXCLUDED_BELOW && expectedIcingS >= EXCLUDED_BELOW_S;
}

/** In the order their reasons are given. */
export const VERDICT_RULES: readonly VerdictRule[] = [
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
    code: 'not-certified',
    verdict: 'outside-limits',
    source: '14 CFR 91.527(b), 135.227(c); the flight manual of the aeroplane',
    test: ({ exposure: { icingS }, aircraft }) =>
      !aircraft.certifiedForIcing && icingS.high > 0
        ? {
            sentence: `Icing for up to ${mostMinutes(icingS.high)} and not certified for flight in icing`,
            numbers: { middleMinutes: apiMinutes(icingS.middle), highMinutes: apiMinutes(icingS.high) },
          }
        : undefined,
  },
  {
    code: 'fluid-short',
    verdict: 'outside-limits',
    source: 'Common practice: the flight manual flow for the time in moisture, priming and a reserve',
    test: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined && fluid.onBoardM3 < exposure.fluidHighKnownM3
        ? fluidShort(exposure.fluidHighKnownM3, fluid.onBoardM3)
        : undefined,
  },
  {
    code: 'fluid-below-dispatch-minimum',
    verdict: 'outside-limits',
    source: 'The flight manual: least quantity on board for flight into icing or moisture below freezing',
    test: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined &&
      exposure.fluidHighKnownM3 > 0 &&
      fluid.onBoardM3 < fluid.minimumDispatchM3
        ? {
            sentence: `Fluid ${onBoardLiters(fluid.onBoardM3)} L is below the dispatch minimum of ${onBoardLiters(fluid.minimumDispatchM3)} L`,
            numbers: { onBoardL: apiLiters(fluid.onBoardM3), minimumL: apiLiters(fluid.minimumDispatchM3) },
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
    code: 'fluid-short-if-unknown-air-is-moist',
    verdict: 'unknown',
    source: 'Common practice, as fluid-short; unknown air is counted as moist',
    test: ({ exposure, fluid }) =>
      fluid?.onBoardM3 !== undefined &&
      fluid.onBoardM3 >= exposure.fluidHighKnownM3 &&
      fluid.onBoardM3 < exposure.fluidM3.high
        ? fluidShort(exposure.fluidM3.high, fluid.onBoardM3)
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
    source: 'Common practice, as close-over-the-tops: the margin cannot be told',
    test: ({ exposure: { topsUnknownS } }) =>
      topsUnknownS > UNKNOWN_TOLERANCE_S
        ? {
            sentence: `Air within 1,500 ft below is unknown for ${hazardMinutes(topsUnknownS)} of the cruise`,
            numbers: { minutes: apiMinutes(topsUnknownS) },
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

export function gravityOf(verdict: Verdict): number {
  return VERDICTS_BY_GRAVITY.indexOf(verdict);
}

function fluidShort(neededM3: number, onBoardM3: number): Pick<FlightReason, 'sentence' | 'numbers'> {
  return {
    sentence: `Fluid short: up to ${screenLiters(neededM3)} L needed, ${onBoardLiters(onBoardM3)} L on board`,
    numbers: { neededL: apiLiters(neededM3), onBoardL: apiLiters(onBoardM3) },
  };
}

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

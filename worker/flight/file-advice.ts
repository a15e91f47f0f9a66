/** The line a pilot takes along: the altitude to file, the range to accept, the altitudes to refuse. */
import { mFromFt } from '../science/units.ts';
import type { FlownCandidate, TriedCandidate } from './candidate.ts';
import { OXYGEN_RULES, type OxygenRule, oxygenLimitsFt } from './oxygen.ts';
import { rounded } from './rounding.ts';
import { ON_TOP_MARGIN_M } from './tops-margin.ts';
import type { Aircraft, ChooseInput, Exposure, FileAdvice, FlightPhase, Standing, Verdict } from './types.ts';
import { isIceNotExcluded } from './verdict-rules.ts';
import {
  feet,
  hazardMinutes,
  levelsWords,
  litersOf,
  millimetersOf,
  mostMinutes,
  withThousands,
} from './words.ts';

/** An altitude is as good to accept when it costs no more ice than this above the recommended one. */
const ACCEPT_MORE_MIDDLE_S = 300;
const ACCEPT_MORE_HIGH_S = 900;
/** Altitudes to refuse are named this far beyond the range. */
const REFUSE_WITHIN_M = mFromFt(4000);
/** Feet turned to meters and back, m. */
const EQUAL_M = 1e-6;
const REFUSE_BELOW = 2;
const REFUSE_ABOVE = 1;

/** Nobody needs telling. */
const OBVIOUS: ReadonlySet<Standing> = new Set(['above-ceiling', 'leg-too-short', 'needs-oxygen']);

/**
 * Of a stepped profile the first level is filed.
 *
 * @param tried  All single altitudes, ascending.
 */
export function fileAdvice(
  tried: readonly TriedCandidate[],
  recommended: FlownCandidate,
  { aircraft, oxygenRule }: Pick<ChooseInput, 'aircraft' | 'oxygenRule'>,
): FileAdvice {
  const filedM = recommended.levels[0]!.altitudeM;
  const at = tried.findIndex(({ indicatedAltitudeM }) => indicatedAltitudeM === filedM);
  const isSingle = recommended.levels.length === 1;
  // A stepped profile is filed as it is: no single altitude is as good.
  let lower = at;
  while (isSingle && lower > 0 && isAsGood(tried[lower - 1]!, recommended)) lower -= 1;
  let upper = at;
  while (isSingle && upper < tried.length - 1 && isAsGood(tried[upper + 1]!, recommended)) upper += 1;
  const lowestM = tried[lower]!.indicatedAltitudeM;
  const highestM = tried[upper]!.indicatedAltitudeM;
  // Close over the tops is neither as good nor to be refused.
  const isBad = (candidate: TriedCandidate) =>
    !hasNoMoreIce(candidate, recommended) &&
    candidate.indicatedAltitudeM >= lowestM - REFUSE_WITHIN_M - EQUAL_M &&
    candidate.indicatedAltitudeM <= highestM + REFUSE_WITHIN_M + EQUAL_M &&
    !(candidate.kind === 'refused' && OBVIOUS.has(candidate.standing));
  const above = tried
    .slice(upper + 1)
    .filter(isBad)
    .slice(0, REFUSE_ABOVE);
  const below = tried.slice(0, lower).reverse().filter(isBad).slice(0, REFUSE_BELOW);
  return {
    altitudeM: filedM,
    acceptLowerM: lowestM,
    acceptUpperM: highestM,
    reason: fileReason(recommended),
    acceptReason: isSingle
      ? acceptReason(tried.slice(lower, upper + 1), aircraft, oxygenRule)
      : `then ${levelsWords(recommended.levels.slice(1))}, as the profile shows`,
    refuse: [...above.reverse(), ...below].map((candidate) => ({
      altitudeM: candidate.indicatedAltitudeM,
      reason: whyNot(candidate),
    })),
  };
}

/** Of an altitude that would be within limits but for the cold, that is what speaks against it. */
function whyNot(candidate: TriedCandidate): string {
  const isOnlyCold =
    candidate.kind === 'flown' && isAcceptable(candidate.verdict) && candidate.isUnderColdMinimum;
  return isOnlyCold ? 'under the minimum altitude corrected for the cold' : refuseReason(candidate);
}

/** What an altitude of the range may still cost; at most ten words. */
function acceptReason(
  range: readonly TriedCandidate[],
  { oxygen }: Pick<Aircraft, 'oxygen'>,
  rule: OxygenRule = OXYGEN_RULES[0],
): string {
  const { crewFt } = oxygenLimitsFt(rule);
  if (range.length === 1) return 'no other altitude is as good';
  const asked = range.filter(({ direction }) => direction === 'ask');
  const withOxygen = range.find(({ pressureAltitudeM }) => pressureAltitudeM > mFromFt(crewFt) + 1);
  const isAll = asked.length === range.length;
  const isEven = asked.every(
    ({ indicatedAltitudeM }) => Math.round(indicatedAltitudeM / THOUSAND_M) % 2 === 0,
  );
  const whichWords = isEven ? 'even' : 'odd';
  const askWords = asked.length === 0 ? '' : `; ${isAll ? 'all' : whichWords} altitudes on request`;
  const oxygenWords =
    withOxygen === undefined || oxygen === 'pressurized' ? '' : `, oxygen above ${withThousands(crewFt)} ft`;
  return `as good${askWords}${oxygenWords}`;
}
const THOUSAND_M = mFromFt(1000);

export function isAcceptable(verdict: Verdict): boolean {
  return verdict === 'no-ice-found' || verdict === 'within-limits';
}

function isAsGood(candidate: TriedCandidate, recommended: FlownCandidate): boolean {
  return hasNoMoreIce(candidate, recommended) && (!isNearTops(candidate) || isNearTops(recommended));
}

/** Within limits, high enough in the cold, and with no more ice than means nothing. */
function hasNoMoreIce(candidate: TriedCandidate, recommended: FlownCandidate): candidate is FlownCandidate {
  if (candidate.kind === 'refused' || !isAcceptable(candidate.verdict)) return false;
  if (candidate.isUnderColdMinimum) return false;
  const ice = candidate.exposure.icingS;
  const least = recommended.exposure.icingS;
  return ice.middle <= least.middle + ACCEPT_MORE_MIDDLE_S && ice.high <= least.high + ACCEPT_MORE_HIGH_S;
}

/** Ice, or air that nobody knows, less than the margin below. */
function isNearTops({ exposure }: FlownCandidate): boolean {
  return exposure.topsMarginM < ON_TOP_MARGIN_M || exposure.topsUnknownS > 0;
}

/** Why the altitude is filed; at most ten words. */
export function fileReason({
  exposure,
  verdictReasons,
}: Pick<FlownCandidate, 'exposure' | 'verdictReasons'>): string {
  if (exposure.icingS.high > 0) {
    return `up to ${mostMinutes(exposure.icingS.high)} icing${phaseWords(exposure.icingHighByPhaseS, ', ')}, worst ${exposure.worstIntensity}`;
  }
  const codes = new Set(verdictReasons.map(({ code }) => code));
  if (codes.has('reported-icing')) return 'no ice found, but icing is reported or warned of';
  if (codes.has('icing-where-planned')) return 'no ice on the path, some in hold or approach';
  if (codes.has('large-drops-not-excluded')) return 'no ice found, but large drops are not excluded';
  if (isIceNotExcluded(exposure)) return 'low chance of ice over much of the path';
  if (Number.isFinite(exposure.topsMarginM)) return 'no ice found, but close over the tops';
  return exposure.belowUnknownS > 0 ? 'no ice found, air below is unknown' : 'no ice found on the whole path';
}

const PHASES: readonly FlightPhase[] = ['climb', 'cruise', 'descent'];

/** A phase with less than this part of the whole is not named. */
const NAMED_PART = 0.15;

/** Where most of it is met; nothing when that is all along. */
function phaseWords(byPhaseS: Readonly<Record<FlightPhase, number>>, before: string): string {
  const wholeS = PHASES.reduce((sum, phase) => sum + byPhaseS[phase], 0);
  const phases = PHASES.filter((phase) => byPhaseS[phase] > NAMED_PART * wholeS);
  return phases.length < PHASES.length ? `${before}${phases.join(' and ')}` : '';
}

const DROP_WORDS: Readonly<Record<Exposure['worstLargeDrops'], string>> = {
  none: 'large drops',
  'freezing-drizzle': 'freezing drizzle',
  'freezing-rain': 'freezing rain',
  'ice-pellets': 'ice pellets',
};

const REFUSED_WORDS: Readonly<Record<string, string>> = {
  'below-aerodrome': 'not above the aerodrome',
  'below-ground': 'the ground is higher',
  'cannot-climb': 'with ice the climb ends below it',
  'above-climb': 'the climb ends below it',
  'needs-oxygen': 'needs oxygen, and none is on board',
  'above-ceiling': 'above the ceiling',
  'leg-too-short': 'the leg is too short for it',
  'wind-too-strong': 'wind leaves almost no ground speed',
};

/** What is bad about an altitude; at most ten words. */
export function refuseReason(candidate: TriedCandidate): string {
  if (candidate.kind === 'refused') {
    const { code, numbers } = candidate.reason;
    if (code === 'below-crossing-altitude') {
      return `below the crossing altitude of ${feet(mFromFt(Number(numbers.minimumFt)))}`;
    }
    if (code === 'below-minimum-altitude') {
      return `below the minimum altitude of ${feet(mFromFt(Number(numbers.minimumFt)))}`;
    }
    return REFUSED_WORDS[code] ?? code;
  }
  return flownReason(candidate);
}

const RULE_WORDS: Readonly<Record<string, string>> = {
  'ice-at-lift-off': 'ice left on the aeroplane, remove it first',
  'reported-large-drops': 'large drops reported or forecast on the way',
  'reported-severe-icing': 'severe icing reported or warned of on the way',
  'fluid-below-dispatch-minimum': 'fluid below the dispatch minimum',
  'icing-speed-not-held': 'minimum icing airspeed not held with ice',
  'iced-ceiling': 'above the ceiling with ice',
  'climb-not-held': 'ice may leave too little climb to get there',
  'missed-approach-not-climbed': 'ice leaves no climb for a missed approach',
  'icing-speed-not-given': 'minimum icing airspeed not given in the profile',
  'ice-beyond-known-loss': 'more ice than the aeroplane is known with',
  'unknown-where-planned': 'no data for hold, approach or alternate',
};

function flownReason(candidate: FlownCandidate): string {
  const { exposure, waysOut, verdictReasons } = candidate;
  const { icingS, intensityS, planned } = exposure;
  const code = verdictReasons[0]?.code;
  if (code === 'ice-at-lift-off') return RULE_WORDS[code]!;
  if (exposure.largeDropS > 0) {
    return `${DROP_WORDS[exposure.worstLargeDrops]} for ${hazardMinutes(exposure.largeDropS)}${phaseWords(exposure.largeDropByPhaseS, ' in ')}`;
  }
  if (intensityS.severe.high > 0) return `severe icing for up to ${mostMinutes(intensityS.severe.high)}`;
  if (code === 'large-drops-where-planned') {
    return `${DROP_WORDS[planned.worstLargeDrops]} for ${hazardMinutes(planned.largeDropS)} in hold or approach`;
  }
  if (code === 'severe-icing-where-planned') return 'severe icing in hold, approach or alternate';
  if (code === 'no-way-out') return `no way out of ice for ${hazardMinutes(waysOut.longestNoneS)}`;
  if (code === 'not-certified' && icingS.high === 0) return 'icing reported or where planned, not certified';
  if (code === 'not-certified') return `icing for up to ${mostMinutes(icingS.high)}, not certified`;
  if (code === 'fluid-short') return `fluid short, ${litersWords(exposure.fluidHighKnownM3)} needed`;
  if (code !== undefined && RULE_WORDS[code] !== undefined) return RULE_WORDS[code]!;
  if (exposure.unknownS > 0) return `no data for ${hazardMinutes(exposure.unknownS)}`;
  if (code === 'way-out-unknown') {
    return `way out of ice unknown for ${hazardMinutes(waysOut.longestNoneKnownS)}`;
  }
  if (code === 'fluid-not-given') return `fluid not given, ${litersWords(exposure.fluidM3.high)} needed`;
  if (icingS.high > 0) {
    const builtMm = rounded(millimetersOf(exposure.builtM.high), 'builtMm', 'screen');
    return `up to ${mostMinutes(icingS.high)} of icing, up to ${builtMm} mm`;
  }
  return fileReason(candidate);
}

function litersWords(volumeM3: number): string {
  return `up to ${rounded(litersOf(volumeM3), 'fluidL', 'screen')} L`;
}

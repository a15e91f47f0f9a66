/** The line a pilot takes along: the altitude to file, the range to accept, the altitudes to refuse. */
import { mFromFt } from '../science/units.ts';
import type { FlownCandidate, TriedCandidate } from './fly-candidate.ts';
import { rounded } from './rounding.ts';
import type { Exposure, FileAdvice, FlightPhase, Standing, Verdict } from './types.ts';
import { isIceNotExcluded } from './verdict-rules.ts';
import { feet, hazardMinutes, litersOf, millimetersOf, mostMinutes } from './words.ts';

/** An altitude is as good to accept when it costs no more ice than this above the recommended one. */
const ACCEPT_MORE_MIDDLE_S = 300;
const ACCEPT_MORE_HIGH_S = 900;
/** Altitudes to refuse are named this far beyond the range. */
const REFUSE_WITHIN_M = mFromFt(4000);
const REFUSE_BELOW = 2;
const REFUSE_ABOVE = 1;

/** Nobody needs telling. */
const OBVIOUS: ReadonlySet<Standing> = new Set(['above-ceiling', 'leg-too-short']);

/** @param tried  All candidates, ascending. */
export function fileAdvice(tried: readonly TriedCandidate[], recommended: FlownCandidate): FileAdvice {
  const at = tried.indexOf(recommended);
  let lower = at;
  while (lower > 0 && isAsGood(tried[lower - 1]!, recommended)) lower -= 1;
  let upper = at;
  while (upper < tried.length - 1 && isAsGood(tried[upper + 1]!, recommended)) upper += 1;
  const lowestM = tried[lower]!.indicatedAltitudeM;
  const highestM = tried[upper]!.indicatedAltitudeM;
  const isBad = (candidate: TriedCandidate) =>
    !isAsGood(candidate, recommended) &&
    candidate.indicatedAltitudeM >= lowestM - REFUSE_WITHIN_M &&
    candidate.indicatedAltitudeM <= highestM + REFUSE_WITHIN_M &&
    !(candidate.kind === 'refused' && OBVIOUS.has(candidate.standing));
  const above = tried
    .slice(upper + 1)
    .filter(isBad)
    .slice(0, REFUSE_ABOVE);
  const below = tried.slice(0, lower).reverse().filter(isBad).slice(0, REFUSE_BELOW);
  return {
    altitudeM: recommended.indicatedAltitudeM,
    acceptLowerM: lowestM,
    acceptUpperM: highestM,
    reason: fileReason(recommended.exposure),
    refuse: [...above.reverse(), ...below].map((candidate) => ({
      altitudeM: candidate.indicatedAltitudeM,
      reason: refuseReason(candidate),
    })),
  };
}

export function isAcceptable(verdict: Verdict): boolean {
  return verdict === 'no-ice-found' || verdict === 'within-limits';
}

function isAsGood(candidate: TriedCandidate, recommended: FlownCandidate): boolean {
  if (candidate.kind === 'refused' || !isAcceptable(candidate.verdict)) return false;
  const ice = candidate.exposure.icingS;
  const least = recommended.exposure.icingS;
  return ice.middle <= least.middle + ACCEPT_MORE_MIDDLE_S && ice.high <= least.high + ACCEPT_MORE_HIGH_S;
}

/** Why the altitude is filed; at most ten words. */
export function fileReason(exposure: Exposure): string {
  if (exposure.icingS.high > 0) {
    return `up to ${mostMinutes(exposure.icingS.high)} icing${phaseWords(exposure.icingHighByPhaseS, ', ')}, worst ${exposure.worstIntensity}`;
  }
  if (isIceNotExcluded(exposure)) return 'low chance of ice over much of the path';
  if (Number.isFinite(exposure.topsMarginM)) return 'no ice found, but close over the tops';
  return exposure.topsUnknownS > 0 ? 'no ice found, air below is unknown' : 'no ice found on the whole path';
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
  'wind-too-strong': 'wind leaves almost no ground speed',
};

/** What is bad about an altitude; at most ten words. */
export function refuseReason(candidate: TriedCandidate): string {
  if (candidate.kind === 'refused') {
    const { code, numbers } = candidate.reason;
    if (code === 'below-minimum-altitude') {
      return `below the minimum altitude of ${feet(mFromFt(Number(numbers.minimumFt)))}`;
    }
    return REFUSED_WORDS[code] ?? code;
  }
  return flownReason(candidate);
}

function flownReason({ exposure, fluid, verdictReasons }: FlownCandidate): string {
  const { icingS, intensityS } = exposure;
  const code = verdictReasons[0]?.code;
  if (exposure.largeDropS > 0) {
    return `${DROP_WORDS[exposure.worstLargeDrops]} for ${hazardMinutes(exposure.largeDropS)}${phaseWords(exposure.largeDropByPhaseS, ' in ')}`;
  }
  if (intensityS.severe.high > 0) return `severe icing for up to ${mostMinutes(intensityS.severe.high)}`;
  if (code === 'not-certified') return `icing for up to ${mostMinutes(icingS.high)}, not certified`;
  if (code === 'fluid-short' && fluid !== undefined) return `fluid short, ${litersWords(exposure)} needed`;
  if (code === 'fluid-below-dispatch-minimum') return 'fluid below the dispatch minimum';
  if (exposure.unknownS > 0) return `no data for ${hazardMinutes(exposure.unknownS)}`;
  if (code === 'fluid-not-given') return `fluid not given, ${litersWords(exposure)} needed`;
  if (icingS.high > 0) {
    const builtMm = rounded(millimetersOf(exposure.builtM.high), 'builtMm', 'screen');
    return `up to ${mostMinutes(icingS.high)} of icing, up to ${builtMm} mm`;
  }
  return fileReason(exposure);
}

function litersWords({ fluidM3 }: Exposure): string {
  return `up to ${rounded(litersOf(fluidM3.high), 'fluidL', 'screen')} L`;
}

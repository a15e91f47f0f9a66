/** The choice of an altitude: every candidate and the best stepped profile tried, ranked, and explained. */

import { makeEnvelopeWindows } from '../science/envelope-windows.ts';
import { beforeTakeOff } from './before-take-off.ts';
import type { ChoiceContext, FlownCandidate, TriedCandidate } from './candidate.ts';
import { directionOf, legMagneticCoursesDeg } from './candidates.ts';
import { makeCellFacts } from './cell-facts.ts';
import { changesOf } from './changes.ts';
import { coldMinimumM } from './cold-altitude.ts';
import { fileAdvice, fileReason, isAcceptable, refuseReason } from './file-advice.ts';
import { fluidPlan } from './fluid-plan.ts';
import { fieldPressureAltitudeM, tryCandidate } from './fly-candidate.ts';
import { markDangers } from './hazards.ts';
import { leaveCues } from './leave-cues.ts';
import { makeMagneticModel } from './magnetic.ts';
import { operationalReasons } from './operational.ts';
import { altitudesOverPoints } from './path-places.ts';
import { flyPlanned } from './planned.ts';
import { rankCandidates, whyBest, whyLost } from './ranking.ts';
import { rounded } from './rounding.ts';
import { trySteppedProfile } from './try-stepped.ts';
import type { CandidateResult, Choice, ChooseInput, FlightReason, Standing } from './types.ts';
import { windFromColumns } from './wind.ts';
import { feet, levelsWords, litersOf, reason } from './words.ts';

export type { CandidateResult, Choice, ChooseInput } from './types.ts';

/**
 * Tries every candidate altitude, and the best profile with a change of altitude, and ranks those that can be flown. The
 * recommended one is never unknown while another is known and within limits, since verdicts are compared first; one that the cold
 * puts under the minimum altitude is never recommended.
 */
export function chooseAltitude(input: ChooseInput): Choice {
  const legCoursesDeg = legMagneticCoursesDeg(input.route, makeMagneticModel(input.departureMs));
  const context = contextOf(input, legCoursesDeg);
  const singles = [...input.candidateAltitudesM]
    .sort((a, b) => a - b)
    .map((altitudeM) => tryCandidate(context, [{ fromM: 0, altitudeM }]));
  const flownSingles = rankCandidates(singles.filter((candidate) => candidate.kind === 'flown'));
  const stepped = trySteppedProfile(context, singles, flownSingles[0]);
  const withStepped = stepped === undefined ? flownSingles : rankCandidates([...flownSingles, stepped]);
  // A stepped profile that does not win is not shown, and takes no place.
  const ranked = withStepped[0] === stepped ? withStepped : flownSingles;
  const best = ranked[0];
  const recommended =
    best !== undefined && isAcceptable(best.verdict) && !best.isUnderColdMinimum ? best : undefined;
  const order = { context, ranked, recommended };
  const results = singles.map((candidate) => resultOf(candidate, order));
  const isSteppedBest = stepped !== undefined && stepped === best;
  const considered =
    best === undefined ? undefined : (results[singles.indexOf(best)] ?? resultOf(best, order));
  return {
    verdict: overallVerdict(singles, best),
    candidates: results.slice().reverse(),
    recommended: recommended === undefined ? undefined : considered,
    stepped: isSteppedBest ? considered : undefined,
    considered,
    file: recommended && fileAdvice(singles, recommended, input),
    changes: best === undefined ? [] : changesOf(context, best, flownSingles),
    beforeTakeOff: beforeTakeOff(context, best),
    cues: leaveCues(input.aircraft),
    operational: operationalReasons(input, best, { legCoursesDeg, departureM: context.departureM }),
  };
}

function contextOf(input: ChooseInput, legCoursesDeg: readonly number[]): ChoiceContext {
  const facts = makeCellFacts(input);
  markDangers(facts, input.hazards ?? []);
  const { route } = input;
  return {
    input,
    facts,
    windAt: windFromColumns(input.weather),
    windows: makeEnvelopeWindows(route.distanceM),
    planned: flyPlanned(input, facts),
    directionOf: (altitudeM) => directionOf(legCoursesDeg, altitudeM, input.directionRule),
    coldMinimumM: coldMinimumM(input),
    departureM: fieldPressureAltitudeM(input, route.fixes[0]!, 0),
    destinationM: fieldPressureAltitudeM(input, route.fixes.at(-1)!, route.pointCount - 1),
  };
}

interface Order {
  readonly context: ChoiceContext;
  readonly ranked: readonly FlownCandidate[];
  readonly recommended: FlownCandidate | undefined;
}

function resultOf(candidate: TriedCandidate, order: Order): CandidateResult {
  const { indicatedAltitudeM, pressureAltitudeM, levels, direction } = candidate;
  const altitude = { indicatedAltitudeM, pressureAltitudeM, levels, direction };
  if (candidate.kind === 'refused') {
    return {
      ...altitude,
      standing: candidate.standing,
      verdict: 'unknown',
      limitsBroken: 0,
      isUnderColdMinimum: false,
      flownM: undefined,
      exposure: undefined,
      fluid: undefined,
      fluidPlan: undefined,
      inWords: refuseReason(candidate),
      waysOut: undefined,
      rank: undefined,
      reasons: [candidate.reason],
    };
  }
  const best = order.ranked[0]!;
  const ranking = candidate === best ? whyBest(best, order.ranked.length) : whyLost(candidate, order.ranked);
  return {
    ...altitude,
    standing: standingOf(candidate, order.recommended),
    verdict: candidate.verdict,
    limitsBroken: candidate.limitsBroken,
    isUnderColdMinimum: candidate.isUnderColdMinimum,
    flownM: altitudesOverPoints(order.context.input.route, candidate.path.steps, order.context.departureM),
    exposure: candidate.exposure,
    fluid: candidate.fluid,
    fluidPlan: fluidPlan(order.context.input, candidate, order.context.facts),
    inWords: isAcceptable(candidate.verdict) ? fileReason(candidate) : refuseReason(candidate),
    waysOut: candidate.waysOut,
    rank: order.ranked.indexOf(candidate) + 1,
    reasons: [ranking, ...candidate.verdictReasons],
  };
}

function standingOf(candidate: FlownCandidate, recommended: FlownCandidate | undefined): Standing {
  if (candidate === recommended) return 'recommended';
  if (candidate.verdict === 'unknown' || candidate.verdict === 'outside-limits') return candidate.verdict;
  return 'acceptable';
}

/** The verdict of the best candidate; unknown when none could be flown at all. */
function overallVerdict(
  tried: readonly TriedCandidate[],
  best: FlownCandidate | undefined,
): Choice['verdict'] {
  if (best === undefined) {
    const reasons = tried.map((candidate) => nameAltitude(candidate));
    const stopped = reasons.filter(({ code }) => code === 'cannot-climb');
    if (stopped.length > 0) {
      const sentence = 'No altitude is within limits: the ice in the climb leaves too little to climb with';
      return { code: 'outside-limits', sentence, reasons: stopped };
    }
    const sentence = 'None of the altitudes asked for can be flown, so nothing is known of the ice';
    return { code: 'unknown', sentence, reasons: [reason('no-altitude', sentence, {}), ...reasons] };
  }
  if (best.isUnderColdMinimum) {
    const sentence = 'No altitude to file: in this cold each one is truly under the minimum altitude';
    const low = reason('under-cold-minimum', sentence, {});
    return { code: 'outside-limits', sentence, reasons: [low, ...best.verdictReasons] };
  }
  return { code: best.verdict, sentence: verdictSentence(best), reasons: best.verdictReasons };
}

function nameAltitude(candidate: TriedCandidate): FlightReason {
  const why = candidate.kind === 'refused' ? candidate.reason : candidate.verdictReasons[0]!;
  return { ...why, sentence: `${feet(candidate.indicatedAltitudeM)}: ${why.sentence}` };
}

function verdictSentence(best: FlownCandidate): string {
  const altitude = levelsWords(best.levels);
  if (best.verdict === 'unknown') return `Unknown at ${altitude}: ${refuseReason(best)}`;
  if (best.verdict === 'outside-limits') {
    return `No altitude is within limits. At ${altitude}: ${refuseReason(best)}`;
  }
  return `File ${altitude}: ${fileReason(best)}${dropWords(best)}${fluidWords(best)}`;
}

/** The greatest hazard is not left to the reasons; the words without ice say it themselves. */
function dropWords({ exposure, verdictReasons }: FlownCandidate): string {
  const isOpen = verdictReasons.some(({ code }) => code === 'large-drops-not-excluded');
  return isOpen && exposure.icingS.high > 0 ? ', large drops not excluded' : '';
}

function fluidWords({ fluid }: FlownCandidate): string {
  if (fluid === undefined || fluid.neededM3.high === 0) return '';
  const needed = rounded(litersOf(fluid.neededM3.high), 'fluidL', 'screen');
  if (fluid.onBoardM3 === undefined) return `, up to ${needed} L of fluid`;
  const onBoard = rounded(litersOf(fluid.onBoardM3), 'fluidOnBoardL', 'screen');
  // What is carried covers it: rounded up it must not look as if it did not.
  return `, fluid up to ${Math.min(needed, onBoard)} of ${onBoard} L`;
}

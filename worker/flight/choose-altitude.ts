/** The choice of an altitude: every candidate tried, ranked, and explained. */

import { makeEnvelopeWindows } from '../science/envelope-windows.ts';
import { directionOf, legMagneticCoursesDeg } from './candidates.ts';
import { fileAdvice, fileReason, isAcceptable, refuseReason } from './file-advice.ts';
import { secondsOverPoints } from './flight-path.ts';
import { type FlownCandidate, type TriedCandidate, tryCandidate } from './fly-candidate.ts';
import { makeMagneticModel } from './magnetic.ts';
import { operationalReasons } from './operational.ts';
import { rankCandidates, whyBest, whyLost } from './ranking.ts';
import { rounded } from './rounding.ts';
import type { CandidateResult, Choice, ChooseInput, FlightReason, Standing, WayOut } from './types.ts';
import { waysOut } from './way-out.ts';
import { windFromColumns } from './wind.ts';
import { feet, litersOf, reason } from './words.ts';

export type { CandidateResult, Choice, ChooseInput } from './types.ts';

/**
 * Tries every candidate altitude and ranks those that can be flown. The recommended one is never unknown while another
 * is known and within limits, since verdicts are compared first.
 */
export function chooseAltitude(input: ChooseInput): Choice {
  const legCoursesDeg = legMagneticCoursesDeg(input.route, makeMagneticModel(input.departureMs));
  const windAt = windFromColumns(input.weather);
  const windows = makeEnvelopeWindows(input.route.distanceM);
  const tried = [...input.candidateAltitudesM]
    .sort((a, b) => a - b)
    .map((altitudeM) =>
      tryCandidate(input, altitudeM, { direction: directionOf(legCoursesDeg, altitudeM), windAt, windows }),
    );
  const ranked = rankCandidates(tried.filter((candidate) => candidate.kind === 'flown'));
  const best = ranked[0];
  const recommended = best !== undefined && isAcceptable(best.verdict) ? best : undefined;
  const results = tried.map((candidate) => resultOf(candidate, { ranked, recommended }));
  return {
    verdict: overallVerdict(tried, best),
    candidates: results.slice().reverse(),
    recommended: recommended && results[tried.indexOf(recommended)],
    file: recommended && fileAdvice(tried, recommended),
    fluid: best?.fluid,
    waysOut: best === undefined ? [] : waysOutOf(input, best),
    operational: operationalReasons(input, best, legCoursesDeg),
  };
}

function resultOf(
  candidate: TriedCandidate,
  order: { readonly ranked: readonly FlownCandidate[]; readonly recommended: FlownCandidate | undefined },
): CandidateResult {
  const { indicatedAltitudeM, pressureAltitudeM, direction } = candidate;
  const altitude = { indicatedAltitudeM, pressureAltitudeM, direction };
  if (candidate.kind === 'refused') {
    return {
      ...altitude,
      standing: candidate.standing,
      verdict: 'unknown',
      exposure: undefined,
      fluid: undefined,
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
    exposure: candidate.exposure,
    fluid: candidate.fluid,
    rank: order.ranked.indexOf(candidate) + 1,
    reasons: [ranking, ...candidate.verdictReasons],
  };
}

function standingOf(candidate: FlownCandidate, recommended: FlownCandidate | undefined): Standing {
  if (candidate === recommended) return 'recommended';
  if (candidate.verdict === 'unknown' || candidate.verdict === 'outside-limits') return candidate.verdict;
  return 'acceptable';
}

/** The verdict of the best altitude; unknown when none could be flown at all. */
function overallVerdict(
  tried: readonly TriedCandidate[],
  best: FlownCandidate | undefined,
): Choice['verdict'] {
  if (best === undefined) {
    const reasons = tried.map((candidate) => nameAltitude(candidate));
    const sentence = 'None of the altitudes asked for can be flown, so nothing is known of the ice';
    return { code: 'unknown', sentence, reasons: [reason('no-altitude', sentence, {}), ...reasons] };
  }
  return { code: best.verdict, sentence: verdictSentence(best), reasons: best.verdictReasons };
}

function nameAltitude(candidate: TriedCandidate): FlightReason {
  const why = candidate.kind === 'refused' ? candidate.reason : candidate.verdictReasons[0]!;
  return { ...why, sentence: `${feet(candidate.indicatedAltitudeM)}: ${why.sentence}` };
}

function verdictSentence(best: FlownCandidate): string {
  const altitude = feet(best.indicatedAltitudeM);
  if (best.verdict === 'unknown') return `Unknown at ${altitude}: ${refuseReason(best)}`;
  if (best.verdict === 'outside-limits') {
    return `No altitude is within limits. At ${altitude}: ${refuseReason(best)}`;
  }
  return `File ${altitude}: ${fileReason(best.exposure)}${fluidWords(best)}`;
}

function fluidWords({ fluid }: FlownCandidate): string {
  if (fluid === undefined || fluid.neededM3.high === 0) return '';
  const needed = rounded(litersOf(fluid.neededM3.high), 'fluidL', 'screen');
  if (fluid.onBoardM3 === undefined) return `, up to ${needed} L of fluid`;
  return `, fluid up to ${needed} of ${rounded(litersOf(fluid.onBoardM3), 'fluidOnBoardL', 'screen')} L`;
}

function waysOutOf(input: ChooseInput, best: FlownCandidate): WayOut[] {
  return waysOut({
    route: input.route,
    aircraft: input.aircraft,
    icing: input.icing,
    minimum: input.minimum,
    indicatedMinusPressureM: input.indicatedMinusPressureM,
    pressureAltitudeM: best.pressureAltitudeM,
    secondsOverPoints: secondsOverPoints(input.route, best.path),
  });
}

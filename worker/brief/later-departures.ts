/** The same choice for departures 1, 2, ... h later, over what was read once for all of them. Pure. */
import type { LaterDeparture } from '../schema/brief.ts';
import { compactAnswer, profileAnswer } from './choice-answer.ts';
import { lackSentences } from './data-reasons.ts';
import { withLapsedReports } from './lapsed-reports.ts';
import { type Carried, type ChosenLeg, chooseLeg, usedByAir } from './leg-choice.ts';
import { leavingAt } from './leg-plan.ts';

export const DEPARTURE_STEP_MS = 3_600_000;

/** Each further departure costs its own air and choice, and reads nothing. */
export function laterDepartures(filed: ChosenLeg, carried: Carried): ChosenLeg[] {
  const { plan, reads } = filed;
  return Array.from({ length: plan.options.laterDepartures }, (_, index) => {
    const leaving = leavingAt(plan, plan.departureMs + (index + 1) * DEPARTURE_STEP_MS);
    return withLapsedReports(filed, chooseLeg(leaving, reads, carried));
  });
}

export function laterDepartureAnswer(leg: ChosenLeg): LaterDeparture {
  const { plan, choice } = leg;
  const { recommended, verdict } = choice;
  return {
    departureUtc: new Date(plan.departureMs).toISOString(),
    verdict: { code: verdict.code, sentence: verdict.sentence },
    recommendedAltitudeFt:
      recommended === undefined ? null : compactAnswer(recommended, plan.aircraft).altitudeFt,
    profile: recommended === undefined ? null : profileAnswer(recommended),
    lacks: lackSentences(usedByAir(leg).flat()),
    byAltitude: choice.candidates.map((each) => compactAnswer(each, plan.aircraft)),
  };
}

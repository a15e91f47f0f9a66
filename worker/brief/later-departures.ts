/** The same choice for departures 1, 2, ... h later, over what was read once for all of them. Pure. */
import type { LaterDeparture } from '../schema/brief.ts';
import { candidateAnswer } from './choice-answer.ts';
import { dataReasons } from './data-reasons.ts';
import { type Carried, type ChosenLeg, chooseLeg } from './leg-choice.ts';
import { leavingAt } from './leg-plan.ts';

export const DEPARTURE_STEP_MS = 3_600_000;

/** Each further departure costs its own air and choice, and reads nothing. */
export function laterDepartures({ plan, reads }: ChosenLeg, carried: Carried): ChosenLeg[] {
  return Array.from({ length: plan.options.laterDepartures }, (_, index) =>
    chooseLeg(leavingAt(plan, plan.departureMs + (index + 1) * DEPARTURE_STEP_MS), reads, carried),
  );
}

export function laterDepartureAnswer({ plan, air, choice }: ChosenLeg): LaterDeparture {
  const of = { aircraft: plan.aircraft, distanceM: plan.route.distanceM };
  const recommended = choice.recommended === undefined ? null : candidateAnswer(choice.recommended, of);
  const candidates = choice.candidates.map((each) => candidateAnswer(each, of));
  return {
    departureUtc: new Date(plan.departureMs).toISOString(),
    verdict: { code: choice.verdict.code, sentence: choice.verdict.sentence },
    recommendedAltitudeFt: recommended === null ? null : recommended.altitudeFt,
    profile: recommended === null ? null : recommended.profile,
    lacks: dataReasons(air.used).map(({ sentence }) => sentence),
    byAltitude: candidates.map(({ altitudeFt, verdict, exposure, standing }) => ({
      altitudeFt,
      verdict,
      icingMinutes: exposure === null || exposure.iceChancePct === null ? null : exposure.icingMinutes,
      unknownMinutes: exposure?.unknownMinutes ?? null,
      fluidL: exposure?.fluidL ?? null,
      standing,
    })),
  };
}

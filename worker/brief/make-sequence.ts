/** Several legs on one tank: each briefed in its own air, with the fluid and the ice that the legs before leave it. */
import {
  type CarriedIceM,
  chooseInSequence,
  type FluidState,
  fluidAfter,
  fluidAtFirst,
  groundTemperatureK,
  iceAfterM,
  iceAfterStopM,
  legFluidM3,
  refilled,
  unsureFluid,
} from '../flight/tank-sequence.ts';
import type { CandidateResult, Choice } from '../flight/types.ts';
import type { SequenceAnswer, SequenceLeg, SequenceRequest } from '../schema/sequence.ts';
import type { Dependencies } from '../sources/ports.ts';
import { readAlternate } from './alternate-leg.ts';
import { type LegAir, legAir } from './leg-air.ts';
import { type AlternateAir, chooseInput } from './leg-choice.ts';
import { legHazards } from './leg-hazards.ts';
import { aircraftOf, type LegPlan, leavingAt, windowOf } from './leg-plan.ts';
import { type LegReads, readLeg } from './leg-reads.ts';
import { withField } from './named-field.ts';
import { sequenceAnswer } from './sequence-answer.ts';
import { type PlannedLeg, planSequence } from './sequence-plans.ts';

/** One leg as it was briefed. */
export interface SequencedLeg {
  readonly plan: LegPlan;
  readonly air: LegAir;
  readonly alternate: AlternateAir | undefined;
  readonly choice: Choice;
  /** The altitude that the figures are of. */
  readonly flown: CandidateResult | undefined;
  readonly arrivalMs: number;
  readonly fluidAtStart: FluidState;
  readonly fluidAtEnd: FluidState;
  readonly iceAtStartM: CarriedIceM;
  readonly iceAtEndM: CarriedIceM;
  /** It was to leave earlier than it can. */
  readonly askedMs: number | undefined;
}

export async function makeSequence(
  deps: Dependencies,
  request: SequenceRequest,
  { operators }: { readonly operators: readonly string[] },
): Promise<SequenceAnswer> {
  const aircraft = aircraftOf(request.aircraft);
  const planned = await planSequence(deps, request, { operators, aircraft });
  const onBoardM3 = request.fluidOnBoardL === undefined ? undefined : request.fluidOnBoardL * M3_PER_L;
  const legs: SequencedLeg[] = [];
  for (const [index, leg] of planned.entries()) {
    const before = legs.at(-1);
    const plan = leavingAt(leg.plan, departureMsOf(leg.asked, before?.arrivalMs));
    const read = await withField(
      (field) => `legs[${index}].${field}`,
      () => readSequenceLeg(deps, { ...leg, plan }, operators),
    );
    const fluidAtStart = refilled(
      before?.fluidAtEnd ?? fluidAtFirst(aircraft, onBoardM3),
      leg.asked.refillToL === undefined ? undefined : leg.asked.refillToL * M3_PER_L,
    );
    const iceAtStartM = before === undefined ? 0 : iceAfterStop(before, { ...leg, plan, ...read });
    const isLast = index === planned.length - 1;
    legs.push(flownLeg({ ...leg, plan, ...read }, { fluidAtStart, iceAtStartM, isLast }));
  }
  return sequenceAnswer(legs);
}

const M3_PER_L = 0.001;
const MS_PER_MINUTE = 60_000;
const TURN_MINUTES = 30;

function departureMsOf({ departure, turnMinutes }: SequenceLeg, arrivedMs: number | undefined): number {
  const askedMs = departure === undefined ? Number.NEGATIVE_INFINITY : Date.parse(departure.atUtc);
  if (arrivedMs === undefined) return askedMs;
  const leastMinutes = turnMinutes ?? (departure === undefined ? TURN_MINUTES : 0);
  return Math.max(askedMs, arrivedMs + leastMinutes * MS_PER_MINUTE);
}

interface ReadLeg {
  readonly reads: LegReads;
  readonly air: LegAir;
  readonly alternate: AlternateAir | undefined;
}

type BriefedLeg = Omit<PlannedLeg, 'alternate'> & ReadLeg;

async function readSequenceLeg(
  deps: Dependencies,
  { plan, alternate: toAlternate }: PlannedLeg,
  operators: readonly string[],
): Promise<ReadLeg> {
  const { earliestMs, latestMs } = windowOf(plan);
  const arrivals = { earliestArrivalMs: earliestMs.at(-1)!, latestArrivalMs: latestMs.at(-1)! };
  const [reads, alternateAt] = await Promise.all([
    readLeg(deps, plan, { operators, laterByMs: 0 }),
    toAlternate && readAlternate(deps, toAlternate, { operators, planned: plan.planned, ...arrivals }),
  ]);
  const air = legAir(plan, reads.weather);
  return { reads, air, alternate: alternateAt?.(air.etaMs.at(-1)!) };
}

function iceAfterStop(before: SequencedLeg, { asked, plan, air }: BriefedLeg): CarriedIceM {
  return iceAfterStopM(before.iceAtEndM, {
    isDeiced: asked.deiced === true,
    stayS: (plan.departureMs - before.arrivalMs) / 1000,
    arrivalTemperatureK: fieldTemperatureK(before, before.plan.route.pointCount - 1),
    departureTemperatureK: fieldTemperatureK({ plan, air }, 0),
  });
}

function fieldTemperatureK({ plan, air }: Pick<SequencedLeg, 'plan' | 'air'>, point: number): number {
  const fix = plan.route.fixes.at(point === 0 ? 0 : -1)!;
  const elevationM = Number.isFinite(fix.elevationM) ? fix.elevationM : 0;
  return groundTemperatureK(air.weather, point, elevationM - plan.indicatedMinusPressureM);
}

function flownLeg(
  { asked, plan, reads, air, alternate }: BriefedLeg,
  start: { readonly fluidAtStart: FluidState; readonly iceAtStartM: CarriedIceM; readonly isLast: boolean },
): SequencedLeg {
  const { fluidAtStart, iceAtStartM, isLast } = start;
  const { aircraft } = plan;
  const input = {
    ...chooseInput(
      { plan, reads, air, alternate, hazards: legHazards(reads.reports, { ...plan, ...air }) },
      iceAtStartM ?? 0,
    ),
    fluidOnBoardM3: fluidAtStart.kind === 'known' ? fluidAtStart.volumeM3 : undefined,
  };
  const choice = chooseInSequence(input, isLast);
  const flown = choice.considered;
  const exposure = flown?.exposure;
  return {
    ...{ plan, air, alternate, choice, flown, fluidAtStart, iceAtStartM },
    arrivalMs: exposure === undefined ? air.etaMs.at(-1)! : plan.departureMs + exposure.totalS * 1000,
    fluidAtEnd: fluidAfter(
      fluidAtStart,
      exposure && legFluidM3(aircraft, exposure),
      exposure && unsureFluid(aircraft, exposure),
    ),
    iceAtEndM: iceAfterM(iceAtStartM, exposure),
    askedMs: asked.departure && Date.parse(asked.departure.atUtc),
  };
}

/** A leg at one departure, from what was read to the choice of its altitude. Pure. */
import { candidateAltitudesM } from '../flight/candidates.ts';
import { chooseAltitude } from '../flight/choose-altitude.ts';
import type { AlternateLeg, Choice, ChooseInput } from '../flight/types.ts';
import { mFromFt } from '../science/units.ts';
import { type LegAir, legAir } from './leg-air.ts';
import { type LegHazard, legHazards } from './leg-hazards.ts';
import type { LegPlan } from './leg-plan.ts';
import type { LegReads } from './leg-reads.ts';
import type { SettledOptions } from './settings.ts';

/** Called as each stage ends; for benchmarks only, never part of an answer. */
export type LegStageClock = (stage: 'physics' | 'draws' | 'choice') => void;

export interface ChosenLeg {
  readonly plan: LegPlan;
  readonly air: LegAir;
  readonly reads: LegReads;
  readonly hazards: readonly LegHazard[];
  readonly choice: Choice;
}

/** Makes the air of the leg to the alternate for whoever arrives at an instant, epoch ms. */
export type AlternateAt = (arrivalMs: number) => AlternateLeg;

export interface Carried {
  readonly alternateAt?: AlternateAt | undefined;
  /** Ice already on the unprotected parts at lift-off, m. */
  readonly residualIceM?: number;
}

/** Air of any route and departure, and the choice over it. */
export function chooseLeg(
  plan: LegPlan,
  reads: LegReads,
  carried: Carried = {},
  onStage: LegStageClock = () => undefined,
): ChosenLeg {
  const air = legAir(plan, reads.weather, onStage);
  const hazards = legHazards(reads.reports, { ...plan, ...air });
  const choice = chooseAltitude(chooseInput({ plan, reads, air, hazards }, carried));
  onStage('choice');
  return { plan, air, reads, hazards, choice };
}

export function chooseInput(
  { plan, reads, air, hazards }: Omit<ChosenLeg, 'choice'>,
  { alternateAt, residualIceM = 0 }: Carried,
): ChooseInput {
  const alternate = alternateAt?.(air.etaMs.at(-1)!);
  return {
    ...plan,
    ...air,
    minimum: reads.minimum,
    aerodromes: reads.aerodromes,
    hazards: hazards.map(({ hazard }) => hazard),
    directionRule: plan.options.directionRule,
    oxygenRule: plan.options.oxygenRule,
    candidateAltitudesM: candidateAltitudesM({
      ...plan,
      askedAltitudesM: askedFt(plan.options)?.map(mFromFt),
    }),
    fluidOnBoardM3: plan.options.fluidOnBoardM3,
    residualIceM,
    ...(alternate === undefined ? {} : { alternate }),
  };
}

function askedFt(options: SettledOptions): readonly number[] | undefined {
  return options.fixedAltitudeFt === undefined ? options.altitudesFt : [options.fixedAltitudeFt];
}

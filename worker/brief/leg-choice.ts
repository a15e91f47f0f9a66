/** A leg at one departure, from what was read to the choice of its altitude. Pure. */
import { candidateAltitudesM } from '../flight/candidates.ts';
import { chooseAltitude } from '../flight/choose-altitude.ts';
import type { Hazard } from '../flight/hazards.ts';
import type { AlternateLeg, Choice, ChooseInput } from '../flight/types.ts';
import { mFromFt } from '../science/units.ts';
import type { UsedSource } from './gather-weather.ts';
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
  /** The way on for whoever arrives with this departure; undefined where none is asked for. */
  readonly alternate: AlternateAir | undefined;
  readonly choice: Choice;
}

export interface AlternateAir extends AlternateLeg {
  readonly hazards: readonly Hazard[];
  readonly used: readonly UsedSource[];
}

/** Makes the air of the leg to the alternate for whoever arrives at an instant, epoch ms. */
export type AlternateAt = (arrivalMs: number) => AlternateAir;

export interface Carried {
  readonly alternateAt?: AlternateAt | undefined;
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
  const alternate = carried.alternateAt?.(air.etaMs.at(-1)!);
  const leg = { plan, air, reads, hazards, alternate };
  const choice = chooseAltitude(chooseInput(leg));
  onStage('choice');
  return { ...leg, choice };
}

/** @param residualIceM  Already on the unprotected parts at lift-off, m. */
export function chooseInput(
  { plan, reads, air, hazards, alternate }: Omit<ChosenLeg, 'choice'>,
  residualIceM = 0,
): ChooseInput {
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
    alternate,
  };
}

/** The sources of its own air, then those of the air to the alternate: an entry each. */
export function usedByAir({
  air,
  alternate,
}: Pick<ChosenLeg, 'air' | 'alternate'>): (readonly UsedSource[])[] {
  return alternate === undefined ? [air.used] : [air.used, alternate.used];
}

function askedFt(options: SettledOptions): readonly number[] | undefined {
  return options.fixedAltitudeFt === undefined ? options.altitudesFt : [options.fixedAltitudeFt];
}

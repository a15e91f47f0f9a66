/** How the fluid goes along one profile: how long it lasts, where it would run out, where to have it on. */

import type { FlownCandidate } from './candidate.ts';
import { type CellFacts, FACT, flownIndex } from './cell-facts.ts';
import { cellNumber } from './cells.ts';
import type { PathStep } from './flight-path.ts';
import { enduranceS, reserveM3 } from './fluid.ts';
import type { ChooseInput, FluidPlan, FluidProtection } from './types.ts';

/** On this long before the entry, and off this long after the exit (judgement: the panels must be wet before ice comes), s. */
const LEAD_S = 120;
type Setting = 'off' | 'normal' | 'high';

/** undefined without a fluid system. */
export function fluidPlan(
  input: Pick<ChooseInput, 'aircraft' | 'fluidOnBoardM3'>,
  flown: FlownCandidate,
  facts: CellFacts,
): FluidPlan | undefined {
  const { protection } = input.aircraft;
  if (protection.kind !== 'fluid') return undefined;
  const onBoardM3 = input.fluidOnBoardM3;
  const settings = flown.path.steps.map((step) => settingOver(facts, step));
  return {
    ...endurance(protection, onBoardM3),
    runsOutM:
      onBoardM3 === undefined ? undefined : runsOutM(protection, onBoardM3, flown.path.steps, settings),
    onStretches: stretches(flown.path.steps, settings),
    weightKg: onBoardM3 === undefined ? undefined : onBoardM3 * protection.densityKgPerM3,
    bursts:
      onBoardM3 === undefined ? undefined : burstsLeft(protection, onBoardM3 - flown.exposure.fluidM3.high),
  };
}

function endurance(protection: FluidProtection, onBoardM3: number | undefined) {
  if (onBoardM3 === undefined) return { enduranceNormalS: undefined, enduranceHighS: undefined };
  const tank = {
    usableM3: onBoardM3,
    reserveM3: protection.primingM3 + protection.windshieldM3 + reserveM3(protection),
  };
  return {
    enduranceNormalS: enduranceS({ ...tank, flowM3PerS: protection.normalFlowM3PerS }),
    enduranceHighS: enduranceS({ ...tank, flowM3PerS: protection.highFlowM3PerS }),
  };
}

/** Unknown air is flown with the fluid on. */
function settingOver(facts: CellFacts, { pointIndex, pressureAltitudeM }: PathStep): Setting {
  const index = flownIndex(facts, pointIndex, cellNumber(facts, pressureAltitudeM));
  const answers = index < 0 ? 0 : facts.answers[index]!;
  if ((answers & FACT.known) === 0) return 'normal';
  if ((answers & (FACT.moist | FACT.hasIce)) === 0) return 'off';
  const isHigh = facts.highFlowRatio[index]! > 0 && 2 * facts.highFlowRatio[index]! >= facts.iceRatio[index]!;
  return isHigh ? 'high' : 'normal';
}

/** Where the tank is empty when the fluid flows wherever it is on; undefined where it lasts to the end of the trip. */
function runsOutM(
  protection: FluidProtection,
  onBoardM3: number,
  steps: readonly PathStep[],
  settings: readonly Setting[],
): number | undefined {
  let leftM3 = onBoardM3;
  let isPrimed = false;
  for (const [index, step] of steps.entries()) {
    const setting = settings[index]!;
    if (setting === 'off') continue;
    if (!isPrimed) leftM3 -= protection.primingM3;
    isPrimed = true;
    const flowM3PerS = setting === 'high' ? protection.highFlowM3PerS : protection.normalFlowM3PerS;
    const lastsS = Math.max(0, leftM3) / flowM3PerS;
    if (lastsS < step.durationS) return step.fromM + (lastsS / step.durationS) * (step.toM - step.fromM);
    leftM3 -= flowM3PerS * step.durationS;
  }
  return undefined;
}

/** Steps with it on, joined, and begun the lead before them; gaps shorter than two leads stay on. */
function stretches(steps: readonly PathStep[], settings: readonly Setting[]): FluidPlan['onStretches'] {
  const found: { fromM: number; toM: number; setting: 'normal' | 'high' }[] = [];
  for (const [index, step] of steps.entries()) {
    const setting = settings[index]!;
    if (setting === 'off') continue;
    const leadM = (LEAD_S * (step.toM - step.fromM)) / step.durationS;
    const last = found.at(-1);
    const isOn = last !== undefined && step.fromM - leadM <= last.toM;
    if (isOn && last.setting === setting) last.toM = step.toM + leadM;
    else if (isOn) {
      last.toM = Math.min(last.toM, step.fromM);
      found.push({ fromM: step.fromM, toM: step.toM + leadM, setting });
    } else found.push({ fromM: Math.max(0, step.fromM - leadM), toM: step.toM + leadM, setting });
  }
  const endM = steps.at(-1)?.toM ?? 0;
  return found.map((stretch) => ({ ...stretch, toM: Math.min(endM, stretch.toM) }));
}

function burstsLeft({ maximumFlowM3PerS, maximumBurstS }: FluidProtection, spareM3: number): number {
  return Math.max(0, Math.floor(spareM3 / (maximumFlowM3PerS * maximumBurstS) + 1e-9));
}

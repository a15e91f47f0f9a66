/** How the fluid goes along one profile: how long it lasts, where it would run out, where to have it on. */

import type { FlownCandidate } from './candidate.ts';
import { type CellFacts, knownIndex } from './cell-facts.ts';
import type { PathStep } from './flight-path.ts';
import { enduranceS, reserveM3 } from './fluid.ts';
import type { ChooseInput, FluidPlan, FluidProtection } from './types.ts';

/** On this long before the entry, and off this long after the exit (judgement: the panels must be wet before ice comes), s. */
export const LEAD_S = 120;
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
    bursts: burstsOf(protection, onBoardM3, flown),
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

/** From this part of the draws on the fluid is expected to be on, or at the high setting: what the middle estimate counts. */
const EXPECTED = 0.5;

/** Unknown air is flown with the fluid on. */
function settingOver(facts: CellFacts, { pointIndex, pressureAltitudeM }: PathStep): Setting {
  const index = knownIndex(facts, pointIndex, pressureAltitudeM);
  if (index < 0) return 'normal';
  if (facts.highFlowRatio[index]! >= EXPECTED) return 'high';
  return facts.moistRatio[index]! >= EXPECTED ? 'normal' : 'off';
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

/** A run with at least so much of its time at the high setting is flown at it throughout. */
const HIGH_FROM = 0.5;

/** Steps with it on, joined where less than two leads lie between, begun a lead before and ended one after. */
function stretches(steps: readonly PathStep[], settings: readonly Setting[]): FluidPlan['onStretches'] {
  const runs: { fromM: number; toM: number; onS: number; highS: number }[] = [];
  for (const [index, step] of steps.entries()) {
    const setting = settings[index]!;
    if (setting === 'off') continue;
    const leadM = (LEAD_S * (step.toM - step.fromM)) / step.durationS;
    const last = runs.at(-1);
    const isJoined = last !== undefined && step.fromM - leadM <= last.toM;
    const run = isJoined ? last : { fromM: Math.max(0, step.fromM - leadM), toM: 0, onS: 0, highS: 0 };
    if (!isJoined) runs.push(run);
    run.toM = step.toM + leadM;
    run.onS += step.durationS;
    if (setting === 'high') run.highS += step.durationS;
  }
  const endM = steps.at(-1)?.toM ?? 0;
  return runs.map(({ fromM, toM, onS, highS }) => ({
    fromM,
    toM: Math.min(endM, toM),
    setting: highS >= HIGH_FROM * onS ? 'high' : 'normal',
  }));
}

/** In what is to spare over the high estimate; undefined where air is unknown, or drops are that no fluid is certified for. */
function burstsOf(
  { maximumFlowM3PerS, maximumBurstS }: FluidProtection,
  onBoardM3: number | undefined,
  { exposure, limitsBroken }: FlownCandidate,
): number | undefined {
  const isUnknown = exposure.unknownS + exposure.planned.unknownS > 0;
  const hasDrops = exposure.largeDropS + exposure.planned.largeDropS > 0;
  if (onBoardM3 === undefined || isUnknown || hasDrops || limitsBroken > 0) return undefined;
  const spareM3 = onBoardM3 - exposure.fluidM3.high;
  return Math.max(0, Math.floor(spareM3 / (maximumFlowM3PerS * maximumBurstS) + 1e-9));
}

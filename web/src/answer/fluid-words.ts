/** The fluid of one candidate in short sentences: what it needs, how long it lasts, where to have it on. */
import { durationWords } from '../../../worker/flight/words.ts';
import type { BriefMember, Candidate, ExposureAnswer, FluidPlanAnswer } from '../contract.ts';
import { floorTo, fluidSpreadText } from '../numbers.ts';
import { joinedNm } from '../section/gaps.ts';
import { amountText } from '../units.ts';
import { stretchText } from './unknown-stretches.ts';

/** undefined for an aeroplane without a fluid system. */
export function fluidNeedWords(
  { limits }: Pick<BriefMember, 'limits'>,
  candidate: Candidate | undefined,
): string | undefined {
  const exposure = candidate?.exposure ?? null;
  if (exposure?.fluidL == null && limits.fluidOnBoardL === null) return undefined;
  const carried =
    limits.fluidOnBoardL === null
      ? 'on board not given'
      : `${amountText(String(Math.round(limits.fluidOnBoardL)), 'L')} on board`;
  return `${neededWords(exposure, limits.fluidOnBoardL)}, ${carried}`;
}

/** Unknown air is counted at the normal setting: it may ask for more. */
function neededWords(exposure: ExposureAnswer | null, onBoardL: number | null): string {
  if (exposure === null || exposure.fluidL === null) return 'need unknown';
  const needed = fluidSpreadText(exposure.fluidL, onBoardL);
  const minutes = Math.ceil(unknownMinutesOf(exposure));
  return minutes > 0
    ? `at least ${amountText(needed, 'L')} needed, more not known with ${minutes} min in unknown air`
    : `${amountText(needed, 'L')} needed`;
}

/** The high estimate counts, as in the verdict. */
export function isFluidShort(
  { limits }: Pick<BriefMember, 'limits'>,
  candidate: Candidate | undefined,
): boolean {
  const needed = candidate?.exposure?.fluidL ?? null;
  return needed !== null && limits.fluidOnBoardL !== null && needed.high > limits.fluidOnBoardL;
}

export interface FluidSpare {
  /** Fluid is needed at all, and no part of the flight lies in unknown air: there nothing is known to be spare. */
  readonly isTold: boolean;
  /** Over the high estimate, in whole steps of 5 L, rounded down; 0 where nobody knows. */
  readonly spareL: number;
}

const SPARE_STEP_L = 5;

export function fluidSpare(
  { limits }: Pick<BriefMember, 'limits'>,
  candidate: Candidate | undefined,
): FluidSpare {
  const exposure = candidate?.exposure ?? null;
  const needed = exposure?.fluidL ?? null;
  if (exposure === null || needed === null || needed.high <= 0 || unknownMinutesOf(exposure) > 0)
    return { isTold: false, spareL: 0 };
  const spareL = limits.fluidOnBoardL === null ? 0 : limits.fluidOnBoardL - needed.high;
  return { isTold: true, spareL: Math.max(0, floorTo(spareL, SPARE_STEP_L)) };
}

/** Of the whole flight, what is planned for included: parts tell the trip's minutes too. */
function unknownMinutesOf({ unknownMinutes, parts }: ExposureAnswer): number {
  return Math.max(
    unknownMinutes,
    parts.reduce((sum, part) => sum + part.unknownMinutes, 0),
  );
}

/** Where to have it on, and what is left to spend. */
export function fluidPlanSentences(plan: FluidPlanAnswer, { isTold, spareL }: FluidSpare): string[] {
  const sentences: string[] = [];
  if (plan.runsOutNm !== null) sentences.push(`Empty at ${Math.round(plan.runsOutNm)} NM`);
  if (plan.on.length === 0) sentences.push('Not asked for in cruise, climb or descent');
  else sentences.push(`On ${placesOf(plan.on)}${highWords(plan.on)}`);
  const { enduranceNormalMinutes: normal, enduranceHighMinutes: high, bursts } = plan;
  if (normal !== null && high !== null) {
    sentences.push(`Lasts ${minutesWords(normal)} normal, ${minutesWords(high)} high, before the reserve`);
  }
  if (isTold && spareL > 0) sentences.push(`${amountText(String(spareL), 'L')} to spare`);
  if (isTold && bursts !== null && bursts > 0) {
    sentences.push(`${bursts} ${bursts === 1 ? 'burst' : 'bursts'} at the greatest flow to spare`);
  }
  return sentences;
}

const minutesWords = (minutes: number) => durationWords(minutes * 60_000);

type On = FluidPlanAnswer['on'][number];

function highWords(on: readonly On[]): string {
  const high = on.filter(({ setting }) => setting === 'high');
  if (high.length === 0) return ', normal';
  return high.length === on.length ? ', high' : `; high ${placesOf(high)}`;
}

/** What is told in whole miles touches from here on. */
const TOLD_APART_NM = 0.5;

/** Touching stretches are one: the setting is told apart from where it is on. */
function placesOf(on: readonly On[]): string {
  return `${joinedNm(on, TOLD_APART_NM).map(stretchText).join(', ')} NM`;
}

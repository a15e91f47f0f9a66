/** A sequence of legs as the contract gives it: liters, millimeters and sentences, rounded once. Pure. */
import { isAcceptable } from '../flight/file-advice.ts';
import { rounded } from '../flight/rounding.ts';
import { leftM3, legFluidM3 } from '../flight/tank-sequence.ts';
import type { Spread, Verdict } from '../flight/types.ts';
import { gravityOf } from '../flight/verdict-rules.ts';
import { feet, litersOf, millimetersOf } from '../flight/words.ts';
import type { SpreadAnswer } from '../schema/brief.ts';
import type { SequenceAnswer, SequenceLegAnswer } from '../schema/sequence.ts';
import { dataAnswer } from './brief-member.ts';
import { candidateAnswer } from './choice-answer.ts';
import { dataReasons, incompleteCautions } from './data-reasons.ts';
import { usedByAir } from './leg-choice.ts';
import type { SequencedLeg } from './make-sequence.ts';
import { CAUTIONS, METHOD_VERSION } from './method.ts';
import { staleAtUtc } from './stale.ts';
import { utc } from './utc.ts';

const SEQUENCE_CAUTIONS: readonly string[] = [
  'Each leg starts with what is left when the legs before take their high estimate of fluid; their reserve is not used up.',
  'Ice on unprotected parts is carried on at its high estimate. It goes only by de-icing, or slowly by melting where the lowest air is known to be warmer than +3 °C at both ends of a stop.',
];

export function sequenceAnswer(legs: readonly SequencedLeg[]): SequenceAnswer {
  const answers = legs.map((leg, index) => legAnswer(leg, legs[index - 1], index));
  const verdict = answers.reduce<Verdict>(
    (worst, each) => (gravityOf(each.verdict) > gravityOf(worst) ? each.verdict : worst),
    'no-ice-found',
  );
  const used = legs.flatMap(usedByAir);
  return {
    legs: answers,
    verdict,
    sentence: overallSentence(answers, verdict),
    cautions: [...CAUTIONS, ...SEQUENCE_CAUTIONS, ...incompleteCautions(used.flat())],
    method: { version: METHOD_VERSION },
    staleAtUtc: staleAtUtc(used),
  };
}

function legAnswer(leg: SequencedLeg, before: SequencedLeg | undefined, index: number): SequenceLegAnswer {
  const { plan, flown, fluidAtStart } = leg;
  const { aircraft, route } = plan;
  const figures = flown && candidateAnswer(flown, { aircraft, distanceM: route.distanceM });
  const trip = flown?.exposure && legFluidM3(aircraft, flown.exposure);
  const startM3 = fluidAtStart.kind === 'known' ? fluidAtStart.volumeM3 : undefined;
  return {
    from: route.fixes[0]!.name,
    to: route.fixes.at(-1)!.name,
    routeText: plan.resolved.text,
    departureUtc: utc(plan.departureMs),
    arrivalUtc: utc(leg.arrivalMs),
    verdict: verdictOfLeg(leg),
    altitudeFt: figures?.altitudeFt ?? null,
    fluidAtStartL: startM3 === undefined ? null : liters(startM3),
    fluidUsedL: trip === undefined ? null : inLiters(trip),
    fluidLeftL: trip === undefined || startM3 === undefined ? null : inLiters(leftM3(startM3, trip)),
    iceAtStartMm: millimetersOrNull(leg.iceAtStartM),
    residualIceMm: millimetersOrNull(leg.iceAtEndM),
    sentence: legSentence(leg, before, index),
    data: leg.air.used.map((source) => dataAnswer(source, route)),
  };
}

/** What is not known of the fluid or the ice that a leg starts with makes it unknown, unless it is worse already. */
function verdictOfLeg(leg: SequencedLeg): Verdict {
  const { code } = leg.choice.verdict;
  const isRaised = unknownAtStart(leg).length > 0 && gravityOf('unknown') > gravityOf(code);
  return isRaised ? 'unknown' : code;
}

function unknownAtStart({ fluidAtStart, iceAtStartM, flown }: SequencedLeg): string[] {
  const needsFluid = flown?.exposure === undefined || flown.exposure.fluidM3.high > 0;
  return [
    ...(fluidAtStart.kind === 'unknown' && needsFluid
      ? ['what the legs before have left in the tank is not known']
      : []),
    ...(iceAtStartM === undefined ? ['the ice left on from the legs before is not known'] : []),
  ];
}

function legSentence(leg: SequencedLeg, before: SequencedLeg | undefined, index: number): string {
  const unknown = unknownAtStart(leg);
  const { code, sentence } = leg.choice.verdict;
  const own =
    code === 'outside-limits' || unknown.length === 0
      ? [sentence, ...unknown.map((each) => `Besides, ${each}`)]
      : [`Unknown: ${unknown.join(', and ')}. But for that: ${sentence}`];
  const lacks = dataReasons(usedByAir(leg).flat()).map((each) => each.sentence);
  return [...own, ...startWords(leg, before, index), ...lacks].join('. ');
}

function startWords(leg: SequencedLeg, before: SequencedLeg | undefined, index: number): string[] {
  const words: string[] = [];
  if (leg.askedMs !== undefined && leg.plan.departureMs > leg.askedMs) {
    words.push(
      `Leaves at ${clock(leg.plan.departureMs)} UTC, not at ${clock(leg.askedMs)}: not there before`,
    );
  }
  if (before !== undefined && !isAcceptable(before.choice.verdict.code)) {
    const flown = before.flown?.exposure && feet(before.flown.indicatedAltitudeM);
    words.push(
      flown === undefined
        ? `No altitude of leg ${index} can be flown`
        : `Leg ${index} has no altitude within limits: fluid and ice are those of its least bad one, ${flown}`,
    );
  }
  if (leg.iceAtStartM !== undefined && leg.iceAtStartM > 0) {
    const mm = rounded(millimetersOf(leg.iceAtStartM), 'builtMm', 'screen');
    words.push(`Starts with up to ${mm} mm of ice left on`);
  }
  return words;
}

const VERDICT_WORDS: Readonly<Record<Verdict, string>> = {
  'no-ice-found': 'no ice found',
  'within-limits': 'within limits',
  'outside-limits': 'outside limits',
  unknown: 'unknown',
};

function overallSentence(legs: readonly SequenceLegAnswer[], verdict: Verdict): string {
  const count = `${legs.length} ${legs.length === 1 ? 'leg' : 'legs'}`;
  if (isAcceptable(verdict)) {
    const left = legs.at(-1)!.fluidLeftL;
    const leftWords = left === null ? '' : `, at least ${Math.floor(left.low)} L of fluid left at the end`;
    return `${count}: ${VERDICT_WORDS[verdict]}${leftWords}`;
  }
  const worst = legs.findIndex((leg) => leg.verdict === verdict);
  const { from, to, sentence } = legs[worst]!;
  return `${count}: leg ${worst + 1}, ${from} to ${to}, is ${VERDICT_WORDS[verdict]}. ${sentence}`;
}

const liters = (volumeM3: number) => rounded(litersOf(volumeM3), 'fluidL', 'api');
const inLiters = ({ low, middle, high }: Spread): SpreadAnswer => ({
  low: liters(low),
  middle: liters(middle),
  high: liters(high),
});
const millimetersOrNull = (thicknessM: number | undefined) =>
  thicknessM === undefined ? null : rounded(millimetersOf(thicknessM), 'builtMm', 'api');
const clock = (instantMs: number) => utc(instantMs).slice(11, 16);

/**
 * Reports that hold for the filed departure and are too old for a later one. That a report has grown old is no sign that what it
 * tells of has ended: a later departure never looks better for it.
 */
import { isAcceptable } from '../flight/file-advice.ts';
import type { Hazard } from '../flight/hazards.ts';
import type { CandidateResult, Choice } from '../flight/types.ts';
import { reason } from '../flight/words.ts';
import type { ChosenLeg } from './leg-choice.ts';

/**
 * The later choice, held back where a report of the filed leg, or of its way to the alternate, has merely grown old: unknown for
 * what would put the flight outside limits, else within limits at best.
 */
export function withLapsedReports(filed: ChosenLeg, later: ChosenLeg): ChosenLeg {
  const lapsed = [
    ...lapsedOf(ownHazards(filed), ownHazards(later)),
    ...lapsedOf(filed.alternate?.hazards ?? [], later.alternate?.hazards ?? []),
  ];
  const { certifiedForIcing } = later.plan.aircraft;
  const grave = lapsed.find((hazard) => !certifiedForIcing || isGrave(hazard));
  if (grave !== undefined) return { ...later, choice: heldBack(later.choice, grave, 'unknown') };
  const [mild] = lapsed;
  return mild === undefined ? later : { ...later, choice: heldBack(later.choice, mild, 'within-limits') };
}

const ownHazards = ({ hazards }: ChosenLeg): Hazard[] => hazards.map(({ hazard }) => hazard);

/** Those that no longer count on every point where they did, over one route. */
function lapsedOf(before: readonly Hazard[], after: readonly Hazard[]): Hazard[] {
  const isStillTold = (hazard: Hazard) =>
    after.some(
      (other) =>
        textOf(other) === textOf(hazard) &&
        other.firstPoint <= hazard.firstPoint &&
        other.lastPoint >= hazard.lastPoint,
    );
  return before.filter((hazard) => isSeen(hazard) && !isStillTold(hazard));
}

const textOf = ({ kind, sentence, issuedMs }: Hazard): string => `${kind} ${issuedMs} ${sentence}`;

/** A forecast or warning says itself when it ends. */
const isSeen = ({ kind }: Hazard): boolean => kind === 'surface-report' || kind === 'pilot-report';
const isGrave = ({ severity }: Hazard): boolean => severity === 'severe' || severity === 'large-drops';

/** What looks good, made what it may be at best. */
function heldBack(choice: Choice, { sentence, kind }: Hazard, atBest: 'unknown' | 'within-limits'): Choice {
  if (!isAcceptable(choice.verdict.code)) return choice;
  const isUnknown = atBest === 'unknown';
  const words = `${sentence}, and what became of it is not known`;
  const held = (result: CandidateResult): CandidateResult =>
    isAcceptable(result.verdict)
      ? { ...result, verdict: atBest, standing: isUnknown ? atBest : result.standing }
      : result;
  return {
    ...choice,
    verdict: {
      code: atBest,
      sentence: isUnknown ? `Unknown: ${words}` : `${choice.verdict.sentence}. ${words}`,
      reasons: [reason('report-grown-old', words, { kind }), ...choice.verdict.reasons],
    },
    candidates: choice.candidates.map(held),
    considered: choice.considered && held(choice.considered),
    recommended: isUnknown ? undefined : choice.recommended && held(choice.recommended),
    stepped: isUnknown ? undefined : choice.stepped && held(choice.stepped),
    file: isUnknown ? undefined : choice.file,
  };
}

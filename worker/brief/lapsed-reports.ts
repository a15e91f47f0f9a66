/**
 * Reports that hold for the filed departure and are too old for a later one. That a report has grown old is no sign that what it
 * tells of has ended: a later departure never looks better for it.
 */
import { isAcceptable } from '../flight/file-advice.ts';
import type { Hazard } from '../flight/hazards.ts';
import type { CandidateResult, Choice } from '../flight/types.ts';
import { reason } from '../flight/words.ts';
import type { ChosenLeg } from './leg-choice.ts';

/** The later choice, unknown where a grave report of the filed leg has merely grown old. */
export function withLapsedReports(filed: ChosenLeg, later: ChosenLeg): ChosenLeg {
  const stillTold = new Set(later.hazards.map(({ hazard }) => textOf(hazard)));
  const lapsed = filed.hazards
    .map(({ hazard }) => hazard)
    .find((hazard) => isGraveReport(hazard) && !stillTold.has(textOf(hazard)));
  return lapsed === undefined ? later : { ...later, choice: unknownFor(later.choice, lapsed) };
}

const textOf = ({ kind, sentence, issuedMs }: Hazard): string => `${kind} ${issuedMs} ${sentence}`;

/** Somebody saw it; a forecast or warning says itself when it ends. */
function isGraveReport({ kind, severity }: Hazard): boolean {
  const isSeen = kind === 'surface-report' || kind === 'pilot-report';
  return isSeen && (severity === 'severe' || severity === 'large-drops');
}

function unknownFor(choice: Choice, { sentence, kind }: Hazard): Choice {
  if (!isAcceptable(choice.verdict.code)) return choice;
  const words = `${sentence}, and nothing newer says that it has ended`;
  const unknown = (result: CandidateResult): CandidateResult =>
    result.exposure !== undefined && isAcceptable(result.verdict)
      ? { ...result, verdict: 'unknown', standing: 'unknown' }
      : result;
  return {
    ...choice,
    verdict: {
      code: 'unknown',
      sentence: `Unknown: ${words}`,
      reasons: [reason('report-grown-old', words, { kind }), ...choice.verdict.reasons],
    },
    candidates: choice.candidates.map(unknown),
    considered: choice.considered && unknown(choice.considered),
    recommended: undefined,
    stepped: undefined,
    file: undefined,
  };
}

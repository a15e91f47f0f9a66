/** What was worked out for a leg, and whether its figures may be held to by now. */
import type { BoardFlight, Evaluation } from '../../../worker/schema/board.ts';

/**
 * The evaluation that the shown verdict rests on; undefined where there is none, and where the verdict holds no more: its data are past
 * their time, the last attempt failed, or the service was not heard. Its figures are then not to be shown as if they held.
 */
export function heldEvaluation({ evaluation, verdict, why }: BoardFlight): Evaluation | undefined {
  if (evaluation === null) return undefined;
  return evaluation.verdict === verdict && evaluation.sentence === why ? evaluation : undefined;
}

/** The leg as it stood when it was worked out, to be told as past; undefined while it still stands so, and where it never did. */
export function beforeFlight(flight: BoardFlight): (BoardFlight & { evaluation: Evaluation }) | undefined {
  const { evaluation } = flight;
  if (evaluation === null || heldEvaluation(flight) !== undefined) return undefined;
  return { ...flight, evaluation, verdict: evaluation.verdict, why: evaluation.sentence };
}

/** The address of the main page at the very leg that a flight was worked out with. */
import type { BoardFlight } from '../../../worker/schema/board.ts';
import { legTextFromRequest, queryFromLegText } from '../url-state.ts';

/** undefined while the flight was never worked out: nobody knows what to ask. */
export function briefAddress({ evaluation }: BoardFlight, boardId: string): string | undefined {
  if (evaluation === null) return undefined;
  const query = queryFromLegText(legTextFromRequest(evaluation.request));
  return `/?${query}&board=${encodeURIComponent(boardId)}`;
}

/** The calls that the page makes of the service, each for one board under its key. */
import type { Mark, PutTail } from '../../../worker/schema/board.ts';
import {
  getBoard,
  getBoardChanges,
  postAcknowledgement,
  postFlightEvaluate,
  postFlightMark,
  postFlightShared,
  putBoardTail,
} from '../../../worker/schema/calls-board.ts';
import { call } from '../client/call.ts';
import type { BoardLink } from './board-key.ts';

/** A brief is made for it. */
const SHARE_TIMEOUT_MS = 60_000;

export function askBoard({ boardId, key }: BoardLink, signal: AbortSignal) {
  return call(getBoard, { path: { board: boardId } }, { key, signal });
}

export function askChanges({ boardId, key }: BoardLink, since: number, signal: AbortSignal) {
  return call(getBoardChanges, { path: { board: boardId }, query: { since } }, { key, signal });
}

export function sendMark({ boardId, key }: BoardLink, flightId: string, mark: Mark) {
  return call(postFlightMark, { path: { board: boardId, flight: flightId }, body: mark }, { key });
}

export function sendTail({ boardId, key }: BoardLink, tail: string, body: PutTail) {
  return call(putBoardTail, { path: { board: boardId, tail }, body }, { key });
}

export function sendAcknowledgement(
  { boardId, key }: BoardLink,
  body: { readonly flightId: string; readonly seq: number; readonly by: string },
) {
  return call(postAcknowledgement, { path: { board: boardId }, body }, { key });
}

export function askEvaluation({ boardId, key }: BoardLink, flightId: string) {
  return call(postFlightEvaluate, { path: { board: boardId, flight: flightId } }, { key });
}

export function shareFlight({ boardId, key }: BoardLink, flightId: string) {
  return call(
    postFlightShared,
    { path: { board: boardId, flight: flightId } },
    { key, timeoutMs: SHARE_TIMEOUT_MS },
  );
}

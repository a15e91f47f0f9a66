/** The handlers of the board's calls. */
import type { Context } from 'hono';
import type { BoardCallName } from '../schema/calls.ts';
import type { AppEnv } from './app-env.ts';
import { problemResponse } from './problem.ts';

/** What answers a call; the gate let it in. */
export type Handler = (context: Context<AppEnv>) => Response | Promise<Response>;

/** Of a call that is not there yet. */
export function notThereYet(context: Context<AppEnv>): Response {
  return problemResponse({
    type: 'about:blank',
    title: 'Not there yet',
    status: 501,
    detail: `${context.req.method} ${context.req.path} is described and not there yet`,
  });
}

export const boardHandlers: Readonly<Record<BoardCallName, Handler>> = {
  getBoards: notThereYet,
  postBoards: notThereYet,
  deleteBoard: notThereYet,
  getBoard: notThereYet,
  getBoardChanges: notThereYet,
  getBoardLive: notThereYet,
  getBoardLinks: notThereYet,
  postBoardLink: notThereYet,
  deleteBoardLink: notThereYet,
  getBoardLegs: notThereYet,
  postBoardLegs: notThereYet,
  importBoardLegs: notThereYet,
  putBoardLeg: notThereYet,
  deleteBoardLeg: notThereYet,
  putBoardTail: notThereYet,
  postFlightMark: notThereYet,
  postFlightShared: notThereYet,
  postFlightEvaluate: notThereYet,
  postAcknowledgement: notThereYet,
  getBoardLogCsv: notThereYet,
  deleteBoardPerson: notThereYet,
  getBoardCsv: notThereYet,
  getBoardGeojson: notThereYet,
  getBoardAudit: notThereYet,
  getPushKey: notThereYet,
  postBoardPush: notThereYet,
  deleteBoardPush: notThereYet,
};

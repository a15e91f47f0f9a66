/** The handlers of the board's calls. */
import type { Context } from 'hono';
import type { BoardCallName } from '../schema/calls.ts';
import type { AppEnv } from './app-env.ts';
import {
  postAcknowledgement,
  postFlightEvaluate,
  postFlightMark,
  postFlightShared,
} from './board-flights.ts';
import {
  deleteBoardLeg,
  getBoardLegs,
  importBoardLegs,
  postBoardLegs,
  putBoardLeg,
  putBoardTail,
} from './board-legs.ts';
import { getBoardPage } from './board-page.ts';
import {
  deleteBoardPerson,
  deleteBoardPush,
  getBoardAudit,
  getBoardCsv,
  getBoardGeojson,
  getBoardLogCsv,
  getPushKey,
  postBoardPush,
} from './board-records.ts';
import {
  deleteBoard,
  deleteBoardLink,
  getBoard,
  getBoardChanges,
  getBoardLinks,
  getBoardLive,
  getBoards,
  postBoardLink,
  postBoards,
} from './boards.ts';

/** What answers a call; the gate let it in. */
export type Handler = (context: Context<AppEnv>) => Response | Promise<Response>;

export const boardHandlers: Readonly<Record<BoardCallName, Handler>> = {
  getBoards,
  postBoards,
  deleteBoard,
  getBoard,
  getBoardChanges,
  getBoardLive,
  getBoardLinks,
  postBoardLink,
  deleteBoardLink,
  getBoardLegs,
  postBoardLegs,
  importBoardLegs,
  putBoardLeg,
  deleteBoardLeg,
  putBoardTail,
  postFlightMark,
  postFlightShared,
  postFlightEvaluate,
  postAcknowledgement,
  getBoardLogCsv,
  deleteBoardPerson,
  getBoardCsv,
  getBoardGeojson,
  getBoardAudit,
  getPushKey,
  postBoardPush,
  deleteBoardPush,
  getBoardPage,
};

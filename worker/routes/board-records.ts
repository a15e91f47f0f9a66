/** What leaves a board: exports, the log of acknowledgements, the audit, and notices to browsers. */
import type { Context } from 'hono';
import { boardAnswer } from '../board/board-answer.ts';
import { boardToCsv, logToCsv } from '../board/board-csv.ts';
import { boardToGeoJson } from '../board/board-geojson.ts';
import { InvalidRequestError } from '../errors.ts';
import {
  getBoardCsv as csvCall,
  deleteBoardPush as endCall,
  deleteBoardPerson as personCall,
  postBoardPush as pushCall,
} from '../schema/calls-board.ts';
import { boardNowMs } from '../sources/boards.ts';
import type { AppEnv } from './app-env.ts';
import { tellSoon } from './ask-soon.ts';
import { windowOf } from './boards.ts';
import { requestBody, requestQuery } from './read-call.ts';

const MOST_AUDIT = 1000;
const PRIVATE = { 'cache-control': 'no-store' } as const;

export async function getBoardCsv(context: Context<AppEnv>): Promise<Response> {
  return csv(boardToCsv(await answerOf(context)), `board-${context.var.board.id}.csv`);
}

export async function getBoardGeojson(context: Context<AppEnv>): Promise<Response> {
  return new Response(JSON.stringify(boardToGeoJson(await answerOf(context))), {
    headers: { ...PRIVATE, 'content-type': 'application/geo+json' },
  });
}

export async function getBoardLogCsv(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const asOfUtc = new Date(boardNowMs(board, deps.nowMs())).toISOString();
  return csv(logToCsv(await deps.boards.log(board.id), asOfUtc), `log-${board.id}.csv`);
}

function answerOf(context: Context<AppEnv>) {
  const { deps, board } = context.var;
  const nowMs = deps.nowMs();
  const window = windowOf(requestQuery(context, csvCall), boardNowMs(board, nowMs));
  return boardAnswer(deps.boards, board, 'view', { nowMs, ...window });
}

/** Our own identifiers alone are in the name. */
function csv(text: string, name: string): Response {
  return new Response(text, {
    headers: {
      ...PRIVATE,
      'content-type': 'text/csv; charset=utf-8',
      'content-disposition': `attachment; filename="${name}"`,
    },
  });
}

/** On a person's request: whatever bears the name loses it. */
export async function deleteBoardPerson(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const { person } = requestQuery(context, personCall);
  const deleted = await deps.boards.forgetPerson(board.id, person);
  await tellSoon(context);
  return context.json({ deleted });
}

export async function getBoardAudit(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const entries = await deps.boards.auditOf(board.id, MOST_AUDIT);
  const told = entries.map(({ atMs, principal, action, target, status }) => ({
    ...{ principal, action, target, status },
    atUtc: new Date(atMs).toISOString(),
  }));
  return context.json({ entries: told }, 200, PRIVATE);
}

export function getPushKey(context: Context<AppEnv>): Response {
  return context.json({ publicKey: context.var.deps.push?.publicKey ?? null });
}

export async function postBoardPush(context: Context<AppEnv>): Promise<Response> {
  const { deps, board, principal } = context.var;
  const subscription = await requestBody(context, pushCall);
  if (deps.push === undefined || !deps.push.takes(subscription.endpoint)) {
    throw new InvalidRequestError({
      field: 'endpoint',
      found: deps.push === undefined ? 'one, where this service sends no notices' : 'one of another host',
      expected: 'an address of a push service that this service sends to',
    });
  }
  // A link can be taken back, and notices with it; a sign-in or an operator's key that ends leaves no trace here.
  if (principal.kind !== 'board-key') {
    throw new InvalidRequestError({
      field: 'Authorization',
      found: principal.kind,
      expected: 'a key of the board: open it by a link to ask for notices',
    });
  }
  const { keyId } = principal;
  await deps.boards.subscribe({ ...subscription, boardId: board.id, keyId }, deps.nowMs());
  return new Response(null, { status: 201 });
}

export async function deleteBoardPush(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  await deps.boards.unsubscribe(board.id, requestQuery(context, endCall).endpoint);
  return new Response(null, { status: 204 });
}

/** Boards themselves and the links that open them. The gate has checked who asks. */
import type { Context } from 'hono';
import { boardAnswer, boardDelta, headOf } from '../board/board-answer.ts';
import { AppBug, InvalidRequestError } from '../errors.ts';
import type { BoardAccess, CreatedBoard, CreatedLink, LinksAnswer } from '../schema/board.ts';
import {
  getBoard as boardCall,
  getBoardChanges as changesCall,
  postBoardLink as linkCall,
  postBoards as postCall,
} from '../schema/calls-board.ts';
import { type Board, type BoardKey, boardNowMs } from '../sources/boards.ts';
import { sha256Hex } from '../sources/sha256-hex.ts';
import { randomName } from '../sources/shared-briefs.ts';
import type { AppEnv } from './app-env.ts';
import { requestBody, requestQuery, writingOperator } from './read-call.ts';

/** 128 and 192 random bits. */
const ID_BYTES = 16;
const KEY_BYTES = 24;
const MOST_LINKS = 200;
const MS_PER_DAY = 86_400_000;
/** Longest window of departures that one call shows. */
const MOST_SHOWN_MS = 7 * MS_PER_DAY;

/** Nobody keeps anything of a board on the way. */
const PRIVATE = { 'cache-control': 'no-store' } as const;

const utc = (instantMs: number) => new Date(instantMs).toISOString();

export async function postBoards(context: Context<AppEnv>): Promise<Response> {
  const { deps } = context.var;
  const request = await requestBody(context, postCall);
  const nowMs = deps.nowMs();
  const board: Board = {
    id: randomName(ID_BYTES),
    operator: writingOperator(context),
    name: request.name,
    timeZone: request.timeZone,
    standsMs: request.standsAtUtc === undefined ? undefined : Date.parse(request.standsAtUtc),
    createdMs: nowMs,
    seq: 0,
    publishedSeq: 0,
  };
  const [view, edit] = await Promise.all(
    (['view', 'edit'] as const).map((access) => newLink(board.id, access, 'made with the board', nowMs)),
  );
  if (view === undefined || edit === undefined) throw new AppBug('links: found none, expected two');
  await deps.boards.create(board, [view.key, edit.key]);
  context.set('createdBoard', board.id);
  const answer: CreatedBoard = { id: board.id, links: [view.answer, edit.answer] };
  return context.json(answer, 201, { ...PRIVATE, location: `/board/${board.id}` });
}

export async function getBoards(context: Context<AppEnv>): Promise<Response> {
  const boards = await context.var.deps.boards.list(writingOperator(context));
  return context.json({ boards: boards.map(headOf) }, 200, PRIVATE);
}

export async function deleteBoard(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const keys = await deps.boards.keys(board.id);
  await deps.boards.remove(board.id);
  const openedBy = [...keys.map(({ keyId }) => keyId), 'operator', 'sign-in'];
  await Promise.all(openedBy.map((keyId) => deps.live.close(board.id, keyId)));
  return new Response(null, { status: 204, headers: PRIVATE });
}

export async function getBoard(context: Context<AppEnv>): Promise<Response> {
  const { deps, board, access } = context.var;
  const window = windowOf(requestQuery(context, boardCall), boardNowMs(board, deps.nowMs()));
  const answer = await boardAnswer(deps.boards, board, access === 'view' ? 'view' : 'edit', {
    nowMs: deps.nowMs(),
    ...window,
  });
  return context.json(answer, 200, PRIVATE);
}

/** @throws InvalidRequestError for too long a window. */
export function windowOf(
  { fromUtc, toUtc }: { readonly fromUtc?: string | undefined; readonly toUtc?: string | undefined },
  nowMs: number,
): { readonly fromMs?: number; readonly toMs?: number } {
  if (fromUtc === undefined && toUtc === undefined) return {};
  const fromMs = fromUtc === undefined ? nowMs : Date.parse(fromUtc);
  const toMs = toUtc === undefined ? fromMs + MS_PER_DAY : Date.parse(toUtc);
  if (toMs > fromMs && toMs - fromMs <= MOST_SHOWN_MS) return { fromMs, toMs };
  throw new InvalidRequestError({
    field: 'toUtc',
    found: utc(toMs),
    expected: `an instant after ${utc(fromMs)}, at most 7 days`,
  });
}

export async function getBoardChanges(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const { since } = requestQuery(context, changesCall);
  const delta = await boardDelta(deps.boards, board, since, { nowMs: deps.nowMs() });
  return context.json(delta, 200, PRIVATE);
}

/** The key came as a subprotocol, which no log holds; the room hears of its identifier alone. */
export function getBoardLive(context: Context<AppEnv>): Promise<Response> {
  const { deps, board, principal } = context.var;
  const keyId = principal.kind === 'board-key' ? principal.keyId : principal.kind;
  return deps.live.connect(board.id, keyId, context.req.raw);
}

export async function getBoardLinks(context: Context<AppEnv>): Promise<Response> {
  const keys = await context.var.deps.boards.keys(context.var.board.id);
  const answer: LinksAnswer = {
    links: keys.map(({ keyId, access, label, createdMs, revokedMs }) => ({
      ...{ keyId, access, label, createdUtc: utc(createdMs) },
      revokedUtc: revokedMs === undefined ? null : utc(revokedMs),
    })),
  };
  return context.json(answer, 200, PRIVATE);
}

export async function postBoardLink(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const { access, label } = await requestBody(context, linkCall);
  const standing = (await deps.boards.keys(board.id)).filter(({ revokedMs }) => revokedMs === undefined);
  if (standing.length >= MOST_LINKS) {
    throw new InvalidRequestError({
      field: 'links',
      found: `${standing.length} that stand`,
      expected: `fewer than ${MOST_LINKS}: revoke some`,
    });
  }
  const link = await newLink(board.id, access, label, deps.nowMs());
  await deps.boards.putKey(link.key);
  return context.json(link.answer, 201, PRIVATE);
}

export async function deleteBoardLink(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const keyId = context.req.param('keyId') ?? '';
  const isOurs = (await deps.boards.keys(board.id)).some((each) => each.keyId === keyId);
  if (!isOurs) {
    throw new InvalidRequestError({
      field: 'keyId',
      found: JSON.stringify(keyId.slice(0, 40)),
      expected: 'a link of this board',
    });
  }
  // Again where it was revoked before: its connections may not have ended then.
  await deps.boards.revokeKey(board.id, keyId, deps.nowMs());
  await deps.live.close(board.id, keyId);
  return new Response(null, { status: 204, headers: PRIVATE });
}

/** What follows the # is never sent to a server: the secret stays with who has the link. */
async function newLink(
  boardId: string,
  access: BoardAccess,
  label: string,
  nowMs: number,
): Promise<{ readonly key: BoardKey; readonly answer: CreatedLink }> {
  const secret = randomName(KEY_BYTES);
  const keyId = randomName(ID_BYTES);
  return {
    key: {
      ...{ keyId, boardId, access, label },
      sha256: await sha256Hex(secret),
      createdMs: nowMs,
      revokedMs: undefined,
    },
    answer: { keyId, access, link: `/board/${boardId}#${secret}`, key: secret },
  };
}

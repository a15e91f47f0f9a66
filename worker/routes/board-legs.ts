/** The legs of a board and what is entered of its aeroplanes. */
import type { Context } from 'hono';
import { tailAnswer } from '../board/board-answer.ts';
import { readLegsCsv } from '../board/leg-csv.ts';
import { agreeBoard } from '../board/watch.ts';
import { InvalidRequestError } from '../errors.ts';
import {
  type ImportAnswer,
  type LegsAnswer,
  MOST_LEGS,
  type ScheduleLeg,
  type StoredLeg,
} from '../schema/board.ts';
import {
  importBoardLegs as importCall,
  putBoardLeg as legCall,
  postBoardLegs as legsCall,
  putBoardTail as tailCall,
} from '../schema/calls-board.ts';
import { boardNowMs } from '../sources/boards.ts';
import { bodyChunks, bodyText } from '../sources/body.ts';
import { randomName } from '../sources/shared-briefs.ts';
import type { AppEnv } from './app-env.ts';
import { askSoon } from './ask-soon.ts';
import { requestBody, requestQuery } from './read-call.ts';

const MOST_CSV_BYTES = 1024 * 1024;
const ID_BYTES = 16;

export async function getBoardLegs(context: Context<AppEnv>): Promise<Response> {
  const legs = await context.var.deps.boards.legs(context.var.board.id);
  return context.json({ legs: [...legs] } satisfies LegsAnswer);
}

export async function postBoardLegs(context: Context<AppEnv>): Promise<Response> {
  const request = await requestBody(context, legsCall);
  const legs = await store(context, request.legs, request.replace);
  return context.json({ legs } satisfies LegsAnswer, 201);
}

/** Lines that do not read are told and left out; where none reads nothing is changed. */
export async function importBoardLegs(context: Context<AppEnv>): Promise<Response> {
  const text = await bodyText(bodyChunks(context.req.raw, MOST_CSV_BYTES));
  const { legs, rejected } = readLegsCsv(text);
  const replace = requestQuery(context, importCall).replace === 'true';
  // A schedule is not to be replaced by the part of it that happened to read.
  const isKept = legs.length > 0 && !(replace && rejected.length > 0);
  if (isKept) await store(context, legs, replace);
  const answer: ImportAnswer = { stored: isKept ? legs.length : 0, rejected: [...rejected] };
  return context.json(answer, isKept ? 201 : 422);
}

export async function putBoardLeg(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const id = context.req.param('leg') ?? '';
  const leg = await requestBody(context, legCall);
  if (!(await deps.boards.legs(board.id)).some((each) => each.id === id)) throw noSuchLeg(id);
  const stored: StoredLeg = { id, leg };
  await deps.boards.putLegs(board.id, [stored], false);
  await follow(context);
  return context.json(stored);
}

export async function deleteBoardLeg(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const id = context.req.param('leg') ?? '';
  if (!(await deps.boards.removeLeg(board.id, id))) throw noSuchLeg(id);
  await follow(context);
  return new Response(null, { status: 204 });
}

export async function putBoardTail(context: Context<AppEnv>): Promise<Response> {
  const { deps, board } = context.var;
  const name = (context.req.param('tail') ?? '').trim();
  if (!/^.{1,12}$/u.test(name)) {
    throw new InvalidRequestError({
      field: 'tail',
      found: JSON.stringify(name.slice(0, 40)),
      expected: 'the name of an aeroplane, 1 to 12 characters',
    });
  }
  const state = await requestBody(context, tailCall);
  const nowMs = deps.nowMs();
  const times = { nowMs, boardMs: boardNowMs(board, nowMs) };
  const stored = await deps.boards.putTail(board.id, name, state, times);
  await askSoon(context);
  return context.json(tailAnswer(stored));
}

async function store(
  context: Context<AppEnv>,
  legs: readonly ScheduleLeg[],
  replace: boolean,
): Promise<StoredLeg[]> {
  const { deps, board } = context.var;
  const before = replace ? 0 : (await deps.boards.legs(board.id)).length;
  if (before + legs.length > MOST_LEGS) {
    throw new InvalidRequestError({
      field: 'legs',
      found: `${before + legs.length} in all`,
      expected: `at most ${MOST_LEGS} a board`,
    });
  }
  const stored = legs.map((leg) => ({ id: randomName(ID_BYTES), leg }));
  await deps.boards.putLegs(board.id, stored, replace);
  await follow(context);
  return stored;
}

/** The flights follow at once; they are worked out after the answer. */
async function follow(context: Context<AppEnv>): Promise<void> {
  const { deps, board } = context.var;
  await agreeBoard(deps.boards, board, deps.nowMs());
  await askSoon(context);
}

function noSuchLeg(id: string): InvalidRequestError {
  return new InvalidRequestError({
    field: 'leg',
    found: JSON.stringify(id.slice(0, 40)),
    expected: 'a leg of this board',
  });
}

/** Every write to a board is noted before it is answered: by whom, what, and how it was answered. */
import { afterEach, describe, expect, it, vi } from 'vitest';
import { InvalidRequestError } from '../../worker/errors.ts';
import type { Call } from '../../worker/schema/call.ts';
import { CALLS } from '../../worker/schema/calls.ts';
import {
  deleteBoardPerson,
  getBoard,
  postBoards,
  postFlightMark,
  putBoardTail,
} from '../../worker/schema/calls-board.ts';
import { BOARD_ID, type Gated, gated, KEYS, muted, NOW_MS, pathOfCall, withKey } from './gated.ts';

afterEach(() => vi.restoreAllMocks());

const send = ({ ask }: Gated, call: Call, key: string, query = '') =>
  ask(pathOfCall(call) + query, { method: call.method, headers: withKey(call, key) });

/** Of a board that is gone nothing stays, its audit neither. */
const WRITES = Object.values(CALLS).filter(
  ({ name, method, access }) => method !== 'GET' && access.startsWith('board-') && name !== 'deleteBoard',
);

it.each(WRITES.map((call) => [call.name, call] as const))('%s is audited', async (name, call) => {
  const service = await gated();
  await send(service, call, KEYS.own);
  expect(service.audited).toEqual([
    expect.objectContaining({ boardId: BOARD_ID, action: name, status: 200, principal: 'operator own' }),
  ]);
});

it('of a board that was deleted nothing is kept', async () => {
  const service = await gated();
  await send(service, CALLS.deleteBoard, KEYS.own);
  expect(service.audited).toEqual([]);
});

it('names the principal and the target, and no secret', async () => {
  const service = await gated();
  await send(service, putBoardTail, KEYS.edit);
  expect(service.audited).toEqual([
    {
      boardId: BOARD_ID,
      atMs: NOW_MS,
      principal: 'key id-of-edit',
      action: 'putBoardTail',
      target: 'tail N1',
      status: 200,
    },
  ]);
});

it('keeps no name of a person who is to be forgotten', async () => {
  const service = await gated();
  await send(service, deleteBoardPerson, KEYS.own, '?person=Kim');
  expect(service.audited).toHaveLength(1);
  expect(JSON.stringify(service.audited)).not.toContain('Kim');
});

it('begins with the making of the board, where its handler names it', async () => {
  const service = await gated({
    handlers: {
      postBoards: (context) => {
        context.set('createdBoard', 'new-board');
        return context.json({}, 201);
      },
    },
  });
  await send(service, postBoards, KEYS.own);
  expect(service.audited).toMatchObject([{ boardId: 'new-board', action: 'postBoards', status: 201 }]);
});

describe('what is not audited', () => {
  it('is what only looks', async () => {
    const service = await gated();
    await send(service, getBoard, KEYS.own);
    expect(service.audited).toEqual([]);
  });

  it('is what was refused at the gate', async () => {
    const service = await gated();
    await send(service, postFlightMark, KEYS.view);
    await send(service, postFlightMark, KEYS.wrong);
    expect(service.audited).toEqual([]);
  });
});

it('tells how a write that its handler refused was answered', async () => {
  const refuse = () => {
    throw new InvalidRequestError({ field: 'mark', found: 'x', expected: 'y' });
  };
  const service = await gated({ handlers: { postFlightMark: refuse } });
  expect((await send(service, postFlightMark, KEYS.edit)).status).toBe(422);
  expect(service.audited).toMatchObject([{ status: 422 }]);
});

it('a write that cannot be audited is not answered as a success', async () => {
  const told = muted();
  const service = await gated();
  service.stores.boards.audit = () => Promise.reject(new Error('made to fail'));
  expect((await send(service, postFlightMark, KEYS.edit)).status).toBe(500);
  expect(told).toHaveBeenCalled();
});

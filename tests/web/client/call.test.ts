import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, beforeAll, describe, expect, expectTypeOf, it } from 'vitest';
import { call, pathOf } from '../../../web/src/client/call.ts';
import type { LegsAnswer, TailState } from '../../../worker/schema/board.ts';
import {
  deleteBoardLeg,
  getBoardChanges,
  getBoardCsv,
  getBoardLegs,
  importBoardLegs,
  putBoardTail,
} from '../../../worker/schema/calls-board.ts';

const BOARD = 'A'.repeat(22);
const TAIL: TailState = {
  ...{ tail: 'N1', fluidOnBoardL: 40, inoperative: [], note: '', by: 'Kim' },
  enteredUtc: '2026-01-14T10:00:00.000Z',
  fluidEnteredUtc: '2026-01-14T10:00:00.000Z',
};
const EMPTY = { stored: 0, rejected: [{ line: 2, reason: 'no label' }] };

interface Heard {
  readonly method: string;
  readonly url: string;
  readonly headers: Readonly<Record<string, unknown>>;
  readonly body: string;
}
interface Said {
  readonly status: number;
  readonly type?: string;
  readonly text?: string;
}

let server: Server;
let baseUrl = '';
let heard: Heard | undefined;
let said: Said = { status: 204 };

const json = (status: number, value: unknown, type = 'application/json'): Said => ({
  status,
  type,
  text: JSON.stringify(value),
});

beforeAll(async () => {
  server = createServer(async (request, response) => {
    const chunks: Buffer[] = [];
    for await (const chunk of request) chunks.push(chunk as Buffer);
    const { method = '', url = '', headers } = request;
    heard = { method, url, headers, body: Buffer.concat(chunks).toString() };
    if (said.status === 0) return;
    response.writeHead(said.status, said.type === undefined ? {} : { 'content-type': said.type });
    response.end(said.text);
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  baseUrl = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => {
  server.closeAllConnections();
  server.close();
});

describe('call', () => {
  it('sends parameters, key and body as its entry says, and gives the answer typed', async () => {
    said = json(200, TAIL);
    const answer = await call(
      putBoardTail,
      {
        path: { board: BOARD, tail: 'N 1/ä' },
        body: { fluidOnBoardL: 40, inoperative: [], note: '', by: 'Kim' },
      },
      { baseUrl, key: 'k'.repeat(20) },
    );
    expect(answer).toEqual({ kind: 'ok', value: TAIL });
    expect(heard).toMatchObject({
      method: 'PUT',
      url: `/api/boards/${BOARD}/tails/N%201%2F%C3%A4`,
      headers: { authorization: `Bearer ${'k'.repeat(20)}`, 'content-type': 'application/json' },
    });
    expect(JSON.parse(heard!.body)).toEqual({ fluidOnBoardL: 40, inoperative: [], note: '', by: 'Kim' });
    if (answer.kind === 'ok') expectTypeOf(answer.value).toEqualTypeOf<TailState>();
  });

  it('sends text as the type of its entry, and takes the answer of a call that could keep nothing', async () => {
    said = json(422, EMPTY);
    const answer = await call(
      importBoardLegs,
      { path: { board: BOARD }, query: { replace: 'true' }, body: 'label\n' },
      { baseUrl },
    );
    expect(answer).toEqual({ kind: 'ok', value: EMPTY });
    expect(heard).toMatchObject({ url: `/api/boards/${BOARD}/legs/import?replace=true`, body: 'label\n' });
    expect(heard!.headers['content-type']).toBe('text/csv');
    expect(heard!.headers.authorization).toBeUndefined();
  });

  it('gives a problem as one, of the same status too', async () => {
    const problem = { type: 'about:blank', title: 't', status: 422, detail: 'd', field: 'body' };
    said = json(422, problem, 'application/problem+json');
    expect(await call(importBoardLegs, { path: { board: BOARD }, body: '' }, { baseUrl })).toEqual({
      kind: 'problem',
      problem,
    });
  });

  it('understands neither another shape, nor a success that the call has not', async () => {
    said = json(200, { legs: [{ id: 1 }] });
    const shape = await call(getBoardLegs, { path: { board: BOARD } }, { baseUrl });
    expect(shape).toMatchObject({ kind: 'not-understood', where: 'legs.0.id' });
    said = json(203, { legs: [] });
    const status = await call(getBoardLegs, { path: { board: BOARD } }, { baseUrl });
    expect(status).toEqual({ kind: 'not-understood', where: 'status 203' });
    expectTypeOf(status)
      .extract<{ kind: 'ok' }>()
      .toEqualTypeOf<{ readonly kind: 'ok'; readonly value: LegsAnswer }>();
  });

  it('gives text as text, and nothing for no body', async () => {
    said = { status: 200, type: 'text/csv', text: 'a,b\r\n' };
    expect(await call(getBoardCsv, { path: { board: BOARD } }, { baseUrl })).toEqual({
      kind: 'ok',
      value: 'a,b\r\n',
    });
    said = { status: 204 };
    const gone = await call(deleteBoardLeg, { path: { board: BOARD, leg: BOARD } }, { baseUrl });
    expect(gone).toEqual({ kind: 'ok', value: undefined });
  });

  it('says that nobody answered, that it took too long, or that it was given up', async () => {
    const nobody = await call(getBoardLegs, { path: { board: BOARD } }, { baseUrl: 'http://127.0.0.1:9' });
    expect(nobody).toEqual({ kind: 'unreachable' });
    said = { status: 0 };
    const late = await call(getBoardLegs, { path: { board: BOARD } }, { baseUrl, timeoutMs: 50 });
    expect(late).toEqual({ kind: 'timeout', afterMs: 50 });
    const stop = new AbortController();
    const given = call(getBoardLegs, { path: { board: BOARD } }, { baseUrl, signal: stop.signal });
    stop.abort();
    expect(await given).toEqual({ kind: 'abandoned' });
  });
});

describe('pathOf', () => {
  it('writes numbers and leaves out what is undefined', () => {
    expect(pathOf(getBoardChanges, { path: { board: 'b' }, query: { since: 3, none: undefined } })).toBe(
      '/api/boards/b/changes?since=3',
    );
  });

  it('lets no value become another part of the address', () => {
    expect(pathOf(getBoardChanges, { path: { board: '../x?y#z' }, query: { since: '1&a=2#' } })).toBe(
      '/api/boards/..%2Fx%3Fy%23z/changes?since=1%26a%3D2%23',
    );
  });
});

it('a call without what its entry needs does not compile', () => {
  // @ts-expect-error a path is missing
  const noPath = () => call(getBoardLegs, {});
  // @ts-expect-error a body is missing
  const noBody = () => call(putBoardTail, { path: { board: BOARD, tail: 'N1' } });
  // @ts-expect-error a query is missing
  const noQuery = () => call(getBoardChanges, { path: { board: BOARD } });
  // @ts-expect-error there is no such parameter
  const wrongPath = () => call(getBoardLegs, { path: { bord: BOARD } });
  expect([noPath, noBody, noQuery, wrongPath]).toHaveLength(4);
});

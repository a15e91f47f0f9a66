/** The built page of a board with an invented service behind it: the page's files as they are served, the board's answers as a test wants them. */
import { readFileSync } from 'node:fs';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { extname, join, normalize } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { BoardAnswer, BoardDelta } from '../../worker/schema/board.ts';
import { INVENTED_BOARD_ID, INVENTED_KEY } from '../support/invented-board.ts';

const DIST = fileURLToPath(new URL('../../web/dist/', import.meta.url));
const TYPES: Readonly<Record<string, string>> = {
  '.html': 'text/html',
  '.js': 'text/javascript',
  '.css': 'text/css',
  '.svg': 'image/svg+xml',
  '.webmanifest': 'application/manifest+json',
};

/** Of an invented operator. */
export const OPERATOR_KEY = 'invented-operator-key-0123456789';

export interface Asked {
  readonly method: string;
  /** Behind the board's own path: "/flights/…/marks"; "/api/boards" where a board is made. */
  readonly path: string;
  readonly body: unknown;
}

export interface BoardStage {
  readonly baseUrl: string;
  /** Opens with the key. */
  readonly link: string;
  /** What is answered; tests set it anew. */
  board: BoardAnswer;
  /** What is told to whoever asks for changes; undefined: nothing new. */
  delta: BoardDelta | undefined;
  /** An answer of one's own to a call; undefined goes on. */
  answer: ((asked: Asked) => { readonly status: number; readonly body: unknown } | undefined) | undefined;
  isRefusing: boolean;
  /** The service is not reached; the page's files are. */
  isDown: boolean;
  /** Nothing is reached. */
  isGone: boolean;
  readonly asked: Asked[];
  readonly stop: () => Promise<void>;
}

export async function startBoardStage(board: BoardAnswer): Promise<BoardStage> {
  const server = createServer((request, response) => void serve(stage, request, response));
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const baseUrl = `http://localhost:${(server.address() as AddressInfo).port}`;
  const stage: BoardStage = {
    baseUrl,
    link: `${baseUrl}/board/${INVENTED_BOARD_ID}#${INVENTED_KEY}`,
    board,
    delta: undefined,
    answer: undefined,
    isRefusing: false,
    isDown: false,
    isGone: false,
    asked: [],
    stop: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
  return stage;
}

async function serve(stage: BoardStage, request: IncomingMessage, response: ServerResponse): Promise<void> {
  const { pathname } = new URL(request.url ?? '/', 'http://localhost');
  if (stage.isGone) return void response.destroy();
  if (stage.isDown && pathname.startsWith('/api/')) return void response.destroy();
  if (pathname === '/api/push-key') return send(response, 200, { publicKey: null });
  const ofBoard = `/api/boards/${INVENTED_BOARD_ID}`;
  const isBoards = pathname === '/api/boards';
  if (!isBoards && !pathname.startsWith(ofBoard)) return sendFile(pathname, response);
  let text = '';
  for await (const chunk of request) text += String(chunk);
  const asked: Asked = {
    method: request.method ?? '',
    path: isBoards ? pathname : decodeURIComponent(pathname.slice(ofBoard.length)),
    body: text === '' ? undefined : JSON.parse(text),
  };
  stage.asked.push(asked);
  if (isBoards && request.headers.authorization !== `Bearer ${OPERATOR_KEY}`)
    return sendProblem(response, 401, 'The key is no operator’s');
  const isKnown = isBoards || request.headers.authorization === `Bearer ${INVENTED_KEY}`;
  if (!isKnown || stage.isRefusing) return sendProblem(response, 401, 'The key opens no board');
  const own = stage.answer?.(asked);
  if (own !== undefined) return send(response, own.status, own.body);
  if (asked.method === 'GET' && asked.path === '') return send(response, 200, stage.board);
  if (asked.path === '/changes') return send(response, 200, stage.delta ?? nothingNew(stage.board));
  sendProblem(response, 404, 'Not staged');
}

function nothingNew(board: BoardAnswer): BoardDelta {
  const { seq, asOfUtc, waiting } = board;
  return { sinceSeq: seq, seq, asOfUtc, flights: [], removed: [], tails: [], waiting, isTooOld: false };
}

function send(response: ServerResponse, status: number, body: unknown): void {
  response.writeHead(status, { 'content-type': 'application/json' });
  response.end(body === undefined ? undefined : JSON.stringify(body));
}

function sendProblem(response: ServerResponse, status: number, detail: string): void {
  response.writeHead(status, { 'content-type': 'application/problem+json' });
  response.end(JSON.stringify({ type: 'about:blank', title: 'Refused', status, detail }));
}

function sendFile(pathname: string, response: ServerResponse): void {
  if (pathname === '/favicon.ico') return void response.writeHead(204).end();
  const name = /^\/board(\/|$)/.test(pathname) ? '/board.html' : pathname === '/' ? '/index.html' : pathname;
  try {
    const bytes = readFileSync(join(DIST, normalize(name)));
    response.writeHead(200, { 'content-type': TYPES[extname(name)] ?? 'application/octet-stream' });
    response.end(bytes);
  } catch {
    sendProblem(response, 404, 'No such file');
  }
}
